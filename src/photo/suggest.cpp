// SPDX-License-Identifier: Apache-2.0
#include "photo/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <span>
#include <tuple>

#include "base/settings.h"
#include "photo/measured.h"

namespace footring::photo {

namespace {

using looks::Sure;
using measured::Row;

constexpr double kLeastSuggested = 0.5;  // what is more likely wrong than right is not suggested
constexpr double kThere = 0.5;           // `present` from which a thing counts as there
constexpr double kTraces = 0.6;          // share lost from which an ornament that is not recognised is only traces

double share_right(std::span<const Row> table, double score) {
    for (const Row& row : table)
        if (score >= row.score_from - 1e-9) {
            if (row.count == 0) return row.share_right;
            // Laplace's rule, so that three of three is not certainty.
            return (row.share_right * row.count + 1) / (row.count + 2);
        }
    return 0;
}

std::optional<Sure> sureness_of(double chance) {
    const Settings usual;
    if (chance >= looks::sureness(Sure::kSure, usual)) return Sure::kSure;
    if (chance >= looks::sureness(Sure::kLikely, usual)) return Sure::kLikely;
    if (chance >= kLeastSuggested) return Sure::kGuess;
    return std::nullopt;
}

class Suggestions {
  public:
    void add(std::string field, std::string place, std::string value, double chance, std::string why) {
        const auto sure = sureness_of(chance);
        if (!sure) return;
        all.push_back({.field = std::move(field),
                       .place = std::move(place),
                       .value = std::move(value),
                       .sure = sure,
                       .chance = chance,
                       .why = std::move(why)});
    }
    std::vector<Suggestion> all;
};

template <class T>
std::string name_of_id(const book::Book& book, const std::string& id) {
    const auto row = book::find<T>(book, id, "");
    return row && !book[*row].name.empty() ? book[*row].name : id;
}

std::string percent(double share) { return fmt::format("{:.0f} %", 100 * share); }

// "border" of "a border"
std::string_view bare(std::string_view thing) { return thing.substr(thing.find(' ') + 1); }

// What all decorated places have in common: nothing there; this ornament; something that is not recognised.
struct PlaceSeen {
    std::string place;
    std::string thing;  // "a border", "an edge line": as the sentences call it
    double present;
    const std::vector<Scored>* ornaments;
    std::span<const Row> presence, ornament;
    std::string of_it;   // before the ornament's name: "8 repeats of ", ""
    std::string colour;  // of what is there; empty: not known
    double wear;
};

void look_at(Suggestions& out, const PlaceSeen& seen, const book::Book& book) {
    const double there = share_right(seen.presence, std::max(seen.present, 1 - seen.present));
    if (seen.present < kThere) {
        out.add("looks", seen.place, std::string(looks::kNone), there,
                fmt::format("There is no {}, score {:.2f}.", bare(seen.thing), 1 - seen.present));
        return;
    }
    if (!seen.ornaments->empty()) {
        const Scored& best = seen.ornaments->front();
        const double chance = there * share_right(seen.ornament, best.score);
        if (chance >= kLeastSuggested) {
            out.add("looks", seen.place, best.id, chance,
                    fmt::format("{}{}, score {:.2f}.", seen.of_it, name_of_id<book::Ornament>(book, best.id),
                                best.score));
            return;
        }
    }
    const bool traces = seen.wear >= kTraces;
    out.add(
        "looks", seen.place, std::string(traces ? looks::kWorn : looks::kSomething), there,
        fmt::format("{} {}{}; no drawing of the open packs is near enough.", traces ? "Only traces of" : "There is",
                    seen.thing, seen.colour.empty() ? "" : fmt::format(" in {}", seen.colour)));
}

void look_at_places(Suggestions& out, const Reading& reading, const book::Book& book) {
    const Border& border = reading.border;
    look_at(
        out,
        {.place = "rim",
         .thing = "a border",
         .present = border.present,
         .ornaments = &border.ornaments,
         .presence = measured::kBorderPresence,
         .ornament = measured::kRimOrnament,
         .of_it = border.repeats ? fmt::format("{} repeat{} of ", *border.repeats, *border.repeats == 1 ? "" : "s")
                                 : std::string{},
         .colour = border.finish,
         .wear = border.wear},
        book);
    for (const auto& [line, place, thing] :
         {std::tuple{&reading.edge_line, "edge", "an edge"}, {&reading.verge_line, "verge", "a verge"}})
        look_at(out,
                {.place = place,
                 .thing = fmt::format("{} line", thing),
                 .present = line->present,
                 .ornaments = &line->ornaments,
                 .presence = measured::kLinePresence,
                 .ornament = measured::kLineOrnament,
                 .of_it = {},
                 .colour = line->colour,
                 .wear = 0},
                book);
    look_at(out,
            {.place = "centre",
             .thing = "a centre ornament",
             .present = reading.centre.present,
             .ornaments = &reading.centre.ornaments,
             .presence = measured::kCentrePresence,
             .ornament = measured::kCentreOrnament,
             .of_it = {},
             .colour = reading.centre.finish,
             .wear = 0},
            book);
}

void look_at_glaze(Suggestions& out, const Glaze& glaze, const book::Book& book) {
    if (!glaze.lab || glaze.nearest.empty()) return;
    const Glaze::Near& best = glaze.nearest.front();
    out.add("glaze", "", best.id, share_right(measured::kGlaze, best.chance),
            fmt::format("The colour is {:.1f} dE00 from {}, give or take {:.1f}.", best.delta_e00,
                        name_of_id<book::Glaze>(book, best.id), glaze.sigma));
}

double below(double value, double mean, double sigma) {
    return 0.5 * std::erfc((mean - value) / (sigma * std::numbers::sqrt2));
}

// The share of a border that is lost, as the model of naming expects it at each degree of wear (settings loss_*,
// loss_at_rim). A degree of wear reaches half-way to its neighbours.
void look_at_wear(Suggestions& out, const Border& border) {
    if (border.present < kThere || border.finish.empty()) return;
    const Settings usual;
    const std::array loss = {usual.loss_none, usual.loss_light, usual.loss_moderate, usual.loss_heavy};
    std::size_t best = 0;
    double best_chance = 0, from = 0;
    for (std::size_t degree = 0; degree < loss.size(); ++degree) {
        const bool last = degree + 1 == loss.size();
        const double to = last ? 1
                               : below((loss[degree] + loss[degree + 1]) / 2 * usual.loss_at_rim, border.wear,
                                       measured::kWearSigma);
        if (to - from > best_chance) best = degree, best_chance = to - from;
        from = to;
    }
    out.add("wear", "", std::string(looks::kWearNames[best]), share_right(measured::kWear, best_chance),
            fmt::format("{} of the border is lost.", percent(border.wear)));
}

// None below the first limit, many from the second on. A dinner plate has some 5 dm2: one speck is none, and what
// is spotted all over is many. Common practice, no published source.
struct Limits {
    double few_from, many_from;
};
constexpr Limits kSpecksPerDm2 = {0.6, 5}, kUnevenness = {0.05, 0.12};

void look_at_faults(Suggestions& out, const Faults& faults) {
    // Each sign on one scale: 0..1 none, 1..2 few, over 2 many. The worst decides.
    const auto scale = [](double value, Limits limits) {
        if (value < limits.few_from) return value / limits.few_from;
        return 1 + (value - limits.few_from) / (limits.many_from - limits.few_from);
    };
    const double worst =
        std::max(scale(faults.specks_per_dm2, kSpecksPerDm2), scale(faults.unevenness, kUnevenness));
    const auto degree = static_cast<std::size_t>(std::clamp(worst, 0.0, 2.0));
    // How far inside its range the score stands: 1 in the middle of it or beyond, 0 at a limit.
    const double inside = degree == 0   ? 1 - worst
                          : degree == 1 ? 1 - std::abs(2 * (worst - 1) - 1)
                                        : std::min(1.0, worst - 2);
    out.add("faults", "", std::string(looks::kFaultsNames[degree]), share_right(measured::kFaults, inside),
            fmt::format("{:.1f} specks to the square decimetre, unevenness {:.2f}, {}.", faults.specks_per_dm2,
                        faults.unevenness, crazing_in_words(faults)));
}

// The readings of one kind (numbers, date codes) when there is just one; its words say how sure the reader was.
void look_at_text(Suggestions& out, const Wording& wording, const std::vector<std::string>& texts,
                  std::string field, std::string_view thing, std::span<const Row> table) {
    if (texts.size() != 1) return;
    double confidence = 0;
    for (const Words& words : wording.words)
        if (words.text.find(texts.front()) != std::string::npos)
            confidence = std::max(confidence, words.confidence);
    out.add(std::move(field), "", texts.front(), share_right(table, confidence),
            fmt::format("The {} reads {}, confidence {:.2f}.", thing, texts.front(), confidence));
}

void look_at_underside(Suggestions& out, const Reading& reading) {
    const Wording& wording = reading.wording;
    double confidence = 0;
    std::string text;
    for (const Words& words : wording.words) {
        confidence = std::max(confidence, words.confidence);
        text += (text.empty() ? "" : " / ") + words.text;
    }
    const double best = wording.marks.empty() ? 0 : share_right(measured::kMark, wording.marks.front().score);
    if (best >= kLeastSuggested) {
        out.add("mark", "", wording.marks.front().id, best,
                text.empty() ? fmt::format("The mark looks like it, score {:.2f}.", wording.marks.front().score)
                             : fmt::format("The mark reads {}, score {:.2f}.", text, wording.marks.front().score));
    } else if (!text.empty()) {
        out.add("mark", "", std::string(looks::kSomething), share_right(measured::kMarkThere, confidence),
                fmt::format("The mark reads {}, which is no mark of the open packs.", text));
    } else if (wording.area == std::array<Point, 4>{} && reading.outline.kind != OutlineKind::kNone) {
        out.add("mark", "", std::string(looks::kNone), share_right(measured::kMarkAbsent, reading.outline.seen),
                "No mark is seen on the underside; one that is faint or impressed may be there.");
    }
    look_at_text(out, wording, wording.numbers, "number", "number", measured::kNumber);
    look_at_text(out, wording, wording.date_codes, "date_code", "date code", measured::kDateCode);
}

void look_at_size(Suggestions& out, const Reading& reading, const book::Book& book) {
    const Outline& outline = reading.outline;
    if (outline.kind == OutlineKind::kNone || !outline.long_mm) return;
    const auto sizes = outline.sizes.empty() ? sizes_that_agree(outline, book) : outline.sizes;
    const auto likeliest = [&](std::string SizeCandidate::*id) {
        std::map<std::string, double> sums;
        for (const SizeCandidate& size : sizes) sums[size.*id] += size.chance;
        return sums.empty() ? std::pair<std::string, double>{}
                            : std::pair<std::string, double>(
                                  *std::ranges::max_element(sums, {}, [](const auto& one) { return one.second; }));
    };
    const std::string measure =
        fmt::format("{:.0f} mm across, give or take {:.1f}", *outline.long_mm, outline.sigma_mm.value_or(0));
    if (const auto [id, chance] = likeliest(&SizeCandidate::shape); !id.empty())
        out.add("shape", "", id, share_right(measured::kShape, chance),
                fmt::format("{}: {} of the sizes that agree are of {}.", measure, percent(chance),
                            name_of_id<book::Shape>(book, id)));
    if (const auto [id, chance] = likeliest(&SizeCandidate::form); !id.empty())
        out.add("form", "", id, share_right(measured::kForm, chance),
                fmt::format("{}: {} of the sizes that agree are of {}.", measure, percent(chance),
                            name_of_id<book::Form>(book, id)));
    out.add("length_mm", "", fmt::format("{:.0f}", *outline.long_mm), share_right(measured::kLength, outline.seen),
            fmt::format("{}; {} of the rim is seen.", measure, percent(outline.seen)));
}

}  // namespace

std::string crazing_in_words(const Faults& faults) {
    if (!faults.crazing) return "crazing not seen well enough to tell";
    return fmt::format("crazing {:.2f}{}", *faults.crazing,
                       *faults.crazing >= kThere ? " (a net of fine cracks: hold it against the light)" : "");
}

std::vector<Suggestion> suggest(const Reading& reading, const book::Book& book) {
    Suggestions out;
    const bool has_piece = reading.outline.kind != OutlineKind::kNone;
    look_at_size(out, reading, book);
    if (has_piece) look_at_glaze(out, reading.glaze, book);
    if (has_piece && reading.side == Side::kFront) {
        look_at_places(out, reading, book);
        look_at_wear(out, reading.border);
        look_at_faults(out, reading.faults);
    }
    if (reading.side == Side::kBack) look_at_underside(out, reading);
    return std::move(out.all);
}

}  // namespace footring::photo
