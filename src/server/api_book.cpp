// The Book: the reference as tables, each row with where it is used, and search over everything.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "server/app.h"
#include "server/book_detail.h"
#include "server/book_json.h"
#include "server/routes.h"

namespace footring::server {

namespace {

Answered book_page(App& app, const Request&) {
    ordered_json packs = ordered_json::array();
    for (const book::Pack& pack : app.book.packs)
        packs.push_back({{"id", pack.id},
                         {"title", pack.title},
                         {"description", pack.description},
                         {"version", pack.version},
                         {"digest", pack.digest},
                         {"contributors", pack.contributors}});
    const book::Book& book = app.book;
    return json_reply({{"packs", packs},
                       {"counts",
                        {{"makers", book.makers.size()},
                         {"shapes", book.shapes.size()},
                         {"forms", book.forms.size()},
                         {"glazes", book.glazes.size()},
                         {"ornaments", book.ornaments.size()},
                         {"treatments", book.treatments.size()},
                         {"marks", book.marks.size()},
                         {"sources", book.sources.size()},
                         {"statements", book.statements.size()},
                         {"dated-uses", book.dated_uses.size()},
                         {"code-schemes", book.code_schemes.size()},
                         {"clues", book.clues.size()},
                         {"number-series", book.number_series.size()},
                         {"series-numbers", book.series_numbers.size()},
                         {"trade-counts", book.trade_counts.size()}}}});
}

Answered vocabulary(App& app, const Request&) { return json_reply(vocabulary_json(app.book, app.settings)); }

// Every text in a row, to look for words in: what the page shows is what is found.
void gather_text(const ordered_json& value, std::string& into) {
    if (value.is_string()) into += lower(value.get_ref<const std::string&>()) + " ";
    else if (value.is_structured())
        for (const auto& inner : value) gather_text(inner, into);
}

bool has_words(const std::string& text, const std::vector<std::string>& words) {
    return std::ranges::all_of(words,
                               [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

template <class T>
Answered table_page(const App& app, const Request& request) {
    constexpr int kMostRows = 1000;
    const auto limit = query_int(request, "limit", 100, 0, kMostRows);
    if (!limit) return refuse(limit.error());
    const auto offset = query_int(request, "offset", 0, 0, 1'000'000'000);
    if (!offset) return refuse(offset.error());
    const std::vector<std::string> words = split(lower(query_text(request, "q")), ' ');
    ordered_json rows = ordered_json::array();
    int total = 0;
    for (std::uint32_t at = 0; at < app.book.table<T>().size(); ++at) {
        const bool on_page = total >= *offset && total < *offset + *limit;
        if (words.empty()) {
            if (on_page) rows.push_back(row_json(app.book, book::Ref<T>{at}));
            ++total;
            continue;
        }
        ordered_json row = row_json(app.book, book::Ref<T>{at});
        std::string text;
        gather_text(row, text);
        if (!has_words(text, words)) continue;
        if (on_page) rows.push_back(std::move(row));
        ++total;
    }
    return json_reply({{"rows", std::move(rows)}, {"total", total}});
}

template <class T>
Answered row_page(App& app, const Request& request, const std::string& id) {
    const auto ref = row_named<T>(app.book, id, request.values[0]);
    if (!ref) return refuse(ref.error());
    auto detail = detail_json(app, *ref);
    if (!detail) return refuse(std::move(detail.error()));
    return json_reply(*detail);
}

// Rows without an id of their own stand under their number in the table.
template <class T>
Answered numbered_page(App& app, const Request& request, const std::string& id) {
    const auto at = to_int(id);
    if (!at || *at < 0 || static_cast<std::size_t>(*at) >= app.book.table<T>().size())
        return refuse(ProblemCode::kNotFound, request.values[0],
                      fmt::format("there is no {} {}", book::Book::thing_name<T>(), id),
                      fmt::format("see the list of {}", request.values[0]));
    return json_reply(row_json(app.book, book::Ref<T>{static_cast<std::uint32_t>(*at)}));
}

struct TablePages {
    std::string_view name;
    Answered (*table)(const App&, const Request&);
    Answered (*row)(App&, const Request&, const std::string& id);
};
constexpr TablePages kTables[] = {
    {"makers", table_page<book::Maker>, row_page<book::Maker>},
    {"shapes", table_page<book::Shape>, row_page<book::Shape>},
    {"forms", table_page<book::Form>, row_page<book::Form>},
    {"glazes", table_page<book::Glaze>, row_page<book::Glaze>},
    {"ornaments", table_page<book::Ornament>, row_page<book::Ornament>},
    {"treatments", table_page<book::Treatment>, row_page<book::Treatment>},
    {"marks", table_page<book::Mark>, row_page<book::Mark>},
    {"sources", table_page<book::Source>, row_page<book::Source>},
    {"statements", table_page<book::Statement>, row_page<book::Statement>},
    {"dated-uses", table_page<book::DatedUse>, numbered_page<book::DatedUse>},
    {"code-schemes", table_page<book::CodeScheme>, row_page<book::CodeScheme>},
    {"clues", table_page<book::Clue>, row_page<book::Clue>},
    {"number-series", table_page<book::NumberSeries>, row_page<book::NumberSeries>},
    {"series-numbers", table_page<book::SeriesNumber>, numbered_page<book::SeriesNumber>},
    {"trade-counts", table_page<book::TradeCount>, row_page<book::TradeCount>},
};

std::expected<const TablePages*, Problems> pages_of(const std::string& name) {
    std::vector<std::string> known;
    for (const TablePages& table : kTables) {
        if (table.name == name) return &table;
        known.emplace_back(table.name);
    }
    return refuse(ProblemCode::kNotFound, "address", fmt::format("the Book has no table '{}'", name),
                  did_you_mean(name, known, fmt::format("use one of {}", fmt::join(known, ", "))));
}

Answered book_table(App& app, const Request& request) {
    const auto pages = pages_of(request.values[0]);
    if (!pages) return refuse(pages.error());
    return (*pages)->table(app, request);
}

Answered row(App& app, const Request& request) {
    const auto pages = pages_of(request.values[0]);
    if (!pages) return refuse(pages.error());
    return (*pages)->row(app, request, request.values[1]);
}

// 0: the id or number itself; 1: a word of the name begins so; 2: somewhere inside. Absent: not found.
std::optional<int> rank(const Findable& row, const std::vector<std::string>& words) {
    if (!has_words(row.words, words)) return std::nullopt;
    const std::string id = lower(row.id), name = " " + lower(row.name);
    if (words.size() == 1 &&
        (id == words.front() || name.starts_with(" " + words.front() + " ") || name == " " + words.front()))
        return 0;
    return name.find(" " + words.front()) != std::string::npos || id.starts_with(words.front()) ? 1 : 2;
}

Answered search(App& app, const Request& request) {
    constexpr std::size_t kMostFound = 20;
    const std::string text = query_text(request, "q");
    const std::vector<std::string> words = split(lower(text), ' ');
    ordered_json pieces = ordered_json::array(), rows = ordered_json::array();
    if (!words.empty()) {
        store::Query query;
        query.text = text;
        query.limit = 10;
        const auto page = app.store->find(query);
        if (!page) return refuse(page.error());
        for (const store::PieceRecord& record : page->rows)
            pieces.push_back({{"id", record.piece.id},
                              {"form", record.piece.form},
                              {"shape", record.piece.shape ? record.piece.shape->value : ""},
                              {"number", record.piece.number ? record.piece.number->value : ""}});
        std::vector<const Findable*> found[3];
        for (const Findable& findable : app.findables)
            if (const auto at = rank(findable, words)) found[*at].push_back(&findable);
        for (const auto& level : found)
            for (const Findable* findable : level)
                if (rows.size() < kMostFound)
                    rows.push_back({{"table", findable->table},
                                    {"id", findable->id},
                                    {"name", findable->name},
                                    {"detail", findable->detail}});
    }
    return json_reply({{"pieces", pieces}, {"book", rows}});
}

}  // namespace

std::vector<Route> book_routes() {
    return {{"GET", "/api/book", Takes::kNone, Role::kReader, book_page},
            {"GET", "/api/book/vocabulary", Takes::kNone, Role::kReader, vocabulary},
            {"GET", "/api/book/{table}", Takes::kNone, Role::kReader, book_table},
            {"GET", "/api/book/{table}/{id}", Takes::kNone, Role::kReader, row},
            {"GET", "/api/search", Takes::kNone, Role::kReader, search}};
}

}  // namespace footring::server
