// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/csv.h"
#include "services/prices.h"

namespace footring::services {

using book::Book;
using nlohmann::json;

namespace {

constexpr double kMostPrice = 1e9;

// One row from words; what is wrong with it goes to `problems`.
void add_row(const Book& book, const std::string& treatment, const std::string& form, std::optional<double> amount,
             const std::string& where_treatment, const std::string& where_form, const std::string& where_price,
             std::vector<Price>& rows, std::vector<Problem>& problems) {
    Price row;
    if (!treatment.empty()) {
        if (const auto found = book::find<book::Treatment>(book, treatment, where_treatment))
            row.treatment = *found;
        else problems.push_back(found.error());
    }
    if (!form.empty()) {
        if (const auto found = book::find<book::Form>(book, form, where_form)) row.form = *found;
        else problems.push_back(found.error());
    }
    if (!amount || *amount < 0 || *amount > kMostPrice)
        problems.push_back({ProblemCode::kBadInput, where_price, "this is no price",
                            "write a number that is not negative, such as 12.50"});
    else row.amount = *amount;
    rows.push_back(row);
}

}  // namespace

Prices::Prices(const std::vector<Price>& rows) {
    for (const Price& row : rows)  // the first of equals
        rows_.try_emplace({row.treatment ? std::int64_t{row.treatment->at} : -1,
                           row.form ? std::int64_t{row.form->at} : -1, row.grade},
                          Cost{row.amount, row.between});
}

Cost Prices::of(book::Ref<book::Treatment> treatment, book::Ref<book::Form> form, Grades grade) const {
    const std::int64_t t = treatment.at, f = form.at;
    for (const auto& [of_treatment, of_form] : {std::pair(t, f), {t, -1}, {-1, f}, {-1, -1}})
        for (const Grades of_grade : {grade, Grades::kMixed})
            if (const auto row = rows_.find({of_treatment, of_form, of_grade}); row != rows_.end())
                return row->second;
    return {};
}

std::expected<Prices, std::vector<Problem>> prices_from_csv(const Book& book, std::string_view text,
                                                            const std::string& where) {
    const book::Csv csv = book::read_csv(text);
    std::vector<Problem> problems;
    for (const book::CsvFault& fault : csv.faults)
        problems.push_back({ProblemCode::kBadInput, fmt::format("{}:{}:{}", where, fault.line, fault.column),
                            fault.what, fault.remedy});
    if (!problems.empty()) return std::unexpected(std::move(problems));
    const auto column = [&](std::string_view name) -> std::ptrdiff_t {
        if (csv.rows.empty()) return -1;
        const auto found = std::ranges::find(csv.rows[0].cells, name, &book::CsvCell::text);
        return found == csv.rows[0].cells.end() ? -1 : found - csv.rows[0].cells.begin();
    };
    const auto treatment = column("treatment"), form = column("form"), price = column("price");
    if (price < 0 || (treatment < 0 && form < 0))
        return std::unexpected(
            std::vector<Problem>{{ProblemCode::kBadInput, where + ":1:1", "this is no table of prices",
                                  "give it a first line with treatment,form,price"}});
    std::vector<Price> rows;
    for (std::size_t i = 1; i < csv.rows.size(); ++i) {
        const book::CsvRow& row = csv.rows[i];
        const auto cell = [&](std::ptrdiff_t at) {
            return at >= 0 && at < std::ssize(row.cells) ? row.cells[static_cast<std::size_t>(at)]
                                                         : book::CsvCell{"", row.end_line, row.end_column};
        };
        const auto at = [&](const book::CsvCell& c) { return fmt::format("{}:{}:{}", where, c.line, c.column); };
        const auto t = cell(treatment), f = cell(form), p = cell(price);
        add_row(book, t.text, f.text, to_number(p.text), at(t), at(f), at(p), rows, problems);
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return Prices(rows);
}

std::expected<Prices, std::vector<Problem>> prices_from_json(const Book& book, const json& list,
                                                             const std::string& where) {
    std::vector<Problem> problems;
    std::vector<Price> rows;
    if (!list.is_array())
        return std::unexpected(std::vector<Problem>{
            {ProblemCode::kBadInput, where, "this is not a list of prices", "put them in square brackets"}});
    for (std::size_t i = 0; i < list.size(); ++i) {
        const std::string at = fmt::format("{}/{}", where, i);
        const json& row = list[i];
        if (!row.is_object()) {
            problems.push_back({ProblemCode::kBadInput, at, "this is no price", "give treatment, form and price"});
            continue;
        }
        const auto text = [&](const char* name) {
            const auto found = row.find(name);
            if (found == row.end() || found->is_null()) return std::string();
            if (found->is_string()) return found->get<std::string>();
            problems.push_back({ProblemCode::kBadInput, at + "/" + name, "this is not text", "give an id"});
            return std::string();
        };
        const auto price = row.find("price");
        add_row(book, text("treatment"), text("form"),
                price != row.end() && price->is_number() ? std::optional(price->get<double>()) : std::nullopt,
                at + "/treatment", at + "/form", at + "/price", rows, problems);
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return Prices(rows);
}

}  // namespace footring::services
