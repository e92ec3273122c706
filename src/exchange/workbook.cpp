// SPDX-License-Identifier: Apache-2.0
#include "exchange/workbook.h"

#include <fmt/format.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/text.h"
#include "exchange/csv_fields.h"

namespace footring::exchange {

namespace {

namespace fs = std::filesystem;

// The library writes to a file only: one of our own, gone when this goes.
class TemporaryFile {
  public:
    TemporaryFile() {
        std::error_code error;
        std::string name = (fs::temp_directory_path(error) / "footring-XXXXXX").string();
        const int file = error ? -1 : ::mkstemp(name.data());
        if (file < 0) return;
        ::close(file);
        path_ = name;
    }
    ~TemporaryFile() {
        std::error_code ignored;
        if (!path_.empty()) fs::remove(path_, ignored);
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    const std::string& path() const { return path_; }

  private:
    std::string path_;
};

bool is_number(std::string_view field) { return field.ends_with("_mm") || field == "cost"; }
double width_of(std::string_view field) {
    if (field.ends_with("note")) return 40;
    return field.ends_with("_sure") || is_number(field) ? 10 : 18;
}

class Sheet {
  public:
    Sheet(lxw_workbook* book, const char* name, lxw_format* head)
        : sheet_(workbook_add_worksheet(book, name)), head_(head) {}

    void header(const std::vector<std::string>& fields) {
        for (std::size_t at = 0; at < fields.size(); ++at) {
            const auto column = static_cast<lxw_col_t>(at);
            worksheet_set_column(sheet_, column, column, width_of(fields[at]), nullptr);
            note(worksheet_write_string(sheet_, 0, column, fields[at].c_str(), head_));
        }
        worksheet_freeze_panes(sheet_, 1, 1);
        columns_ = static_cast<lxw_col_t>(fields.size());
    }
    void text(std::size_t row, std::size_t column, const std::string& value) {
        if (!value.empty())
            note(worksheet_write_string(sheet_, static_cast<lxw_row_t>(row), static_cast<lxw_col_t>(column),
                                        value.c_str(), nullptr));
    }
    void number(std::size_t row, std::size_t column, double value) {
        note(worksheet_write_number(sheet_, static_cast<lxw_row_t>(row), static_cast<lxw_col_t>(column), value,
                                    nullptr));
    }
    void close(std::size_t rows) {
        if (columns_ > 0)
            worksheet_autofilter(sheet_, 0, 0, static_cast<lxw_row_t>(rows), static_cast<lxw_col_t>(columns_ - 1));
    }
    lxw_error error() const { return error_; }

  private:
    void note(lxw_error error) {
        if (error_ == LXW_NO_ERROR) error_ = error;
    }
    lxw_worksheet* sheet_;
    lxw_format* head_;
    lxw_col_t columns_ = 0;
    lxw_error error_ = LXW_NO_ERROR;
};

lxw_error write_pieces(Sheet sheet, const std::vector<store::PieceRecord>& records, store::Sight sight) {
    const std::vector<std::string> fields = csv_fields(sight);
    sheet.header(fields);
    for (std::size_t i = 0; i < records.size(); ++i) {
        const Cells cells = cells_of(records[i]);
        for (std::size_t at = 0; at < fields.size(); ++at) {
            const auto cell = cells.find(fields[at]);
            if (cell == cells.end()) continue;
            const std::string value = unguarded(cell->second);
            const auto number = is_number(fields[at]) ? to_number(value) : std::nullopt;
            if (number) sheet.number(i + 1, at, *number);
            else sheet.text(i + 1, at, value);
        }
        if (sheet.error() != LXW_NO_ERROR) break;
    }
    sheet.close(records.size());
    return sheet.error();
}

lxw_error write_lots(Sheet sheet, const std::vector<store::Lot>& lots, store::Sight sight) {
    const bool all = sight == store::Sight::kAll;
    sheet.header(all ? std::vector<std::string>{"id", "name", "date", "place", "cost", "currency", "note"}
                     : std::vector<std::string>{"id", "name"});
    for (std::size_t i = 0; i < lots.size(); ++i) {
        const store::Lot& lot = lots[i];
        const std::string* texts[] = {&lot.id, &lot.name, &lot.date, &lot.place};
        for (std::size_t at = 0; at < (all ? std::size(texts) : 2); ++at) sheet.text(i + 1, at, *texts[at]);
        if (!all) continue;
        if (lot.cost) sheet.number(i + 1, 4, *lot.cost);
        sheet.text(i + 1, 5, lot.currency);
        sheet.text(i + 1, 6, lot.note);
    }
    sheet.close(lots.size());
    return sheet.error();
}

}  // namespace

Expected<std::string> workbook(const std::vector<store::PieceRecord>& records, const std::vector<store::Lot>& lots,
                               store::Sight sight) {
    const TemporaryFile file;
    lxw_workbook* book = file.path().empty() ? nullptr : workbook_new(file.path().c_str());
    if (book == nullptr)
        return fail(ProblemCode::kStore, "workbook", "there is no room for a temporary file",
                    "free some space in the folder for temporary files");
    lxw_doc_properties properties{};
    std::string title = "Cupboard";
    properties.title = title.data();
    properties.created = 1;  // the same pieces make the same file
    workbook_set_properties(book, &properties);
    lxw_format* head = workbook_add_format(book);
    format_set_bold(head);
    lxw_error error = write_pieces(Sheet(book, "Pieces", head), records, sight);
    const lxw_error of_lots = write_lots(Sheet(book, "Lots", head), lots, sight);
    if (error == LXW_NO_ERROR) error = of_lots;
    const lxw_error closing = workbook_close(book);
    if (error == LXW_NO_ERROR) error = closing;
    if (error == LXW_ERROR_MAX_STRING_LENGTH_EXCEEDED || error == LXW_ERROR_WORKSHEET_INDEX_OUT_OF_RANGE)
        return fail(ProblemCode::kTooLarge, "workbook", lxw_strerror(error), "write CSV or JSON instead");
    if (error != LXW_NO_ERROR)
        return fail(ProblemCode::kStore, "workbook", lxw_strerror(error),
                    "free some space in the folder for temporary files");
    std::ifstream in(file.path(), std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
}

}  // namespace footring::exchange
