// SPDX-License-Identifier: Apache-2.0
#include "book/catalogue.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <unordered_map>
#include <utility>

#include "base/text.h"
#include "book/csv.h"
#include "book/faults.h"
#include "edtf/edtf.h"

namespace footring::book {

namespace {

// Words that people write above such a column and that can mean one thing only.
constexpr OtherName kOtherNames[] = {{"treatment", "number"},
                                     {"treatmentnumber", "number"},
                                     {"no", "number"},
                                     {"catalogueno", "number"},
                                     {"cataloguenumber", "number"},
                                     {"line", "shape"},
                                     {"shapename", "shape"},
                                     {"glazename", "glaze"},
                                     {"body", "glaze"},
                                     {"pattern", "name"},
                                     {"description", "name"},
                                     {"title", "name"},
                                     {"date", "years"},
                                     {"dates", "years"},
                                     {"year", "years"},
                                     {"soldby", "outlet"},
                                     {"notes", "note"},
                                     {"remarks", "note"},
                                     {"sources", "source"},
                                     {"reference", "source"}};

struct CatalogueReader {
    std::string_view where;
    const Book& book;
    const std::string& pack;
    const CatalogueOptions& options;

    Catalogue out{};
    std::uint32_t line = 0;
    bool sound = true;
    std::unordered_map<std::string, const TextRow*> by_id{}, by_number{};  // by_number: "shape/number"
    std::set<std::string> ids{}, seen{};
    using Ids = std::unordered_map<std::string, std::set<std::string>>;
    Ids shapes{}, glazes{}, sources{};

    void fault(std::string heading, std::string what, std::string remedy) {
        sound = false;
        out.problems.push_back(
            {ProblemCode::kBadInput,
             heading.empty() ? fmt::format("{}:{}", where, line) : fmt::format("{}:{}:{}", where, line, heading),
             std::move(what), std::move(remedy)});
    }

    // As rows of this pack would name them.
    template <class T>
    void learn(Ids& into, const auto& words) {
        for (const T& row : book.table<T>()) {
            const Pack& home = book.packs[row.origin.pack];
            const std::string id = home.id == pack ? row.id : home.id + ":" + row.id;
            // An id means its row, whatever else is called so; '=' is in no name's way.
            into["=" + row.id].insert(id);
            into["=" + home.id + ":" + row.id].insert(id);
            into[lower(row.id)].insert(id);
            if (!words(row).empty()) into[lower(words(row))].insert(id);
        }
    }

    std::string named(const Ids& known, const std::string& text, const std::string& heading,
                      std::string_view kind) {
        const auto exact = known.find("=" + text);
        const auto found = exact != known.end() && exact->second.size() == 1 ? exact : known.find(lower(text));
        if (found != known.end() && found->second.size() == 1) return *found->second.begin();
        if (found != known.end()) {
            fault(heading, fmt::format("{} is the name of several {}", in_quotes(text), kind),
                  fmt::format("write one of the ids {}", fmt::join(found->second, ", ")));
            return {};
        }
        std::vector<std::string> names;
        for (const auto& [name, id] : known)
            if (!name.starts_with('=')) names.push_back(name);
        std::ranges::sort(names);
        fault(heading, fmt::format("no {} is called {}", kind.substr(0, kind.size() - 1), in_quotes(text)),
              did_you_mean(lower(text), names, fmt::format("add it to the {} first, or correct it", kind)));
        return {};
    }

    void match(const CsvRow& header) {
        std::vector<std::string> headings;
        for (const CsvCell& cell : header.cells) headings.push_back(cell.text);
        const std::size_t before = out.problems.size();
        out.columns = match_columns(headings, options.mapping, {"treatments", catalogue_fields(), kOtherNames},
                                    fmt::format("{}:{}", where, line), out.problems);
        sound = sound && out.problems.size() == before;
        const auto has = [&](std::string_view field) {
            return std::ranges::find(out.columns, field, &MatchedColumn::field) != out.columns.end();
        };
        if (sound && !has("shape") && !has("id"))
            fault("", "no column tells the shape", "say which one does: --map \"Heading=shape\"");
    }

    Cells cells_of(const CsvRow& row) {
        Cells cells;
        for (std::size_t i = 0; i < out.columns.size() && i < row.cells.size(); ++i) {
            const auto& [heading, column] = out.columns[i];
            std::string text(trim(row.cells[i].text));
            if (column.empty() || text.empty()) continue;
            if (column == "shape") text = named(shapes, text, heading, "shapes");
            else if (column == "glaze") text = named(glazes, text, heading, "glazes");
            else if (column == "grade") text = lower(text);
            else if (column == "source") {
                std::string all;
                for (const std::string& one : split(text, ';'))
                    all += (all.empty() ? "" : ";") + named(sources, one, heading, "sources");
                text = all;
            } else if (column == "years") {
                if (const auto years = edtf::parse(text); !years)
                    fault(heading, years.error().what, years.error().remedy);
            }
            if (!text.empty()) cells[column] = text;
        }
        return cells;
    }

    static std::string at(const Cells& cells, const std::string& column) {
        const auto cell = cells.find(column);
        return cell == cells.end() ? "" : cell->second;
    }

    std::string fresh_id(const Cells& cells) {
        std::string number;
        for (const char c : lower(at(cells, "number")))
            if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) number += c;
            else if (!number.empty() && number.back() != '-') number += '-';
        while (!number.empty() && number.back() == '-') number.pop_back();
        const std::string shape = at(cells, "shape").substr(at(cells, "shape").find(':') + 1);
        if (number.empty()) number = "treatment";
        std::string id = "t-" + number;
        if (ids.contains(id)) id = shape + "-" + number;
        const std::string stem = id;
        for (int n = 2; ids.contains(id); ++n) id = fmt::format("{}-{}", stem, n);
        return id;
    }

    void take(const CsvRow& row) {
        line = row.cells.front().line;
        sound = true;
        if (row.faulty) fault("", "the row cannot be read", "mend its quotation marks");
        if (row.cells.size() > out.columns.size())
            fault("",
                  fmt::format("the row has {} cells, the first line has {}", row.cells.size(), out.columns.size()),
                  "put a cell that contains the delimiter in quotation marks");
        Cells cells = cells_of(row);
        if (cells.empty() && sound) return;
        const std::string id = at(cells, "id"), key = at(cells, "shape") + "/" + at(cells, "number");
        const TextRow* old = nullptr;
        if (const auto known = by_id.find(id); !id.empty() && known != by_id.end()) old = known->second;
        else if (const auto numbered = by_number.find(key);
                 id.empty() && !at(cells, "number").empty() && numbered != by_number.end())
            old = numbered->second;
        if (old == nullptr && at(cells, "shape").empty() && sound)
            fault("", "the row names no shape", "fill it in: a treatment is of one shape");
        const std::string once = old != nullptr ? "row " + std::to_string(old->line) : id.empty() ? key : id;
        if (sound && !(id.empty() && at(cells, "number").empty()) && !seen.insert(once).second)
            fault("", "the treatment is in the list twice", "keep one of the rows");
        if (!sound) {
            ++out.skipped;
            return;
        }
        RowEdit edit{
            .act = RowEdit::Do::kChange, .table = "treatments", .line = 0, .was = {}, .cells = std::move(cells)};
        if (old != nullptr) {
            edit.line = old->line;
            std::erase_if(edit.cells, [&](const auto& cell) { return at(old->cells, cell.first) == cell.second; });
            ++(edit.cells.empty() ? out.same : out.changed);
            if (!edit.cells.empty()) out.edits.push_back(std::move(edit));
            return;
        }
        edit.act = RowEdit::Do::kAdd;
        if (id.empty()) edit.cells["id"] = fresh_id(edit.cells);
        if (at(edit.cells, "source").empty() && !options.source.empty()) edit.cells["source"] = options.source;
        ids.insert(edit.cells["id"]);
        ++out.added;
        out.edits.push_back(std::move(edit));
    }

    void run(std::string_view text, const std::vector<TextRow>& rows) {
        if (!is_utf8(text)) {
            out.problems.push_back({ProblemCode::kBadInput, std::string(where), "the list is not UTF-8 text",
                                    "save it from the spreadsheet as CSV in UTF-8"});
            return;
        }
        const Csv csv = read_csv(text, delimiter_of(text));
        for (const CsvFault& f : csv.faults)
            out.problems.push_back(
                {ProblemCode::kBadInput, fmt::format("{}:{}:{}", where, f.line, f.column), f.what, f.remedy});
        line = 1;
        if (csv.rows.empty()) return fault("", "the list is empty", "give a table with a line of headings");
        learn<Shape>(shapes, [](const Shape& row) { return row.name; });
        learn<Glaze>(glazes, [](const Glaze& row) { return row.name; });
        learn<Source>(sources, [](const Source& row) { return row.title; });
        for (const auto& [key, at_rows] : book.ids) ids.insert(key.substr(key.find('/') + 1));
        for (const TextRow& row : rows) {
            by_id.emplace(at(row.cells, "id"), &row);
            if (!at(row.cells, "number").empty())
                by_number.emplace(at(row.cells, "shape") + "/" + at(row.cells, "number"), &row);
        }
        match(csv.rows.front());
        if (!sound) return;
        constexpr std::size_t kStep = 1000;
        for (std::size_t i = 1; i < csv.rows.size(); ++i) {
            if (options.told && i % kStep == 0 && !options.told(i, csv.rows.size() - 1)) {
                out = {};
                return;
            }
            take(csv.rows[i]);
        }
        if (options.told) options.told(csv.rows.size() - 1, csv.rows.size() - 1);
    }
};

}  // namespace

std::vector<std::string> catalogue_fields() {
    std::vector<std::string> out;
    for (const Column& column : table_named("treatments")->columns) out.emplace_back(column.name);
    return out;
}

Catalogue read_catalogue(std::string_view text, std::string_view where, const Book& book, const std::string& pack,
                         const std::vector<TextRow>& rows, const CatalogueOptions& options) {
    CatalogueReader reader{where, book, pack, options};
    reader.run(text, rows);
    return std::move(reader.out);
}

}  // namespace footring::book
