// SPDX-License-Identifier: Apache-2.0
#include "book/sheet.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "book/json_text.h"

namespace footring::book {

namespace {

struct Foreign {
    std::string what, remedy;
};
// What a file is that is not UTF-8 text, as far as its first bytes tell.
Foreign foreign_kind(std::string_view bytes) {
    if (bytes.starts_with("PK\x03\x04"))
        return {"the file is a spreadsheet or archive, not CSV", "save the table as CSV, UTF-8"};
    if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF"))
        return {"the file is UTF-16, not UTF-8", "save it as CSV, UTF-8"};
    if (bytes.find('\0') != bytes.npos) return {"the file is not text", "put the CSV table in its place"};
    return {"the file is not UTF-8 text from here on", "save it as CSV, UTF-8"};
}

// The first byte at which the text stops being UTF-8.
std::size_t first_bad_byte(std::string_view bytes) {
    std::size_t good = 0;
    while (good < bytes.size()) {  // a line at a time, then a character at a time
        const std::size_t end = std::min(bytes.find('\n', good), bytes.size() - 1) + 1;
        if (!is_utf8(bytes.substr(good, end - good))) break;
        good = end;
    }
    while (good < bytes.size()) {
        std::size_t length = 1;
        while (length <= 4 && good + length <= bytes.size() && !is_utf8(bytes.substr(good, length))) ++length;
        if (length > 4 || good + length > bytes.size()) break;
        good += length;
    }
    return good;
}

Spot spot_at(std::string_view text, std::size_t byte) {
    const TextPosition position = position_in(text, byte);
    return {static_cast<std::uint32_t>(position.line), static_cast<std::uint32_t>(position.column)};
}

std::string header_of(const Table& table) {
    std::vector<std::string_view> names;
    for (const Column& column : table.columns) names.push_back(column.name);
    return fmt::format("{}", fmt::join(names, ","));
}

struct SheetReader {
    Sheet sheet;
    Faults& faults;

    void fault(Spot spot, std::string what, std::string remedy, ProblemCode code = ProblemCode::kBadInput) {
        faults.add(sheet.file, spot, std::move(what), std::move(remedy), code);
    }

    void read_header(const CsvRow& header) {
        const Table& table = *sheet.table;
        std::vector<std::string> absent;
        for (const Column& column : table.columns) absent.emplace_back(column.name);
        for (const CsvCell& cell : header.cells) std::erase(absent, cell.text);
        for (std::size_t at = 0; at < header.cells.size(); ++at) {
            const CsvCell& cell = header.cells[at];
            const int column = sheet.index(cell.text);
            if (column >= 0 && sheet.cell_of[static_cast<std::size_t>(column)] >= 0) {
                fault({cell.line, cell.column}, fmt::format("the column '{}' stands twice", cell.text),
                      "keep one of them");
            } else if (column >= 0) {
                sheet.cell_of[static_cast<std::size_t>(column)] = static_cast<int>(at);
            } else if (const std::string hint = did_you_mean(cell.text, absent, ""); !hint.empty()) {
                // Columns of one's own are welcome; a slip of the pen in one of ours would hide it.
                fault({cell.line, cell.column},
                      fmt::format("the column '{}' is none of those of {}", cell.text, table.name), hint);
                std::erase_if(absent,
                              [&](const std::string& name) { return hint.find("'" + name + "'") != hint.npos; });
            }
        }
        for (const Column& column : table.columns) {
            if (!column.required || std::ranges::find(absent, column.name) == absent.end()) continue;
            const CsvCell& first = header.cells.front();
            const std::string_view other = header.cells.size() > 1                    ? ""
                                           : first.text.find(';') != first.text.npos  ? ";"
                                           : first.text.find('\t') != first.text.npos ? "tabs"
                                                                                      : "";
            if (!other.empty()) {
                fault({first.line, first.column},
                      fmt::format("the cells are separated by {}, not by commas", other),
                      "save the table with commas, or give dialect.delimiter in datapackage.json");
                break;
            }
            fault({first.line, first.column}, fmt::format("the column '{}' is missing", column.name),
                  "add it to the first line");
        }
        if (sheet.table->has_id() && sheet.cell_of.front() < 0) sheet.complete = false;
    }

    void read_rows(Csv&& csv, const TableFile& file) {
        const std::size_t width = csv.rows.front().cells.size();
        sheet.rows.reserve(csv.rows.size() - 1);
        for (std::size_t at = 1; at < csv.rows.size(); ++at) {
            CsvRow& row = csv.rows[at];
            if (std::ranges::all_of(row.cells, [](const CsvCell& cell) { return cell.text.empty(); })) continue;
            if (!row.faulty && row.cells.size() != width) {
                const bool more = row.cells.size() > width;
                fault(more ? Spot{row.cells[width].line, row.cells[width].column}
                           : Spot{row.end_line, row.end_column},
                      fmt::format("the row has {} cells, the first line has {}", row.cells.size(), width),
                      more ? "put a cell that contains a comma in quotation marks, or take cells out"
                           : "add the missing cells; a blank cell still needs its comma");
                row.faulty = true;
            }
            for (CsvCell& cell : row.cells)
                if (std::ranges::find(file.missing, cell.text) != file.missing.end()) cell.text.clear();
            sheet.rows.push_back(std::move(row));
        }
    }

    void read(const std::string& bytes, const TableFile& file) {
        sheet.complete = false;  // until it is
        if (!is_utf8(bytes)) {
            const Foreign kind = foreign_kind(bytes);
            const bool from_here = kind.what.ends_with("from here on");
            fault(from_here ? spot_at(bytes, first_bad_byte(bytes)) : Spot{1, 1}, kind.what, kind.remedy,
                  ProblemCode::kUnreadable);
            return;
        }
        Csv csv = read_csv(bytes, file.delimiter);
        for (CsvFault& f : csv.faults) fault({f.line, f.column}, std::move(f.what), std::move(f.remedy));
        if (csv.rows.empty()) {
            if (csv.faults.empty())
                fault({1, 1}, "the file is empty",
                      fmt::format("write its first line: {}", header_of(*sheet.table)));
            return;
        }
        if (csv.rows.front().faulty) return;
        sheet.complete = !csv.cut;
        read_header(csv.rows.front());
        read_rows(std::move(csv), file);
    }
};

}  // namespace

int Sheet::index(std::string_view column) const {
    const auto found = std::ranges::find(table->columns, column, &Column::name);
    return found == table->columns.end() ? -1 : static_cast<int>(found - table->columns.begin());
}

const std::string& Sheet::text(std::size_t row, int column) const {
    static const std::string blank;
    const int cell = cell_of[static_cast<std::size_t>(column)];
    if (cell < 0 || static_cast<std::size_t>(cell) >= rows[row].cells.size()) return blank;
    return rows[row].cells[static_cast<std::size_t>(cell)].text;
}

Spot Sheet::spot(std::size_t row, int column) const {
    const int cell = column < 0 ? -1 : cell_of[static_cast<std::size_t>(column)];
    const auto& cells = rows[row].cells;
    const CsvCell& at =
        cells[cell < 0 || static_cast<std::size_t>(cell) >= cells.size() ? 0 : static_cast<std::size_t>(cell)];
    return {at.line, at.column};
}

Sheet read_sheet(const PackFiles& files, const Table& table, const TableFile& file, Faults& faults,
                 std::string& bytes_read) {
    Sheet sheet;
    sheet.table = &table;
    sheet.file = files.shown(file.path);
    sheet.cell_of.assign(table.columns.size(), -1);
    auto bytes = files.read(file.path);
    if (!bytes) {
        Problem& problem = bytes.error();
        if (problem.code == ProblemCode::kNotFound) {
            if (!file.listed) return sheet;  // a table that a pack does without
            faults.add(files.shown(kDescriptor), file.spot,
                       fmt::format("the file '{}' of the table {} is missing", file.path, table.name),
                       "add the file, correct its path, or take the resource out");
        } else if (!stays_inside(file.path)) {
            faults.add(files.shown(kDescriptor), file.spot, std::move(problem.what), std::move(problem.remedy));
        } else {
            faults.add(sheet.file, {1, 1}, std::move(problem.what), std::move(problem.remedy), problem.code);
        }
        sheet.complete = false;
        return sheet;
    }
    SheetReader reader{std::move(sheet), faults};
    reader.read(*bytes, file);
    bytes_read = std::move(*bytes);
    return std::move(reader.sheet);
}

}  // namespace footring::book
