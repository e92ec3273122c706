// SPDX-License-Identifier: Apache-2.0
#include "server/book_detail.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/json.h"
#include "book/decoration.h"
#include "book/glyph.h"

namespace footring::server {

using book::Book;
using book::Ref;

namespace {

// Rows of one table that fulfil `is`, as refs.
template <class T, class Is>
std::vector<Ref<T>> rows_where(const Book& book, Is is) {
    std::vector<Ref<T>> out;
    for (std::uint32_t at = 0; at < book.table<T>().size(); ++at)
        if (is(book.table<T>()[at])) out.push_back({at});
    return out;
}

template <class T>
std::string full_row_id(const Book& book, Ref<T> ref) {
    const T& row = book[ref];
    return row.origin.pack < book.packs.size() ? book.packs[row.origin.pack].id + ":" + row.id : row.id;
}

ordered_json treatment_line(const Book& book, Ref<book::Treatment> ref) {
    const book::Treatment& row = book[ref];
    ordered_json out = treatment_named(book, ref);
    out["shape"] = named(book, row.shape);
    out["glaze"] = row.glaze ? named(book, *row.glaze) : ordered_json();
    out["grade"] = name_of(row.grade);
    out["years_words"] = row.years ? edtf::in_words(*row.years) : "";
    return out;
}

template <class Is>
ordered_json treatments_where(const Book& book, Is is) {
    return json_list(rows_where<book::Treatment>(book, is), [&](auto ref) { return treatment_line(book, ref); });
}

ordered_json dated_uses_of(const Book& book, const std::string& full) {
    return json_list(rows_where<book::DatedUse>(book, [&](const auto& row) { return row.subject == full; }),
                     [&](auto ref) { return row_json(book, ref); });
}

// What is said of a subject, by property: contested when there is a statement for and one against.
ordered_json statements_of(const Book& book, const std::string& full) {
    std::vector<std::string> properties;  // in the order of the packs
    std::map<std::string, ordered_json> grouped;
    for (const auto ref : rows_where<book::Statement>(book, [&](const auto& row) { return row.subject == full; })) {
        const book::Statement& row = book[ref];
        auto [group, is_new] = grouped.try_emplace(row.property, ordered_json{{"property", row.property},
                                                                              {"for", ordered_json::array()},
                                                                              {"against", ordered_json::array()},
                                                                              {"contested", false}});
        if (is_new) properties.push_back(row.property);
        ordered_json& out = group->second;
        out[row.stance_for ? "for" : "against"].push_back({{"id", book::id_of(book, ref)},
                                                           {"property", row.property},
                                                           {"value", row.value},
                                                           {"stance", row.stance_for ? "for" : "against"},
                                                           {"source", book::source_ids(book, row.sources)},
                                                           {"sources", sources_json(book, row.sources)},
                                                           {"note", row.note}});
        out["contested"] = !out["for"].empty() && !out["against"].empty();
    }
    return json_list(properties, [&](const std::string& property) { return grouped.at(property); });
}

template <class T>
void add_evidence(ordered_json& out, const Book& book, Ref<T> ref) {
    const std::string full = full_row_id(book, ref);
    out["dated_uses"] = dated_uses_of(book, full);
    out["statements"] = statements_of(book, full);
}

std::string on_words(const Book& book, const book::On& on) {
    if (on.form) return book::id_of(book, *on.form);
    return on.ware ? std::string(name_of(*on.ware)) : "*";
}

ordered_json decoration_rows(const Book& book, Ref<book::Treatment> ref) {
    return json_list(book.decoration_rows[ref.at], [&](std::uint32_t at) {
        const book::TreatmentOrnament& row = book.treatment_ornaments[at];
        return ordered_json{{"place", name_of(row.place)},
                            {"ornament", named(book, row.ornament)},
                            {"on", on_words(book, row.on)},
                            {"share", row.share},
                            {"sources", sources_json(book, row.sources)},
                            {"row", fmt::format("treatment_ornaments.csv:{}", row.origin.line)}};
    });
}

ordered_json twins_by_form(App& app, Ref<book::Treatment> ref) {
    ordered_json out = ordered_json::array();
    for (const auto form : book::forms_of(app.book, app.book[ref].shape)) {
        const auto groups = app.twins.at(form);
        for (const auto& group : *groups) {
            if (std::ranges::find(group, ref) == group.end()) continue;
            ordered_json twins = ordered_json::array();
            for (const auto twin : group)
                if (twin != ref) twins.push_back(treatment_named(app.book, twin));
            out.push_back({{"form", named(app.book, form)}, {"twins", std::move(twins)}});
        }
    }
    return out;
}

std::set<std::uint32_t> ornaments_of(const Book& book, Ref<book::Treatment> ref) {
    std::set<std::uint32_t> out;
    for (const std::uint32_t at : book.decoration_rows[ref.at])
        if (book.treatment_ornaments[at].share > 0) out.insert(book.treatment_ornaments[at].ornament.at);
    return out;
}

ordered_json same_ornaments(const Book& book, Ref<book::Treatment> ref) {
    ordered_json out = ordered_json::array();
    for (const std::uint32_t ornament : ornaments_of(book, ref)) {
        std::set<std::uint32_t> others;
        for (const book::TreatmentOrnament& row : book.treatment_ornaments)
            if (row.ornament.at == ornament && row.share > 0 && row.treatment != ref)
                others.insert(row.treatment.at);
        out.push_back({{"ornament", named(book, Ref<book::Ornament>{ornament})},
                       {"treatments", json_list(others, [&](std::uint32_t at) {
                            const Ref<book::Treatment> other{at};
                            ordered_json line = treatment_named(book, other);
                            line["shape"] = named(book, book[other].shape);
                            return line;
                        })}});
    }
    return out;
}

// The same shape, glaze and decoration under another grade: the pair that a grade has to choose between.
ordered_json grade_pair(const Book& book, Ref<book::Treatment> ref) {
    using Look = std::set<std::tuple<book::Place, std::uint32_t, std::string, double>>;
    const auto look_of = [&](Ref<book::Treatment> treatment) {
        Look out;
        for (const std::uint32_t at : book.decoration_rows[treatment.at]) {
            const book::TreatmentOrnament& row = book.treatment_ornaments[at];
            out.emplace(row.place, row.ornament.at, on_words(book, row.on), row.share);
        }
        return out;
    };
    const book::Treatment& mine = book[ref];
    const Look look = look_of(ref);
    ordered_json out = ordered_json::array();
    for (const auto other : rows_where<book::Treatment>(book, [&](const book::Treatment& row) {
             return row.shape == mine.shape && row.glaze == mine.glaze && row.grade != mine.grade;
         }))
        if (look_of(other) == look)
            out.push_back({{"id", book::id_of(book, other)},
                           {"number", book[other].number},
                           {"grade", name_of(book[other].grade)}});
    return out;
}

}  // namespace

Detail detail_json(App& app, Ref<book::Treatment> ref) {
    const Book& book = app.book;
    store::Query decided;
    decided.treatment = full_id(book, ref);
    decided.limit = 0;
    const auto page = app.store->find(decided);
    if (!page) return refuse(page.error());
    ordered_json out = row_json(book, ref);
    if (const auto& glaze = book[ref].glaze; glaze && book[*glaze].lab)
        out["colour"] = book::srgb_of_lab(*book[*glaze].lab);
    out["decoration"] = decoration_rows(book, ref);
    out["forms"] = json_list(book::forms_of(book, book[ref].shape), [&](auto form) { return named(book, form); });
    out["twins_by_form"] = twins_by_form(app, ref);
    out["same_ornaments"] = same_ornaments(book, ref);
    add_evidence(out, book, ref);
    out["pieces"] = page->total;
    if (ordered_json pair = grade_pair(book, ref); !pair.empty()) out["grade_pair"] = std::move(pair);
    return out;
}

Detail detail_json(App& app, Ref<book::Ornament> ref) {
    const Book& book = app.book;
    std::map<std::uint32_t, std::set<book::Place>> places;  // by treatment
    for (const book::TreatmentOrnament& row : book.treatment_ornaments)
        if (row.ornament == ref && row.share > 0) places[row.treatment.at].insert(row.place);
    std::map<std::uint32_t, int> shapes;
    std::set<std::uint32_t> makers;
    ordered_json used_by = ordered_json::array();
    for (const auto& [at, where] : places) {
        const book::Treatment& treatment = book.treatments[at];
        ++shapes[treatment.shape.at];
        if (const auto maker = book[treatment.shape].maker) makers.insert(maker->at);
        const ordered_json line = treatment_line(book, {at});
        used_by.push_back({{"treatment", treatment_named(book, {at})},
                           {"shape", line.at("shape")},
                           {"glaze", line.at("glaze")},
                           {"places", json_list(where, [](book::Place place) { return name_of(place); })},
                           {"grade", line.at("grade")},
                           {"years_words", line.at("years_words")}});
    }
    ordered_json out = row_json(book, ref);
    out["used_by"] = std::move(used_by);
    out["shapes"] = json_list(shapes, [&](const auto& shape) {
        return ordered_json{{"shape", named(book, Ref<book::Shape>{shape.first})}, {"count", shape.second}};
    });
    out["makers"] = json_list(makers, [&](std::uint32_t at) { return named(book, Ref<book::Maker>{at}); });
    add_evidence(out, book, ref);
    return out;
}

namespace {

ordered_json marks_where(const Book& book, const std::function<bool(const book::Mark&)>& is) {
    return json_list(rows_where<book::Mark>(book, is), [&](Ref<book::Mark> ref) {
        return ordered_json{{"id", book::id_of(book, ref)},
                            {"wording", book[ref].wording},
                            {"years_words", book[ref].years ? edtf::in_words(*book[ref].years) : ""}};
    });
}

}  // namespace

Detail detail_json(App& app, Ref<book::Shape> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    out["forms"] = json_list(rows_where<book::ShapeForm>(book, [&](const auto& row) { return row.shape == ref; }),
                             [&](Ref<book::ShapeForm> at) {
                                 const book::ShapeForm& row = book[at];
                                 return ordered_json{{"form", named(book, row.form)},
                                                     {"trade_size", row.trade_size},
                                                     {"length_mm", or_null(row.length_mm)},
                                                     {"width_mm", or_null(row.width_mm)},
                                                     {"height_mm", or_null(row.height_mm)},
                                                     {"capacity_ml", or_null(row.capacity_ml)},
                                                     {"years_words", row.years ? edtf::in_words(*row.years) : ""},
                                                     {"sources", sources_json(book, row.sources)}};
                             });
    out["treatments"] = treatments_where(book, [&](const auto& row) { return row.shape == ref; });
    out["marks"] = marks_where(book, [&](const book::Mark& mark) {
        if (mark.maker && book[ref].maker && *mark.maker != *book[ref].maker) return false;
        return mark.shapes.empty() || std::ranges::find(mark.shapes, ref) != mark.shapes.end();
    });
    add_evidence(out, book, ref);
    return out;
}

Detail detail_json(App& app, Ref<book::Form> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    std::set<std::uint32_t> shapes;
    for (const book::ShapeForm& row : book.shape_forms)
        if (row.form == ref) shapes.insert(row.shape.at);
    out["shapes"] = json_list(shapes, [&](std::uint32_t at) { return named(book, Ref<book::Shape>{at}); });
    out["statements"] = statements_of(book, full_row_id(book, ref));
    return out;
}

Detail detail_json(App& app, Ref<book::Glaze> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    out["treatments"] = treatments_where(book, [&](const auto& row) { return row.glaze == ref; });
    add_evidence(out, book, ref);
    return out;
}

Detail detail_json(App& app, Ref<book::Maker> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    const auto names = [&](auto refs) { return json_list(refs, [&](auto at) { return named(book, at); }); };
    const auto of_maker = [&](const auto& row) { return row.maker == ref; };
    out["shapes"] = names(rows_where<book::Shape>(book, of_maker));
    out["glazes"] = names(rows_where<book::Glaze>(book, of_maker));
    out["ornaments"] =
        names(rows_where<book::Ornament>(book, [&](const auto& row) { return row.supplier == ref; }));
    out["marks"] = marks_where(book, of_maker);
    out["treatments"] = treatments_where(book, [&](const auto& row) { return book[row.shape].maker == ref; });
    out["statements"] = statements_of(book, full_row_id(book, ref));
    return out;
}

Detail detail_json(App& app, Ref<book::Mark> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    out["used_on"] = json_list(
        rows_where<book::Shape>(
            book, [&](const book::Shape& shape) { return !book[ref].maker || shape.maker == book[ref].maker; }),
        [&](auto shape) { return named(book, shape); });
    if (!book[ref].shapes.empty()) out["used_on"] = out["shapes"];
    if (const auto scheme = book[ref].code_scheme) out["code_scheme_row"] = row_json(book, *scheme);
    add_evidence(out, book, ref);
    return out;
}

Detail detail_json(App& app, Ref<book::Source> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref), rows = ordered_json::array();
    constexpr std::size_t kMostShown = 2000;
    const auto leaning = [&]<class T>(const std::vector<T>& table, std::string_view name, auto id_and_name) {
        for (std::uint32_t at = 0; at < table.size() && rows.size() < kMostShown; ++at) {
            const T& row = table[at];
            if (std::ranges::find(row.sources, ref) == row.sources.end()) continue;
            const std::pair<std::string, std::string> what = id_and_name(Ref<T>{at}, row);
            rows.push_back({{"table", name},
                            {"id", what.first},
                            {"name", what.second},
                            {"row", fmt::format("{}.csv:{}", Book::table_name<T>(), row.origin.line)}});
        }
    };
    const auto own = [&](auto at, const auto& row) { return std::pair(book::id_of(book, at), row.name); };
    leaning(book.makers, "makers", own);
    leaning(book.shapes, "shapes", own);
    leaning(book.shape_forms, "shapes", [&](auto, const book::ShapeForm& row) {
        return std::pair(book::id_of(book, row.shape), book[row.shape].name + ", " + book[row.form].name);
    });
    leaning(book.glazes, "glazes", own);
    leaning(book.ornaments, "ornaments", own);
    leaning(book.treatments, "treatments", [&](auto at, const book::Treatment& row) {
        return std::pair(book::id_of(book, at), row.number + (row.name.empty() ? "" : " " + row.name));
    });
    leaning(book.treatment_ornaments, "treatments", [&](auto, const book::TreatmentOrnament& row) {
        return std::pair(
            book::id_of(book, row.treatment),
            book[row.treatment].number + ", " + std::string(name_of(row.place)) + ": " + book[row.ornament].name);
    });
    leaning(book.marks, "marks",
            [&](auto at, const book::Mark& row) { return std::pair(book::id_of(book, at), row.wording); });
    leaning(book.code_schemes, "code-schemes",
            [&](auto at, const book::CodeScheme& row) { return std::pair(book::id_of(book, at), row.pattern); });
    leaning(book.clues, "clues", own);
    leaning(book.number_series, "number-series", own);
    leaning(book.series_numbers, "series-numbers", [&](auto at, const book::SeriesNumber& row) {
        return std::pair(std::to_string(at.at), fmt::format("{}, {}", book[row.series].name, row.year));
    });
    leaning(book.trade_counts, "trade-counts", own);
    leaning(book.statements, "statements", [&](auto at, const book::Statement& row) {
        return std::pair(book::id_of(book, at), row.property + ": " + row.value);
    });
    leaning(book.dated_uses, "dated-uses", [&](auto at, const book::DatedUse& row) {
        return std::pair(std::to_string(at.at), row.kind + ", " + row.date.text());
    });
    out["rows"] = std::move(rows);
    return out;
}

Detail detail_json(App& app, Ref<book::Statement> ref) { return row_json(app.book, ref); }

Detail detail_json(App& app, Ref<book::CodeScheme> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    out["marks"] = marks_where(book, [&](const book::Mark& mark) { return mark.code_scheme == ref; });
    return out;
}

Detail detail_json(App& app, Ref<book::Clue> ref) { return row_json(app.book, ref); }
Detail detail_json(App& app, Ref<book::TradeCount> ref) { return row_json(app.book, ref); }

Detail detail_json(App& app, Ref<book::NumberSeries> ref) {
    const Book& book = app.book;
    ordered_json out = row_json(book, ref);
    out["numbers"] = json_list(
        rows_where<book::SeriesNumber>(book, [&](const book::SeriesNumber& row) { return row.series == ref; }),
        [&](Ref<book::SeriesNumber> number) {
            ordered_json one = row_json(book, number);
            one.erase("series");
            return one;
        });
    return out;
}

}  // namespace footring::server
