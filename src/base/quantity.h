// base/quantity.h - units and years as types, so that they cannot be mixed.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <compare>

namespace footring {

template <class Tag>
struct Quantity {
    double value = 0;
    constexpr Quantity() = default;
    constexpr explicit Quantity(double v) : value(v) {}
    friend constexpr auto operator<=>(Quantity, Quantity) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value + b.value}; }
};
using Millimetres = Quantity<struct MillimetresTag>;
using Decibans = Quantity<struct DecibansTag>;  // ten times the common logarithm of a likelihood ratio
using Bits = Quantity<struct BitsTag>;
using Minutes = Quantity<struct MinutesTag>;  // of a person's effort

struct Year {  // astronomical: 0 is 1 BCE
    int value = 0;
    friend auto operator<=>(const Year&, const Year&) = default;
};

}  // namespace footring
