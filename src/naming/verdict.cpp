// The answer in one or two plain sentences.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "naming/parts.h"

namespace footring::naming {

namespace {

// "61 %", but never "100 %" or "0 %" of what is not certain.
std::string percent(double p) {
    const double whole = std::round(100 * p);
    if (whole >= 100) return p < 0.9999 ? "over 99 %" : "all but certain";
    if (whole <= 0) return "under 1 %";
    return fmt::format("{:.0f} %", whole);
}

std::string label(const book::Book& b, book::Ref<book::Treatment> ref) {
    const book::Treatment& t = b[ref];
    std::string out = t.number.empty() ? "treatment " + book::id_of(b, ref) : "treatment " + t.number;
    if (!t.name.empty()) out += fmt::format(" ({})", t.name);
    out += " on " + b[t.shape].name;
    if (t.glaze) out += " in " + b[*t.glaze].name;
    return out;
}

std::string sentence(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

}  // namespace

std::string verdict(const Weighing& w, const Answer& a) {
    const book::Book& b = *w.t.book;
    if (b.treatments.empty())
        return "The open packs list no treatments, so there is nothing to compare the piece with.";
    if (w.impossible)
        return "What was seen is impossible under everything that the open packs and settings allow: "
               "a share of exactly 0 or 1 in them forbids it.";
    const double open = a.open.unlisted + a.open.elsewhere;
    const double best = a.candidates.empty() ? 0 : a.candidates.front().probability;
    // Open hypotheses that lead a field spread thin have not won: too little was seen.
    constexpr double kWon = 0.3;
    if (std::max(a.open.unlisted, a.open.elsewhere) >= best && open >= kWon) {
        const bool unlisted = a.open.unlisted >= a.open.elsewhere;
        std::string out = unlisted
                              ? "Nothing in the open packs fits well: most likely a treatment that no pack lists"
                              : "Nothing in the open packs fits well: most likely another maker's piece, or one "
                                "decorated elsewhere";
        out += fmt::format(" ({}).", percent(unlisted ? a.open.unlisted : a.open.elsewhere));
        if (best > 0)
            out += fmt::format(" The nearest listed one is {} ({}).", label(b, a.candidates.front().treatment),
                               percent(best));
        return out;
    }
    if (a.candidates.empty())
        return "Nothing in the open packs stands out: too little has been seen to name the piece.";
    const Candidate& first = a.candidates.front();
    double together = first.probability;
    std::vector<std::string> twins;
    for (const auto twin : first.twins) {
        twins.push_back(b[twin].number.empty() ? book::id_of(b, twin) : b[twin].number);
        for (const Candidate& c : a.candidates)
            if (c.treatment == twin) together += c.probability;
    }
    std::string out;
    constexpr double kThin = 0.1;
    if (together < kThin)
        return fmt::format(
            "Too little has been seen to name it: {} listed treatments remain possible, the likeliest {} ({}).",
            a.candidates.size(), label(b, first.treatment), percent(best));
    if (twins.empty()) {
        const std::string_view manner = best >= 0.95 ? "" : best >= 0.5 ? "most likely " : "perhaps ";
        out = sentence(fmt::format("{}{} ({}).", manner, label(b, first.treatment), percent(best)));
    } else {
        const std::size_t shown = std::min<std::size_t>(twins.size(), 3);
        std::string names;
        for (std::size_t i = 0; i < shown; ++i) names += fmt::format("{}{}", i == 0 ? "" : ", ", twins[i]);
        if (twins.size() > shown) names += fmt::format(" and {} more", twins.size() - shown);
        out = sentence(
            fmt::format("{}{} ({}), or its {} {}, which no look at this form can tell from it (together {}).",
                        together >= 0.95  ? ""
                        : together >= 0.5 ? "most likely "
                                          : "perhaps ",
                        label(b, first.treatment), percent(best), twins.size() == 1 ? "twin" : "twins", names,
                        percent(together)));
    }
    if (open >= 0.2) out += fmt::format(" That it is none of the listed ones stays possible ({}).", percent(open));
    return out;
}

}  // namespace footring::naming
