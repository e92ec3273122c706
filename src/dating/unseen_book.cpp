// SPDX-License-Identifier: Apache-2.0
#include "dating/unseen_book.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "base/json.h"
#include "dating/sequence.h"

namespace footring::dating {

namespace {

using book::Ref;
using Json = nlohmann::ordered_json;

constexpr int kCurveSteps = 20;

std::vector<bool> treatments_of(const book::Book& book, const UnseenOf& of) {
    std::vector<bool> out(book.treatments.size());
    for (std::size_t at = 0; at < out.size(); ++at) {
        const book::Treatment& t = book.treatments[at];
        out[at] = (!of.shape || t.shape == *of.shape) && (!of.maker || book[t.shape].maker == *of.maker);
        if (of.ornament)
            out[at] = out[at] && std::ranges::any_of(book.decoration_rows[at], [&](std::uint32_t row) {
                          const book::TreatmentOrnament& carried = book.treatment_ornaments[row];
                          return carried.ornament == *of.ornament && carried.share > 0;
                      });
    }
    return out;
}

std::vector<ShapeSequence> sequences_of(const book::Book& book, const std::vector<bool>& among,
                                        std::optional<std::int64_t> from, const Settings& settings) {
    std::map<std::tuple<std::uint32_t, std::string, bool>, std::vector<std::int64_t>> found;
    for (std::size_t at = 0; at < among.size(); ++at) {
        const book::Treatment& t = book.treatments[at];
        if (const auto number = among[at] ? sequence_number(t.number) : std::nullopt)
            found[{t.shape.at, number->sequence, t.grade == book::Grade::kSecond}].push_back(number->number);
    }
    std::vector<ShapeSequence> out;
    for (auto& [key, numbers] : found) {
        std::ranges::sort(numbers);
        numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
        bool apart = false;
        for (auto& run : without_wide_gaps(numbers)) {
            ShapeSequence& one = out.emplace_back();
            one.shape = {std::get<0>(key)};
            one.prefix = std::get<1>(key);
            one.seconds = std::get<2>(key);
            one.apart = std::exchange(apart, true);
            one.missing = missing_numbers(run);
            for (const NumberRun& gap : one.missing) one.missing_count += gap.last - gap.first + 1;
            std::vector<std::int64_t> counted = run;
            if (from && !one.apart) {
                one.before_first = *from - 1;
                one.left_out = std::erase_if(counted, [&](std::int64_t n) { return n < *from; });
            } else {
                // Where the sequence begins is not known. Given the lowest, the others are an even draw from above.
                one.before_first = run.front();
                counted.erase(counted.begin());
            }
            if (!counted.empty())
                one.estimate = maximum_number(counted, one.before_first, settings.unseen_interval);
            one.numbers = std::move(run);
        }
    }
    return out;
}

// How often each treatment was seen, and in which finds.
class Gathering {
  public:
    Gathering(const book::Book& book, const std::vector<bool>& among) : times_(among.size(), 0) {
        for (std::size_t at = 0; at < among.size(); ++at) {
            if (!among[at]) continue;
            ++listed_;
            const book::Treatment& t = book.treatments[at];
            index_[t.origin.pack < book.packs.size() ? book.packs[t.origin.pack].id + ":" + t.id : t.id] =
                static_cast<int>(at);
        }
        for (const book::DatedUse& use : book.dated_uses)
            for (std::size_t i = 0; i < std::max<std::size_t>(use.sources.size(), 1); ++i)
                see(use.subject, use.sources.empty() ? "" : "source " + book::id_of(book, use.sources[i]));
    }
    void see(const std::string& treatment, const std::string& find) {
        const auto found = index_.find(treatment);
        if (found == index_.end()) return;
        ++times_[static_cast<std::size_t>(found->second)];
        if (!find.empty()) finds_[find].push_back(found->second);
    }
    void into(Unseen& out) {
        out.times = abundance(times_);
        out.listed = listed_;
        for (auto& [name, kinds] : finds_) {
            std::ranges::sort(kinds);
            kinds.erase(std::unique(kinds.begin(), kinds.end()), kinds.end());
            out.finds.kinds.push_back(std::move(kinds));
        }
    }

  private:
    std::unordered_map<std::string, int> index_;  // by full id
    std::vector<int> times_;
    std::map<std::string, std::vector<int>> finds_;
    std::size_t listed_ = 0;
};

void estimate(Unseen& out, const Settings& settings) {
    if (out.times.kinds() == 0) return;
    out.estimates.push_back(chao1(out.times, settings.unseen_interval));
    if (auto one = ace(out.times, static_cast<int>(settings.unseen_rare_limit), settings.unseen_interval))
        out.estimates.push_back(std::move(*one));
    const int finds = static_cast<int>(out.finds.kinds.size());
    if (finds < 2) return;
    out.estimates.push_back(chao2(out.finds.kinds_in(), finds, settings.unseen_interval));
    for (Richness& one : resampled(out.finds, settings.unseen_interval)) out.estimates.push_back(std::move(one));
}

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

}  // namespace

Unseen unseen_of(const book::Book& book, const UnseenOf& of, const std::vector<SeenTreatment>& seen,
                 std::optional<std::int64_t> from, const Settings& settings) {
    const std::vector<bool> among = treatments_of(book, of);
    Unseen out;
    out.sequences = sequences_of(book, among, from, settings);
    Gathering gathering(book, among);
    for (const SeenTreatment& one : seen) gathering.see(one.treatment, one.find);
    gathering.into(out);
    estimate(out, settings);
    out.maximum_assumes =
        from ? "Numbers were given out one after another from the first that is given on, and every "
               "number is as likely to be recorded as another."
             : "Numbers were given out one after another, the lowest recorded is taken for granted, "
               "and every number above it is as likely to be recorded as another.";
    return out;
}

Json unseen_json(const book::Book& book, const Unseen& unseen) {
    const auto sequence = [&](const ShapeSequence& one) {
        Json out = {{"shape", book::id_of(book, one.shape)},
                    {"sequence", one.prefix},
                    {"seconds", one.seconds},
                    {"apart", one.apart},
                    {"count", one.numbers.size()},
                    {"lowest", one.numbers.front()},
                    {"highest", one.numbers.back()},
                    {"missing", json_list(one.missing,
                                          [](auto run) {
                                              return Json{run.first, run.last};
                                          })},
                    {"missing_count", one.missing_count},
                    {"estimate", nullptr},
                    {"assumes", unseen.maximum_assumes}};
        if (one.estimate)
            out["estimate"] = {{"counted_from", one.before_first + 1},    {"unbiased", one.estimate->unbiased},
                               {"mean", or_null(one.estimate->mean)},     {"sd", or_null(one.estimate->sd)},
                               {"median", or_null(one.estimate->median)}, {"upper", or_null(one.estimate->upper)}};
        return out;
    };
    const auto richness = [](const Richness& r) {
        Json one = {{"estimator", r.estimator},
                    {"value", r.value},
                    {"standard_error", or_null(r.standard_error)},
                    {"interval", nullptr},
                    {"assumes", r.assumes}};
        if (r.interval) one["interval"] = {r.interval->first, r.interval->second};
        return one;
    };
    const auto curve = unseen.times.kinds() > 0 ? discovery(unseen.times, kCurveSteps) : std::vector<Discovered>{};
    return {{"sequences", json_list(unseen.sequences, sequence)},
            {"kinds",
             {{"listed", unseen.listed},
              {"seen", unseen.times.kinds()},
              {"sightings", unseen.times.sightings()},
              {"finds", unseen.finds.kinds.size()},
              {"estimates", json_list(unseen.estimates, richness)},
              {"curve", json_list(curve, [&](const Discovered& d) {
                   return Json{{"sightings", d.sightings},
                               {"kinds", d.kinds},
                               {"expected", d.sightings > unseen.times.sightings()}};
               })}}}};
}

}  // namespace footring::dating
