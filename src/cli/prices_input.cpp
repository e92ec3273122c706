// SPDX-License-Identifier: Apache-2.0
#include "cli/prices_input.h"

#include <algorithm>
#include <filesystem>

#include "cli/cupboard.h"
#include "cli/files.h"
#include "worth/currencies.h"

namespace footring::cli {

exchange::ReadSales read_sales(const std::vector<std::string>& paths, const exchange::SalesReading& reading,
                               World& world, const book::Book& book, std::vector<Problem>& problems) {
    exchange::ReadSales read;
    for (const std::string& path : paths) {
        const auto text = read_file_or_stdin(path, world);
        if (!text) {
            problems.push_back(text.error());
            continue;
        }
        auto one = exchange::read_sales_csv(*text, reading, &book, path == "-" ? "standard input" : path);
        std::ranges::move(one.rows, std::back_inserter(read.rows));
        std::ranges::move(one.problems, std::back_inserter(problems));
        std::ranges::move(one.duplicates, std::back_inserter(read.duplicates));
    }
    return read;
}

exchange::KeptSales sales_for_services(const Call& call, World& world, const Reference& reference,
                                       std::vector<Problem>& problems) {
    namespace fs = std::filesystem;
    std::vector<std::string> paths = call.all("--sales");
    const fs::path folder = call.one("--pieces").value_or("");
    std::error_code error;
    if (paths.empty() && fs::exists(folder / "footring.db", error)) {
        const auto store = open_cupboard(store::Place{folder, "", "", "", ""}, WhenMissing::kRefuse);
        if (!store) return problems.push_back(store.error()), exchange::KeptSales{};
        auto kept = exchange::kept_sales(**store);
        if (kept) return std::move(*kept);
        problems.push_back(kept.error());
        return {};
    }
    if (paths.empty() && fs::exists(folder / "sales.csv", error)) paths.push_back((folder / "sales.csv").string());
    exchange::SalesReading reading;
    reading.today = utc_now();
    exchange::KeptSales out;
    for (exchange::SaleRow& row : read_sales(paths, reading, world, reference.book, problems).rows)
        out.sales.push_back({std::move(row.sale), "", "", 0});
    return out;
}

std::expected<services::Prices, std::vector<Problem>> prices_for_services(const Call& call,
                                                                          const Reference& reference,
                                                                          const services::Fitting& fitting,
                                                                          const exchange::KeptSales& sales) {
    std::string currency;
    if (const auto asked = call.one("--currency")) {
        const auto code = worth::read_currency(*asked, "--currency");
        if (!code) return std::unexpected(std::vector{code.error()});
        currency = *code;
    }
    const std::string today = utc_now().substr(0, 10);
    const worth::Things things(reference.book);
    const auto priced = exchange::priced(sales, currency, things, today);
    if (!priced && priced.error().code == ProblemCode::kNotFound && !call.has("--sales") && !call.has("--currency"))
        return services::Prices{};
    if (!priced) return std::unexpected(std::vector{priced.error()});
    const auto year = worth::year_asked(call.one("--date").value_or(today), today, "--date");
    if (!year) return std::unexpected(std::vector{year.error()});
    return exchange::estimated_prices(fitting, *priced->prices, things, *year);
}

}  // namespace footring::cli
