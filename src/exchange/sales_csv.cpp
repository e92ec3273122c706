// SPDX-License-Identifier: Apache-2.0
#include "exchange/sales_csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <span>
#include <unordered_map>

#include "base/text.h"
#include "book/csv.h"
#include "exchange/csv_fields.h"
#include "worth/currencies.h"

namespace footring::exchange {

using worth::Sale;

const std::vector<SaleField>& sale_fields() {
    static const std::vector<SaleField> kFields = {
        {"id", "Names the sale; left out, it gets the next free number."},
        {"date", "When it was sold: 2019-05-12, 2019-05 or 2019 (EDTF)."},
        {"price", "What the buyer paid for the one piece, all charges included."},
        {"currency", "ISO 4217 code, such as USD."},
        {"form", "Id or name of the form."},
        {"treatment", "Id, number or name of the treatment; empty when it was not identified."},
        {"shape", "Id or name of the shape, where the treatment is not known or its number is not enough."},
        {"size_mm", "Longest measure: 241, 24.1 cm or 9 1/2 in."},
        {"condition", "mint, good, fair, poor or damaged."},
        {"grade", "first or second."},
        {"venue", "Who sold it, where."},
        {"market", "auction, dealer, fair, online or private."},
        {"source", "Where the sale is recorded."},
        {"note", "Anything else."}};
    return kFields;
}
std::vector<std::string> sale_field_names() {
    std::vector<std::string> names;
    for (const SaleField& field : sale_fields()) names.emplace_back(field.name);
    return names;
}

namespace {

constexpr book::OtherName kOtherNames[] = {
    {"sold", "date"},        {"saledate", "date"},    {"datesold", "date"},    {"pricepaid", "price"},
    {"paid", "price"},       {"amount", "price"},     {"total", "price"},      {"soldfor", "price"},
    {"type", "form"},        {"item", "form"},        {"number", "treatment"}, {"decoration", "treatment"},
    {"line", "shape"},       {"size", "size_mm"},     {"length", "size_mm"},   {"diameter", "size_mm"},
    {"lengthmm", "size_mm"}, {"state", "condition"},  {"wear", "condition"},   {"seller", "venue"},
    {"where", "venue"},      {"place", "venue"},      {"channel", "market"},   {"url", "source"},
    {"link", "source"},      {"reference", "source"}, {"notes", "note"},       {"comment", "note"}};

class RowReader {
  public:
    RowReader(const book::CsvRow& row, const std::vector<Column>& columns, std::string_view file,
              bool comma_decimals, std::vector<Problem>& problems)
        : row_(row), columns_(columns), file_(file), comma_decimals_(comma_decimals), problems_(problems) {}

    std::string where(std::string_view field) const {
        const auto at = place(field);
        const auto line = at < row_.cells.size() ? row_.cells[at].line : row_.cells.front().line;
        return fmt::format("{}:{}: {}", file_, line,
                           at < columns_.size() ? columns_[at].column : std::string(field));
    }
    std::string text(std::string_view field) const {
        const auto at = place(field);
        return at < row_.cells.size() ? std::string(trim(unguarded(row_.cells[at].text))) : std::string{};
    }

    // A price or a size that could not be read is told here; `told_price` keeps it from being told again.
    Sale sale(const SalesReading& reading, bool& told_price) {
        Sale sale;
        sale.id = text("id");
        sale.date = text("date");
        std::string price = text("price");
        if (comma_decimals_ && std::ranges::count(price, ',') == 1 && price.find('.') == std::string::npos)
            std::ranges::replace(price, ',', '.');
        if (const auto value = worth::read_price(price, where("price"))) sale.price = *value;
        else problems_.push_back(value.error()), told_price = true;
        sale.currency = text("currency");
        if (sale.currency.empty()) sale.currency = reading.currency;
        sale.form = text("form");
        sale.treatment = text("treatment");
        if (const std::string word = lower(sale.treatment); word == "unlisted" || word == "unknown" || word == "?")
            sale.treatment.clear();
        sale.shape = text("shape");
        if (const std::string size = text("size_mm"); !size.empty()) {
            if (const auto value = worth::read_size_mm(size, where("size_mm"))) sale.size_mm = *value;
            else problems_.push_back(value.error());
        }
        if (const auto condition = worth::condition_named(text("condition"))) sale.condition = *condition;
        else
            add("condition", fmt::format("there is no condition '{}'", text("condition")),
                "use mint, good, fair, poor or damaged");
        if (const auto grade = worth::grade_named(text("grade"))) sale.grade = *grade;
        else add("grade", fmt::format("there is no grade '{}'", text("grade")), "use first, second or nothing");
        sale.venue = text("venue");
        if (const std::string market = text("market"); market.empty())
            sale.market = worth::market_of_venue(sale.venue);
        else if (const auto known = worth::market_named(market)) sale.market = *known;
        else
            add("market", fmt::format("there is no market '{}'", market),
                "use auction, dealer, fair, online or private");
        sale.source = text("source");
        sale.note = text("note");
        return sale;
    }

  private:
    std::size_t place(std::string_view field) const {
        const auto found = std::ranges::find(columns_, field, &Column::field);
        return found == columns_.end() ? columns_.size() : static_cast<std::size_t>(found - columns_.begin());
    }
    void add(std::string_view field, std::string what, std::string remedy) {
        problems_.push_back({ProblemCode::kBadInput, where(field), std::move(what), std::move(remedy)});
    }

    const book::CsvRow& row_;
    const std::vector<Column>& columns_;
    std::string_view file_;
    bool comma_decimals_;
    std::vector<Problem>& problems_;
};

// Rows that repeat one another go, and those that nearly do are told.
void find_duplicates(ReadSales& out, std::string_view where) {
    constexpr std::size_t kMostNotes = 20;
    std::unordered_map<std::string, std::vector<std::size_t>> seen;
    std::vector<SaleRow> kept;
    std::size_t maybe = 0;
    for (SaleRow& row : out.rows) {
        auto& others =
            seen[fmt::format("{} {} {} {}", row.sale.date, row.sale.price, row.sale.form, row.sale.treatment)];
        bool same = false;
        for (const std::size_t other : others) {
            const auto like = worth::likeness(kept[other].sale, row.sale);
            if (like == worth::Likeness::kSame) {
                out.duplicates.push_back(
                    {fmt::format("{}:{}", where, row.line), fmt::format("the same as line {}", kept[other].line)});
                same = true;
                break;
            }
            if (like == worth::Likeness::kMaybe && ++maybe <= kMostNotes)
                out.notes.push_back(
                    fmt::format("Lines {} and {} may be of one sale: they agree in date, price, form and "
                                "treatment. Both count.",
                                kept[other].line, row.line));
        }
        if (same) continue;
        others.push_back(kept.size());
        kept.push_back(std::move(row));
    }
    if (maybe > kMostNotes) out.notes.push_back(fmt::format("And {} more pairs like these.", maybe - kMostNotes));
    out.rows = std::move(kept);
}

std::string quoted(const std::string& text) {
    if (text.find_first_of(",\"\r\n;\t") == std::string::npos && trim(text) == text) return text;
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + "\"";
}

}  // namespace

void settle_sale(Sale& sale, const book::Book& book, const Names& names,
                 const std::function<std::string(std::string_view)>& where, std::vector<Problem>& problems) {
    const auto take = [&](Expected<std::string> found, std::string& into) {
        if (found) into = *found;
        else problems.push_back(std::move(found.error()));
    };
    if (!sale.form.empty()) take(names.form(sale.form, where("form")), sale.form);
    std::optional<book::Ref<book::Shape>> shape;
    if (!sale.shape.empty()) {
        take(names.shape(sale.shape, where("shape")), sale.shape);
        if (const auto found = book::find<book::Shape>(book, sale.shape, "")) shape = *found;
    }
    if (sale.treatment.empty()) return;
    std::vector<book::Ref<book::Treatment>> on_shape;
    if (shape) on_shape = names.numbered(*shape, sale.treatment);
    auto found = names.treatment(sale.treatment, where("treatment"));
    if (!found && on_shape.size() == 1) found = full_id(book, on_shape.front());
    if (!found) {
        problems.push_back(std::move(found.error()));
        return;
    }
    const auto ref = book::find<book::Treatment>(book, *found, "");
    if (!ref) return;
    if (shape && book[*ref].shape != *shape)
        problems.push_back({ProblemCode::kBadInput, where("shape"),
                            fmt::format("treatment '{}' is not on shape '{}'", sale.treatment, sale.shape),
                            fmt::format("its shape is {}: leave the shape out, or name another treatment",
                                        book::id_of(book, book[*ref].shape))});
    sale.treatment = full_id(book, *ref);
    sale.shape.clear();  // the treatment tells it
}

ReadSales read_sales_csv(std::string_view text, const SalesReading& reading, const book::Book* book,
                         std::string_view where, const Told& told) {
    ReadSales out;
    const auto stop = [&](std::string what, std::string remedy) {
        out.problems.push_back({ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy)});
        return out;
    };
    if (!is_utf8(text)) return stop("the table is not UTF-8 text", "save it from the spreadsheet as CSV in UTF-8");
    const char delimiter = book::delimiter_of(text);
    const book::Csv csv = book::read_csv(text, delimiter);
    if (csv.rows.empty()) return stop("the table is empty", "give a line of column names and a row for each sale");
    std::vector<std::string> names;
    for (const book::CsvCell& cell : csv.rows.front().cells) names.emplace_back(trim(unguarded(cell.text)));
    const std::string header = fmt::format("{}:{}", where, csv.rows.front().cells.front().line);
    out.columns = book::match_columns(names, reading.mapping, {"sales", sale_field_names(), kOtherNames}, header,
                                      out.problems);
    std::vector<std::string> lacking;
    for (const std::string_view field : {"date", "price", "form"})
        if (std::ranges::find(out.columns, field, &Column::field) == out.columns.end()) lacking.emplace_back(field);
    if (reading.currency.empty() && std::ranges::find(out.columns, "currency", &Column::field) == out.columns.end())
        lacking.emplace_back("currency");
    if (!lacking.empty() && out.problems.empty())
        out.problems.push_back(
            {ProblemCode::kBadInput, header, fmt::format("no column is taken for {}", fmt::join(lacking, ", ")),
             fmt::format("name the columns as here, or map them: {}", fmt::join(sale_field_names(), ", "))});
    if (!out.problems.empty()) return out;
    for (const book::CsvFault& fault : csv.faults)
        out.problems.push_back({ProblemCode::kBadInput, fmt::format("{}:{}:{}", where, fault.line, fault.column),
                                fault.what, fault.remedy});
    const std::optional<Names> known = book == nullptr ? std::nullopt : std::optional<Names>(*book);
    std::map<std::string, int> ids;
    for (const book::CsvRow& row : std::span(csv.rows).subspan(1)) {
        if (!told_of(told, kReading, static_cast<std::size_t>(&row - csv.rows.data()), csv.rows.size() - 1)) {
            out.stopped = true;
            return out;
        }
        if (row.faulty) {
            ++out.bad_rows;
            continue;
        }
        if (std::ranges::all_of(row.cells, [](const book::CsvCell& cell) { return trim(cell.text).empty(); }))
            continue;
        const std::size_t before = out.problems.size();
        const auto line = static_cast<int>(row.cells.front().line);
        if (row.cells.size() > names.size())
            out.problems.push_back(
                {ProblemCode::kBadInput, fmt::format("{}:{}", where, line),
                 fmt::format("the row has {} cells under {} columns", row.cells.size(), names.size()),
                 "put cells that hold a delimiter in quotation marks"});
        RowReader reader(row, out.columns, where, delimiter != ',', out.problems);
        bool told_price = false;
        Sale sale = reader.sale(reading, told_price);
        const auto place = [&](std::string_view field) { return reader.where(field); };
        for (Problem& fault : worth::faults_of(sale, reading.today, place))
            if (!(told_price && fault.where == place("price"))) out.problems.push_back(std::move(fault));
        if (known) settle_sale(sale, *book, *known, place, out.problems);
        if (!sale.id.empty())
            if (const auto [other, fresh] = ids.try_emplace(sale.id, line); !fresh)
                out.problems.push_back({ProblemCode::kBadInput, place("id"),
                                        fmt::format("line {} has the id '{}' as well", other->second, sale.id),
                                        "give each sale an id of its own, or leave the ids out"});
        if (out.problems.size() != before) {
            ++out.bad_rows;
            continue;
        }
        sale.currency = *worth::read_currency(sale.currency, "");
        out.rows.push_back({line, std::move(sale)});
    }
    find_duplicates(out, where);
    return out;
}

std::vector<std::string> sale_cells(const Sale& s) {
    return {s.id,
            s.date,
            fmt::format("{}", s.price),
            s.currency,
            s.form,
            s.treatment,
            s.shape,
            s.size_mm ? fmt::format("{}", *s.size_mm) : "",
            std::string(name_of(s.condition)),
            s.grade,
            s.venue,
            std::string(name_of(s.market)),
            s.source,
            s.note};
}

std::string write_sales_csv(const std::vector<Sale>& sales) {
    std::string out = fmt::format("{}\n", fmt::join(sale_field_names(), ","));
    for (const Sale& sale : sales) {
        std::vector<std::string> cells = sale_cells(sale);
        for (std::string& cell : cells) cell = quoted(guarded(cell));
        out += fmt::format("{}\n", fmt::join(cells, ","));
    }
    return out;
}

}  // namespace footring::exchange
