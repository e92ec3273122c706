// SPDX-License-Identifier: Apache-2.0
#include "photo/reading_json.h"

#include <cmath>
#include <cstdlib>
#include <limits>

#include "base/text.h"

namespace footring::photo {

namespace {

using Ordered = nlohmann::ordered_json;

// Decimals that are kept; see the header.
constexpr int kPx = 2, kPlate = 4, kMm = 2, kDegrees = 2, kChance = 4, kColour = 2, kShare = 4;

Ordered rounded(double value, int decimals) {
    if (!std::isfinite(value)) return nullptr;
    const double unit = std::pow(10, decimals);
    const double whole = std::round(value * unit);
    return whole == 0 ? 0.0 : whole / unit;  // never -0.0
}
Ordered rounded(const std::optional<double>& value, int decimals) {
    return value ? rounded(*value, decimals) : Ordered(nullptr);
}
Ordered figures(double value) {  // nine significant ones
    if (!std::isfinite(value)) return nullptr;
    if (value == 0) return 0.0;
    const int decimals = 8 - static_cast<int>(std::floor(std::log10(std::abs(value))));
    const double unit = std::pow(10, std::abs(decimals));
    return decimals >= 0 ? std::round(value * unit) / unit : std::round(value / unit) * unit;
}
Ordered text_or_null(const std::string& text) { return text.empty() ? Ordered(nullptr) : Ordered(text); }
Ordered point(Point p, int decimals) { return Ordered::array({rounded(p.x, decimals), rounded(p.y, decimals)}); }

template <class Points>
Ordered points(const Points& all) {
    Ordered out = Ordered::array();
    for (const Point& p : all) out.push_back(point(p, kPx));
    return out;
}
Ordered scored(const std::vector<Scored>& all) {
    Ordered out = Ordered::array();
    for (const Scored& one : all) out.push_back({{"id", one.id}, {"score", rounded(one.score, kChance)}});
    return out;
}

Ordered scale_json(const std::optional<Scale>& scale) {
    if (!scale) return nullptr;
    return {{"mm_per_px", figures(scale->mm_per_px)}, {"sigma", figures(scale->sigma)}, {"source", scale->source}};
}

Ordered outline_json(const Outline& outline) {
    const bool found = outline.kind != OutlineKind::kNone;
    Ordered sizes = Ordered::array();
    for (const SizeCandidate& size : outline.sizes)
        sizes.push_back({{"shape", size.shape},
                         {"form", size.form},
                         {"trade_size", size.trade_size},
                         {"chance", rounded(size.chance, kChance)}});
    const Ellipse& rim = outline.rim;
    return {{"kind", name_of(outline.kind)},
            {"centre_px", found ? point(rim.centre, kPx) : Ordered(nullptr)},
            {"axes_px", found ? Ordered::array({rounded(rim.a, kPx), rounded(rim.b, kPx)}) : Ordered(nullptr)},
            {"angle_deg", found ? rounded(rim.angle_deg, kDegrees) : Ordered(nullptr)},
            {"long_mm", rounded(outline.long_mm, kMm)},
            {"short_mm", rounded(outline.short_mm, kMm)},
            {"sigma_mm", rounded(outline.sigma_mm, kMm)},
            {"seen", rounded(outline.seen, kShare)},
            {"tilt_deg", found ? rounded(outline.tilt_deg, kDegrees) : Ordered(nullptr)},
            {"corners_px", points(outline.corners)},
            {"sizes", std::move(sizes)}};
}

Ordered border_json(const Border& border) {
    const bool found = !border.finish.empty();
    Ordered map = Ordered::array();
    for (const float share : border.map) map.push_back(rounded(static_cast<double>(share), 2));
    return {{"present", rounded(border.present, kChance)},
            {"repeats", border.repeats ? Ordered(*border.repeats) : Ordered(nullptr)},
            {"finish", text_or_null(border.finish)},
            {"wear", found ? rounded(border.wear, kShare) : Ordered(nullptr)},
            {"ornaments", scored(border.ornaments)},
            {"band",
             found ? Ordered::array({rounded(border.from, kPlate), rounded(border.to, kPlate)}) : Ordered(nullptr)},
            {"phase", border.repeats ? rounded(border.phase, kPlate) : Ordered(nullptr)},
            {"map", std::move(map)}};
}

Ordered line_json(const Line& line) {
    const bool found = !line.colour.empty();
    return {{"present", rounded(line.present, kChance)},
            {"colour", text_or_null(line.colour)},
            {"at", found ? rounded(line.at, kPlate) : Ordered(nullptr)},
            {"width", found ? rounded(line.width, kPlate) : Ordered(nullptr)},
            {"width_mm", rounded(line.width_mm, kMm)},
            {"ornaments", scored(line.ornaments)}};
}

Ordered centre_json(const Centre& centre) {
    const bool found = centre.radius > 0;
    return {{"present", rounded(centre.present, kChance)},
            {"ornaments", scored(centre.ornaments)},
            {"finish", text_or_null(centre.finish)},
            {"radius", found ? rounded(centre.radius, kPlate) : Ordered(nullptr)},
            {"middle", found ? point(centre.middle, kPlate) : Ordered(nullptr)},
            {"angle_deg", found ? rounded(centre.angle_deg, kDegrees) : Ordered(nullptr)}};
}

Ordered glaze_json(const Glaze& glaze) {
    Ordered lab = nullptr;
    if (glaze.lab) {
        lab = Ordered::array();
        for (const double v : *glaze.lab) lab.push_back(rounded(v, kColour));
    }
    Ordered nearest = Ordered::array();
    for (const Glaze::Near& near : glaze.nearest)
        nearest.push_back({{"id", near.id},
                           {"delta_e00", rounded(near.delta_e00, kColour)},
                           {"chance", rounded(near.chance, kChance)}});
    return {{"lab", std::move(lab)},
            {"nearest", std::move(nearest)},
            {"sigma", glaze.lab ? rounded(glaze.sigma, kColour) : Ordered(nullptr)}};
}

Ordered faults_json(const Faults& faults, bool looked) {
    if (!looked)
        return {{"specks_per_dm2", nullptr},
                {"unevenness", nullptr},
                {"crazing", nullptr},
                {"specks_px", Ordered::array()}};
    return {{"specks_per_dm2", rounded(faults.specks_per_dm2, 2)},
            {"unevenness", rounded(faults.unevenness, kShare)},
            {"crazing", faults.crazing ? rounded(*faults.crazing, kChance) : Ordered(nullptr)},
            {"specks_px", points(faults.specks)}};
}

Ordered words_json(const std::vector<Words>& all) {
    Ordered out = Ordered::array();
    for (const Words& words : all)
        out.push_back({{"text", words.text},
                       {"confidence", rounded(words.confidence, kChance)},
                       {"box_px", points(words.box)},
                       {"turned_deg", rounded(words.turned_deg, kDegrees)}});
    return out;
}

Ordered card_json(const std::optional<Card>& card) {
    if (!card) return nullptr;
    Ordered markers = Ordered::array();
    for (std::size_t id = 0; id < card->markers.size(); ++id)
        markers.push_back({{"id", id},
                           {"seen", card->seen[id]},
                           {"corners_px", card->seen[id] ? points(card->markers[id]) : Ordered(nullptr)}});
    return {{"corners_px", points(card->corners)}, {"markers", std::move(markers)}};
}

Ordered pose_json(const std::optional<std::array<double, 12>>& pose) {
    if (!pose) return nullptr;
    Ordered out = Ordered::array();
    for (const double v : *pose) out.push_back(figures(v));
    return out;
}

Ordered sure_json(const std::optional<looks::Sure>& sure) {
    return sure ? Ordered(looks::kSureNames[static_cast<std::size_t>(*sure)]) : Ordered(nullptr);
}

// A look without a sureness would be taken for sure: it stays out of the piece file.
Ordered looks_json(const std::vector<Suggestion>& suggestions) {
    Ordered out = Ordered::array();
    for (const Suggestion& s : suggestions)
        if (s.field == "looks" && s.sure)
            out.push_back({{"place", s.place}, {"value", s.value}, {"sure", sure_json(s.sure)}});
    return out;
}

// The other fields, as the piece file has them. `form`, `wear`, `date_code`, `faults` and lengths cannot say there
// how sure they are and count as certain: as mere guesses they are left for the person to enter.
Ordered piece_json(const std::vector<Suggestion>& suggestions) {
    Ordered out = Ordered::object();
    for (const Suggestion& s : suggestions) {
        if (s.field == "looks" || !s.sure) continue;
        const bool says_how_sure =
            s.field == "shape" || s.field == "glaze" || s.field == "mark" || s.field == "number";
        if (says_how_sure) out[s.field] = {{"value", s.value}, {"sure", sure_json(s.sure)}};
        else if (*s.sure == looks::Sure::kGuess) continue;
        else if (s.field.ends_with("_mm")) out[s.field] = to_number(s.value).value_or(0);
        else out[s.field] = s.value;
    }
    return out;
}

Ordered suggestions_json(const std::vector<Suggestion>& suggestions) {
    Ordered out = Ordered::array();
    for (const Suggestion& s : suggestions)
        out.push_back({{"field", s.field},
                       {"place", text_or_null(s.place)},
                       {"value", s.value},
                       {"sure", sure_json(s.sure)},
                       {"chance", rounded(s.chance, kChance)},
                       {"why", s.why}});
    return out;
}

}  // namespace

Ordered reading_json(const Reading& reading) {
    const bool marked = reading.wording.area != std::array<Point, 4>{};
    const bool has_strip = reading.strip_to > reading.strip_from;
    return {{"photo", {{"file", reading.file}, {"width", reading.width}, {"height", reading.height}}},
            {"scale", scale_json(reading.scale)},
            {"outline", outline_json(reading.outline)},
            {"border", border_json(reading.border)},
            {"edge_line", line_json(reading.edge_line)},
            {"verge_line", line_json(reading.verge_line)},
            {"centre", centre_json(reading.centre)},
            {"glaze", glaze_json(reading.glaze)},
            {"faults", faults_json(reading.faults, reading.outline.kind != OutlineKind::kNone)},
            {"wording", words_json(reading.wording.words)},
            {"marks", scored(reading.wording.marks)},
            {"looks", looks_json(reading.suggestions)},
            {"notes", reading.notes},
            {"side", reading.side == Side::kBack ? "back" : "front"},
            {"card", card_json(reading.card)},
            {"mark_area_px", marked ? points(reading.wording.area) : Ordered(nullptr)},
            {"numbers", reading.wording.numbers},
            {"date_codes", reading.wording.date_codes},
            {"strip", has_strip ? Ordered{{"from", rounded(reading.strip_from, kPlate)},
                                          {"to", rounded(reading.strip_to, kPlate)}}
                                : Ordered(nullptr)},
            {"photo_from_plate", pose_json(reading.photo_from_plate)},
            {"piece", piece_json(reading.suggestions)},
            {"suggestions", suggestions_json(reading.suggestions)}};
}

}  // namespace footring::photo
