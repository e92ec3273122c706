// SPDX-License-Identifier: Apache-2.0
#include "exchange/intake.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <unordered_map>
#include <utility>

#include "base/text.h"
#include "exchange/mappings.h"
#include "exchange/names.h"
#include "exchange/overlay.h"
#include "looks/resolve.h"
#include "store/limits.h"

namespace footring::exchange {

namespace {

constexpr std::size_t kMostShown = 20;

// The lots that are there, those of the file, and those that only pieces speak of.
class Lots {
  public:
    explicit Lots(std::vector<store::Lot> kept) {
        for (store::Lot& lot : kept) put(std::move(lot));
    }

    void add(store::Lot lot) {
        if (lot.id.empty()) lot.id = free_id(lot.name);
        const auto known = by_id_.find(lot.id);
        lot.revision = known == by_id_.end() ? 0 : all_[known->second].revision;
        if (known != by_id_.end() && all_[known->second] == lot) return;
        changed_.insert(lot.id);
        put(std::move(lot));
    }

    void add(LotRow row) {
        const auto old = std::ranges::find(all_, row.lot.id, &store::Lot::id);
        if (row.named_only && old != all_.end()) {
            const std::string name = row.lot.name;
            row.lot = *old;
            row.lot.name = name;
        }
        add(std::move(row.lot));
    }

    // The id of the lot that a piece names by id or by name; a new lot when there is none.
    std::string id_of(const std::string& named) {
        if (named.empty() || by_id_.contains(named)) return named;
        if (const auto known = by_name_.find(lower(named)); known != by_name_.end()) return all_[known->second].id;
        store::Lot lot;
        lot.id = is_kebab(named) ? named : free_id(named);
        lot.name = named;
        const std::string id = lot.id;
        add(std::move(lot));
        return id;
    }

    std::vector<store::Lot> changed() const {
        std::vector<store::Lot> out;
        std::ranges::copy_if(all_, std::back_inserter(out),
                             [this](const store::Lot& lot) { return changed_.contains(lot.id); });
        return out;
    }
    std::string currency(const std::string& id) const {
        const auto lot = by_id_.find(id);
        return lot == by_id_.end() ? std::string{} : all_[lot->second].currency;
    }

  private:
    void put(store::Lot lot) {
        const auto [at, fresh] = by_id_.try_emplace(lot.id, all_.size());
        by_name_.try_emplace(lower(lot.name), at->second);
        if (fresh) all_.push_back(std::move(lot));
        else all_[at->second] = std::move(lot);
    }
    // "Barn sale, March" -> "barn-sale-march", with a number behind it when that is taken.
    std::string free_id(const std::string& name) const {
        constexpr std::size_t kLongest = 60;
        std::string id;
        for (const char c : lower(name).substr(0, kLongest)) {
            if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) id += c;
            else if (!id.empty() && id.back() != '-') id += '-';
        }
        while (!id.empty() && id.back() == '-') id.pop_back();
        if (id.empty()) id = "lot";
        std::string free = id;
        for (int number = 2; by_id_.contains(free); ++number) free = fmt::format("{}-{}", id, number);
        return free;
    }

    std::vector<store::Lot> all_;
    std::unordered_map<std::string, std::size_t> by_id_, by_name_;  // by_name_: in lower case, the first called so
    std::set<std::string> changed_;
};

// Lots are stored one by one before the pieces, and the rest behind them. What was stored is taken back unless it
// is kept at the end.
class Undoing {
  public:
    explicit Undoing(store::Store& store) : store_(store), last_(store.own_batch()) {}
    ~Undoing() {
        for (auto batch = batches_.rbegin(); batch != batches_.rend(); ++batch)
            std::ignore = store_.undo(*batch);  // the disk refused already; the person is told of that
    }
    Undoing(const Undoing&) = delete;
    Undoing& operator=(const Undoing&) = delete;
    void stored() {
        // Others may change the same store meanwhile: the newest batch of all may be theirs.
        if (const std::int64_t own = store_.own_batch(); own != last_) batches_.push_back(last_ = own);
    }
    void keep() { batches_.clear(); }

  private:
    store::Store& store_;
    std::int64_t last_;
    std::vector<std::int64_t> batches_;
};

std::vector<Problem> problems_of(const Row& row, const book::Book* book, bool look_up_ids) {
    if (book == nullptr || !look_up_ids) return {};
    auto findings = looks::resolve(row.record.piece, *book, Settings{}, row.where);
    return findings ? std::vector<Problem>{} : std::move(findings.error());
}

}  // namespace

std::expected<Imported, std::vector<Problem>> take_in(store::Store& store, const book::Book* book, Intake intake,
                                                      bool look_up_ids, const ImportOptions& options) {
    const auto stopped = [] {
        Imported out;
        out.stopped = true;
        return out;
    };
    if (intake.stopped) return stopped();
    const auto kept_lots = store.lots();
    if (!kept_lots) return std::unexpected(std::vector{kept_lots.error()});
    Lots lots(*kept_lots);
    for (const LotRow& row : intake.lots) lots.add(row);

    Imported out;
    out.skipped = intake.bad_rows;
    out.problems = std::move(intake.problems);
    out.columns = std::move(intake.columns);
    // Nobody has to ask an empty cupboard for each piece of a long list.
    store::Query one;
    one.limit = 1;
    const auto first = store.find(one);
    if (!first) return std::unexpected(std::vector{first.error()});
    const bool anything = !first->rows.empty();
    std::vector<store::PieceRecord> records;
    std::set<std::string> ids;
    for (std::size_t at = 0; at < intake.rows.size(); ++at) {
        Row& row = intake.rows[at];
        if (!told_of(options.told, kComparing, at + 1, intake.rows.size())) return stopped();
        std::vector<Problem> problems = problems_of(row, book, look_up_ids);
        const std::string& id = row.record.piece.id;
        if (!id.empty() && !ids.insert(id).second)
            problems.push_back({ProblemCode::kBadInput, row.where,
                                fmt::format("the piece '{}' is in the file twice", id),
                                "keep one of the rows, or give them different ids"});
        if (book != nullptr && row.record.decision)
            if (auto settled = settle_decision(row.record, *book, row.where); !settled)
                problems.push_back(std::move(settled.error()));
        std::optional<store::PieceRecord> kept;
        if (!id.empty() && anything) {
            auto found = store.piece(id);
            if (found) kept = std::move(*found);
            else if (found.error().code != ProblemCode::kNotFound)
                return std::unexpected(std::vector{found.error()});
        }
        store::PieceRecord record = kept ? overlay(*kept, row.record, *row.fields) : std::move(row.record);
        if (problems.empty())
            if (auto sound = store::check(record, row.where); !sound) problems.push_back(std::move(sound.error()));
        if (!problems.empty()) {
            ++out.skipped;
            std::ranges::move(problems, std::back_inserter(out.problems));
            continue;
        }
        record.lot = lots.id_of(record.lot);
        if (record.cost && record.currency.empty() && !kept) record.currency = lots.currency(record.lot);
        if (kept)
            record.search_words = kept->decision == record.decision ? kept->search_words : row.record.search_words;
        if (out.preview.size() < kMostShown) out.preview.push_back(record);
        if (kept && *kept == record) {
            ++out.unchanged;
            continue;
        }
        ++(kept ? out.changed : out.added);
        records.push_back(std::move(record));
    }
    if (!out.problems.empty() && !options.dry_run && !options.keep_good)
        return std::unexpected(std::move(out.problems));
    if (options.dry_run) {
        const auto others = keep_others(store, std::move(intake.others), true);
        if (!others) return std::unexpected(std::vector{others.error()});
        out.others = *others;
        return out;
    }
    if (options.told && !options.told(kStoring, 0, records.size())) return stopped();

    Undoing undoing(store);
    // First: undoing the newest change is to undo the pieces.
    if (options.remember && !out.columns.empty() && !records.empty())
        if (const auto kept = remember(store, "pieces", out.columns); !kept)
            return std::unexpected(std::vector{kept.error()});
    for (const store::Lot& lot : lots.changed()) {
        if (const auto stored = store.put(lot, ""); !stored) return std::unexpected(std::vector{stored.error()});
        undoing.stored();
    }
    if (!records.empty()) {
        if (const auto stored = store.put_all(std::move(records), ""); !stored)
            return std::unexpected(std::vector{stored.error()});
        undoing.stored();
    }
    const auto others = keep_others(store, std::move(intake.others), false);
    if (!others) return std::unexpected(std::vector{others.error()});
    out.others = *others;
    undoing.keep();
    return out;
}

}  // namespace footring::exchange
