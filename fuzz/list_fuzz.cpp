// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as a list that a person brings in. The first byte says as what: a workbook as it is; the parts
// of an XLSX or an ODS, which are laid into an archive here, because a fuzzer seldom mends an archive's sums; or a
// table of pieces, sales or treatments. What is read must be read the same when it is written out; what is refused
// must be refused with a place, a reason and a remedy.
#include <zip.h>

#include <cstdint>
#include <utility>

#include "base/text.h"
#include "book/catalogue.h"
#include "book/pack_text.h"
#include "exchange/pieces_csv.h"
#include "exchange/sales_csv.h"
#include "exchange/spreadsheet.h"
#include "holds.h"

using namespace footring;

namespace {

using Parts = std::vector<std::pair<const char*, std::string_view>>;

void check_fault(const Problem& p) {
    HOLDS(!p.where.empty() && !p.what.empty() && !p.remedy.empty());
    HOLDS(is_utf8(p.where) && is_utf8(p.what) && is_utf8(p.remedy));
    HOLDS(to_line(p).find('\n') == std::string::npos);
}

const book::Book& small_book() {
    static const book::Book kBook = book::book_from_tables({
        {"forms", "id,name,ware\nplate,Dinner plate,flat\nsugar,Sugar,hollow\n"},
        {"makers", "id,name\nkw,Kettlewharf\n"},
        {"shapes", "id,maker,name\nharrow,kw,Harrow\n"},
        {"glazes", "id,maker,name\noat,kw,Oat\n"},
        {"ornaments", "id,name,kind,finish\nfern-pair,Fern pair,stamp,gold\n"},
        {"marks", "id,maker,wording\nm-3,kw,WARRANTED\n"},
        {"sources", "id,title\ns-1,A list\n"},
        {"treatments", "id,shape,glaze,number,name\nt-117,harrow,oat,117,Fern\n"},
    });
    return kBook;
}

std::string zipped(const Parts& parts) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
    zip_source_keep(target);
    zip_t* zip = zip_open_from_source(target, ZIP_TRUNCATE, &error);
    for (const auto& [name, text] : parts) {
        const auto at = zip_file_add(zip, name, zip_source_buffer(zip, text.data(), text.size(), 0), 0);
        zip_set_file_compression(zip, static_cast<zip_uint64_t>(at), ZIP_CM_STORE, 0);
    }
    zip_close(zip);
    zip_source_open(target);
    zip_stat_t about;
    zip_source_stat(target, &about);
    std::string bytes(about.size, '\0');
    zip_source_read(target, bytes.data(), bytes.size());
    zip_source_close(target);
    zip_source_free(target);
    return bytes;
}

// What stands between lines of "====", one part after the other.
std::vector<std::string_view> split_parts(std::string_view text) {
    constexpr std::string_view kBetween = "\n====\n";
    std::vector<std::string_view> out;
    for (std::size_t at = 0; at != std::string_view::npos;) {
        const std::size_t end = text.find(kBetween, at);
        out.push_back(text.substr(at, end == std::string_view::npos ? end : end - at));
        at = end == std::string_view::npos ? end : end + kBetween.size();
    }
    return out;
}

void check_table(std::string_view text);

void check_workbook(std::string_view bytes) {
    const auto sheets = exchange::read_workbook(bytes, "list.xlsx");
    if (!sheets) return check_fault(sheets.error());
    HOLDS(!sheets->empty());
    for (const exchange::SheetText& sheet : *sheets) {
        const book::Csv csv = book::read_csv(sheet.csv);
        HOLDS(csv.faults.empty() && !csv.rows.empty());
        check_table(sheet.csv);
    }
}

void check_pieces(std::string_view text) {
    const auto read = exchange::read_csv(text, {}, &small_book(), "list.csv");
    for (const Problem& p : read.problems) check_fault(p);
    std::vector<store::PieceRecord> records;
    // A row of which nothing was taken is a piece that nobody looked at yet; written out it is a blank line.
    for (const exchange::ReadRow& row : read.rows)
        if (row.record != store::PieceRecord{}) records.push_back(row.record);
    const auto again =
        exchange::read_csv(exchange::write_csv(records, store::Sight::kAll), {}, &small_book(), "list.csv");
    HOLDS(again.problems.empty() && again.rows.size() == records.size());
    for (std::size_t i = 0; i < records.size(); ++i) HOLDS(again.rows[i].record == records[i]);
}

void check_sales(std::string_view text) {
    const auto read = exchange::read_sales_csv(text, {{}, "USD", ""}, &small_book(), "list.csv");
    for (const Problem& p : read.problems) check_fault(p);
    std::vector<worth::Sale> sales;
    for (const exchange::SaleRow& row : read.rows) sales.push_back(row.sale);
    const auto again = exchange::read_sales_csv(exchange::write_sales_csv(sales), {}, &small_book(), "list.csv");
    HOLDS(again.problems.empty() && again.rows.size() == sales.size());
    for (std::size_t i = 0; i < sales.size(); ++i) HOLDS(again.rows[i].sale == sales[i]);
}

void check_treatments(std::string_view text) {
    const auto list = book::read_catalogue(text, "list.csv", small_book(), "pack", {}, {{}, "s-1", {}});
    for (const Problem& p : list.problems) check_fault(p);
    for (const book::RowEdit& edit : list.edits) HOLDS(edit.cells.contains("id"));
}

void check_table(std::string_view text) {
    check_pieces(text);
    check_sales(text);
    check_treatments(text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
    const auto parts = split_parts(text);
    const auto part = [&](std::size_t at) { return at < parts.size() ? parts[at] : std::string_view{}; };
    switch (data[0]) {
        case 'w':
            check_workbook(text);
            break;
        case 'x':
            check_workbook(zipped({{"xl/workbook.xml", part(0)},
                                   {"xl/_rels/workbook.xml.rels", part(1)},
                                   {"xl/sharedStrings.xml", part(2)},
                                   {"xl/styles.xml", part(3)},
                                   {"xl/worksheets/sheet1.xml", part(4)}}));
            break;
        case 'o':
            check_workbook(zipped({{"content.xml", text}}));
            break;
        case 'p':
            check_pieces(text);
            break;
        case 's':
            check_sales(text);
            break;
        default:
            check_treatments(text);
    }
    return 0;
}
