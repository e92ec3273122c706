// Next looks against counting: every outcome of a look examined in full, and the entropies compared.
// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "naming/counting.h"
#include "naming/examine.h"
#include "naming/test_books.h"

namespace footring::naming {
namespace {

using book::Book;
using book::Place;
using book::Ref;
using testing::Counting;

double h(double p) { return p > 1e-15 ? -p * std::log2(p) : 0; }

// The distributions that entropy is taken of, as masses that sum to the probability of what was seen.
struct Masses {
    std::vector<double> treatment, grade, year;
};

Masses masses(const Book& b, const looks::Findings& f) {
    const Counting c(b, f, Settings{});
    Masses m{c.treatment, {1 - c.second, c.second}, {}};
    m.treatment.push_back(c.unlisted);
    m.treatment.push_back(c.elsewhere);
    for (const auto& [year, p] : c.year) m.year.push_back(p);
    for (auto* list : {&m.treatment, &m.grade, &m.year})
        for (double& p : *list) p *= c.evidence;
    return m;
}

double entropy(const std::vector<double>& mass, double total) {
    double bits = 0;
    for (const double p : mass) bits += h(p / total);
    return bits;
}

// Expected fall of the three entropies over outcomes; what the outcomes leave out is one more outcome.
std::array<double, 3> told(const Book& b, const looks::Findings& now,
                           const std::vector<looks::Findings>& outcomes) {
    const Masses before = masses(b, now);
    Masses rest = before;
    double total = 0;
    for (const double p : before.treatment) total += p;
    std::array<double, 3> bits{entropy(before.treatment, total), entropy(before.grade, total),
                               entropy(before.year, total)};
    const auto subtract = [&](const Masses& after) {
        double p = 0;
        for (const double m : after.treatment) p += m;
        if (p / total < 1e-12) return;
        bits[0] -= p / total * entropy(after.treatment, p);
        bits[1] -= p / total * entropy(after.grade, p);
        bits[2] -= p / total * entropy(after.year, p);
    };
    for (const looks::Findings& f : outcomes) {
        const Masses after = masses(b, f);
        subtract(after);
        for (std::size_t i = 0; i < rest.treatment.size(); ++i) rest.treatment[i] -= after.treatment[i];
        for (std::size_t i = 0; i < rest.grade.size(); ++i) rest.grade[i] -= after.grade[i];
        for (std::size_t i = 0; i < rest.year.size(); ++i) rest.year[i] -= after.year[i];
    }
    for (auto* list : {&rest.treatment, &rest.grade, &rest.year})
        for (double& p : *list) p = std::max(0.0, p);
    subtract(rest);
    return bits;
}

std::vector<looks::Findings> place_outcomes(const Book& b, const looks::Findings& now, Place place) {
    std::vector<std::uint32_t> values;
    for (const auto& row : b.treatment_ornaments)
        if (row.place == place && std::ranges::find(values, row.ornament.at) == values.end())
            values.push_back(row.ornament.at);
    std::vector<looks::Findings> out;
    looks::OrnamentSighting look{{looks::Absent{}, .98}, place, now.ornaments.size()};
    out.push_back(now);
    out.back().ornaments.push_back(look);
    for (const auto v : values) {
        look.value = Ref<book::Ornament>{v};
        out.push_back(now);
        out.back().ornaments.push_back(look);
    }
    return out;
}

std::vector<looks::Findings> mark_outcomes(const Book& b, const looks::Findings& now) {
    std::vector<looks::Findings> out(1, now);
    out.back().mark = looks::Sighting<book::Mark>{looks::Absent{}, .98};
    for (std::uint32_t m = 0; m < b.marks.size(); ++m) {
        out.push_back(now);
        out.back().mark = looks::Sighting<book::Mark>{Ref<book::Mark>{m}, .98};
    }
    return out;
}

std::vector<looks::Findings> number_outcomes(const Book& b, const looks::Findings& now) {
    std::vector<looks::Findings> out(1, now);
    out.back().number = looks::NumberSighting{std::nullopt, .98};
    std::vector<std::string> numbers;
    for (const auto& t : b.treatments)
        if (!t.number.empty() && std::ranges::find(numbers, t.number) == numbers.end()) numbers.push_back(t.number);
    for (const auto& n : numbers) {
        out.push_back(now);
        out.back().number = looks::NumberSighting{n, .98};
    }
    return out;
}

void expect_told(const Answer& a, const std::string& look, const std::array<double, 3>& bits, int round) {
    const NextLook* found = nullptr;
    for (const NextLook& n : a.next)
        if (n.look == look) found = &n;
    if (found == nullptr) {
        EXPECT_LT(std::max({bits[0], bits[1], bits[2]}), 1e-5) << look << " is missing, round " << round;
        return;
    }
    EXPECT_NEAR(found->treatment.value, bits[0], 1e-9) << look << " round " << round;
    EXPECT_NEAR(found->grade.value, bits[1], 1e-9) << look << " round " << round;
    EXPECT_NEAR(found->year.value, bits[2], 1e-9) << look << " round " << round;
    EXPECT_NEAR(found->bits_per_minute, bits[0] / found->effort.value, 1e-9);
}

TEST(NextLook, AgreesWithExaminingEveryOutcomeOnRandomBooks) {
    std::mt19937 random(99);
    for (int round = 0; round < 25; ++round) {
        const Book b = testing::random_book(random);
        const looks::Findings f = testing::random_findings(b, random);
        const Answer a = examine(FormView(b, f.form, Settings{}), f);
        for (const auto p : {Place::kRim, Place::kCentre, Place::kEdge, Place::kHandle, Place::kInside}) {
            if (std::ranges::any_of(f.ornaments, [p](const auto& look) { return look.place == p; })) continue;
            expect_told(a, std::string(book::name_of(p)), told(b, f, place_outcomes(b, f, p)), round);
        }
        if (!f.shape) {
            std::vector<looks::Findings> outcomes;
            for (std::uint32_t i = 0; i < b.shapes.size(); ++i) {
                outcomes.push_back(f);
                outcomes.back().shape = looks::Sighting<book::Shape>{Ref<book::Shape>{i}, .98};
            }
            expect_told(a, "shape", told(b, f, outcomes), round);
        }
        if (!f.glaze) {
            std::vector<looks::Findings> outcomes;
            for (std::uint32_t i = 0; i < b.glazes.size(); ++i) {
                outcomes.push_back(f);
                outcomes.back().glaze = looks::Sighting<book::Glaze>{Ref<book::Glaze>{i}, .98};
            }
            expect_told(a, "glaze", told(b, f, outcomes), round);
        }
        if (!f.faults) {
            std::vector<looks::Findings> outcomes(3, f);
            for (std::size_t i = 0; i < 3; ++i) outcomes[i].faults = static_cast<looks::Faults>(i);
            expect_told(a, "faults", told(b, f, outcomes), round);
        }
        if (!f.mark && !b.marks.empty()) expect_told(a, "mark", told(b, f, mark_outcomes(b, f)), round);
        if (!f.number) expect_told(a, "number", told(b, f, number_outcomes(b, f)), round);
        if (!f.mark && !f.number && !b.marks.empty()) {
            // A number no pack lists, or a mark no pack lists, is told apart by what the other one is; so every
            // mark with "no listed number", and every number with "no listed mark", has to be an outcome of its
            // own.
            const Answer turned = a;
            double most = 0;
            for (const NextLook& n : turned.next)
                if (n.look == "mark" || n.look == "number") most = std::max(most, n.treatment.value);
            for (const NextLook& n : turned.next)
                if (n.look == "underside") {
                    EXPECT_GE(n.treatment.value, most - 1e-9);
                }
        }
        if (HasFailure()) return;
    }
}

// Where every piece bears a listed mark and a listed number, the outcomes of turning over are all pairs of them.
TEST(NextLook, TurningOverIsEveryPairOfMarkAndNumber) {
    testing::Draft d;
    const auto pottery = d.maker("pottery", "1920/1940");
    const auto harrow = d.shape("harrow", pottery), plough = d.shape("plough", pottery);
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    d.treatment("117", harrow, oat, book::Grade::kFirst, "1925/1930");
    d.treatment("162", harrow, oat, book::Grade::kSecond, "1928/1938");
    d.treatment("118", plough, oat, book::Grade::kAny, "1931/1940");
    d.mark("early", pottery, "1920/1929");
    d.mark("late", pottery, "1930/1940");
    d.mark("second", pottery, "1920/1940", true);
    const Book& b = d.finish();
    looks::Findings f;
    f.form = plate;
    Settings s;
    s.open_prior = 0;
    const Answer a = examine(FormView(b, plate, s), f);
    const auto after = [&](const looks::Findings& seen) {
        Counting c(b, seen, s);
        return c;
    };
    const Counting before(b, f, s);
    double expected = 0;
    for (const double p : before.treatment) expected += h(p);
    for (const auto& with_mark : mark_outcomes(b, f))
        for (const auto& with_both : number_outcomes(b, with_mark)) {
            const Counting c = after(with_both);
            for (const double p : c.treatment) expected -= c.evidence * h(p);
        }
    for (const NextLook& n : a.next)
        if (n.look == "underside") {
            EXPECT_NEAR(n.treatment.value, expected, 1e-9);
            return;
        }
    FAIL() << "turning over was not offered";
}

TEST(NextLook, IsOrderedByBitsPerMinuteAndLeavesOutWhatWasSeen) {
    std::mt19937 random(5);
    const Book b = testing::random_book(random);
    looks::Findings f;
    f.form = Ref<book::Form>{0};
    f.number = looks::NumberSighting{std::nullopt, .98};
    const Answer a = examine(FormView(b, f.form, Settings{}), f);
    for (std::size_t i = 0; i < a.next.size(); ++i) {
        if (i > 0) {
            EXPECT_GE(a.next[i - 1].bits_per_minute, a.next[i].bits_per_minute);
        }
        EXPECT_NE(a.next[i].look, "number");
        EXPECT_NE(a.next[i].look, "underside");
    }
}

}  // namespace
}  // namespace footring::naming
