// SPDX-License-Identifier: Apache-2.0
#include "naming/apart.h"

#include <fmt/format.h>

#include <algorithm>

#include "naming/tables.h"

namespace footring::naming {

namespace {

using book::Book;
using book::Ref;

// "fern-pair", "fern-pair (70 %)", "none": what a treatment carries at a place of a form.
std::string carried(const Book& b, const std::vector<book::Carried>& rows) {
    if (rows.empty()) return "none";
    std::string out;
    for (const book::Carried& c : rows) {
        if (!out.empty()) out += " or ";
        out += book::id_of(b, c.ornament);
        if (c.share < 1) out += fmt::format(" ({:.0f} %)", 100 * c.share);
    }
    return out;
}

// Places that every form would show the same, asked of one form or (absent) of what holds on every form.
std::vector<Difference> differences(const Book& b, std::optional<Ref<book::Form>> form,
                                    const std::vector<Ref<book::Treatment>>& treatments) {
    std::vector<Difference> out;
    const auto compare = [&](std::string_view look, auto&& value) {
        Difference d{std::string(look), {}};
        for (const auto t : treatments) d.values.push_back(value(t));
        if (std::ranges::adjacent_find(d.values, std::not_equal_to<>{}) != d.values.end())
            out.push_back(std::move(d));
    };
    compare("shape", [&](auto t) { return book::id_of(b, b[t].shape); });
    compare("glaze",
            [&](auto t) { return b[t].glaze ? book::id_of(b, *b[t].glaze) : std::string("not recorded"); });
    std::vector<book::Decoration> decorations;
    for (const auto t : treatments) decorations.push_back(book::decoration(b, t, form));
    for (std::size_t p = 0; p < book::kPlaces; ++p) {
        Difference d{std::string(book::kPlaceNames[p]), {}};
        for (const book::Decoration& decoration : decorations) {
            auto rows = decoration.at[p];
            std::ranges::sort(rows, {}, [](const book::Carried& c) { return c.ornament.at; });
            d.values.push_back(carried(b, rows));
        }
        if (std::ranges::adjacent_find(d.values, std::not_equal_to<>{}) != d.values.end())
            out.push_back(std::move(d));
    }
    return out;
}

}  // namespace

Apart apart(const Book& b, std::optional<Ref<book::Form>> form,
            const std::vector<Ref<book::Treatment>>& treatments) {
    Apart out;
    out.differences = differences(b, form, treatments);
    for (std::uint32_t f = 0; f < b.forms.size(); ++f)
        if (!differences(b, Ref<book::Form>{f}, treatments).empty())
            out.telling_forms.push_back(Ref<book::Form>{f});
    for (std::size_t i = 0; i < treatments.size(); ++i) {
        const auto same = std::ranges::find_if(out.twin_groups, [&](const auto& group) {
            return differences(b, form, {group.front(), treatments[i]}).empty();
        });
        if (same == out.twin_groups.end()) {
            out.twin_groups.push_back({treatments[i]});
        } else {
            same->push_back(treatments[i]);
        }
    }
    return out;
}

std::vector<std::vector<Ref<book::Treatment>>> twins(const Book& b, std::optional<Ref<book::Form>> form) {
    const FormView view(b, form, Settings{});
    std::vector<std::vector<Ref<book::Treatment>>> out;
    for (const auto& group : view.tables().twin_groups) {
        if (group.size() < 2) continue;
        auto& refs = out.emplace_back();
        for (const std::uint32_t t : group) refs.push_back(Ref<book::Treatment>{t});
    }
    return out;
}

}  // namespace footring::naming
