// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/json.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/sequence.h"
#include "dating/unseen.h"

namespace footring::cli {

namespace {

using Json = nlohmann::ordered_json;
using ShapeRef = book::Ref<book::Shape>;

constexpr int kCurveSteps = 20;
constexpr std::size_t kMostRuns = 40;  // of missing numbers on a page; --json has all

// Numbers of one shape that were given out in one order.
struct ShapeSequence {
    ShapeRef shape;
    std::string prefix;
    std::vector<std::int64_t> numbers;  // ascending, each once
    std::vector<dating::NumberRun> missing;
    std::int64_t before_first = 0;
    std::optional<dating::MaximumNumber> estimate;
};

std::vector<ShapeSequence> sequences(const book::Book& book, std::optional<ShapeRef> shape,
                                     std::optional<std::int64_t> from, const Settings& settings) {
    std::map<std::pair<std::uint32_t, std::string>, std::vector<std::int64_t>> found;
    for (const book::Treatment& t : book.treatments) {
        if (shape && t.shape != *shape) continue;
        if (const auto number = dating::sequence_number(t.number))
            found[{t.shape.at, number->sequence}].push_back(number->number);
    }
    std::vector<ShapeSequence> out;
    for (auto& [key, numbers] : found) {
        std::ranges::sort(numbers);
        numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
        ShapeSequence one{{key.first}, key.second, numbers, dating::missing_numbers(numbers), 0, {}};
        std::vector<std::int64_t> counted = numbers;
        if (from) {
            one.before_first = *from - 1;
            std::erase_if(counted, [&](std::int64_t n) { return n < *from; });
        } else {
            // Where the sequence begins is not known. Given the lowest, the others are an even draw from above it.
            one.before_first = numbers.front();
            counted.erase(counted.begin());
        }
        if (!counted.empty())
            one.estimate = dating::maximum_number(counted, one.before_first, settings.unseen_interval);
        out.push_back(std::move(one));
    }
    return out;
}

// How often each treatment was seen, and in which finds.
struct Sightings {
    dating::Abundance times;
    dating::Finds finds;
    std::size_t listed = 0;  // treatments of the packs
};

class Gathering {
  public:
    Gathering(const book::Book& book, std::optional<ShapeRef> shape) : times_(book.treatments.size(), 0) {
        for (std::uint32_t at = 0; at < book.treatments.size(); ++at) {
            if (shape && book.treatments[at].shape != *shape) continue;
            ++listed_;
            const auto& t = book.treatments[at];
            index_[book.packs[t.origin.pack].id + ":" + t.id] = static_cast<int>(at);
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
    Sightings done() {
        Sightings out{dating::abundance(times_), {}, listed_};
        for (auto& [name, kinds] : finds_) {
            std::ranges::sort(kinds);
            kinds.erase(std::unique(kinds.begin(), kinds.end()), kinds.end());
            out.finds.kinds.push_back(std::move(kinds));
        }
        return out;
    }

  private:
    std::map<std::string, int> index_;  // by full id
    std::vector<int> times_;
    std::map<std::string, std::vector<int>> finds_;
    std::size_t listed_ = 0;
};

Expected<void> see_cupboard(const std::string& folder, Gathering& gathering) {
    const auto store = open_cupboard(folder, WhenMissing::kRefuse);
    if (!store) return std::unexpected(store.error());
    store::Query query;
    query.decided = true;
    query.sort = store::Query::Sort::kId;
    query.limit = 1000;
    for (query.offset = 0;; query.offset += query.limit) {
        const auto found = (*store)->find(query);
        if (!found) return std::unexpected(found.error());
        for (const store::PieceRecord& record : found->rows)
            if (record.decision)
                gathering.see(record.decision->treatment, record.lot.empty() ? "" : "lot " + record.lot);
        if (found->rows.size() < static_cast<std::size_t>(query.limit)) return {};
    }
}

std::vector<dating::Richness> richness(const Sightings& s, const Settings& settings) {
    std::vector<dating::Richness> out;
    if (s.times.kinds() == 0) return out;
    out.push_back(dating::chao1(s.times, settings.unseen_interval));
    if (auto ace = dating::ace(s.times, static_cast<int>(settings.unseen_rare_limit), settings.unseen_interval))
        out.push_back(std::move(*ace));
    const int finds = static_cast<int>(s.finds.kinds.size());
    if (finds < 2) return out;
    out.push_back(dating::chao2(s.finds.kinds_in(), finds, settings.unseen_interval));
    for (dating::Richness& one : dating::resampled(s.finds, settings.unseen_interval))
        out.push_back(std::move(one));
    return out;
}

std::string_view maximum_assumes(bool from) {
    return from ? "Numbers were given out one after another from --from on, and every number is as likely to be "
                  "recorded "
                  "as another."
                : "Numbers were given out one after another, the lowest recorded is taken for granted, and every "
                  "number "
                  "above it is as likely to be recorded as another.";
}

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

Json unseen_json(const book::Book& book, const std::vector<ShapeSequence>& list, const Sightings& s,
                 const std::vector<dating::Richness>& estimates, bool from) {
    return {{"sequences", json_list(list,
                                    [&](const ShapeSequence& one) {
                                        std::int64_t missing = 0;
                                        for (const auto& run : one.missing) missing += run.last - run.first + 1;
                                        Json out = {{"shape", book::id_of(book, one.shape)},
                                                    {"sequence", one.prefix},
                                                    {"count", one.numbers.size()},
                                                    {"lowest", one.numbers.front()},
                                                    {"highest", one.numbers.back()},
                                                    {"missing", json_list(one.missing,
                                                                          [](auto run) {
                                                                              return Json{run.first, run.last};
                                                                          })},
                                                    {"missing_count", missing},
                                                    {"estimate", nullptr},
                                                    {"assumes", maximum_assumes(from)}};
                                        if (one.estimate)
                                            out["estimate"] = {{"counted_from", one.before_first + 1},
                                                               {"unbiased", one.estimate->unbiased},
                                                               {"mean", or_null(one.estimate->mean)},
                                                               {"sd", or_null(one.estimate->sd)},
                                                               {"median", or_null(one.estimate->median)},
                                                               {"upper", or_null(one.estimate->upper)}};
                                        return out;
                                    })},
            {"kinds",
             {{"listed", s.listed},
              {"seen", s.times.kinds()},
              {"sightings", s.times.sightings()},
              {"finds", s.finds.kinds.size()},
              {"estimates", json_list(estimates,
                                      [](const dating::Richness& r) {
                                          Json one = {{"estimator", r.estimator},
                                                      {"value", r.value},
                                                      {"standard_error", or_null(r.standard_error)},
                                                      {"interval", nullptr},
                                                      {"assumes", r.assumes}};
                                          if (r.interval) one["interval"] = {r.interval->first, r.interval->second};
                                          return one;
                                      })},
              {"curve", json_list(s.times.kinds() > 0 ? dating::discovery(s.times, kCurveSteps)
                                                      : std::vector<dating::Discovered>{},
                                  [](const dating::Discovered& d) {
                                      return Json{{"sightings", d.sightings}, {"kinds", d.kinds}};
                                  })}}}};
}

std::string unseen_page(const book::Book& book, const std::vector<ShapeSequence>& list, const Sightings& s,
                        const std::vector<dating::Richness>& estimates, bool from, const Settings& settings,
                        const World& world) {
    const Ink ink{world.colour};
    std::string text;
    const auto line = [&](const std::string& words, std::string_view indent = "  ") {
        text += wrapped(words, world.width, indent, indent);
    };
    const double share = 100 * settings.unseen_interval;
    for (const ShapeSequence& one : list) {
        text += ink.strong(fmt::format("{}{}", shape_name(book, one.shape),
                                       one.prefix.empty() ? "" : ", numbers " + one.prefix + "…")) +
                "\n";
        line(fmt::format("{} numbers are recorded, {} to {}.", one.numbers.size(), one.numbers.front(),
                         one.numbers.back()));
        if (one.estimate && one.estimate->median)
            line(
                fmt::format("The highest ever given out is about {:.0f}; as likely as not up to {}; {:g} chances "
                            "in 100 up to {}.",
                            one.estimate->unbiased, *one.estimate->median, share, *one.estimate->upper));
        std::vector<std::string> runs;
        for (const auto& run : one.missing)
            runs.push_back(run.first == run.last ? fmt::format("{}", run.first)
                                                 : fmt::format("{}–{}", run.first, run.last));
        if (runs.size() > kMostRuns) {
            const std::size_t more = runs.size() - kMostRuns;
            runs.resize(kMostRuns);
            runs.push_back(fmt::format("and {} more runs", more));
        }
        line(runs.empty() ? "None is missing between them."
                          : fmt::format("To look for: {}.", fmt::join(runs, ", ")));
        text += "\n";
    }
    if (!list.empty()) line(std::string(maximum_assumes(from)), ""), text += "\n";

    text += ink.strong("Treatments, by sightings") + "\n";
    if (estimates.empty()) {
        line(fmt::format(
            "None of the {} listed treatments has a dated use or a decided piece: nothing can be said.", s.listed));
        return text;
    }
    line(fmt::format("{} of {} listed treatments were seen, {} times, in {} finds.", s.times.kinds(), s.listed,
                     s.times.sightings(), s.finds.kinds.size()));
    for (const dating::Richness& r : estimates)
        text += fmt::format("  {:<11} {:>7.1f}{}{}\n", r.estimator, r.value,
                            r.standard_error ? fmt::format("  error {:.1f}", *r.standard_error) : "",
                            r.interval ? fmt::format("  {:g} in 100: {:.0f} to {:.0f}", share, r.interval->first,
                                                     r.interval->second)
                                       : "");
    text += "\n";
    std::vector<std::string> told;
    for (const dating::Richness& r : estimates) {
        if (std::ranges::find(told, r.assumes) != told.end()) continue;
        told.push_back(r.assumes);
        line(r.estimator + ": " + r.assumes);
    }
    text += "\n" + ink.strong("Curve of discovery") + "\n";
    for (const dating::Discovered& d : dating::discovery(s.times, 8))
        text += fmt::format("  {:>6} sightings  {:>7.1f}{}\n", d.sightings, d.kinds,
                            d.sightings > s.times.sightings() ? "  expected" : "");
    return text;
}

Outcome unseen(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    std::vector<Problem> problems;
    std::optional<ShapeRef> shape;
    if (const auto id = call.one("--shape")) {
        if (const auto found = asked<book::Shape>(book, *id, "--shape")) shape = *found;
        else problems.push_back(found.error());
    }
    std::optional<std::int64_t> from;
    if (const auto word = call.one("--from")) {
        const auto number = to_int(*word);
        if (number && *number >= 1) from = *number;
        else
            problems.push_back({ProblemCode::kBadInput, "--from",
                                fmt::format("'{}' is not a number from 1 on", *word),
                                "write the first number that was given out, such as 101"});
    }
    if (!problems.empty()) return refuse(std::move(problems));
    Gathering gathering(book, shape);
    if (const auto folder = call.one("--data"))
        if (const auto seen = see_cupboard(*folder, gathering); !seen) return refuse(seen.error());
    const Sightings sightings = gathering.done();
    const auto list = sequences(book, shape, from, settings);
    const auto estimates = richness(sightings, settings);
    if (call.json()) return page(json_line(unseen_json(book, list, sightings, estimates, from.has_value())));
    return page(unseen_page(book, list, sightings, estimates, from.has_value(), settings, world));
}

}  // namespace

Command unseen_command() {
    Option data = data_option();
    data.required = false;
    data.sentence = "The folder that holds your pieces: decided ones count as sightings.";
    return {
        .name = "unseen",
        .sentence = "Estimates how many treatments exist beyond those recorded, and lists the numbers to look for.",
        .detail =
            {"From the numbers of each shape: the highest that was given out, and those missing in between. From "
             "sightings (dated uses in the packs, decided pieces of a cupboard): how many treatments there are "
             "in all, by several estimators, and how many further sightings would show. Every estimate says "
             "what it assumes."},
        .arguments = {},
        .options = {pack_option(),
                    {.name = "--shape", .value = "SHAPE", .sentence = "Only the treatments of this shape."},
                    {.name = "--from",
                     .value = "NUMBER",
                     .sentence =
                         "The first number that was given out; else the lowest recorded is taken as it is."},
                    data,
                    set_option()},
        .run = unseen};
}

}  // namespace footring::cli
