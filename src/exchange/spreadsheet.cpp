// SPDX-License-Identifier: Apache-2.0
#include "exchange/spreadsheet.h"

#include <expat.h>
#include <fmt/format.h>
#include <zip.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <utility>

#include "base/text.h"

namespace footring::exchange {

namespace {

constexpr std::size_t kMostFile = std::size_t{80} << 20, kMostPart = std::size_t{256} << 20;
constexpr std::size_t kMostRatio = 500, kAlwaysFine = std::size_t{1} << 20;
constexpr int kMostRows = 1'000'000, kMostColumns = 200;
constexpr zip_int64_t kMostEntries = 10'000;
constexpr std::size_t kMostText = std::size_t{256} << 20;

// --- the archive

class Archive {
  public:
    static Expected<Archive> open(std::string_view bytes, std::string_view where) {
        zip_error_t error;
        zip_error_init(&error);
        zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
        zip_t* zip = source == nullptr ? nullptr : zip_open_from_source(source, ZIP_RDONLY, &error);
        if (zip == nullptr) {
            if (source != nullptr) zip_source_free(source);
            zip_error_fini(&error);
            return fail(ProblemCode::kUnreadable, std::string(where), "the file is a damaged archive",
                        "open it in a spreadsheet program and save it again");
        }
        zip_error_fini(&error);
        Archive archive(zip, where);
        const zip_int64_t entries = zip_get_num_entries(zip, 0);
        if (entries > kMostEntries)
            return fail(ProblemCode::kTooLarge, archive.where_, fmt::format("the archive has {} files", entries),
                        "give a workbook, or save the table as CSV");
        for (zip_int64_t at = 0; at < entries; ++at) {
            const char* name = zip_get_name(zip, static_cast<zip_uint64_t>(at), 0);
            if (name == nullptr) continue;
            const std::string_view path = name;
            if (path.starts_with('/') || path.find('\\') != path.npos || path == ".." || path.starts_with("../") ||
                path.find("/../") != path.npos || path.find(':') != path.npos)
                return fail(ProblemCode::kBadInput, archive.where_,
                            "the archive names a file outside of itself; no workbook does that",
                            "do not trust it; ask its sender for the table as CSV");
        }
        return archive;
    }

    bool has(const std::string& name) const { return zip_name_locate(zip_.get(), name.c_str(), 0) >= 0; }

    // Hands the part over in pieces as it is unpacked; the whole never lies in memory.
    Expected<void> read(const std::string& name,
                        const std::function<Expected<void>(std::string_view, bool)>& take) const {
        zip_stat_t about;
        zip_stat_init(&about);
        if (zip_stat(zip_.get(), name.c_str(), 0, &about) != 0)
            return fail(ProblemCode::kBadInput, where_,
                        fmt::format("the archive has no {}: it is no whole workbook", name),
                        "save it as .xlsx or .ods, or the table as CSV");
        if ((about.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && about.encryption_method != ZIP_EM_NONE)
            return fail(ProblemCode::kBadInput, where_, "the workbook has a password", "save it without one");
        const std::unique_ptr<zip_file_t, int (*)(zip_file_t*)> file(zip_fopen(zip_.get(), name.c_str(), 0),
                                                                     zip_fclose);
        if (!file) return damaged();
        std::size_t total = 0;
        std::string piece(std::size_t{64} << 10, '\0');
        while (true) {
            const zip_int64_t count = zip_fread(file.get(), piece.data(), piece.size());
            if (count < 0) return damaged();
            total += static_cast<std::size_t>(count);
            if (total > kMostPart || (total > kAlwaysFine && total / kMostRatio > about.comp_size))
                return fail(ProblemCode::kTooLarge, where_,
                            fmt::format("{} unfolds to far more than its size: over {} MB", name, total >> 20),
                            "delete empty rows and columns and save it again, or save the table as CSV");
            auto taken = take(std::string_view(piece).substr(0, static_cast<std::size_t>(count)), count == 0);
            if (!taken || count == 0) return taken;
        }
    }
    const std::string& where() const { return where_; }

  private:
    Archive(zip_t* zip, std::string_view where) : zip_(zip, zip_discard), where_(where) {}
    std::unexpected<Problem> damaged() const {
        return fail(ProblemCode::kUnreadable, where_, "the archive is damaged",
                    "open it in a spreadsheet program and save it again");
    }
    std::unique_ptr<zip_t, void (*)(zip_t*)> zip_;
    std::string where_;
};

// --- XML

// "table:table-cell" -> "table-cell": the parts are told apart well enough by these.
std::string_view local(std::string_view name) {
    const std::size_t colon = name.rfind(':');
    return colon == name.npos ? name : name.substr(colon + 1);
}

class Attributes {
  public:
    explicit Attributes(const char** list) : list_(list) {}
    std::string_view operator[](std::string_view name) const {
        for (const char** at = list_; *at != nullptr; at += 2)
            if (local(at[0]) == name) return at[1];
        return {};
    }
    int count(std::string_view name) const {  // of repeated cells and rows: 1 when absent
        const auto value = to_int((*this)[name]);
        return value && *value > 0 ? *value : 1;
    }

  private:
    const char** list_;
};

struct Handler {
    virtual ~Handler() = default;
    virtual void begin(std::string_view name, const Attributes&) = 0;
    virtual void end(std::string_view name) = 0;
    virtual void text(std::string_view) {}
    bool too_large = false, entities = false;
};

Expected<void> parse(const Archive& archive, const std::string& part, Handler& handler) {
    const std::unique_ptr<std::remove_pointer_t<XML_Parser>, void (*)(XML_Parser)> parser(XML_ParserCreate(nullptr),
                                                                                          XML_ParserFree);
    struct Both {
        Handler& handler;
        XML_Parser parser;
        void check() const {
            if (handler.too_large || handler.entities) XML_StopParser(parser, XML_FALSE);
        }
    } both{handler, parser.get()};
    XML_SetUserData(parser.get(), &both);
    XML_SetElementHandler(
        parser.get(),
        [](void* data, const char* name, const char** list) {
            static_cast<Both*>(data)->handler.begin(local(name), Attributes(list));
            static_cast<Both*>(data)->check();
        },
        [](void* data, const char* name) {
            static_cast<Both*>(data)->handler.end(local(name));
            static_cast<Both*>(data)->check();
        });
    XML_SetCharacterDataHandler(parser.get(), [](void* data, const char* bytes, int length) {
        static_cast<Both*>(data)->handler.text({bytes, static_cast<std::size_t>(length)});
        static_cast<Both*>(data)->check();
    });
    // No workbook declares entities; those that grow when they are expanded are how small files fill a memory.
    XML_SetEntityDeclHandler(parser.get(), [](void* data, const char*, int, const char*, int, const char*,
                                              const char*, const char*, const char*) {
        static_cast<Both*>(data)->handler.entities = true;
        static_cast<Both*>(data)->check();
    });
    return archive.read(part, [&](std::string_view piece, bool last) -> Expected<void> {
        if (XML_Parse(parser.get(), piece.data(), static_cast<int>(piece.size()), last ? 1 : 0) != XML_STATUS_ERROR)
            return {};
        if (handler.too_large)
            return fail(ProblemCode::kTooLarge, archive.where(),
                        fmt::format("a sheet has more than {} rows or {} columns, or too much text", kMostRows,
                                    kMostColumns),
                        "split the table");
        if (handler.entities)
            return fail(ProblemCode::kBadInput, archive.where(),
                        fmt::format("{} declares entities; no workbook does that", part),
                        "do not trust it; ask its sender for the table as CSV");
        return fail(ProblemCode::kUnreadable, archive.where(),
                    fmt::format("{} is not well-formed (line {})", part, XML_GetCurrentLineNumber(parser.get())),
                    "open it in a spreadsheet program and save it again");
    });
}

// --- a sheet while it is read

std::string number_text(std::string_view text) {
    const auto value = to_number(text);
    return value ? fmt::format("{:.15g}", *value) : std::string(text);
}

class Grid {
  public:
    // Cells come from left to right, rows from top to bottom; gaps are blank.
    void cell(int row, int column, std::string_view text, bool& too_large) {
        if (trim(text).empty()) return;
        if (row > kMostRows || column >= kMostColumns || csv_.size() > kMostText) {
            too_large = true;
            return;
        }
        while (row_ < row) {
            csv_ += '\n';
            ++row_;
            column_ = 0;
        }
        for (; column_ < column; ++column_) csv_ += ',';
        csv_ += '"';
        for (const char c : trim(text)) {
            if (c == '"') csv_ += c;
            csv_ += c == '\n' || c == '\r' ? ' ' : c;
        }
        csv_ += '"';
        filled_ = true;
        width_ = std::max(width_, column + 1);
        widths_.resize(static_cast<std::size_t>(row_), 0);
        widths_.back() = column + 1;
    }
    // Every row as wide as the widest.
    SheetText text(std::string name) && {
        std::string out;
        std::size_t at = 0;
        for (int row = 1; row <= row_; ++row) {
            const std::size_t end = std::min(end_of_line(at), csv_.size());
            out.append(csv_, at, end - at);
            const int have =
                static_cast<std::size_t>(row) <= widths_.size() ? widths_[static_cast<std::size_t>(row - 1)] : 0;
            if (have > 0) out.append(static_cast<std::size_t>(width_ - have), ',');
            out += '\n';
            at = end + 1;
        }
        return {std::move(name), std::move(out), row_};
    }
    bool filled() const { return filled_; }

  private:
    // Cells hold no line breaks, so the next one ends the row.
    std::size_t end_of_line(std::size_t at) const {
        const std::size_t end = csv_.find('\n', at);
        return end == csv_.npos ? csv_.size() : end;
    }
    std::string csv_;
    std::vector<int> widths_;
    int row_ = 1, column_ = 0, width_ = 0;
    bool filled_ = false;
};

// --- XLSX

struct Names final : Handler {                                // workbook.xml: the sheets in their order
    std::vector<std::pair<std::string, std::string>> sheets;  // name, relation
    bool from_1904 = false;
    void begin(std::string_view name, const Attributes& of) override {
        if (name == "sheet") sheets.emplace_back(of["name"], of["id"]);
        if (name == "workbookPr") from_1904 = of["date1904"] == "1" || of["date1904"] == "true";
    }
    void end(std::string_view) override {}
};
struct Relations final : Handler {
    std::map<std::string, std::string, std::less<>> target;
    void begin(std::string_view name, const Attributes& of) override {
        if (name == "Relationship") target.emplace(of["Id"], of["Target"]);
    }
    void end(std::string_view) override {}
};
struct SharedTexts final : Handler {
    std::vector<std::string> texts;
    std::size_t total = 0;
    bool in_text = false, in_reading_aid = false;
    void begin(std::string_view name, const Attributes&) override {
        if (name == "si") texts.emplace_back();
        else if (name == "rPh") in_reading_aid = true;
        else if (name == "t") in_text = true;
    }
    void end(std::string_view name) override {
        if (name == "t") in_text = false;
        else if (name == "rPh") in_reading_aid = false;
    }
    void text(std::string_view bytes) override {
        if (!in_text || in_reading_aid || texts.empty()) return;
        total += bytes.size();
        too_large = total > kMostText;
        texts.back() += bytes;
    }
};
// Which cell styles show a number as a day.
struct Styles final : Handler {
    std::set<int> day_formats;
    std::vector<bool> days;  // by style
    bool in_cells = false;
    static bool shows_day(std::string_view code) {
        bool quoted = false, bracket = false;
        for (const char c : code) {
            if (c == '"') quoted = !quoted;
            else if (c == '[') bracket = true;
            else if (c == ']') bracket = false;
            else if (!quoted && !bracket && (c == 'y' || c == 'd' || c == 'Y' || c == 'D')) return true;
        }
        return false;
    }
    void begin(std::string_view name, const Attributes& of) override {
        if (name == "numFmt") {
            if (const auto id = to_int(of["numFmtId"]); id && shows_day(of["formatCode"])) day_formats.insert(*id);
        } else if (name == "cellXfs") {
            in_cells = true;
        } else if (name == "xf" && in_cells) {
            const int id = to_int(of["numFmtId"]).value_or(0);
            const bool built_in =
                (id >= 14 && id <= 17) || id == 22 || (id >= 27 && id <= 31) || id == 36 || (id >= 50 && id <= 58);
            days.push_back(built_in || day_formats.contains(id));
        }
    }
    void end(std::string_view name) override {
        if (name == "cellXfs") in_cells = false;
    }
};

// A day as a count from 1899-12-30 (there is a 29 February 1900 in these counts, which never was), or from 1904.
std::string day_text(double count, bool from_1904) {
    using namespace std::chrono;
    constexpr double kLast = 2'958'465;  // 9999-12-31
    if (!(count >= 1 && count <= kLast)) return fmt::format("{:.15g}", count);
    const int whole = static_cast<int>(std::floor(count));
    const sys_days first =
        from_1904 ? sys_days{year{1904} / 1 / 1} : sys_days{year{1899} / 12 / (whole < 60 ? 31 : 30)};
    const year_month_day date{first + days{whole}};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

struct XlsxSheet final : Handler {
    XlsxSheet(const SharedTexts& t, const Styles& s, bool early) : shared(t), styles(s), from_1904(early) {}
    const SharedTexts& shared;
    const Styles& styles;
    bool from_1904;
    Grid grid;
    int row = 0, column = -1;
    std::string type, value;
    std::size_t style = 0;
    bool in_value = false, in_reading_aid = false;

    // "BC12" -> column 54
    static std::optional<int> column_of(std::string_view cell) {
        int out = 0;
        std::size_t letters = 0;
        for (; letters < cell.size() && cell[letters] >= 'A' && cell[letters] <= 'Z' && letters < 4; ++letters)
            out = out * 26 + (cell[letters] - 'A' + 1);
        return letters == 0 ? std::nullopt : std::optional(out - 1);
    }
    void begin(std::string_view name, const Attributes& of) override {
        if (name == "row") {
            const auto given = to_int(of["r"]);
            row = given && *given > row ? *given : row + 1;
            column = -1;
        } else if (name == "c") {
            const auto given = column_of(of["r"]);
            column = given && *given > column ? *given : column + 1;
            type = of["t"];
            style = static_cast<std::size_t>(std::max(0, to_int(of["s"]).value_or(0)));
            value.clear();
        } else if (name == "rPh") {
            in_reading_aid = true;
        } else if (name == "v" || name == "t") {
            in_value = true;
        }
    }
    void end(std::string_view name) override {
        if (name == "v" || name == "t") in_value = false;
        else if (name == "rPh") in_reading_aid = false;
        else if (name == "c") grid.cell(row, column, shown(), too_large);
    }
    void text(std::string_view bytes) override {
        if (in_value && !in_reading_aid) value += bytes;
        too_large = too_large || value.size() > kAlwaysFine;
    }
    std::string shown() const {
        if (value.empty() || type == "e") return "";  // #REF! and the like say nothing
        if (type == "s") {
            const auto at = to_int(value);
            return at && *at >= 0 && static_cast<std::size_t>(*at) < shared.texts.size()
                       ? shared.texts[static_cast<std::size_t>(*at)]
                       : "";
        }
        if (type == "b") return value == "1" ? "yes" : "no";
        if (type == "d") return value.substr(0, 10);
        if (!type.empty() && type != "n") return value;
        const auto number = to_number(value);
        if (number && style < styles.days.size() && styles.days[style]) return day_text(*number, from_1904);
        return number_text(value);
    }
};

// "worksheets/sheet1.xml" or "/xl/worksheets/sheet1.xml" as xl/_rels/workbook.xml.rels has it.
std::string part_of(std::string_view target) {
    return target.starts_with('/') ? std::string(target.substr(1)) : "xl/" + std::string(target);
}

Expected<std::vector<SheetText>> read_xlsx(const Archive& archive) {
    Names names;
    Relations relations;
    SharedTexts texts;
    Styles styles;
    if (auto read = parse(archive, "xl/workbook.xml", names); !read) return std::unexpected(read.error());
    if (auto read = parse(archive, "xl/_rels/workbook.xml.rels", relations); !read)
        return std::unexpected(read.error());
    if (archive.has("xl/sharedStrings.xml"))
        if (auto read = parse(archive, "xl/sharedStrings.xml", texts); !read) return std::unexpected(read.error());
    if (archive.has("xl/styles.xml"))
        if (auto read = parse(archive, "xl/styles.xml", styles); !read) return std::unexpected(read.error());
    std::vector<SheetText> out;
    for (const auto& [name, relation] : names.sheets) {
        const auto target = relations.target.find(relation);
        if (target == relations.target.end() || target->second.find("worksheets/") == std::string::npos) continue;
        XlsxSheet sheet(texts, styles, names.from_1904);
        if (auto read = parse(archive, part_of(target->second), sheet); !read) return std::unexpected(read.error());
        if (sheet.grid.filled()) out.push_back(std::move(sheet.grid).text(name));
    }
    return out;
}

// --- ODS

struct OdsContent final : Handler {
    std::vector<SheetText> sheets;
    std::optional<Grid> grid;
    std::string name, value, paragraph;
    int row = 1, column = 0, rows_repeated = 1, cells_repeated = 1, depth_of_note = 0, paragraphs = 0;
    bool in_paragraph = false, in_cell = false;
    std::string type;
    std::vector<std::pair<int, std::string>> cells;  // of this row: column and text
    std::size_t total = 0;

    void begin(std::string_view element, const Attributes& of) override {
        if (element == "annotation") ++depth_of_note;
        if (depth_of_note > 0) return;
        if (element == "table") {
            grid.emplace();
            name = of["name"];
            row = 1;
        } else if (element == "table-row") {
            rows_repeated = of.count("number-rows-repeated");
            column = 0;
            cells.clear();
        } else if (element == "table-cell" || element == "covered-table-cell") {
            in_cell = true;
            cells_repeated = of.count("number-columns-repeated");
            type = of["value-type"];
            paragraph.clear();
            paragraphs = 0;
            value = type == "date"      ? std::string(of["date-value"].substr(0, 10))
                    : type == "boolean" ? (of["boolean-value"] == "true" ? "yes" : "no")
                    : type == "float" || type == "percentage" || type == "currency"
                        ? number_text(of["value"])
                        : std::string(of["string-value"]);
        } else if (element == "p" && in_cell) {
            in_paragraph = true;
            if (paragraphs++ > 0) paragraph += ' ';
        } else if (in_paragraph && element == "s") {
            paragraph.append(static_cast<std::size_t>(std::min(of.count("c"), 1000)), ' ');
        } else if (in_paragraph && (element == "tab" || element == "line-break")) {
            paragraph += ' ';
        }
    }
    void end(std::string_view element) override {
        if (element == "annotation") {
            --depth_of_note;
            return;
        }
        if (depth_of_note > 0) return;
        if (element == "p") {
            in_paragraph = false;
        } else if (element == "table-cell" || element == "covered-table-cell") {
            in_cell = false;
            const std::string& shown = value.empty() ? paragraph : value;
            // A blank cell may stand for the rest of the row, which would be sixteen thousand.
            if (!trim(shown).empty()) {
                if (column + cells_repeated > kMostColumns) too_large = true;
                for (int i = 0; i < cells_repeated && !too_large; ++i) cells.emplace_back(column + i, shown);
            }
            column = std::min(column + std::min(cells_repeated, kMostColumns), 2 * kMostColumns);
        } else if (element == "table-row" && grid) {
            if (!cells.empty()) {
                if (rows_repeated > kMostRows - row + 1) too_large = true;
                for (int i = 0; i < rows_repeated && !too_large; ++i)
                    for (const auto& [at, shown] : cells) grid->cell(row + i, at, shown, too_large);
            }
            row = std::min(row + std::min(rows_repeated, kMostRows), 2 * kMostRows);
        } else if (element == "table" && grid) {
            if (grid->filled()) sheets.push_back(std::move(*grid).text(name));
            grid.reset();
        }
    }
    void text(std::string_view bytes) override {
        if (!in_paragraph || depth_of_note > 0) return;
        paragraph += bytes;
        total += bytes.size();
        too_large = too_large || total > kMostText || paragraph.size() > kAlwaysFine;
    }
};

}  // namespace

bool looks_like_workbook(std::string_view bytes) {
    return bytes.starts_with("PK\x03\x04") || bytes.starts_with("PK\x05\x06") ||
           bytes.starts_with("\xD0\xCF\x11\xE0");
}

Expected<std::vector<SheetText>> read_workbook(std::string_view bytes, std::string_view where) {
    const auto wrong = [&](std::string what, std::string remedy) {
        return fail(ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy));
    };
    if (bytes.size() > kMostFile)
        return fail(ProblemCode::kTooLarge, std::string(where),
                    fmt::format("the file is larger than {} MB", kMostFile >> 20),
                    "split the table, or save it as CSV");
    if (bytes.starts_with("\xD0\xCF\x11\xE0"))
        return wrong("the file is an old binary workbook (.xls), or one with a password",
                     "save it as .xlsx or .ods without a password, or the table as CSV");
    const auto archive = Archive::open(bytes, where);
    if (!archive) return std::unexpected(archive.error());
    Expected<std::vector<SheetText>> sheets;
    if (archive->has("xl/workbook.xml")) {
        sheets = read_xlsx(*archive);
    } else if (archive->has("content.xml")) {
        OdsContent content;
        if (auto read = parse(*archive, "content.xml", content); !read) return std::unexpected(read.error());
        sheets = std::move(content.sheets);
    } else {
        return wrong("the archive is no workbook", "give .xlsx or .ods, or the table as CSV");
    }
    if (sheets && sheets->empty())
        return wrong("no sheet of the workbook has a filled cell", "give one with a table in it");
    return sheets;
}

Expected<std::string> table_text(std::string bytes, std::string_view where, std::string_view sheet) {
    if (!looks_like_workbook(bytes)) return bytes;
    auto sheets = read_workbook(bytes, where);
    if (!sheets) return std::unexpected(sheets.error());
    if (sheet.empty()) return std::move(sheets->front().csv);
    std::vector<std::string> names;
    for (SheetText& one : *sheets) {
        if (one.name == sheet) return std::move(one.csv);
        names.push_back(one.name);
    }
    return fail(ProblemCode::kNotFound, std::string(where), fmt::format("it has no sheet '{}'", sheet),
                did_you_mean(sheet, names, fmt::format("its sheets are {}", fmt::join(names, ", "))));
}

}  // namespace footring::exchange
