// SPDX-License-Identifier: Apache-2.0
#include "papers/row_papers.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "book/json_text.h"
#include "papers/words.h"

namespace footring::papers {

namespace {

// The members of one row, each with its type; what no row has is refused, so that a slip of the pen is not lost.
class RowReader {
  public:
    RowReader(const nlohmann::json& row, std::string where) : row_(row), where_(std::move(where)) {}
    std::optional<Problem> problem;

    std::string text(const char* name) {
        known_.emplace_back(name);
        const auto at = row_.find(name);
        if (at == row_.end() || at->is_null()) return {};
        if (!at->is_string()) return wrong(name, "is no text"), std::string{};
        return at->get<std::string>();
    }
    std::optional<double> number(const char* name) {
        known_.emplace_back(name);
        const auto at = row_.find(name);
        if (at == row_.end() || at->is_null()) return std::nullopt;
        if (!at->is_number() || at->get<double>() < 0 || at->get<double>() > 1e12)
            return wrong(name, "is no number from 0 on"), std::nullopt;
        return at->get<double>();
    }
    int whole(const char* name, int otherwise) {
        const auto value = number(name);
        if (!value) return otherwise;
        if (*value != static_cast<int>(std::min(*value, 1e6))) wrong(name, "is no whole number");
        return static_cast<int>(std::min(*value, 1e6));
    }
    void nothing_else() {
        for (const auto& [name, value] : row_.items())
            if (std::ranges::find(known_, name) == known_.end()) wrong(name.c_str(), "is no member of these rows");
    }

  private:
    void wrong(const char* name, const std::string& what) {
        if (!problem)
            problem = Problem{ProblemCode::kBadInput, where_ + "/" + name, fmt::format("'{}' {}", name, what),
                              fmt::format("the members are {}", fmt::join(known_, ", "))};
    }
    const nlohmann::json& row_;
    std::string where_;
    std::vector<std::string> known_;
};

template <class Row, class Read>
Expected<std::vector<Row>> rows_of(std::string_view text, Read read) {
    const auto value = book::json_from_text(text, "rows");
    if (!value) return std::unexpected(value.error());
    if (!value->is_array())
        return fail(ProblemCode::kBadInput, "rows", "this is no list", "write [ {...}, {...} ], one object a row");
    std::vector<Row> out;
    for (std::size_t i = 0; i < value->size(); ++i) {
        const std::string where = fmt::format("rows: /{}", i);
        if (!(*value)[i].is_object())
            return fail(ProblemCode::kBadInput, where, "this is no object", "write one object a row");
        RowReader reader((*value)[i], where);
        out.push_back(read(reader));
        reader.nothing_else();
        if (reader.problem) return std::unexpected(*reader.problem);
    }
    return out;
}

template <class Row>
Expected<void> in_order(const std::vector<Row>& rows) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Row& row = rows[i];
        const double low = row.low.value_or(0), high = row.high.value_or(1e12), middle = row.middle.value_or(low);
        if (low > high || middle < low || middle > high)
            return fail(ProblemCode::kBadInput, fmt::format("rows: /{}", i), "low, middle and high do not rise",
                        "put the smallest into low and the largest into high");
    }
    return {};
}

std::string money(double amount, const std::string& currency) {
    std::string out = fmt::format("{:.0f}", amount);
    for (std::size_t at = out.size(); at > 3; at -= 3) out.insert(at - 3, "\u202f");
    return currency.empty() ? out : out + "\u00a0" + currency;
}

// "7 in" on one line.
std::string undivided(std::string text) {
    for (std::size_t at = 0; (at = text.find(' ', at)) != std::string::npos; at += 2) text.replace(at, 1, "\u00a0");
    return text;
}

// a, b, c ... for notes below a table.
std::string letter_of(std::size_t at) {
    return std::string(1, static_cast<char>('a' + static_cast<char>(at % 26)));
}

std::string treatment_of(const book::Book& b, const WantRow& row) {
    if (const auto found = book::find<book::Treatment>(b, row.treatment, ""))
        return called(b, *found) + ", " + shape_of(b, b[*found].shape);
    if (const auto shape = book::find<book::Shape>(b, row.shape, ""))
        return row.treatment + (row.treatment.empty() ? "" : ", ") + shape_of(b, *shape);
    return row.treatment;
}

}  // namespace

Expected<std::vector<ScheduleRow>> schedule_rows(std::string_view json) {
    auto rows = rows_of<ScheduleRow>(json, [](RowReader& r) {
        ScheduleRow row;
        row.piece = r.text("piece");
        row.description = r.text("description");
        row.low = r.number("low");
        row.middle = r.number("middle");
        row.high = r.number("high");
        row.currency = r.text("currency");
        row.basis = r.text("basis");
        row.note = r.text("note");
        return row;
    });
    if (!rows) return rows;
    if (const auto rise = in_order(*rows); !rise) return std::unexpected(rise.error());
    return rows;
}

Expected<std::vector<WantRow>> want_rows(std::string_view json) {
    auto rows = rows_of<WantRow>(json, [](RowReader& r) {
        WantRow row;
        row.service = r.text("service");
        row.form = r.text("form");
        row.trade_size = r.text("trade_size");
        row.treatment = r.text("treatment");
        row.shape = r.text("shape");
        row.low = r.number("low");
        row.middle = r.number("middle");
        row.high = r.number("high");
        row.have = r.whole("have", 0);
        row.want = r.whole("want", 1);
        row.up_to = r.number("up_to");
        row.currency = r.text("currency");
        row.note = r.text("note");
        return row;
    });
    if (!rows) return rows;
    if (const auto rise = in_order(*rows); !rise) return std::unexpected(rise.error());
    return rows;
}

Paper schedule(const std::vector<ScheduleRow>& rows, const book::Book& b, const std::string& date) {
    Paper paper;
    paper.kind = "Schedule";
    paper.title = "Estimates for an insurer";
    paper.subtitle = capital(count_of(rows.size(), "piece", "pieces"));
    paper.about = "What it would cost to replace each piece, as an estimate with an interval. No appraisal.";
    paper.date = date;
    Paragraph caution;
    caution.kind = Paragraph::Kind::kCaution;
    caution.text.add(
        "These are estimates from recorded sales, not an appraisal. They say what pieces like these were sold for, "
        "and how "
        "far that may be off. Whoever insures or claims needs the word of a qualified appraiser who has seen the "
        "pieces.");
    paper.blocks.emplace_back(std::move(caution));
    Table table;
    table.columns = {{"Piece", 1.2},
                     {"Description", 4},
                     {"To replace", 1.5, Table::Align::kRight},
                     {"Between", 2.1, Table::Align::kRight},
                     {"Basis", 2.4}};
    // What is the same of all, or said of several, is said once, below the table.
    const bool one_basis = rows.size() > 1 && std::ranges::all_of(rows, [&](const ScheduleRow& row) {
                               return row.basis == rows.front().basis || (!row.middle && row.basis.empty());
                           });
    if (one_basis) table.columns.pop_back();
    std::map<std::string, std::size_t> noted;  // a note, and in how many rows it stands
    for (const ScheduleRow& row : rows)
        if (!row.note.empty()) ++noted[row.note];
    std::vector<std::string> below;
    std::map<std::string, std::array<double, 2>> sums;  // middle, how many
    std::size_t open = 0;
    for (const ScheduleRow& row : rows) {
        Text id;
        id.bold(row.piece);
        std::string between;
        if (row.low && row.high)
            between = fmt::format("{} and {}", money(*row.low, ""), money(*row.high, row.currency));
        if (row.middle) sums[row.currency][0] += *row.middle, sums[row.currency][1] += 1;
        else ++open;
        Text what(row.description);
        if (!row.note.empty() && noted[row.note] < 2) what.italic(" " + row.note);
        else if (!row.note.empty()) {
            auto at = std::ranges::find(below, row.note);
            if (at == below.end()) at = below.insert(below.end(), row.note);
            what.add("\u00a0(" + letter_of(static_cast<std::size_t>(at - below.begin())) + ")");
        }
        table.rows.push_back({Cell(std::move(id)), Cell(std::move(what)),
                              Cell(row.middle ? money(*row.middle, row.currency) : "no estimate"), Cell(between)});
        if (!one_basis) table.rows.back().emplace_back(row.basis.empty() ? "not stated" : row.basis);
    }
    // Sums of middles only: intervals of pieces that were estimated from the same sales do not add up.
    for (const auto& [currency, sum] : sums) {
        if (sums.size() == 1)
            table.total = {Cell("In all"), Cell(count_of(static_cast<std::size_t>(sum[1]), "piece", "pieces")),
                           Cell(money(sum[0], currency))};
    }
    paper.blocks.emplace_back(std::move(table));
    if (sums.size() > 1) {
        List list;
        for (const auto& [currency, sum] : sums)
            list.items.emplace_back(fmt::format("{} for {}", money(sum[0], currency),
                                                count_of(static_cast<std::size_t>(sum[1]), "piece", "pieces")));
        paper.blocks.emplace_back(std::move(list));
    }
    for (std::size_t at = 0; at < below.size(); ++at) {
        Paragraph note;
        note.kind = Paragraph::Kind::kNote;
        note.text.add(fmt::format("({})\u00a0{}", letter_of(at), below[at]));
        paper.blocks.emplace_back(std::move(note));
    }
    Paragraph about;
    about.kind = Paragraph::Kind::kNote;
    if (one_basis)
        about.text.add(
            fmt::format("Basis of all: {}. ", rows.front().basis.empty() ? "not stated" : rows.front().basis));
    about.text.add(fmt::format(
        "{}The sum adds the middles of the estimates; it has no interval, because estimates from the same sales "
        "err "
        "together. Names are those of ",
        open > 0 ? fmt::format("{} no estimate and {} left out of the sum. ",
                               capital(count_of(open, "piece has", "pieces have")), open == 1 ? "is" : "are")
                 : ""));
    about.text.italic(pack_titles(b)).add(".");
    paper.blocks.emplace_back(std::move(about));
    paper.blocks.emplace_back(Space{"Appraised by, on", 1});
    return paper;
}

Paper wants(const std::vector<WantRow>& rows, const book::Book& b, const std::string& date) {
    Paper paper;
    paper.kind = "Wants";
    paper.title = "What to look for";
    std::size_t pieces = 0;
    for (const WantRow& row : rows) pieces += static_cast<std::size_t>(std::max(0, row.want - row.have));
    paper.subtitle = capital(count_of(pieces, "piece", "pieces")) + " missing";
    paper.about = "What the services lack, as a list to carry.";
    paper.date = date;
    const bool priced = std::ranges::any_of(rows, [](const WantRow& row) { return row.middle.has_value(); });
    const bool limited = std::ranges::any_of(rows, [](const WantRow& row) { return row.up_to.has_value(); });
    std::vector<std::string> services;
    for (const WantRow& row : rows)
        if (std::ranges::find(services, row.service) == services.end()) services.push_back(row.service);
    for (const std::string& service : services) {
        Table table;
        table.caption = service.empty() ? "Without a service" : service;
        constexpr std::size_t kOnOnePage = 20;  // more of them are set closer, to be carried on one sheet
        table.compact = rows.size() > kOnOnePage;
        // Mostly a service is of one treatment: it stands above, and each piece takes one line.
        std::vector<std::string> treatments;
        for (const WantRow& row : rows)
            if (const std::string words = treatment_of(b, row);
                row.service == service && std::ranges::find(treatments, words) == treatments.end())
                treatments.push_back(words);
        const bool of_one = treatments.size() == 1;
        if (of_one && !treatments.front().empty()) table.caption += ": " + treatments.front();
        table.columns = {{"", 0.4}, {"Form", 2.9}};
        if (!of_one) table.columns.push_back({"Treatment", 3});
        table.columns.push_back({"Has", 0.7, Table::Align::kRight});
        table.columns.push_back({"Lacks", 0.8, Table::Align::kRight});
        if (priced) table.columns.push_back({"About", 2.4, Table::Align::kRight});
        if (limited) table.columns.push_back({"Up to", 1.3, Table::Align::kRight});
        table.columns.push_back({"Note", of_one ? 5 : 2.6});
        for (const WantRow& row : rows) {
            if (row.service != service) continue;
            std::string form = row.form;
            if (const auto found = book::find<book::Form>(b, row.form, "")) form = form_of(b, *found);
            if (!row.trade_size.empty()) form += ", " + undivided(row.trade_size);
            std::vector<Cell> cells{Cell("\u25a1"), Cell(form)};
            if (!of_one) cells.emplace_back(treatment_of(b, row));
            cells.emplace_back(std::to_string(row.have));
            cells.emplace_back(std::to_string(std::max(0, row.want - row.have)));
            if (priced) {
                std::string about = row.middle ? money(*row.middle, row.currency) : "";
                if (row.middle && row.low && row.high)
                    about += fmt::format("\u00a0({}\u2013{})", money(*row.low, ""), money(*row.high, ""));
                cells.emplace_back(about);
            }
            if (limited) cells.emplace_back(row.up_to ? money(*row.up_to, row.currency) : "");
            cells.emplace_back(row.note);
            table.rows.push_back(std::move(cells));
        }
        paper.blocks.emplace_back(std::move(table));
    }
    if (rows.empty()) paper.blocks.emplace_back(Paragraph{"Nothing is missing."});
    Paragraph note;
    note.kind = Paragraph::Kind::kNote;
    if (priced)
        note.text.add(
            "\u2018About\u2019 is an estimate from recorded sales, with the range of nine in ten; it is no "
            "valuation, "
            "and a piece may well cost more or less. ");
    if (limited)
        note.text.add("\u2018Up to\u2019 is what a piece is worth to the service, not what it is sold for. ");
    note.text.add("Names are those of ");
    note.text.italic(pack_titles(b)).add(".");
    paper.blocks.emplace_back(std::move(note));
    return paper;
}

}  // namespace footring::papers
