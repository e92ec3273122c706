// SPDX-License-Identifier: Apache-2.0
#include "exchange/sales.h"

#include <fmt/format.h>

#include <unordered_map>

#include "exchange/mappings.h"

namespace footring::exchange {

using worth::Sale;

namespace {

std::string key_of(const Sale& sale) {
    return fmt::format("{} {} {} {}", sale.date, sale.price, sale.form, sale.treatment);
}

}  // namespace

KeptSale kept_sale(const store::Record& record) {
    KeptSale kept{{}, record.created, record.changed, record.revision};
    // A sale was sound when it was stored; no date is held against today's.
    if (auto sale = worth::sale_from_json(record.body, "", "sale")) kept.sale = std::move(*sale);
    kept.sale.id = record.id;
    return kept;
}

Expected<KeptSales> kept_sales(const store::Store& store) {
    const auto records = store.records("sale");
    if (!records) return std::unexpected(records.error());
    KeptSales out;
    for (const store::Record& record : *records) {
        KeptSale kept = kept_sale(record);
        if (kept.sale.price > 0) out.sales.push_back(std::move(kept));
        else ++out.unreadable;
    }
    return out;
}

store::Record sale_record(const Sale& sale, std::int64_t revision) {
    store::Record record;
    record.kind = "sale";
    record.id = sale.id;
    record.body = nlohmann::json::parse(worth::sale_json(sale).dump());
    record.body.erase("id");
    record.revision = revision;
    return record;
}

std::string sale_words(const Sale& sale) {
    return fmt::format("{}: {:.2f} {}, {}", sale.date, sale.price, sale.currency, sale.form);
}

std::expected<ImportedSales, std::vector<Problem>> import_sales(store::Store& store, const book::Book* book,
                                                                std::string_view text, std::string_view where,
                                                                const SalesImport& options) {
    const auto stopped = [] {
        ImportedSales out;
        out.stopped = true;
        return out;
    };
    ReadSales read = read_sales_csv(text, options.reading, book, where, options.told);
    if (read.stopped) return stopped();
    if (!read.problems.empty() && !options.keep_good && !options.dry_run)
        return std::unexpected(std::move(read.problems));
    const auto kept = kept_sales(store);
    if (!kept) return std::unexpected(std::vector{kept.error()});
    std::unordered_map<std::string, const KeptSale*> by_id;
    std::unordered_map<std::string, std::vector<const KeptSale*>> by_key;
    for (const KeptSale& one : kept->sales) {
        by_id[one.sale.id] = &one;
        by_key[key_of(one.sale)].push_back(&one);
    }
    ImportedSales out;
    out.skipped = read.bad_rows;
    out.problems = std::move(read.problems);
    out.columns = std::move(read.columns);
    out.duplicates = std::move(read.duplicates);
    out.notes = std::move(read.notes);
    std::vector<store::Record> records;
    for (SaleRow& row : read.rows) {
        if (out.preview.size() < 20) out.preview.push_back(row.sale);
        if (const auto known = by_id.find(row.sale.id); !row.sale.id.empty() && known != by_id.end()) {
            if (known->second->sale == row.sale) {
                ++out.unchanged;
                continue;
            }
            ++out.changed;
            records.push_back(sale_record(row.sale, known->second->revision));
            continue;
        }
        const KeptSale* same = nullptr;
        if (const auto others = by_key.find(key_of(row.sale)); row.sale.id.empty() && others != by_key.end())
            for (const KeptSale* other : others->second)
                if (worth::likeness(other->sale, row.sale) == worth::Likeness::kSame) same = other;
        if (same != nullptr) {
            out.duplicates.push_back({fmt::format("{}:{}", where, row.line),
                                      fmt::format("the same as {}, which is kept already", same->sale.id)});
            continue;
        }
        ++out.added;
        records.push_back(sale_record(row.sale, 0));
    }
    if (options.dry_run || records.empty()) return out;
    if (options.told && !options.told(kStoring, 0, records.size())) return stopped();
    // First: undoing the newest change is to undo the sales.
    if (options.remember)
        if (const auto noted = remember(store, "sales", out.columns); !noted)
            return std::unexpected(std::vector{noted.error()});
    const std::string what = fmt::format("Sales: {} added, {} changed from {}.", out.added, out.changed, where);
    if (const auto stored = store.put_all(std::move(records), what); !stored)
        return std::unexpected(std::vector{stored.error()});
    return out;
}

}  // namespace footring::exchange
