// SPDX-License-Identifier: Apache-2.0
#include "book/csv.h"

#include <fmt/format.h>

#include "base/text.h"

namespace footring::book {

namespace {

struct CsvReader {
    std::string_view text;
    char delimiter;
    Csv out;
    std::size_t at = 0, skipped = 0;  // skipped: bytes of the BOM in front
    std::uint32_t line = 1, column = 1;

    std::uint32_t byte() const { return static_cast<std::uint32_t>(at + skipped); }

    bool at_end() const { return at == text.size(); }
    bool at_line_end() const { return at_end() || text[at] == '\n' || text[at] == '\r'; }

    // One byte on; a line break of two bytes is one step.
    void step() {
        const char c = text[at++];
        if (c == '\r' && !at_end() && text[at] == '\n') ++at;
        if (c == '\n' || c == '\r') ++line, column = 1;
        else if (at_end() || (static_cast<unsigned char>(text[at]) & 0xC0) != 0x80)
            ++column;  // the next byte begins a character
    }

    void fault(CsvRow& row, std::uint32_t in_line, std::uint32_t in_column, std::string what, std::string remedy) {
        row.faulty = true;
        out.faults.push_back({in_line, in_column, std::move(what), std::move(remedy)});
    }

    void read_plain(CsvRow& row, CsvCell& cell) {
        const std::size_t begin = at;
        bool quote = false;
        while (!at_line_end() && text[at] != delimiter) {
            if (text[at] == '"' && !quote) {
                quote = true;
                fault(row, line, column, "a quotation mark stands inside a cell that is not quoted",
                      "put the whole cell in quotation marks and double the ones inside it");
            }
            step();
        }
        cell.text = trim(text.substr(begin, at - begin));
    }

    void read_quoted(CsvRow& row, CsvCell& cell) {
        step();
        while (true) {
            if (at_end()) {
                fault(row, cell.line, cell.column, "a quotation mark is opened here and never closed",
                      "close it, or double it if it belongs to the text");
                out.cut = true;
                return;
            }
            if (text[at] == '"') {
                step();
                if (at_end() || text[at] != '"') break;
            }
            const std::size_t begin = at;
            step();
            // Line breaks inside a cell are kept as one LF, whatever the file uses.
            if (text[begin] == '\r') cell.text += '\n';
            else cell.text.append(text, begin, at - begin);
        }
        while (!at_line_end() && text[at] == ' ') step();
        if (at_line_end() || text[at] == delimiter) return;
        fault(row, line, column, "text follows the closing quotation mark of a cell",
              "double the quotation marks that belong to the text");
        while (!at_line_end() && text[at] != delimiter) step();
    }

    void read_cell(CsvRow& row) {
        row.cells.push_back({"", line, column, byte(), 0});
        std::size_t ahead = at;
        while (ahead < text.size() && text[ahead] == ' ') ++ahead;
        if (ahead < text.size() && text[ahead] == '"') {
            while (at < ahead) step();
            row.cells.back().column = column;
            read_quoted(row, row.cells.back());
        } else {
            read_plain(row, row.cells.back());
        }
        row.cells.back().to = byte();
    }

    void read_row() {
        CsvRow row;
        row.from = byte();
        while (true) {
            read_cell(row);
            if (at_line_end()) break;
            step();  // the delimiter
            if (row.cells.size() < kMostCells) continue;
            fault(row, line, column, fmt::format("the row has more than {} cells", kMostCells),
                  "check the delimiter and the quotation marks");
            while (!at_line_end()) step();
            break;
        }
        row.end_line = line, row.end_column = column;
        row.to = byte();
        if (!at_end()) step();
        row.next = byte();
        if (row.cells.size() > 1 || !row.cells.front().text.empty()) out.rows.push_back(std::move(row));
    }
};

}  // namespace

Csv read_csv(std::string_view text, char delimiter) {
    constexpr std::string_view kMark = "\xEF\xBB\xBF";
    const std::size_t skipped = text.starts_with(kMark) ? kMark.size() : 0;
    text.remove_prefix(skipped);
    CsvReader reader{text, delimiter, {}};
    reader.skipped = skipped;
    while (!reader.at_end()) {
        if (reader.out.rows.size() > kMostRows) {
            reader.out.faults.push_back({reader.line, reader.column,
                                         fmt::format("the table has more than {} rows", kMostRows),
                                         "split it into several packs"});
            reader.out.cut = true;
            break;
        }
        reader.read_row();
    }
    return std::move(reader.out);
}

}  // namespace footring::book
