// SPDX-License-Identifier: Apache-2.0
#include "server/book_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/json.h"
#include "base/text.h"
#include "book/decoration.h"
#include "book/glyph.h"
#include "looks/piece.h"
#include "server/app.h"

namespace footring::server {

using book::Book;
using book::Ref;

namespace {

void add_years(ordered_json& out, const std::optional<edtf::Edtf>& years) {
    out["years"] = years ? ordered_json(years->text()) : ordered_json("");
    out["years_words"] = years ? edtf::in_words(*years) : "";
}

template <class T>
ordered_json perhaps_named(const Book& book, const std::optional<Ref<T>>& ref) {
    return ref ? named(book, *ref) : ordered_json();
}

// How every row ends: where it stands, and before that what it leans on.
template <class T>
ordered_json with_origin(ordered_json out, const Book& book, const T& row) {
    out["pack"] = row.origin.pack < book.packs.size() ? book.packs[row.origin.pack].id : "";
    out["row"] = fmt::format("{}.csv:{}", Book::table_name<T>(), row.origin.line);
    return out;
}
template <class T>
ordered_json with_sources(ordered_json out, const Book& book, const T& row) {
    out["sources"] = sources_json(book, row.sources);
    return with_origin(std::move(out), book, row);
}

}  // namespace

ordered_json or_null(const std::optional<double>& value) { return value ? ordered_json(*value) : ordered_json(); }

ordered_json treatment_named(const Book& book, Ref<book::Treatment> ref) {
    return {{"id", book::id_of(book, ref)}, {"number", book[ref].number}, {"name", book[ref].name}};
}

ordered_json sources_json(const Book& book, const std::vector<Ref<book::Source>>& sources) {
    return json_list(sources, [&](Ref<book::Source> source) {
        return ordered_json{{"id", book::id_of(book, source)},
                            {"title", book[source].title},
                            {"trust", or_null(book[source].trust)}};
    });
}

namespace {

// The row of a full id, without the search for near names that find() makes when there is none.
template <class T>
std::optional<Ref<T>> row_of(const Book& book, std::string_view full) {
    const std::size_t colon = full.find(':');
    const std::string_view bare = colon == full.npos ? full : full.substr(colon + 1);
    const auto same = book.ids.find(fmt::format("{}/{}", Book::table_name<T>(), bare));
    if (same == book.ids.end()) return std::nullopt;
    for (const std::uint32_t at : same->second) {
        const std::uint32_t pack = book.table<T>()[at].origin.pack;
        if (colon == full.npos || (pack < book.packs.size() && book.packs[pack].id == full.substr(0, colon)))
            return Ref<T>{at};
    }
    return std::nullopt;
}

template <class T, class Name>
bool is_row(const Book& book, const std::string& full, ordered_json& out, Name name) {
    const auto ref = row_of<T>(book, full);
    if (ref) out = {{"table", Book::table_name<T>()}, {"id", book::id_of(book, *ref)}, {"name", name(book[*ref])}};
    return ref.has_value();
}

}  // namespace

ordered_json subject_json(const Book& book, const std::string& full) {
    ordered_json out{{"table", ""}, {"id", full}, {"name", ""}};
    const auto name = [](const auto& row) { return row.name; };
    const auto wording = [](const book::Mark& row) { return row.wording; };
    const auto number = [](const book::Treatment& row) { return row.name.empty() ? row.number : row.name; };
    is_row<book::Treatment>(book, full, out, number) || is_row<book::Ornament>(book, full, out, name) ||
        is_row<book::Shape>(book, full, out, name) || is_row<book::Glaze>(book, full, out, name) ||
        is_row<book::Mark>(book, full, out, wording) || is_row<book::Maker>(book, full, out, name) ||
        is_row<book::Form>(book, full, out, name);
    return out;
}

ordered_json row_json(const Book& book, Ref<book::Maker> ref) {
    const book::Maker& row = book[ref];
    ordered_json out{
        {"id", book::id_of(book, ref)}, {"name", row.name}, {"role", name_of(row.role)}, {"place", row.place}};
    add_years(out, row.years);
    out["unmarked_share"] = or_null(row.unmarked_share);
    out["numbered_share"] = or_null(row.numbered_share);
    out["note"] = row.note;
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Shape> ref) {
    const book::Shape& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)}, {"maker", perhaps_named(book, row.maker)}, {"name", row.name}};
    add_years(out, row.years);
    out["note"] = row.note;
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Form> ref) {
    const book::Form& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},    {"name", row.name}, {"ware", name_of(row.ware)},
                     {"outline", name_of(row.outline)}, {"aat", row.aat},   {"note", row.note},
                     {"sources", ordered_json::array()}};
    return with_origin(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Glaze> ref) {
    const book::Glaze& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)}, {"maker", perhaps_named(book, row.maker)}, {"name", row.name}};
    constexpr const char* kLab[] = {"lab_l", "lab_a", "lab_b"};
    for (std::size_t i = 0; i < 3; ++i) out[kLab[i]] = row.lab ? ordered_json((*row.lab)[i]) : ordered_json();
    out["colour"] = row.lab ? ordered_json(book::srgb_of_lab(*row.lab)) : ordered_json();
    add_years(out, row.years);
    out["uranium"] = name_of(row.uranium);
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Ornament> ref) {
    const book::Ornament& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},
                     {"name", row.name},
                     {"kind", name_of(row.kind)},
                     {"finish", row.finish},
                     {"drawing", row.drawing}};
    out["repeats"] = row.repeats ? ordered_json(*row.repeats) : ordered_json();
    out["supplier"] = perhaps_named(book, row.supplier);
    out["shared"] = row.shared;
    out["second_share"] = or_null(row.second_share);
    add_years(out, row.years);
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Treatment> ref) {
    const book::Treatment& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},
                     {"shape", named(book, row.shape)},
                     {"maker", perhaps_named(book, book[row.shape].maker)},
                     {"glaze", perhaps_named(book, row.glaze)},
                     {"number", row.number},
                     {"name", row.name},
                     {"grade", name_of(row.grade)}};
    add_years(out, row.years);
    out["outlet"] = row.outlet;
    out["note"] = row.note;
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Mark> ref) {
    const book::Mark& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},
                     {"maker", perhaps_named(book, row.maker)},
                     {"wording", row.wording},
                     {"drawing", row.drawing}};
    add_years(out, row.years);
    out["shapes"] = json_list(row.shapes, [&](Ref<book::Shape> shape) { return named(book, shape); });
    out["grade"] = row.second ? "second" : "";
    out["code_scheme"] = row.code_scheme ? ordered_json(book::id_of(book, *row.code_scheme)) : ordered_json();
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Source> ref) {
    const book::Source& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)}, {"kind", row.kind}, {"creator", row.creator},
                     {"title", row.title},           {"date", row.date}, {"locator", row.locator},
                     {"trust", or_null(row.trust)}};
    return with_origin(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Statement> ref) {
    const book::Statement& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},
                     {"subject", subject_json(book, row.subject)},
                     {"property", row.property},
                     {"value", row.value},
                     {"stance", row.stance_for ? "for" : "against"},
                     {"source", book::source_ids(book, row.sources)},
                     {"note", row.note}};
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::DatedUse> ref) {
    const book::DatedUse& row = book[ref];
    ordered_json out{{"subject", subject_json(book, row.subject)},
                     {"date", row.date.text()},
                     {"date_words", edtf::in_words(row.date)},
                     {"kind", row.kind}};
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::CodeScheme> ref) {
    const book::CodeScheme& row = book[ref];
    ordered_json out{
        {"id", book::id_of(book, ref)}, {"pattern", row.pattern}, {"tables", row.tables}, {"note", row.note}};
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::Clue> ref) {
    const book::Clue& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},
                     {"name", row.name},
                     {"wording", row.wording},
                     {"pattern", row.pattern},
                     {"unlike", row.unlike}};
    add_years(out, row.years);
    out["rarely"] = row.rarely ? row.rarely->text() : "";
    out["rarely_words"] = row.rarely ? edtf::in_words(*row.rarely) : "";
    out["kind"] = row.kind;
    out["jurisdiction"] = row.jurisdiction;
    out["rule"] = row.rule;
    out["verified"] = book::name_of(row.verified);
    out["note"] = row.note;
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::NumberSeries> ref) {
    const book::NumberSeries& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)},
                     {"name", row.name},
                     {"wording", row.wording},
                     {"unlike", row.unlike},
                     {"letter", row.letter},
                     {"jurisdiction", row.jurisdiction},
                     {"rule", row.rule},
                     {"note", row.note}};
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::SeriesNumber> ref) {
    const book::SeriesNumber& row = book[ref];
    ordered_json out{{"series", named(book, row.series)}, {"year", row.year}, {"first_number", row.first_number}};
    out["other_number"] = row.other_number ? ordered_json(*row.other_number) : ordered_json();
    out["verified"] = book::name_of(row.verified);
    out["note"] = row.note;
    return with_sources(std::move(out), book, row);
}

ordered_json row_json(const Book& book, Ref<book::TradeCount> ref) {
    const book::TradeCount& row = book[ref];
    ordered_json out{{"id", book::id_of(book, ref)}, {"name", row.name}, {"count", row.count}};
    out["pints"] = or_null(row.pints);
    out["height_mm"] = or_null(row.height_mm);
    out["verified"] = book::name_of(row.verified);
    out["note"] = row.note;
    return with_sources(std::move(out), book, row);
}

namespace {

// At which places some pack records something for a form: elsewhere a look would tell nothing.
ordered_json places_of_form(const Book& book, Ref<book::Form> form) {
    std::set<book::Place> places;
    for (const book::TreatmentOrnament& row : book.treatment_ornaments)
        if (row.on.form ? *row.on.form == form : !row.on.ware || *row.on.ware == book[form].ware)
            places.insert(row.place);
    return json_list(places, [](book::Place place) { return name_of(place); });
}

template <class T, class To>
ordered_json rows_of(const Book& book, To to) {
    ordered_json out = ordered_json::array();
    for (std::uint32_t at = 0; at < book.table<T>().size(); ++at) out.push_back(to(Ref<T>{at}));
    return out;
}

ordered_json maker_id(const Book& book, const std::optional<Ref<book::Maker>>& maker) {
    return maker ? ordered_json(book::id_of(book, *maker)) : ordered_json();
}
std::string years_text(const std::optional<edtf::Edtf>& years) { return years ? years->text() : ""; }

}  // namespace

ordered_json vocabulary_json(const Book& book, const Settings& settings) {
    ordered_json out;
    out["forms"] = rows_of<book::Form>(book, [&](Ref<book::Form> ref) -> ordered_json {
        const book::Form& row = book[ref];
        return {{"id", book::id_of(book, ref)},
                {"name", row.name},
                {"ware", name_of(row.ware)},
                {"outline", name_of(row.outline)},
                {"places", places_of_form(book, ref)}};
    });
    out["shapes"] = rows_of<book::Shape>(book, [&](Ref<book::Shape> ref) -> ordered_json {
        const book::Shape& row = book[ref];
        return {
            {"id", book::id_of(book, ref)},
            {"name", row.name},
            {"maker", maker_id(book, row.maker)},
            {"maker_name", row.maker ? book[*row.maker].name : ""},
            {"years", years_text(row.years)},
            {"forms", json_list(book::forms_of(book, ref), [&](auto form) { return book::id_of(book, form); })}};
    });
    out["glazes"] = rows_of<book::Glaze>(book, [&](Ref<book::Glaze> ref) -> ordered_json {
        const book::Glaze& row = book[ref];
        return {{"id", book::id_of(book, ref)},
                {"name", row.name},
                {"maker", maker_id(book, row.maker)},
                {"colour", row.lab ? ordered_json(book::srgb_of_lab(*row.lab)) : ordered_json()},
                {"years", years_text(row.years)}};
    });
    std::vector<std::set<book::Place>> used(book.ornaments.size());
    for (const book::TreatmentOrnament& row : book.treatment_ornaments)
        if (row.ornament.at < used.size()) used[row.ornament.at].insert(row.place);
    out["ornaments"] = rows_of<book::Ornament>(book, [&](Ref<book::Ornament> ref) -> ordered_json {
        const book::Ornament& row = book[ref];
        return {{"id", book::id_of(book, ref)},
                {"name", row.name},
                {"kind", name_of(row.kind)},
                {"finish", row.finish},
                {"places", json_list(used[ref.at], [](book::Place place) { return name_of(place); })}};
    });
    out["marks"] = rows_of<book::Mark>(book, [&](Ref<book::Mark> ref) -> ordered_json {
        const book::Mark& row = book[ref];
        return {{"id", book::id_of(book, ref)},
                {"wording", row.wording},
                {"maker", maker_id(book, row.maker)},
                {"years", years_text(row.years)},
                {"second", row.second}};
    });
    out["makers"] = rows_of<book::Maker>(book, [&](Ref<book::Maker> ref) -> ordered_json {
        const book::Maker& row = book[ref];
        return {{"id", book::id_of(book, ref)}, {"name", row.name}, {"role", name_of(row.role)}};
    });
    out["places"] = book::kPlaceNames;
    out["sures"] = looks::kSureNames;
    out["wears"] = looks::kWearNames;
    out["faults"] = looks::kFaultsNames;
    out["efforts"] = {{"glance", settings.effort_glance_min},   {"turn_over", settings.effort_turn_over_min},
                      {"measure", settings.effort_measure_min}, {"loupe", settings.effort_loupe_min},
                      {"lamp", settings.effort_lamp_min},       {"laboratory", settings.effort_laboratory_min}};
    return out;
}

std::vector<Findable> findables_of(const Book& book) {
    std::vector<Findable> out;
    const auto add = [&out](std::string table, std::string id, std::string name, std::string detail) {
        std::string words = lower(fmt::format("{} {} {}", id, name, detail));
        out.push_back({std::move(table), std::move(id), std::move(name), std::move(detail), std::move(words)});
    };
    const auto joined = [](std::initializer_list<std::string> parts) {
        std::string text;
        for (const std::string& part : parts)
            if (!part.empty()) text += (text.empty() ? "" : ", ") + part;
        return text;
    };
    const auto maker_name = [&](const std::optional<Ref<book::Maker>>& maker) {
        return maker ? book[*maker].name : std::string{};
    };
    const auto each = []<class T>(const std::vector<T>& rows, auto&& with) {
        for (std::uint32_t at = 0; at < rows.size(); ++at) with(Ref<T>{at}, rows[at]);
    };
    each(book.makers, [&](auto ref, const book::Maker& row) {
        add("makers", id_of(book, ref), row.name, joined({std::string(name_of(row.role)), row.place}));
    });
    each(book.shapes, [&](auto ref, const book::Shape& row) {
        add("shapes", id_of(book, ref), row.name, joined({maker_name(row.maker), years_text(row.years)}));
    });
    each(book.forms, [&](auto ref, const book::Form& row) {
        add("forms", id_of(book, ref), row.name,
            joined({std::string(name_of(row.ware)), std::string(name_of(row.outline))}));
    });
    each(book.glazes, [&](auto ref, const book::Glaze& row) {
        add("glazes", id_of(book, ref), row.name, joined({maker_name(row.maker), years_text(row.years)}));
    });
    each(book.ornaments, [&](auto ref, const book::Ornament& row) {
        add("ornaments", id_of(book, ref), row.name, joined({row.finish, std::string(name_of(row.kind))}));
    });
    each(book.treatments, [&](auto ref, const book::Treatment& row) {
        add("treatments", id_of(book, ref),
            row.name.empty() ? row.number : fmt::format("{} {}", row.number, row.name),
            joined({book[row.shape].name, row.glaze ? book[*row.glaze].name : "", years_text(row.years)}));
    });
    each(book.marks, [&](auto ref, const book::Mark& row) {
        add("marks", id_of(book, ref), row.wording, joined({maker_name(row.maker), years_text(row.years)}));
    });
    return out;
}

}  // namespace footring::server
