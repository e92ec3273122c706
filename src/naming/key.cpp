// A key by looks: the decision tree of least expected effort. Exact by trying all trees while the set is small,
// otherwise greedy by bits per minute. Twins share a leaf, since no look parts them.
// SPDX-License-Identifier: Apache-2.0
#include "naming/key.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "book/decoration.h"

namespace footring::naming {

namespace {

using book::Book;
using book::Ref;

constexpr std::size_t kMostExact = 14;         // treatments up to which all trees are tried
constexpr std::size_t kMostVisited = 200'000;  // sets looked at before the exact search gives up

struct Question {
    std::string look;
    double minutes;
    std::vector<std::string> value;  // by treatment of the set asked about
};

std::string likeliest(const Book& b, const std::vector<book::Carried>& rows) {
    double bare = 1, most = 0;
    std::string value = "none";
    for (const book::Carried& c : rows) {
        bare -= c.share;
        if (c.share > most) most = c.share, value = book::id_of(b, c.ornament);
    }
    return bare > most ? "none" : value;
}

double effort_of(book::Place place, const Settings& s) {
    return place == book::Place::kFoot || place == book::Place::kUnderside ? s.effort_turn_over_min
                                                                           : s.effort_glance_min;
}

class Planner {
  public:
    Planner(const Book& b, std::vector<Ref<book::Treatment>> set, std::optional<Ref<book::Form>> form,
            const Settings& s)
        : set_(std::move(set)) {
        const auto ask = [&](std::string look, double minutes, auto&& value) {
            Question q{std::move(look), minutes, {}};
            for (const auto t : set_) q.value.push_back(value(t));
            if (std::ranges::adjacent_find(q.value, std::not_equal_to<>{}) != q.value.end())
                questions_.push_back(std::move(q));
        };
        ask("shape", s.effort_glance_min, [&](auto t) { return book::id_of(b, b[t].shape); });
        ask("glaze", s.effort_glance_min,
            [&](auto t) { return b[t].glaze ? book::id_of(b, *b[t].glaze) : std::string("not recorded"); });
        std::vector<book::Decoration> decorations;
        for (const auto t : set_) decorations.push_back(book::decoration(b, t, form));
        for (std::size_t p = 0; p < book::kPlaces; ++p) {
            std::size_t i = 0;
            ask(std::string(book::kPlaceNames[p]), effort_of(static_cast<book::Place>(p), s),
                [&](auto) { return likeliest(b, decorations[i++].at[p]); });
        }
    }

    Key plan() {
        std::vector<std::uint32_t> all(set_.size());
        for (std::uint32_t i = 0; i < all.size(); ++i) all[i] = i;
        Key key;
        if (all.empty()) {
            key.optimal = true;
            return key;
        }
        exact_ = set_.size() <= kMostExact;
        if (exact_) cost(all);
        if (best_.size() > kMostVisited) exact_ = false;
        key.optimal = exact_;
        double total = 0;
        grow(key, all, 0, total);
        key.expected_effort = Minutes{total / static_cast<double>(set_.size())};
        return key;
    }

  private:
    using Set = std::vector<std::uint32_t>;  // ascending indices into set_
    static constexpr std::size_t kLeaf = std::numeric_limits<std::size_t>::max();

    std::map<std::string, Set> split(const Question& q, const Set& set) const {
        std::map<std::string, Set> parts;
        for (const std::uint32_t i : set) parts[q.value[i]].push_back(i);
        return parts;
    }

    // Least total minutes over the members of a set, and the question that gives it.
    double cost(const Set& set) {
        if (const auto known = best_.find(set); known != best_.end()) return known->second.first;
        if (best_.size() > kMostVisited) return std::numeric_limits<double>::infinity();
        double least = std::numeric_limits<double>::infinity();
        std::size_t choice = kLeaf;
        for (std::size_t q = 0; q < questions_.size(); ++q) {
            const auto parts = split(questions_[q], set);
            if (parts.size() < 2) continue;
            double total = questions_[q].minutes * static_cast<double>(set.size());
            for (const auto& [value, part] : parts) total += cost(part);
            if (total < least - 1e-12) least = total, choice = q;
        }
        if (choice == kLeaf) least = 0;  // nothing parts them: twins
        best_[set] = {least, choice};
        return least;
    }

    std::size_t greedy(const Set& set) const {
        std::size_t choice = kLeaf;
        double most = 0;
        for (std::size_t q = 0; q < questions_.size(); ++q) {
            const auto parts = split(questions_[q], set);
            if (parts.size() < 2) continue;
            double bits = 0;
            for (const auto& [value, part] : parts) {
                const double p = static_cast<double>(part.size()) / static_cast<double>(set.size());
                bits -= p * std::log2(p);
            }
            if (bits / questions_[q].minutes > most + 1e-12) most = bits / questions_[q].minutes, choice = q;
        }
        return choice;
    }

    std::size_t grow(Key& key, const Set& set, double spent, double& total) {
        const std::size_t at = key.nodes.size();
        key.nodes.emplace_back();
        for (const std::uint32_t i : set) key.nodes[at].treatments.push_back(set_[i]);
        const std::size_t q = set.size() < 2 ? kLeaf : exact_ ? best_.at(set).second : greedy(set);
        if (q == kLeaf) {
            total += spent * static_cast<double>(set.size());
            return at;
        }
        key.nodes[at].look = questions_[q].look;
        key.nodes[at].effort = Minutes{questions_[q].minutes};
        for (const auto& [value, part] : split(questions_[q], set)) {
            const std::size_t child = grow(key, part, spent + questions_[q].minutes, total);
            key.nodes[at].branches.push_back({value, child});
        }
        return at;
    }

    std::vector<Ref<book::Treatment>> set_;
    std::vector<Question> questions_;
    bool exact_ = false;
    std::map<Set, std::pair<double, std::size_t>> best_;
};

}  // namespace

Key key(const Book& b, std::optional<Ref<book::Shape>> shape, std::optional<Ref<book::Form>> form,
        const Settings& s) {
    std::vector<Ref<book::Treatment>> set;
    for (std::uint32_t i = 0; i < b.treatments.size(); ++i)
        if (!shape || b.treatments[i].shape == *shape) set.push_back(Ref<book::Treatment>{i});
    return Planner(b, std::move(set), form, s).plan();
}

}  // namespace footring::naming
