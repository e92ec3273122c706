// SPDX-License-Identifier: Apache-2.0
#include "care/cautions.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/json.h"
#include "book/decoration.h"

namespace footring::care {

namespace {

// The first limit that the United States put on leaching lead; see docs/care.md#limits.
constexpr int kFirstLimitYear = 1971;

bool is_metal(const book::Ornament& o) {
    return o.finish == "gold" || o.finish == "platinum" || o.finish == "silver";
}
// Over the glaze: metal, stamps, decals and enamel lines wear; prints under the glaze and reliefs do not.
bool is_over_glaze(const book::Ornament& o) {
    using enum book::OrnamentKind;
    return is_metal(o) || o.kind == kStamp || o.kind == kDecal || o.kind == kLine || o.kind == kBand;
}

using Sources = std::vector<book::Ref<book::Source>>;

struct Reason {
    double chance = 0;
    std::vector<std::string> because;
    Sources sources = {};
    void seen(std::string why, const Sources& from) {
        chance = 1;
        if (std::ranges::find(because, why) == because.end()) because.push_back(std::move(why));
        lean_on(from);
    }
    void lean_on(const Sources& from) {
        for (const auto source : from)
            if (std::ranges::find(sources, source) == sources.end()) sources.push_back(source);
    }
};

struct Case {
    const book::Book& book;
    const looks::Findings& findings;
    std::span<const naming::Candidate> candidates;

    // Ornaments that were seen, else those that the candidates carry, as far as `wanted` and the places allow.
    template <class Wanted>
    Reason ornaments(const Wanted& wanted) const {
        Reason out;
        std::array<bool, book::kPlaces> looked{};
        for (const looks::OrnamentSighting& sighting : findings.ornaments) {
            looked[static_cast<std::size_t>(sighting.place)] = true;
            const auto* ornament = std::get_if<book::Ref<book::Ornament>>(&sighting.value);
            if (ornament != nullptr && wanted(book[*ornament], sighting.place))
                out.seen(fmt::format("{}: {} ({}) was seen", book::name_of(sighting.place), book[*ornament].name,
                                     book[*ornament].finish),
                         book[*ornament].sources);
        }
        if (out.chance > 0) return out;
        double chance = 0;
        std::string first;
        for (const naming::Candidate& candidate : candidates) {
            const book::Decoration decoration = book::decoration(book, candidate.treatment, findings.form);
            double share = 0;
            const book::Ornament* bearing = nullptr;
            for (std::size_t place = 0; place < book::kPlaces; ++place) {
                if (looked[place]) continue;  // what was looked at speaks for itself
                for (const book::Carried& carried : decoration[static_cast<book::Place>(place)])
                    if (wanted(book[carried.ornament], static_cast<book::Place>(place)) && carried.share > share) {
                        share = carried.share;
                        bearing = &book[carried.ornament];
                    }
            }
            if (share > 0 && first.empty()) {
                first = book::id_of(book, candidate.treatment);
                out.lean_on(bearing->sources);
            }
            chance += candidate.probability * share;
        }
        if (chance < kLeastChance) return {};
        out.chance = std::min(1.0, chance);
        out.because.push_back(
            fmt::format("treatment {}{} carries it", first, candidates.size() > 1 ? " and perhaps others" : ""));
        return out;
    }

    Reason uranium() const {
        Reason out;
        if (findings.glaze)
            if (const auto* glaze = std::get_if<book::Ref<book::Glaze>>(&findings.glaze->value)) {
                if (book[*glaze].uranium == book::Uranium::kYes)
                    out.seen(fmt::format("glaze {} is recorded as bearing uranium", book[*glaze].name),
                             book[*glaze].sources);
                return out;
            }
        std::string first;
        for (const naming::Candidate& candidate : candidates)
            if (const auto glaze = book[candidate.treatment].glaze;
                glaze && book[*glaze].uranium == book::Uranium::kYes) {
                out.chance += candidate.probability;
                if (first.empty()) first = book[*glaze].name;
                out.lean_on(book[*glaze].sources);
            }
        if (out.chance < kLeastChance) return {};
        out.because.push_back(fmt::format("glaze {} of a candidate is recorded as bearing uranium", first));
        return out;
    }
};

}  // namespace

std::vector<Caution> cautions(const book::Book& book, const looks::Findings& findings,
                              std::span<const naming::Candidate> candidates, std::optional<int> year) {
    const Case piece{book, findings, candidates};
    std::vector<Caution> out;
    const auto add = [&](std::string id, std::string title, std::string text, const Reason& reason) {
        if (reason.chance > 0)
            out.push_back(
                {std::move(id), std::move(title), std::move(text), reason.because, reason.chance, reason.sources});
    };
    const auto metal = piece.ornaments([](const book::Ornament& o, book::Place) { return is_metal(o); });
    add("metal-trim", "Metal trim", "Keep it out of the microwave oven: metal trim sparks and burns.", metal);
    add("uranium-glaze", "Uranium glaze",
        "The glaze may bear uranium. Keep it for show, do not eat or drink from it, and do not grind or drill it.",
        piece.uranium());

    const auto over = piece.ornaments([](const book::Ornament& o, book::Place) { return is_over_glaze(o); });
    if (findings.wear && (*findings.wear == looks::Wear::kModerate || *findings.wear == looks::Wear::kHeavy)) {
        Reason worn = over;
        worn.because.insert(worn.because.begin(),
                            fmt::format("wear is {}", looks::kWearNames[static_cast<std::size_t>(*findings.wear)]));
        add("worn-decoration", "Worn decoration",
            "Worn decoration over the glaze can give off lead and cadmium. Keep sour, hot and long-standing food "
            "away "
            "from it until a laboratory has tested it.",
            worn);
    }
    if (year && *year < kFirstLimitYear)
        add("early-ware", "Early ware",
            "It is older than the first limits on lead that leaches. Do not use it for food before a laboratory "
            "has tested "
            "it.",
            {1, {fmt::format("its date is about {}", *year)}});
    add("crazing", "Crazing",
        "Look for crazing against the light. A crazed glaze lets food and water into the body: do not keep food in "
        "it, and "
        "dry it well.",
        {1, {"no look tells of crazing"}});
    add("dishwasher", "Dishwasher",
        "Wash it by hand in lukewarm water: dishwashers take metal and colours off the glaze.", over);
    const bool flat = findings.form && book[*findings.form].ware == book::Ware::kFlat;
    if (flat || !findings.form) {
        auto face = piece.ornaments([](const book::Ornament& o, book::Place place) {
            return is_over_glaze(o) && (place == book::Place::kCentre || place == book::Place::kVerge ||
                                        place == book::Place::kRim || place == book::Place::kInside);
        });
        add("stacking", "Stacking",
            "Lay felt or paper between stacked pieces: the unglazed foot of one scratches the face of the next.",
            face);
    }
    return out;
}

std::vector<Caution> cautions(const book::Book& book, const looks::Findings& findings,
                              const naming::Answer& answer) {
    const bool dated = !answer.date.by_year.empty();
    return cautions(book, findings, answer.candidates, dated ? std::optional(answer.date.median) : std::nullopt);
}

nlohmann::ordered_json cautions_json(const book::Book& book, const std::vector<Caution>& list) {
    using Json = nlohmann::ordered_json;
    return json_list(list, [&](const Caution& c) {
        return Json{{"id", c.id},
                    {"title", c.title},
                    {"text", c.text},
                    {"because", c.because},
                    {"chance", c.chance},
                    {"sources", json_list(c.sources, [&](auto ref) {
                         const book::Source& row = book[ref];
                         return Json{{"id", book::id_of(book, ref)},
                                     {"title", row.title},
                                     {"trust", row.trust ? Json(*row.trust) : Json(nullptr)}};
                     })}};
    });
}

}  // namespace footring::care
