// SPDX-License-Identifier: Apache-2.0
#include "worth/estimate.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace footring::worth {

namespace {

constexpr std::size_t kMostIdentities = 60;
constexpr double kLeastProbability = 1e-3;
constexpr double kTrustedYears = 3;  // after the last sale; beyond, the trend alone speaks

std::string graded(std::string words, const std::string& grade) {
    // A treatment may have it in its name: "617 Fern pair, second".
    if (!grade.empty() && !words.ends_with(", " + grade)) words += ", " + grade;
    return words;
}

void apply(Thing& thing, const Manner& manner) {
    thing.condition = manner.condition;
    if (!manner.grade.empty()) thing.grade = manner.grade;
    thing.market = manner.market;
    thing.size_mm = manner.size_mm;
}

void settle(std::vector<Identity>& identities) {
    std::ranges::stable_sort(identities, std::greater<>{}, &Identity::probability);
    const std::size_t before = identities.size();
    while (identities.size() > 1 &&
           (identities.size() > kMostIdentities || identities.back().probability < kLeastProbability))
        identities.pop_back();
    if (before == 0) return;
    double sum = 0;
    for (const Identity& identity : identities) sum += identity.probability;
    for (Identity& identity : identities) identity.probability = sum > 0 ? identity.probability / sum : 1;
}

std::vector<std::string> notes_on(const Prices& prices, const Things& things, const Estimate& estimate,
                                  double year) {
    std::vector<std::string> notes;
    const Thing& thing = estimate.identities.front().thing;
    for (const Part& part : estimate.parts) {
        if (part.sales > 0) continue;
        if (part.term == "form")
            notes.push_back(thing.form.empty()
                                ? "The form is not known, so the price may be that of any form."
                                : fmt::format("No sale of the form {} is recorded: the interval holds "
                                              "what forms differ by.",
                                              things.form_name(thing.form)));
        else if (part.term == "treatment" && !thing.treatment.empty())
            notes.push_back(
                fmt::format("No sale of {} is recorded: it borrows from sales of its decoration, its shape "
                            "and its form.",
                            things.treatment_name(thing.treatment)));
    }
    if (year > prices.last_year() + kTrustedYears)
        notes.push_back(
            fmt::format("The last sale is of {:.0f}: later prices follow the trend, which may have turned.",
                        std::floor(prices.last_year())));
    if (prices.sales().size() < 30)
        notes.push_back(fmt::format("Only {} sales stand behind this.", prices.sales().size()));
    return notes;
}

}  // namespace

std::vector<Identity> identities_of(const Things& things, const Described& described, const Manner& manner) {
    Identity one;
    one.treatment = described.treatment;
    one.thing = things.of(described.treatment, described.form);
    if (!described.treatment && described.shape)
        one.thing.shape = things.shape_key(book::id_of(things.book(), *described.shape));
    apply(one.thing, manner);
    one.words = described.treatment ? graded(things.treatment_name(one.thing.treatment), one.thing.grade)
                                    : graded("treatment not known", one.thing.grade);
    return {one};
}

std::vector<Identity> identities_of(const Things& things, const looks::Piece& piece,
                                    const looks::Findings& findings, const naming::Answer& answer,
                                    const Manner& said) {
    Manner manner = said;
    if (manner.condition == Condition::kUnsaid) manner.condition = condition_of(piece.wear);
    if (!manner.size_mm) manner.size_mm = piece.length_mm;
    std::vector<Identity> out;
    const auto add = [&](double probability, std::optional<book::Ref<book::Treatment>> treatment, std::string words,
                         const std::string& shape, std::string_view grade) {
        if (!(probability > 0)) return;
        Identity one;
        one.probability = probability;
        one.treatment = treatment;
        one.thing = things.of(treatment, findings.form);
        if (!shape.empty()) one.thing.shape = shape;
        if (!grade.empty()) one.thing.grade = grade;
        apply(one.thing, manner);
        one.words =
            graded(words.empty() ? things.treatment_name(one.thing.treatment) : std::move(words), one.thing.grade);
        out.push_back(std::move(one));
    };
    for (const naming::Candidate& candidate : answer.candidates) {
        const bool open = things.book()[candidate.treatment].grade == book::Grade::kAny && manner.grade.empty();
        if (open && answer.grade.first + answer.grade.second > 0) {
            const double first = answer.grade.first / (answer.grade.first + answer.grade.second);
            add(candidate.probability * first, candidate.treatment, "", "", "first");
            add(candidate.probability * (1 - first), candidate.treatment, "", "", "second");
        } else {
            add(candidate.probability, candidate.treatment, "", "", "");
        }
    }
    std::string shape;
    if (piece.shape && piece.shape->value != looks::kSomething && piece.shape->value != looks::kNone)
        shape = things.shape_key(piece.shape->value);
    add(answer.open.unlisted, std::nullopt, "a treatment that no pack lists", shape, "");
    add(answer.open.elsewhere, std::nullopt, "made or decorated elsewhere", "", "");
    if (out.empty()) add(1, std::nullopt, "treatment not known", shape, "");
    settle(out);
    return out;
}

Estimate estimate(const Prices& prices, const Things& things, std::vector<Identity> identities, double year,
                  std::size_t most_comparables) {
    Estimate out;
    std::vector<Weighted> mixture;
    for (Identity& identity : identities) {
        if (identity.thing.market == Market::kUnsaid) identity.thing.market = prices.usual_market();
        mixture.push_back({identity.probability, prices.outlook(identity.thing, year)});
        out.medians.push_back(std::exp(mixture.back().outlook.log_middle));
    }
    out.identities = std::move(identities);
    out.worth = interval(mixture);
    out.mean = mean(mixture);
    const Thing& thing = out.identities.front().thing;
    out.base = prices.base();
    out.parts = prices.parts(thing, year);
    std::ranges::stable_sort(out.parts, std::greater<>{}, [](const Part& part) { return std::abs(part.effect); });

    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t i = 0; i < prices.sales().size(); ++i) {
        const double alike = prices.alike(thing, i);
        if (alike > 0) order.emplace_back(alike, i);
    }
    const std::size_t shown = std::min(most_comparables, order.size());
    std::ranges::partial_sort(order, order.begin() + static_cast<std::ptrdiff_t>(shown),
                              [&](const auto& a, const auto& b) {
                                  if (a.first != b.first) return a.first > b.first;
                                  const double ya = prices.year(a.second), yb = prices.year(b.second);
                                  return ya != yb ? ya > yb : a.second < b.second;
                              });
    order.resize(shown);
    const double here = mixture.front().outlook.log_middle;
    for (const auto& [alike, sale] : order) {
        Comparable one{
            sale, alike, std::exp(std::log(prices.sales()[sale].price) - prices.log_expected(sale) + here), {}};
        for (const std::string& term : prices.same_terms(thing, sale)) one.because.push_back("same " + term);
        out.comparables.push_back(std::move(one));
    }
    out.notes = notes_on(prices, things, out, year);
    return out;
}

Price price_of(const Prices& prices, const Things& things, std::optional<book::Ref<book::Treatment>> treatment,
               book::Ref<book::Form> form, std::string_view grade, double year) {
    Thing thing = things.of(treatment, form);
    if (!grade.empty()) thing.grade = grade;
    thing.market = prices.usual_market();
    const Interval found = interval(prices.outlook(thing, year));
    return {found.median, found.ninety[0], found.ninety[1]};
}

std::vector<Mistaken> mistaken(const Prices& prices, const Things& things) {
    std::vector<Mistaken> out;
    for (std::size_t i = 0; i < prices.sales().size(); ++i)
        if (prices.counted(i) < 0.5)
            out.push_back({i, interval(prices.outlook(things.of(prices.sales()[i]), prices.year(i)))});
    std::ranges::stable_sort(out, {}, [&](const Mistaken& one) { return prices.counted(one.sale); });
    return out;
}

std::string money(double amount) {
    const double size = std::abs(amount);
    if (size < 9.95) return fmt::format("{:.1f}", amount);
    const double step = size < 99.5 ? 1 : size < 995 ? 5 : size < 9950 ? 50 : 500;
    const auto whole = static_cast<long long>(std::llround(amount / step) * static_cast<long long>(step));
    std::string digits = std::to_string(std::llabs(whole));
    for (std::ptrdiff_t i = static_cast<std::ptrdiff_t>(digits.size()) - 3; i > 0; i -= 3)
        digits.insert(static_cast<std::size_t>(i), ",");
    return whole < 0 ? "-" + digits : digits;
}

std::string in_words(const Interval& worth, const std::string& currency) {
    return fmt::format("About {} {}. Half of such sales bring {} to {}, nine in ten {} to {}.", money(worth.median),
                       currency, money(worth.fifty[0]), money(worth.fifty[1]), money(worth.ninety[0]),
                       money(worth.ninety[1]));
}

std::string level_words(const Things& things, const Part& part) {
    if (part.term == "form") return part.level.empty() ? "form not known" : things.form_name(part.level);
    if (part.term == "shape") return part.level.empty() ? "shape not known" : things.shape_name(part.level);
    if (part.term == "decoration")
        return part.level.empty() ? "decoration not known" : things.decoration_name(part.level);
    if (part.term == "treatment")
        return part.level.empty() ? "treatment not known" : things.treatment_name(part.level);
    if (part.term == "treatment in this form")
        return part.level.empty() ? "not known" : "this treatment in this form";
    const auto words = [&](const auto& list) {
        for (const Word& word : list)
            if (word.name == part.level) return std::string(word.name.empty() ? word.words : word.name);
        return part.level;
    };
    if (part.term == "condition") return words(kConditions);
    if (part.term == "market") return words(kMarkets);
    if (part.term == "grade") return part.level.empty() ? "grade not said" : part.level;
    if (part.term == "venue") return part.level.empty() ? "any venue" : part.level;
    if (part.term == "size") return part.level + " mm";
    return part.level;
}

}  // namespace footring::worth
