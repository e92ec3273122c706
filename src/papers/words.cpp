// SPDX-License-Identifier: Apache-2.0
#include "papers/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace footring::papers {

namespace {

using book::Book;
using book::Place;
using book::Ref;

const char* at_place(Place place) {
    switch (place) {
        case Place::kRim:
            return "on the rim";
        case Place::kVerge:
            return "at the verge";
        case Place::kCentre:
            return "in the centre";
        case Place::kEdge:
            return "at the edge";
        case Place::kHandle:
            return "on the handles";
        case Place::kLid:
            return "on the lid";
        case Place::kFinial:
            return "on the finial";
        case Place::kBody:
            return "on the body";
        case Place::kInside:
            return "inside";
        case Place::kFoot:
            return "at the foot";
        case Place::kUnderside:
            return "on the underside";
    }
    return "";
}

}  // namespace

std::string called(const Book& b, Ref<book::Treatment> t) {
    const book::Treatment& row = b[t];
    if (row.number.empty() && row.name.empty()) return book::id_of(b, t);
    if (row.number.empty()) return row.name;
    return row.name.empty() ? row.number : row.number + " " + row.name;
}
std::string number_of(const Book& b, Ref<book::Treatment> t) {
    return b[t].number.empty() ? called(b, t) : b[t].number;
}
std::string shape_of(const Book& b, Ref<book::Shape> shape) {
    return b[shape].name.empty() ? b[shape].id : b[shape].name;
}
std::string form_of(const Book& b, Ref<book::Form> form) {
    return b[form].name.empty() ? b[form].id : b[form].name;
}
std::string years_of(const std::optional<edtf::Edtf>& years) { return years ? edtf::in_words(*years) : ""; }
std::string short_years(const std::optional<edtf::Edtf>& years) {
    if (!years) return "";
    if (years->spans().size() != 1) return edtf::in_words(*years);
    const edtf::Span& span = years->spans().front();
    const auto end = [](std::int64_t year, edtf::End how) {
        return (how == edtf::End::kSharp   ? ""
                : how == edtf::End::kAbout ? "about "
                                           : "perhaps ") +
               std::to_string(year);
    };
    if (!span.first && !span.last) return edtf::in_words(*years);
    if (!span.last) return "from " + end(*span.first, span.first_end);
    if (!span.first) return "until " + end(*span.last, span.last_end);
    if (*span.first == *span.last) return edtf::in_words(*years);
    return end(*span.first, span.first_end) + "\u2013" + end(*span.last, span.last_end);
}
std::string date_words(const std::string& text) {
    const auto date = edtf::parse(text);
    return date && !text.empty() ? short_years(std::optional(*date)) : text;
}
std::string grade_words(book::Grade grade) {
    switch (grade) {
        case book::Grade::kFirst:
            return "first run";
        case book::Grade::kSecond:
            return "second-grade ware";
        case book::Grade::kAny:
            return "first run and seconds alike";
    }
    return "";
}
std::string percent(double share) {
    if (share > 0 && share < 0.005) return "under 1\u00a0%";
    if (share < 1 && share > 0.995) return "over 99\u00a0%";
    return fmt::format("{:.0f}\u00a0%", 100 * share);
}
std::string count_of(std::size_t n, const std::string& one, const std::string& several) {
    static constexpr const char* kWords[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                             "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    const std::string number = n <= 12 ? kWords[n] : std::to_string(n);
    return number + " " + (n == 1 ? one : several);
}
std::string decoration_words(const Book& b, const book::Decoration& decoration) {
    std::string out;
    for (std::size_t p = 0; p < book::kPlaces; ++p) {
        const auto& rows = decoration.at[p];
        if (rows.empty()) continue;
        std::vector<std::string> names;
        double bare = 1;
        for (const book::Carried& carried : rows) {
            const book::Ornament& ornament = b[carried.ornament];
            std::string name = ornament.name.empty() ? ornament.id : ornament.name;
            if (carried.share < 1) name += fmt::format(" ({})", percent(carried.share));
            names.push_back(std::move(name));
            bare -= carried.share;
        }
        if (bare > 0.005) names.emplace_back("none");
        out +=
            fmt::format("{}{} {}", out.empty() ? "" : "; ", listed(names, " or "), at_place(static_cast<Place>(p)));
    }
    return out.empty() ? "no decoration recorded" : out;
}

std::string value_words(const Book& b, const std::string& look, const std::string& value) {
    if (value == "none") return "nothing";
    if (value == "not recorded") return "not recorded";
    const auto name = [&](auto found, std::string_view fallback) {
        if (!found) return std::string(fallback);
        const auto& row = b[*found];
        return row.name.empty() ? row.id : row.name;
    };
    if (look == "shape") return name(book::find<book::Shape>(b, value, ""), value);
    if (look == "glaze") return name(book::find<book::Glaze>(b, value, ""), value);
    // "rosette (60 %) or wreath (40 %)": the id is what stands before a bracket.
    std::string out;
    std::size_t at = 0;
    while (at < value.size()) {
        const std::size_t either = std::min(value.find(" or ", at), value.size());
        const std::string one = value.substr(at, either - at);
        const std::size_t bracket = std::min(one.find(" ("), one.size());
        if (!out.empty()) out += " or ";
        out += name(book::find<book::Ornament>(b, one.substr(0, bracket), ""), one.substr(0, bracket)) +
               one.substr(bracket);
        at = either == value.size() ? either : either + 4;
    }
    return out;
}

Text Bibliography::cite(const std::vector<Ref<book::Source>>& sources) {
    Text out;
    for (const auto source : sources) {
        auto known = numbers_.find(source.at);
        if (known == numbers_.end()) {
            order_.push_back(source);
            known = numbers_.emplace(source.at, order_.size()).first;
        }
        out.add(out.empty() ? "\u00a0[" : ",\u00a0");
        out.add(std::to_string(known->second), Run::Style::kPlain, "#source-" + std::to_string(known->second));
    }
    if (!out.empty()) out.add("]");
    return out;
}

Text source_words(const book::Source& source) {
    Text out;
    const auto then = [&](const std::string& words, Run::Style style = Run::Style::kPlain) {
        if (words.empty()) return;
        if (!out.empty()) out.add(", ");
        out.add(words, style);
    };
    then(source.creator);
    then(source.title, Run::Style::kItalic);
    then(date_words(source.date));
    then(source.locator);
    if (out.empty()) out.add(source.id);
    return out;
}

std::string trust_words(std::optional<double> trust) {
    return trust ? fmt::format("trust\u00a0{:.2f}", *trust) : "trust not stated";
}

std::vector<Block> Bibliography::list() const {
    std::vector<Block> out;
    for (std::size_t i = 0; i < order_.size(); ++i) {
        const book::Source& source = book_[order_[i]];
        Paragraph p;
        p.kind = Paragraph::Kind::kListed;
        p.id = "source-" + std::to_string(i + 1);
        p.aside = fmt::format("[{}]", i + 1);
        p.text = source_words(source);
        p.text.add(fmt::format(". {}{}.", source.kind.empty() ? "" : capital(source.kind) + "; ",
                               trust_words(source.trust)));
        out.emplace_back(std::move(p));
    }
    return out;
}

std::string pack_titles(const Book& b) {
    std::vector<std::string> titles;
    for (const book::Pack& pack : b.packs) titles.push_back(pack.title.empty() ? pack.id : pack.title);
    return listed(titles);
}

std::vector<Block> colophon(const Book& b, const std::string& date) {
    std::vector<Block> out;
    out.emplace_back(Heading{2, "What this paper was made from", "made-from", ""});
    for (const book::Pack& pack : b.packs) {
        Paragraph p;
        p.kind = Paragraph::Kind::kNote;
        p.text.italic(pack.title.empty() ? pack.id : pack.title);
        p.text.add(fmt::format(", version {}{}. {}", pack.version.empty() ? "not stated" : pack.version,
                               pack.contributors.empty() ? "" : ", by " + listed(pack.contributors),
                               pack.description));
        out.emplace_back(std::move(p));
    }
    Paragraph last;
    last.kind = Paragraph::Kind::kNote;
    last.text.add(
        fmt::format("{}The numbers are those of the packs; trust (0 to 1) is how far each source is believed by "
                    "whoever recorded it. "
                    "Drawings are schematic: they show what is recorded, not how a piece looks.",
                    date.empty() ? "" : fmt::format("Set on {}. ", date)));
    out.emplace_back(std::move(last));
    return out;
}

}  // namespace footring::papers
