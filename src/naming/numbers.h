// naming/numbers.h - what could still be true of a piece, and reading its number as a look not yet made.
//   Private to this room; used by next.cpp alone.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <vector>

#include "naming/tables.h"

namespace footring::naming {

constexpr std::size_t kMostNumbers = 5000;  // numbers told apart one by one; beyond, those of no item are lumped

inline double h(double p) { return p > 0 ? -p * std::log2(p) : 0; }

// A row, or an open hypothesis, with what is left of its probability.
struct Item {
    std::uint32_t row;         // kNone: open hypothesis
    std::uint32_t body;        // of the unlisted hypothesis; else kNone
    std::uint32_t hypothesis;  // treatment; treatments.size(): unlisted; + 1: elsewhere
    std::uint32_t slot;        // what it says of year and grade
    double mass;
    std::array<double, 4> wear;  // P(wear case | item)
};
// Year and grade given an item and everything seen.
struct Slot {
    struct Part {
        std::uint32_t context;
        std::size_t first;                        // year of post[..][0]
        std::array<std::vector<double>, 2> post;  // by grade, by year from `first`
    };
    std::vector<Part> parts;  // the sum over parts, grades and years is 1
    std::size_t first = 0;    // year of year[0]
    std::vector<double> year;
    std::array<double, 2> grade{};
    double mass = 0;
};

// Keeps at most `most`: each with a chance in proportion to its mass, at even steps, so without chance at all.
inline void draw_evenly(std::vector<std::uint32_t>& ids, std::vector<double>& mass, std::size_t most) {
    if (ids.size() <= most) return;
    const double step = std::accumulate(mass.begin(), mass.end(), 0.0) / static_cast<double>(most);
    std::vector<std::uint32_t> drawn;
    std::vector<double> drawn_mass;
    double next = step / 2, sum = 0;
    for (std::size_t k = 0; k < ids.size(); ++k) {
        sum += mass[k];
        double hits = 0;
        while (next < sum) next += step, hits += 1;
        if (hits == 0) continue;
        drawn.push_back(ids[k]);
        drawn_mass.push_back(hits * step);
    }
    ids = std::move(drawn);
    mass = std::move(drawn_mass);
}

// Numbers as outcomes: each listed one, none at all, and one that no pack lists.
class Numbers {
  public:
    Numbers(const FormView::Tables& t, const std::vector<Item>& items) : items_(items) {
        const auto all = static_cast<double>(t.numbers.size());
        const double sure = t.settings.sure_sure;
        slot_of_.assign(t.numbers.size(), kNone);
        const auto tell = [&](std::uint32_t n) {
            if (slot_of_[n] == kNone) slot_of_[n] = listed_++;
        };
        if (t.numbers.size() <= kMostNumbers)
            for (std::uint32_t n = 0; n < t.numbers.size(); ++n) tell(n);
        for (const Item& i : items_)
            if (i.row != kNone && t.number_classes[t.number[i.row]].number != kNone)
                tell(t.number_classes[t.number[i.row]].number);
        lumped_ = all - listed_;
        const double wrong = all > 1 ? (1 - sure) / (all - 1) : 0;
        const double wrong_unlisted = all > 1 ? wrong : all > 0 ? 1 - sure : 0;
        for (const Item& i : items_) {
            Per per;
            if (i.row != kNone) {
                const NumberClass& c = t.number_classes[t.number[i.row]];
                per.numbered = t.contexts[c.context].numbered;
                per.each = per.numbered * (c.number == kNone ? wrong_unlisted : wrong);
                if (c.number != kNone) per.own = slot_of_[c.number], per.extra = per.numbered * (sure - wrong);
            } else if (i.body != kNone) {
                per.numbered = t.contexts[t.eras[t.bodies[i.body].era].context].numbered;
                per.each = per.numbered * wrong_unlisted;
            } else {
                per.elsewhere = true;
                for (const NumberClass& c : t.number_classes) {
                    const double numbered = c.frequency * t.contexts[c.context].numbered;
                    per.numbered += numbered;
                    per.each += numbered * (c.number == kNone ? wrong_unlisted : wrong);
                    if (c.number == kNone) continue;
                    const std::uint32_t slot = slot_of_[c.number];
                    if (slot == kNone) {
                        per.lumped_extra += numbered * (sure - wrong);
                    } else {
                        if (elsewhere_.size() < listed_) elsewhere_.resize(listed_);
                        elsewhere_[slot] += numbered * (sure - wrong);
                    }
                }
            }
            elsewhere_.resize(listed_);
            double listed_sum = per.each * all + per.extra + per.lumped_extra;
            if (per.elsewhere) listed_sum += std::accumulate(elsewhere_.begin(), elsewhere_.end(), 0.0);
            per.other = std::max(0.0, per.numbered - listed_sum);
            per_.push_back(per);
        }
        for (std::size_t k = 0; k < per_.size(); ++k) per_[k].bits = own_bits(k);
    }

    // Sum over the outcomes of h(sum over items of weight * P(outcome | item)).
    double outcome_bits(const std::vector<double>& weights) const {
        std::vector<double> listed(listed_, 0.0);
        double none = 0, other = 0, each = 0, lump = 0;
        for (std::size_t k = 0; k < per_.size(); ++k) {
            const Per& p = per_[k];
            const double w = weights[k];
            if (w == 0) continue;
            none += w * (1 - p.numbered);
            other += w * p.other;
            each += w * p.each;
            if (p.own != kNone) listed[p.own] += w * p.extra;
            if (p.elsewhere) {
                for (std::size_t n = 0; n < listed.size(); ++n) listed[n] += w * elsewhere_[n];
                lump += lumped_ > 0 ? w * p.lumped_extra / lumped_ : 0;
            }
        }
        double bits = h(none) + h(other) + lumped_ * h(each + lump);
        for (const double l : listed) bits += h(each + l);
        return bits;
    }
    // Entropy of the number of one item.
    double bits(std::size_t item) const { return per_[item].bits; }
    bool same(std::size_t a, std::size_t b) const { return per_[a].own == per_[b].own; }

  private:
    struct Per {
        double numbered = 0, each = 0, extra = 0, other = 0, lumped_extra = 0, bits = 0;
        std::uint32_t own = kNone;
        bool elsewhere = false;
    };
    double own_bits(std::size_t k) const {
        std::vector<double> one(per_.size(), 0.0);
        const Per& p = per_[k];
        if (p.elsewhere) {
            one[k] = 1;
            return outcome_bits(one);
        }
        const double rest = static_cast<double>(listed_) + lumped_ - (p.own == kNone ? 0 : 1);
        return h(1 - p.numbered) + h(p.other) + rest * h(p.each) + (p.own == kNone ? 0 : h(p.each + p.extra));
    }
    const std::vector<Item>& items_;
    std::vector<std::uint32_t> slot_of_;  // by number: place among the listed ones
    std::vector<double> elsewhere_;       // by listed number: extra under the hypothesis elsewhere
    std::vector<Per> per_;                // by item
    std::uint32_t listed_ = 0;
    double lumped_ = 0;
};

}  // namespace footring::naming
