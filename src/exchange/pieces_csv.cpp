// SPDX-License-Identifier: Apache-2.0
#include "exchange/pieces_csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <utility>

#include "base/text.h"
#include "book/csv.h"
#include "edtf/edtf.h"
#include "exchange/csv_fields.h"
#include "exchange/names.h"

namespace footring::exchange {

namespace {

using looks::Seen;

// Reads one row; every fault goes to `problems` with its line and the name of its column.
class RowReader {
  public:
    RowReader(const book::CsvRow& row, const std::vector<Column>& columns, const Names* names, bool comma_decimals,
              std::string_view file, std::vector<Problem>& problems)
        : row_(row),
          columns_(columns),
          names_(names),
          comma_decimals_(comma_decimals),
          file_(file),
          problems_(problems) {}

    store::PieceRecord record() {
        store::PieceRecord out;
        looks::Piece& piece = out.piece;
        piece.id = text("id");
        piece.form = id("form", &Names::form);
        piece.shape = seen("shape", &Names::shape, false);
        piece.glaze = seen("glaze", &Names::glaze, false);
        piece.wear = one_of<looks::Wear>("wear", looks::kWearNames);
        for (std::size_t at = 0; at < book::kPlaces; ++at) add_looks(static_cast<book::Place>(at), piece);
        piece.mark = seen("mark", &Names::mark, true);
        if (const std::string number = text("number"); !number.empty())
            piece.number = Seen{number, sure("number_sure", 0, 1)};
        piece.date_code = text("date_code");
        piece.faults = one_of<looks::Faults>("faults", looks::kFaultsNames);
        piece.length_mm = number("length_mm");
        piece.width_mm = number("width_mm");
        piece.height_mm = number("height_mm");
        out.is_private = flag("private");
        out.lot = text("lot");
        out.place = text("place_kept");
        out.cost = number("cost");
        out.currency = text("currency");
        out.note = text("note");
        out.decision = decision();
        check_whole(piece);
        return out;
    }

  private:
    using LookUp = Expected<std::string> (Names::*)(const std::string&, const std::string&) const;

    const Column* column_of(std::string_view field) const {
        const auto found = std::ranges::find(columns_, field, &Column::field);
        return found == columns_.end() ? nullptr : &*found;
    }
    std::string text(std::string_view field) const {
        const Column* column = column_of(field);
        if (column == nullptr) return {};
        const auto at = static_cast<std::size_t>(column - columns_.data());
        return at < row_.cells.size() ? unguarded(row_.cells[at].text) : std::string{};
    }
    std::uint32_t line() const { return row_.cells.front().line; }
    std::string where(std::string_view field) const {
        const Column* column = column_of(field);
        const auto at = column == nullptr ? 0 : static_cast<std::size_t>(column - columns_.data());
        const auto in_line = at < row_.cells.size() ? row_.cells[at].line : line();
        return fmt::format("{}:{}: {}", file_, in_line,
                           column == nullptr ? field : std::string_view(column->column));
    }
    void add(std::string_view field, std::string what, std::string remedy) {
        problems_.push_back({ProblemCode::kBadInput, where(field), std::move(what), std::move(remedy)});
    }

    // The id of a cell, looked up when there is a reference.
    std::string looked_up(std::string_view field, const std::string& value, LookUp look_up) {
        if (names_ == nullptr || value.empty()) return value;
        auto found = (names_->*look_up)(value, where(field));
        if (found) return *found;
        problems_.push_back(std::move(found.error()));
        return value;
    }
    std::string id(std::string_view field, LookUp look_up) { return looked_up(field, text(field), look_up); }

    static bool is_word(const std::string& value) {
        return value == looks::kNone || value == looks::kSomething || value == looks::kWorn;
    }
    std::optional<Seen> seen(const std::string& field, LookUp look_up, bool words) {
        std::string value = text(field);
        if (value.empty()) return std::nullopt;
        if (!words || !is_word(value)) value = looked_up(field, value, look_up);
        return Seen{value, sure(field + "_sure", 0, 1)};
    }

    // The sure of look number `at` of `many` in one cell; one sure stands for all of them.
    looks::Sure sure(const std::string& field, std::size_t at, std::size_t many) {
        const std::vector<std::string> given = split(text(field), ';');
        if (given.empty()) return looks::Sure::kSure;
        if (given.size() != 1 && given.size() != many) {
            if (at == 0)
                add(field, fmt::format("it has {} values for {} looks", given.size(), many),
                    "give one for all looks, or as many as there are looks");
            return looks::Sure::kSure;
        }
        const std::string word = lower(given[given.size() == 1 ? 0 : at]);
        const auto found = std::ranges::find(looks::kSureNames, word);
        if (found != looks::kSureNames.end()) return static_cast<looks::Sure>(found - looks::kSureNames.begin());
        if (at == 0 || given.size() > 1)
            add(field, fmt::format("there is no sureness '{}'", word), "use sure, likely or guess");
        return looks::Sure::kSure;
    }

    template <class Value, class Words>
    std::optional<Value> one_of(std::string_view field, const Words& words) {
        const std::string word = lower(text(field));
        if (word.empty()) return std::nullopt;
        const auto found = std::ranges::find(words, word);
        if (found != words.end()) return static_cast<Value>(found - words.begin());
        add(field, fmt::format("'{}' is none of its words", word),
            fmt::format("use one of {}", fmt::join(words, ", ")));
        return std::nullopt;
    }

    bool flag(std::string_view field) {
        const std::string word = lower(text(field));
        if (word.empty() || word == "no" || word == "false" || word == "0") return false;
        if (word != "yes" && word != "true" && word != "1")
            add(field, fmt::format("'{}' is neither yes nor no", word), "write yes, or leave the cell empty");
        return true;  // what is not understood is not shown either
    }

    std::optional<double> number(std::string_view field) {
        std::string value = text(field);
        if (value.empty()) return std::nullopt;
        // Where cells are not separated by commas, people may write 12,5.
        if (comma_decimals_ && std::ranges::count(value, ',') == 1 && value.find('.') == std::string::npos)
            std::ranges::replace(value, ',', '.');
        const auto read = to_number(value);
        if (!read || *read < 0) {
            add(field, fmt::format("'{}' is not a number from 0 upwards", value),
                "give digits only, without a unit");
            return std::nullopt;
        }
        return read;
    }

    void add_looks(book::Place place, looks::Piece& piece) {
        const std::string field(name_of(place));
        const std::vector<std::string> values = split(text(field), ';');
        for (std::size_t at = 0; at < values.size(); ++at) {
            const std::string value =
                is_word(values[at]) ? values[at] : looked_up(field, values[at], &Names::ornament);
            piece.looks.push_back({place, {value, sure(field + "_sure", at, values.size())}});
        }
    }

    std::optional<store::Decision> decision() {
        store::Decision out{text("decision_treatment"), lower(text("decision_grade")), text("decision_date"),
                            text("decision_note")};
        if (out.treatment.empty()) {
            if (!out.grade.empty() || !out.date.empty() || !out.note.empty())
                add("decision_treatment", "the row has part of a decision, but no treatment",
                    "name the treatment, 'unlisted' or 'elsewhere', or leave the other cells empty");
            return std::nullopt;
        }
        if (out.treatment != "unlisted" && out.treatment != "elsewhere")
            out.treatment = looked_up("decision_treatment", out.treatment, &Names::treatment);
        if (!out.grade.empty() && out.grade != "first" && out.grade != "second")
            add("decision_grade", fmt::format("there is no grade '{}'", out.grade), "use first, second or nothing");
        if (!out.date.empty())
            if (const auto date = edtf::parse(out.date); !date)
                add("decision_date", date.error().what, date.error().remedy);
        return out;
    }

    // The rules that every piece file keeps, for what the columns alone do not tell (lengths of text, looks that
    // contradict themselves). Only when the row is sound so far: else one fault would be told twice.
    void check_whole(const looks::Piece& piece) {
        if (looks::is_sound(piece)) return;
        const std::string here = fmt::format("{}:{}", file_, line());
        if (!problems_.empty() && problems_.back().where.starts_with(here + ":")) return;
        std::vector<std::string> notes;
        if (auto again = looks::piece_from_json(nlohmann::json(looks::to_json(piece)), here, notes); !again)
            for (Problem& problem : again.error()) problems_.push_back(std::move(problem));
    }

    const book::CsvRow& row_;
    const std::vector<Column>& columns_;
    const Names* names_;
    bool comma_decimals_;
    std::string file_;
    std::vector<Problem>& problems_;
};

bool is_blank(const book::CsvRow& row) {
    return std::ranges::all_of(row.cells, [](const book::CsvCell& cell) { return trim(cell.text).empty(); });
}

}  // namespace

ReadTable read_csv(std::string_view text, const book::Mapping& mapping, const book::Book* book,
                   std::string_view where, const Told& told) {
    ReadTable out;
    const auto stop = [&](std::string what, std::string remedy) {
        out.problems.push_back({ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy)});
        return out;
    };
    if (!is_utf8(text)) return stop("the table is not UTF-8 text", "save it from the spreadsheet as CSV in UTF-8");
    const char delimiter = book::delimiter_of(text);
    book::Csv csv = book::read_csv(text, delimiter);
    if (csv.rows.empty()) return stop("the table is empty", "give a line of column names and a row for each piece");

    std::vector<std::string> names;
    for (const book::CsvCell& cell : csv.rows.front().cells) names.emplace_back(trim(unguarded(cell.text)));
    const std::string header = fmt::format("{}:{}", where, csv.rows.front().cells.front().line);
    out.columns = match_piece_columns(names, mapping, header, out.problems);
    for (const Column& column : out.columns)
        if (!column.field.empty()) out.fields.insert(column.field);
    if (out.fields.empty() && out.problems.empty())
        return stop("none of its columns is known",
                    fmt::format("name the columns as here: {}", fmt::join(csv_fields(), ", ")));
    if (!out.problems.empty()) return out;

    for (const book::CsvFault& fault : csv.faults)
        out.problems.push_back({ProblemCode::kBadInput, fmt::format("{}:{}:{}", where, fault.line, fault.column),
                                fault.what, fault.remedy});
    const std::optional<Names> known = book == nullptr ? std::nullopt : std::optional<Names>(*book);
    for (book::CsvRow& row : std::span(csv.rows).subspan(1)) {
        if (!told_of(told, kReading, static_cast<std::size_t>(&row - csv.rows.data()), csv.rows.size() - 1)) {
            out.stopped = true;
            return out;
        }
        if (row.faulty) {
            ++out.bad_rows;
            continue;
        }
        if (is_blank(row)) continue;
        const std::size_t before = out.problems.size();
        const auto line = static_cast<int>(row.cells.front().line);
        if (row.cells.size() > names.size())
            out.problems.push_back(
                {ProblemCode::kBadInput, fmt::format("{}:{}", where, line),
                 fmt::format("the row has {} cells under {} columns", row.cells.size(), names.size()),
                 "put cells that hold a delimiter in quotation marks"});
        store::PieceRecord record =
            RowReader(row, out.columns, known ? &*known : nullptr, delimiter != ',', where, out.problems).record();
        if (out.problems.size() == before) out.rows.push_back({line, std::move(record)});
        else ++out.bad_rows;
        row = {};  // a million rows take a gigabyte
    }
    return out;
}

namespace {

std::string quoted(const std::string& text) {
    const bool plain = text.find_first_of(",\"\r\n;\t") == std::string::npos && trim(text) == text;
    if (plain) return text;
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + "\"";
}

std::string number_cell(const std::optional<double>& value) { return value ? fmt::format("{}", *value) : ""; }

void add_seen(Cells& cells, const std::string& field, const std::optional<Seen>& seen) {
    if (!seen) return;
    cells[field] = guarded(seen->value);
    cells[field + "_sure"] = looks::kSureNames[static_cast<std::size_t>(seen->sure)];
}

}  // namespace

Cells cells_of(const store::PieceRecord& record) {
    const looks::Piece& piece = record.piece;
    Cells cells;
    cells["id"] = guarded(piece.id);
    cells["form"] = guarded(piece.form);
    add_seen(cells, "shape", piece.shape);
    add_seen(cells, "glaze", piece.glaze);
    add_seen(cells, "mark", piece.mark);
    add_seen(cells, "number", piece.number);
    if (piece.wear) cells["wear"] = looks::kWearNames[static_cast<std::size_t>(*piece.wear)];
    if (piece.faults) cells["faults"] = looks::kFaultsNames[static_cast<std::size_t>(*piece.faults)];
    for (const looks::Look& look : piece.looks) {
        std::string& values = cells[std::string(name_of(look.place))];
        std::string& sures = cells[std::string(name_of(look.place)) + "_sure"];
        values += (values.empty() ? "" : ";") + look.seen.value;
        sures +=
            (sures.empty() ? "" : ";") + std::string(looks::kSureNames[static_cast<std::size_t>(look.seen.sure)]);
    }
    for (const std::string_view place : book::kPlaceNames)
        if (const auto cell = cells.find(place); cell != cells.end()) cell->second = guarded(cell->second);
    cells["date_code"] = guarded(piece.date_code);
    cells["length_mm"] = number_cell(piece.length_mm);
    cells["width_mm"] = number_cell(piece.width_mm);
    cells["height_mm"] = number_cell(piece.height_mm);
    cells["private"] = record.is_private ? "yes" : "";
    cells["lot"] = guarded(record.lot);
    cells["place_kept"] = guarded(record.place);
    cells["cost"] = number_cell(record.cost);
    cells["currency"] = guarded(record.currency);
    cells["note"] = guarded(record.note);
    if (record.decision) {
        cells["decision_treatment"] = guarded(record.decision->treatment);
        cells["decision_grade"] = guarded(record.decision->grade);
        cells["decision_date"] = guarded(record.decision->date);
        cells["decision_note"] = guarded(record.decision->note);
    }
    return cells;
}

std::string write_csv(const std::vector<store::PieceRecord>& records, store::Sight sight) {
    const std::vector<std::string> fields = csv_fields(sight);
    std::string out = fmt::format("{}\n", fmt::join(fields, ","));
    for (const store::PieceRecord& record : records) {
        const Cells cells = cells_of(record);
        bool first = true;
        for (const std::string& field : fields) {
            const auto cell = cells.find(field);
            if (!first) out += ',';
            if (cell != cells.end()) out += quoted(cell->second);
            first = false;
        }
        out += '\n';
    }
    return out;
}

}  // namespace footring::exchange
