// SPDX-License-Identifier: Apache-2.0
#include "photo/combine.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/settings.h"
#include "base/text.h"

namespace footring::photo {

namespace {

constexpr double kLeastTogether = 0.5;      // what is more likely wrong than right is no suggestion
constexpr double kLengthsThatAgree = 0.01;  // of the longer: what the outline is good for (docs/photo-accuracy.md)

using Statements = std::vector<const Statement*>;

bool same_thing(const Suggestion& a, const Suggestion& b) { return a.field == b.field && a.place == b.place; }

bool only_there(const std::string& value) { return value == looks::kSomething || value == looks::kWorn; }

bool same_value(const Suggestion& a, const Suggestion& b) {
    if (a.value == b.value) return true;
    if (!a.field.ends_with("_mm")) return a.field == "looks" && only_there(a.value) && only_there(b.value);
    const auto x = to_number(a.value), y = to_number(b.value);
    return x && y && std::abs(*x - *y) <= kLengthsThatAgree * std::max(*x, *y);
}
// Whether a statement is right when `truth` is.
bool holds(const Suggestion& statement, const Suggestion& truth) {
    if (same_value(statement, truth)) return true;
    return statement.field == "looks" && only_there(statement.value) && truth.value != looks::kNone;
}

std::optional<looks::Sure> sureness_of(double chance) {
    const Settings usual;
    for (const auto sure : {looks::Sure::kSure, looks::Sure::kLikely})
        if (chance >= looks::sureness(sure, usual)) return sure;
    if (chance >= kLeastTogether) return looks::Sure::kGuess;
    return std::nullopt;
}

// Surest first; then by text, so that the order of the photographs does not matter.
bool before(const Statement* a, const Statement* b) {
    if (a->what.chance != b->what.chance) return a->what.chance > b->what.chance;
    if (a->what.value != b->what.value) return a->what.value < b->what.value;
    return a->photo < b->photo;
}

struct SeenOutcome {
    const Statement* surest;  // of those who said just this
    double weight = 1;
};

std::vector<SeenOutcome> outcomes_of(const Statements& all) {
    std::vector<SeenOutcome> out;
    for (const Statement* s : all)
        if (std::ranges::none_of(out, [&](const SeenOutcome& o) { return same_value(o.surest->what, s->what); }))
            out.push_back({s, 1});
    for (SeenOutcome& outcome : out)
        for (const Statement* s : all) {
            const double p = std::clamp(s->what.chance, 0.0, 1.0);
            outcome.weight *= holds(s->what, outcome.surest->what) ? p : 1 - p;
        }
    return out;
}

std::string sentence(const Combined& row) {
    const std::string& best = row.for_it.front().what.why;
    std::string out =
        row.for_it.size() == 1 ? best : fmt::format("{} photographs agree. {}", row.for_it.size(), best);
    for (const Statement& other : row.against)
        out += fmt::format(" Another photograph says {} ({:.0f} %): {}", other.what.value, 100 * other.what.chance,
                           other.what.why);
    return out;
}

Combined combined(Statements all) {
    std::ranges::sort(all, before);
    if (all.size() == 1) return {all.front()->what, {*all.front()}, {}};
    const std::vector<SeenOutcome> outcomes = outcomes_of(all);
    double nobody = 1, sum = 0;
    for (const Statement* s : all) nobody *= 1 - std::clamp(s->what.chance, 0.0, 1.0);
    for (const SeenOutcome& outcome : outcomes) sum += outcome.weight;
    sum += nobody;
    // An ornament that is named says more than one that is merely there; it gives way only where it is doubtful.
    const auto share = [&](const SeenOutcome& o) { return sum > 0 ? o.weight / sum : 0; };
    const SeenOutcome* best = nullptr;
    for (const SeenOutcome& o : outcomes)
        if (!only_there(o.surest->what.value) && (best == nullptr || o.weight > best->weight)) best = &o;
    const auto there =
        std::ranges::find_if(outcomes, [](const SeenOutcome& o) { return only_there(o.surest->what.value); });
    double chance = best == nullptr ? 0 : share(*best);
    if (there != outcomes.end() && chance < kLeastTogether) {
        double any = 0;
        for (const SeenOutcome& o : outcomes)
            if (o.surest->what.value != looks::kNone) any += share(o);
        if (best == nullptr || any >= chance) best = &*there, chance = any;
    }
    Combined row{best->surest->what, {}, {}};
    for (const Statement* s : all) {
        const bool speaks_for =
            holds(s->what, row.what) || (only_there(row.what.value) && s->what.value != looks::kNone);
        (speaks_for ? row.for_it : row.against).push_back(*s);
    }
    // The one that is quoted says just this.
    std::ranges::stable_partition(row.for_it, [&](const Statement& s) { return same_value(s.what, row.what); });
    if (row.against.empty()) chance = std::max(std::min(chance, kSurestTogether), row.what.chance);
    row.what.chance = chance;
    row.what.sure = sureness_of(chance);
    row.what.why = sentence(row);
    return row;
}

}  // namespace

std::vector<Combined> combine(std::span<const Statement> statements) {
    std::vector<Statements> things;
    for (const Statement& s : statements) {
        const auto known = std::ranges::find_if(
            things, [&](const Statements& all) { return same_thing(all.front()->what, s.what); });
        if (known == things.end()) things.push_back({&s});
        else known->push_back(&s);
    }
    std::vector<Combined> out;
    out.reserve(things.size());
    for (const Statements& all : things) out.push_back(combined(all));
    return out;
}

}  // namespace footring::photo
