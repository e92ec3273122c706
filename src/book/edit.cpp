// SPDX-License-Identifier: Apache-2.0
#include "book/edit.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <list>
#include <optional>
#include <set>

#include "base/text.h"
#include "book/csv.h"
#include "book/faults.h"

namespace footring::book {

namespace {

using enum RowEdit::Do;

std::string quoted(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += c;
        out += c;
    }
    return out + '"';
}

// The cell as it stands in a file. Blanks at its ends would be trimmed away if it were not quoted.
std::string cell_text(std::string_view text, char delimiter, bool quote) {
    const bool needed = text.find_first_of("\"\r\n") != text.npos || text.find(delimiter) != text.npos ||
                        trim(text).size() != text.size();
    return quote || needed ? quoted(text) : std::string(text);
}

bool is_quoted(std::string_view text, const CsvCell& cell) {
    return trim(text.substr(cell.from, cell.to - cell.from)).starts_with('"');
}

struct Splice {
    std::size_t at, removed;
    std::string inserted;
    RowChange* of = nullptr;  // gets the line at which it stands in the end
    std::size_t row_at = 0;   // where that row begins in the text before; from there to `at` nothing is edited
};

struct SheetEditor {
    const Table& table;
    std::string text;
    char delimiter;
    std::string_view file;
    std::span<const RowEdit> edits;

    Csv csv{};
    std::vector<std::string> columns{};  // the first line
    std::string line_break = "\n";
    bool quotes_all = false;
    std::vector<Splice> splices{};
    std::list<RowChange> changes{};
    bool ends_without_break = false;
    std::size_t turn = 0;  // which edit is being made
    std::vector<Problem> problems{};
    SheetEdit out{};

    void fault(std::uint32_t line, std::string what, std::string remedy,
               ProblemCode code = ProblemCode::kBadInput) {
        problems.push_back({code, line == 0 ? std::string(file) : fmt::format("{}:{}", file, line), std::move(what),
                            std::move(remedy)});
    }

    void begin() {
        if (text.empty()) {
            for (std::size_t i = 0; i < table.columns.size(); ++i)
                text += (i == 0 ? "" : std::string(1, delimiter)) + std::string(table.columns[i].name);
            text += '\n';
        }
        if (!is_utf8(text)) return fault(0, "the file is not UTF-8 text", "save it as CSV, UTF-8");
        add_columns();
        if (problems.empty()) read();
    }

    void read() {
        csv = read_csv(text, delimiter);
        columns.clear();
        for (const CsvFault& f : csv.faults)
            problems.push_back({ProblemCode::kBadInput, fmt::format("{}:{}:{}", file, f.line, f.column), f.what,
                                f.remedy + ", then edit the table"});
        if (csv.rows.empty()) return fault(1, "the file has no first line", "write the names of its columns there");
        const CsvRow& header = csv.rows.front();
        for (const CsvCell& cell : header.cells) columns.push_back(cell.text);
        if (header.next > header.to) line_break = text.substr(header.to, header.next - header.to);
        const CsvRow& last = csv.rows.back();
        quotes_all = std::ranges::all_of(header.cells, [&](const CsvCell& c) { return is_quoted(text, c); }) &&
                     std::ranges::all_of(last.cells, [&](const CsvCell& c) { return is_quoted(text, c); });
    }

    // Columns that an edit fills and the file does not have.
    void add_columns() {
        read();
        if (!problems.empty()) return;
        std::vector<std::string> missing;
        for (const Column& column : table.columns) {
            const std::string name(column.name);
            if (std::ranges::find(columns, name) != columns.end()) continue;
            const bool filled = std::ranges::any_of(edits, [&](const RowEdit& edit) {
                const auto cell = edit.cells.find(name);
                return edit.act != kRemove && cell != edit.cells.end() && !cell->second.empty();
            });
            if (filled) missing.push_back(name);
        }
        if (missing.empty()) return;
        std::vector<Splice> wider;
        for (std::size_t row = 0; row < csv.rows.size(); ++row) {
            std::string more;
            for (const std::string& name : missing)
                more += delimiter + cell_text(row == 0 ? name : "", delimiter, quotes_all);
            wider.push_back({csv.rows[row].to, 0, std::move(more), nullptr, 0});
        }
        text = spliced(text, wider);
        for (const std::string& name : missing)
            out.notes.push_back(fmt::format("{} had no column '{}'; every line of it has one now", file, name));
    }

    static bool is_break(char c) { return c == '\n' || c == '\r'; }

    static std::string spliced(const std::string& text, std::vector<Splice>& all) {
        std::ranges::stable_sort(all, {}, &Splice::at);
        std::string result;
        std::vector<std::pair<RowChange*, std::size_t>> begins;  // bytes of the result, rising
        std::size_t at = 0;
        for (const Splice& splice : all) {
            result.append(text, at, splice.at - at);
            const std::size_t row = result.size() - (splice.at - splice.row_at);
            result += splice.inserted;
            at = splice.at + splice.removed;
            if (splice.of != nullptr) begins.emplace_back(splice.of, row);
        }
        result.append(text, at);
        std::uint32_t line = 1;
        std::size_t counted = 0;
        for (const auto& [change, begin] : begins) {
            std::size_t row = begin;
            if (change->before.empty())  // a row behind one without a line break brings that in front of it
                while (row < result.size() && is_break(result[row])) ++row;
            for (; counted < row; ++counted)
                if (result[counted] == '\n' ||
                    (result[counted] == '\r' && (counted + 1 == result.size() || result[counted + 1] != '\n')))
                    ++line;
            change->line = line;
        }
        return result;
    }

    const CsvRow* row_at(std::uint32_t line) const {
        const auto rows = std::span(csv.rows).subspan(1);
        const auto found =
            std::ranges::lower_bound(rows, line, {}, [](const CsvRow& row) { return row.cells.front().line; });
        return found == rows.end() || found->cells.front().line != line ? nullptr : &*found;
    }
    Cells cells_of(const CsvRow& row) const {
        Cells cells;
        for (std::size_t i = 0; i < columns.size(); ++i)
            cells.emplace(columns[i], i < row.cells.size() ? row.cells[i].text : "");
        return cells;
    }

    std::string written(const CsvRow& row) const { return text.substr(row.from, row.to - row.from); }
    // The bytes that an edit brings, when they say what its cells say.
    bool reads_as(const std::string& bytes, const Cells& cells) const {
        const Csv one = read_csv(bytes, delimiter);
        return one.faults.empty() && one.rows.size() == 1 && one.rows[0].cells.size() == columns.size() &&
               cells_of(one.rows[0]) == cells;
    }

    bool known_columns(const RowEdit& edit) {
        bool known = true;
        for (const auto& [name, cell] : edit.cells) {
            if (!is_utf8(cell)) {
                fault(edit.line, fmt::format("the text for '{}' is not UTF-8, or has a zero byte", name),
                      "write it as text");
                known = false;
            }
            if (std::ranges::find(columns, name) != columns.end()) continue;
            // A blank cell of a column that the file does without is nothing to write.
            if (table.column(name) != nullptr && cell.empty()) continue;
            std::vector<std::string> names = columns;
            for (const Column& column : table.columns) names.emplace_back(column.name);
            fault(edit.line, fmt::format("{} has no column {}", table.name, in_quotes(name)),
                  did_you_mean(name, names, fmt::format("its columns are {}", fmt::join(columns, ", "))));
            known = false;
        }
        return known;
    }

    RowChange* note(Cells before, Cells after, std::string bytes) {
        return &changes.emplace_back(
            RowChange{std::string(table.name), 0, std::move(before), std::move(after), std::move(bytes), turn});
    }

    void add(const RowEdit& edit) {
        const bool first = edit.line == csv.rows.front().cells.front().line;
        const CsvRow* behind = edit.line == 0 ? &csv.rows.back() : first ? &csv.rows.front() : row_at(edit.line);
        if (behind == nullptr)
            return fault(edit.line, "no row of the table begins in this line", "read the table again",
                         ProblemCode::kConflict);
        std::string row;
        Cells after;
        for (std::size_t i = 0; i < columns.size(); ++i) {
            const auto cell = edit.cells.find(columns[i]);
            const std::string& given = after[columns[i]] = cell == edit.cells.end() ? "" : cell->second;
            if (i > 0) row += delimiter;
            row += cell_text(given, delimiter, quotes_all);
        }
        if (!edit.written.empty() && reads_as(edit.written, after)) row = edit.written;
        // A row of one blank cell would be an empty line, which is no row.
        if (row.empty()) row = "\"\"";
        const bool ends_in_break = behind->next > behind->to;
        splices.push_back({behind->next, 0, ends_in_break ? row + line_break : line_break + row,
                           note({}, std::move(after), {}), behind->next});
    }

    const CsvRow* expected_row(const RowEdit& edit) {
        const CsvRow* row = row_at(edit.line);
        if (row == nullptr) {
            fault(edit.line, "no row of the table begins in this line", "read the table again",
                  ProblemCode::kConflict);
            return nullptr;
        }
        const Cells now = cells_of(*row);
        for (const auto& [name, was] : edit.was) {
            const auto cell = now.find(name);
            const std::string is = cell == now.end() ? "" : cell->second;
            if (is == was) continue;
            fault(edit.line,
                  fmt::format("{} is {} now, and was {} when you looked", name,
                              is.empty() ? "blank" : in_quotes(is), was.empty() ? "blank" : in_quotes(was)),
                  "read the row again, then edit it", ProblemCode::kConflict);
            return nullptr;
        }
        return row;
    }

    void change(const RowEdit& edit) {
        const CsvRow* row = expected_row(edit);
        if (row == nullptr) return;
        const Cells before = cells_of(*row);
        Cells after = before;
        const std::size_t spliced_before = splices.size();
        for (std::size_t i = 0; i < columns.size(); ++i) {
            const auto given = edit.cells.find(columns[i]);
            if (given == edit.cells.end() || given->second == before.at(columns[i])) continue;
            if (i >= row->cells.size())
                return fault(edit.line, "the row has fewer cells than the first line",
                             "add the missing commas, then edit it");
            const CsvCell& cell = row->cells[i];
            const bool stays_quoted = is_quoted(text, cell) && !given->second.empty();
            splices.push_back(
                {cell.from, cell.to - cell.from, cell_text(given->second, delimiter, quotes_all || stays_quoted)});
            after[columns[i]] = given->second;
        }
        if (!edit.written.empty() && reads_as(edit.written, after)) {
            splices.resize(spliced_before);
            splices.push_back({row->from, row->to - row->from, edit.written, nullptr, 0});
        }
        if (splices.size() == spliced_before) return;  // it says so already
        splices[spliced_before].of = note(before, std::move(after), written(*row));
        splices[spliced_before].row_at = row->from;
    }

    void remove(const RowEdit& edit) {
        const CsvRow* row = expected_row(edit);
        if (row == nullptr) return;
        splices.push_back(
            {row->from, row->next - row->from, "", note(cells_of(*row), {}, written(*row)), row->from});
        // The last line had no line break, and the one before it shall have none in its turn.
        if (row->next == row->to) ends_without_break = true;
    }

    std::expected<SheetEdit, std::vector<Problem>> run() {
        begin();
        if (!problems.empty()) return std::unexpected(std::move(problems));
        std::set<std::uint32_t> touched;
        for (turn = 0; turn < edits.size(); ++turn) {
            const RowEdit& edit = edits[turn];
            if (edit.act != kAdd && !touched.insert(edit.line).second) {
                fault(edit.line, "the row is edited twice at once", "make one edit of both");
                continue;
            }
            if (!known_columns(edit)) continue;
            if (edit.act == kAdd) add(edit);
            else if (edit.act == kChange) change(edit);
            else remove(edit);
        }
        if (!problems.empty()) return std::unexpected(std::move(problems));
        out.text = spliced(text, splices);
        while (ends_without_break && !out.text.empty() && is_break(out.text.back())) out.text.pop_back();
        for (RowChange& change : changes) out.rows.push_back(std::move(change));
        std::ranges::stable_sort(out.rows, {}, &RowChange::line);
        return std::move(out);
    }
};

}  // namespace

std::expected<SheetEdit, std::vector<Problem>> edit_sheet(const Table& table, std::string_view text, char delimiter,
                                                          std::string_view file, std::span<const RowEdit> edits) {
    return SheetEditor{table, std::string(text), delimiter, file, edits}.run();
}

std::vector<TextRow> rows_of_text(std::string_view text, char delimiter) {
    const Csv csv = read_csv(text, delimiter);
    std::vector<TextRow> out;
    for (std::size_t row = 1; row < csv.rows.size(); ++row) {
        Cells cells;
        const auto& columns = csv.rows.front().cells;
        for (std::size_t i = 0; i < columns.size(); ++i)
            cells.emplace(columns[i].text, i < csv.rows[row].cells.size() ? csv.rows[row].cells[i].text : "");
        if (std::ranges::all_of(cells, [](const auto& cell) { return cell.second.empty(); })) continue;
        out.push_back({csv.rows[row].cells.front().line, std::move(cells)});
    }
    return out;
}

std::expected<std::vector<RowEdit>, std::vector<Problem>> undoing(std::span<const RowChange> changes,
                                                                  std::string_view text, char delimiter,
                                                                  std::string_view file) {
    const std::vector<TextRow> rows = rows_of_text(text, delimiter);
    std::vector<bool> taken(rows.size());
    std::vector<RowEdit> out;
    std::vector<Problem> problems;
    // The file may have other columns by now; those that both have are compared.
    const auto same = [](const Cells& now, const Cells& left) {
        return std::ranges::all_of(left, [&](const auto& cell) {
            const auto found = now.find(cell.first);
            return found == now.end() ? cell.second.empty() : found->second == cell.second;
        });
    };
    const auto distance = [](std::uint32_t a, std::uint32_t b) { return a > b ? a - b : b - a; };
    for (const RowChange& change : changes) {
        RowEdit edit{.act = kAdd,
                     .table = change.table,
                     .line = 0,
                     .was = {},
                     .cells = change.before,
                     .written = change.written};
        if (change.after.empty()) {
            // Back to where it stood: behind the last row that begins above.
            edit.line = 1;
            for (const TextRow& row : rows)
                if (row.line < change.line) edit.line = row.line;
            out.push_back(std::move(edit));
            continue;
        }
        std::optional<std::size_t> nearest;
        for (std::size_t i = 0; i < rows.size(); ++i)
            if (!taken[i] && same(rows[i].cells, change.after) &&
                (!nearest || distance(rows[i].line, change.line) < distance(rows[*nearest].line, change.line)))
                nearest = i;
        if (!nearest) {
            const std::string key = change.after.contains("id") ? change.after.at("id") : "";
            problems.push_back({ProblemCode::kConflict, std::string(file),
                                key.empty()
                                    ? "a row of the change is not as the change left it"
                                    : fmt::format("the row {} is not as the change left it", in_quotes(key)),
                                "undo what was changed since first, or edit the row itself"});
            continue;
        }
        taken[*nearest] = true;
        edit.act = change.before.empty() ? kRemove : kChange;
        edit.line = rows[*nearest].line;
        out.push_back(std::move(edit));
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

}  // namespace footring::book
