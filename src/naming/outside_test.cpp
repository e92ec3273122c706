// The model reduced to independent categorical features, against figures that others computed or published.
//   play_tennis: J. R. Quinlan, "Induction of Decision Trees", Machine Learning 1(1), 1986, Table 1; posterior in
//   T. Mitchell, Machine Learning, 1997, section 6.9.1. House votes: UCI 1984 Congressional Voting Records;
//   posteriors by scikit-learn 1.2.1 CategoricalNB and R e1071 1.7-13 naiveBayes. See tests/facts/README.md.
// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <numeric>
#include <sstream>

#include "naming/examine.h"
#include "naming/posterior.h"
#include "naming/test_books.h"

namespace footring::naming {
namespace {

using book::Place;
using book::Ref;

using Row = std::vector<std::string>;
std::vector<Row> csv(const std::string& name) {  // these files have no quoted cells
    std::ifstream in(std::string(FOOTRING_ROOT "/tests/facts/naive_bayes/") + name);
    std::vector<Row> rows;
    for (std::string line; std::getline(in, line);) {
        if (!line.empty() && line.back() == '\r') line.pop_back();
        Row row;
        std::istringstream cells(line);
        for (std::string cell; std::getline(cells, cell, ',');) row.push_back(cell);
        rows.push_back(std::move(row));
    }
    return rows;
}

// Classes as treatments, features as places, attribute values as ornaments whose shares are the frequencies.
struct Tennis {
    static constexpr Place kPlaces[] = {Place::kRim, Place::kVerge, Place::kCentre, Place::kEdge};
    testing::Draft d;
    std::map<std::string, Ref<book::Ornament>> value;
    std::vector<std::string> classes{"yes", "no"};
    std::vector<double> counts;
    Settings s;
    Row header;

    explicit Tennis(double add) {
        auto rows = csv("play_tennis.csv");
        header = rows.front();
        rows.erase(rows.begin());
        const auto harrow = d.shape("harrow", d.maker("pottery"));
        const auto oat = d.glaze("oat");
        d.form("plate", book::Ware::kFlat);
        std::map<std::size_t, std::vector<std::string>> values;
        for (const Row& row : rows)
            for (std::size_t k = 0; k < 4; ++k)
                if (!value.contains(row[k])) {
                    value.emplace(row[k], d.ornament(row[k], "cobalt"));
                    values[k].push_back(row[k]);
                }
        for (const auto& cls : classes) {
            const auto t = d.treatment(cls, harrow, oat);
            const auto n =
                static_cast<double>(std::ranges::count_if(rows, [&](const Row& r) { return r[4] == cls; }));
            for (std::size_t k = 0; k < 4; ++k)
                for (const auto& v : values[k]) {
                    const auto c = static_cast<double>(
                        std::ranges::count_if(rows, [&](const Row& r) { return r[4] == cls && r[k] == v; }));
                    d.carries(t, kPlaces[k], value.at(v), "*",
                              (c + add) / (n + add * static_cast<double>(values[k].size())));
                }
            counts.push_back(n - s.prior_pseudo_count);  // so that the prior is the class share, not smoothed
        }
        s.open_prior = 0;
        s.sure_sure = 1;
        s.bare_share = 1;
        s.least_shown = 0;
        d.finish();
    }
    looks::Findings findings(const std::map<std::string, std::string>& query) const {
        looks::Findings f;
        f.form = Ref<book::Form>{0};
        f.wear = looks::Wear::kNone;
        for (std::size_t k = 0; k < 4; ++k)
            if (const auto v = query.find(header[k]); v != query.end())
                f.ornaments.push_back({{value.at(v->second), 1.0}, kPlaces[k], k});
        return f;
    }
    std::map<std::string, double> posterior(const looks::Findings& f) const {
        std::map<std::string, double> out{{"yes", 0}, {"no", 0}};
        const Answer a = examine(FormView(d.book, f.form, s, counts), f);
        for (const Candidate& c : a.candidates) out[d.book[c.treatment].number] = c.probability;
        return out;
    }
};

nlohmann::json tennis_facts() {
    return nlohmann::json::parse(std::ifstream(FOOTRING_ROOT "/tests/facts/naive_bayes/play_tennis.json"));
}

TEST(Outside, PlayTennisPosteriorsAreThePublishedOnes) {
    const auto facts = tennis_facts();
    int compared = 0;
    for (const auto& query : facts.at("queries")) {
        const bool smoothed = query.at("smoothing").get<std::string>().rfind("add one", 0) == 0;
        const Tennis tennis(smoothed ? 1 : 0);
        std::map<std::string, std::string> seen;
        for (const auto* key : {"outlook", "temperature", "humidity", "wind"}) seen[key] = query.at(key);
        const auto posterior = tennis.posterior(tennis.findings(seen));
        for (const auto* cls : {"yes", "no"})
            EXPECT_NEAR(posterior.at(cls), query.at("posterior").at(cls).get<double>(), 1e-9) << query.dump();
        ++compared;
    }
    EXPECT_EQ(compared, 4);
}

TEST(Outside, NextLookBitsAreQuinlansInformationGains) {
    const auto facts = tennis_facts();
    const Tennis tennis(0);
    const auto f = tennis.findings({});
    const Answer a = examine(FormView(tennis.d.book, f.form, tennis.s, tennis.counts), f);
    const auto& computed = facts.at("information_gain_bits").at("computed");
    const auto& published = facts.at("information_gain_bits").at("published_quinlan_1986");
    for (std::size_t k = 0; k < 4; ++k) {
        const NextLook* found = nullptr;
        for (const NextLook& n : a.next)
            if (n.look == book::name_of(Tennis::kPlaces[k])) found = &n;
        ASSERT_NE(found, nullptr) << tennis.header[k];
        EXPECT_NEAR(found->treatment.value, computed.at(tennis.header[k]).get<double>(), 1e-9);
        EXPECT_NEAR(found->treatment.value, published.at(tennis.header[k]).get<double>(), 1e-3);
    }
}

// Naive Bayes through the room's own arithmetic: a factor for each answer.
struct Votes {
    std::vector<Row> rows = csv("house_votes_84.csv");
    std::vector<double> class_count{0, 0};
    Votes() {
        rows.erase(rows.begin());
        for (const Row& row : rows) class_count[index(row[0])] += 1;
    }
    static std::size_t index(const std::string& party) { return party == "democrat" ? 0 : 1; }
    // P(answer | class) for both classes.
    std::vector<double> given(std::size_t question, const std::string& answer, double add,
                              bool missing_is_value) const {
        std::vector<double> count(2, add), all(2, missing_is_value ? 3 * add : 2 * add);
        for (const Row& row : rows) {
            if (row[question] == "?" && !missing_is_value) continue;
            all[index(row[0])] += 1;
            if (row[question] == answer) count[index(row[0])] += 1;
        }
        return {count[0] / all[0], count[1] / all[1]};
    }
    std::vector<double> posterior_of(const Row& row, double add, bool missing_is_value) const {
        static const std::vector<std::uint32_t> kOwnClass{0, 1};
        std::vector<std::vector<double>> tables;
        std::vector<Factor> factors;
        for (std::size_t q = 1; q < row.size(); ++q)
            if (row[q] != "?" || missing_is_value) tables.push_back(given(q, row[q], add, missing_is_value));
        for (const auto& table : tables) factors.push_back({table, kOwnClass});
        const double n = class_count[0] + class_count[1];
        return posterior(std::vector<double>{class_count[0] / n, class_count[1] / n}, factors);
    }
};

TEST(Outside, HouseVotesPosteriorsEqualTwoOtherPrograms) {
    const Votes votes;
    ASSERT_EQ(votes.rows.size(), 435u);
    auto expected = csv("house_votes_posterior.csv");
    ASSERT_EQ(expected.size(), 21u);
    for (std::size_t i = 1; i < expected.size(); ++i) {
        const Row& row = expected[i];
        const Row& vote = votes.rows[std::stoul(row[0]) - 1];
        const auto sklearn = votes.posterior_of(vote, 1, true);
        const auto plain = votes.posterior_of(vote, 0, false);
        const auto laplace = votes.posterior_of(vote, 3, false);
        EXPECT_NEAR(sklearn[0], std::stod(row[2]), 1e-9) << "row " << i;
        EXPECT_NEAR(sklearn[1], std::stod(row[3]), 1e-9) << "row " << i;
        EXPECT_NEAR(plain[0], std::stod(row[4]), 1e-9) << "row " << i;
        EXPECT_NEAR(plain[1], std::stod(row[5]), 1e-9) << "row " << i;
        EXPECT_NEAR(laplace[0], std::stod(row[6]), 1e-9) << "row " << i;
        EXPECT_NEAR(laplace[1], std::stod(row[7]), 1e-9) << "row " << i;
    }
}

TEST(Outside, InformationIsTheKnownValueOnTextbookChannels) {
    // A binary symmetric channel with error 0.1 and equal inputs: 1 - H(0.1) = 0.531004 bits (closed form).
    const std::vector<double> half{0.5, 0.5};
    EXPECT_NEAR(information_bits(half, {{0.9, 0.1}, {0.1, 0.9}}), 0.5310044064107188, 1e-12);
    // The outcome left out counts: the same channel given by one of its two outcomes.
    EXPECT_NEAR(information_bits(half, {{0.9, 0.1}}), 0.5310044064107188, 1e-12);
    EXPECT_NEAR(information_bits(half, {{0.5, 0.5}, {0.5, 0.5}}), 0, 1e-12);
}

}  // namespace
}  // namespace footring::naming
