// SPDX-License-Identifier: Apache-2.0
#include "store/act.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "store/record_json.h"
#include "store/record_kinds.h"
#include "store/words.h"

namespace footring::store {

namespace {

std::unexpected<Problem> not_readable(const Entry& e, const std::string& why) {
    return fail(ProblemCode::kStore, fmt::format("record {}", e.key),
                fmt::format("the stored record cannot be read ({})", why),
                "restore the newest backup, or undo the last change of this record");
}
template <class Record>
Expected<Record> read_back(const Entry& e, Expected<Record> (*from_json)(const nlohmann::json&, std::string_view)) {
    const auto object = nlohmann::json::parse(e.json, nullptr, false);
    if (object.is_discarded()) return not_readable(e, "it is no JSON");
    auto record = from_json(object, "record");
    if (!record) return not_readable(e, record.error().what);
    return record;
}

bool names_something(const std::string& value) {
    return value != looks::kNone && value != looks::kSomething && value != looks::kWorn;
}

PieceEntry entry_of(const PieceRecord& r, const std::string& lot_name) {
    const looks::Piece& p = r.piece;
    const auto value = [](const std::optional<looks::Seen>& seen) {
        return seen && names_something(seen->value) ? seen->value : std::string();
    };
    PieceEntry e;
    e.key = p.id;
    e.revision = r.revision;
    e.json = to_json(r).dump();
    e.form = p.form;
    e.shape = value(p.shape);
    e.lot = r.lot;
    e.place = r.place;
    e.decided = r.decision.has_value();
    e.is_private = r.is_private;
    e.changed = r.changed;
    const std::string glaze = value(p.glaze), mark = value(p.mark), number = value(p.number);
    std::vector<std::string_view> texts = {p.id,        p.form, e.shape,  glaze,   mark,   number,
                                           p.date_code, r.lot,  lot_name, r.place, r.note, r.search_words};
    for (const looks::Look& look : p.looks)
        if (names_something(look.seen.value)) texts.emplace_back(look.seen.value);
    if (r.decision) {
        e.treatment = r.decision->treatment;
        e.grade = r.decision->grade;
        texts.emplace_back(r.decision->treatment);
        texts.emplace_back(r.decision->note);
    }
    e.words = index_words(texts);
    e.id_key = natural_key(p.id);
    e.number_key = natural_key(number);
    e.lot_key = natural_key(lot_name);
    e.place_key = natural_key(r.place);
    return e;
}

// A photograph is a piece's.
std::string_view word_of(Entity entity, const std::string& key) {
    if (entity == Entity::kRecord) return kind_in(key);
    return entity == Entity::kLot ? "lot" : "piece";
}

// The number of "p-0041" after the prefix "p-"; 0 for other ids.
std::int64_t number_in(const std::string& prefix, const std::string& id) {
    constexpr std::size_t kMostDigits = 12;
    if (!id.starts_with(prefix) || id.size() > prefix.size() + kMostDigits) return 0;
    std::int64_t number = 0;
    const auto [end, error] = std::from_chars(id.data() + prefix.size(), id.data() + id.size(), number);
    return error == std::errc{} && end == id.data() + id.size() && number > 0 ? number : 0;
}

}  // namespace

std::string photo_key(const std::string& piece, const std::string& sha256) { return piece + "/" + sha256; }

Expected<PieceRecord> piece_of(const Entry& e) { return read_back<PieceRecord>(e, &piece_record_from_json); }
Expected<Lot> lot_of(const Entry& e) { return read_back<Lot>(e, &lot_from_json); }
Expected<PhotoMeta> photo_of(const Entry& e) { return read_back<PhotoMeta>(e, &photo_from_json); }

// The body moves: a hundred thousand of them are read at once.
Expected<Record> record_of(const Entry& e) {
    auto object = nlohmann::json::parse(e.json, nullptr, false);
    if (!object.is_object()) return not_readable(e, "it is no JSON object");
    nlohmann::json body = std::move(object["body"]);
    object.erase("body");
    auto record = record_from_json(object, "record");
    if (!record) return not_readable(e, record.error().what);
    record->body = std::move(body);
    return record;
}

Expected<Reading> reading_of(const ReadingEntry& e) {
    return read_back<Reading>({fmt::format("reading of {}", e.sha256), e.json, 0}, &reading_from_json);
}

std::int64_t Act::batch() {
    if (batch_ == 0) batch_ = tables_.open_batch(when_, undoes_batch_);
    return batch_;
}

std::int64_t Act::record(Entity entity, const std::string& key, const std::string& piece, std::int64_t id,
                         const Cause& cause, const Entry* before, const std::string& after) {
    ChangeRow row;
    row.id = id;
    row.batch = batch();
    row.undoes = cause.undoes;
    row.state_before = tables_.state(entity, key);
    row.state = cause.undoes == 0 ? id : cause.state;
    row.when = when_;
    row.entity = entity;
    row.key = key;
    row.piece = piece;
    row.what = cause.what;
    if (before != nullptr) row.before = before->json;
    row.after = after;
    tables_.append(row);
    if (++changes_ == 1) {
        first_words_ = cause.what;
        first_subject_ = fmt::format("{} {}", word_of(entity, key),
                                     entity == Entity::kPhoto    ? piece
                                     : entity == Entity::kRecord ? std::string(id_in(key))
                                                                 : key);
    }
    return id;
}

void Act::sign() {
    if (changes_ == 0 || who_.empty()) return;
    Noted row;
    row.when = when_;
    row.who = who_;
    row.what = changes_ == 1 ? first_words_
                             : fmt::format("{} (and {} more {})", first_words_, changes_ - 1,
                                           changes_ == 2 ? "change" : "changes");
    row.subject = first_subject_;
    row.batch = batch_;
    tables_.append(row);
}

Expected<std::string> Act::lot_name(const std::string& id, const std::string& piece) {
    if (id.empty()) return std::string();
    if (const auto known = lot_names_.find(id); known != lot_names_.end()) return known->second;
    const auto entry = tables_.entry(Entity::kLot, id);
    if (!entry)
        return fail(ProblemCode::kBadInput, fmt::format("piece {}: lot", piece),
                    fmt::format("there is no lot '{}'", id), "add the lot first, or leave the lot out");
    const auto lot = lot_of(*entry);
    if (!lot) return std::unexpected(lot.error());
    return lot_names_[id] = lot->name;
}

Expected<void> Act::put(PieceRecord& after, const Entry* before, const Cause& cause) {
    const auto lot = lot_name(after.lot, after.piece.id);
    if (!lot) return std::unexpected(lot.error());
    after.revision = tables_.next_change();
    after.changed = when_;
    if (after.created.empty()) after.created = when_;
    after.photos.clear();  // kept in their own table
    const PieceEntry entry = entry_of(after, *lot);
    tables_.save(entry);
    record(Entity::kPiece, entry.key, entry.key, entry.revision, cause, before, entry.json);
    return {};
}

Expected<void> Act::put(Lot& after, const Entry* before, const Cause& cause) {
    after.revision = tables_.next_change();
    const Entry entry{after.id, to_json(after).dump(), after.revision};
    tables_.save_lot(entry);
    record(Entity::kLot, entry.key, {}, entry.revision, cause, before, entry.json);
    const auto old = before == nullptr ? Expected<Lot>(after) : lot_of(*before);
    if (old && old->name == after.name) return {};
    lot_names_[after.id] = after.name;  // its pieces are found and sorted by the new name from now on
    for (const std::string& id : tables_.pieces_in(after.id)) {
        const auto piece = piece_of(*tables_.entry(Entity::kPiece, id));
        if (!piece) return std::unexpected(piece.error());
        tables_.save(entry_of(*piece, after.name));
    }
    return {};
}

void Act::put(const PhotoMeta& after, const Entry* before, const Cause& cause) {
    PhotoEntry entry;
    entry.key = photo_key(after.piece, after.sha256);
    entry.json = to_json(after).dump();
    entry.revision = tables_.next_change();
    entry.piece = after.piece;
    entry.sha256 = after.sha256;
    tables_.save(entry);
    record(Entity::kPhoto, entry.key, after.piece, entry.revision, cause, before, entry.json);
}

void Act::put(Record& after, const Entry* before, const Cause& cause) {
    after.revision = tables_.next_change();
    after.changed = when_;
    if (after.created.empty()) after.created = when_;
    RecordEntry entry;
    entry.key = record_key(after.kind, after.id);
    entry.json = to_json(after).dump();
    entry.revision = after.revision;
    entry.kind = after.kind;
    entry.id = after.id;
    entry.id_key = natural_key(after.id);
    tables_.save(entry);
    record(Entity::kRecord, entry.key, {}, entry.revision, cause, before, entry.json);
}

void Act::erase(Entity entity, const Entry& before, const Cause& cause) {
    const std::string piece = entity == Entity::kPiece   ? before.key
                              : entity == Entity::kPhoto ? before.key.substr(0, before.key.rfind('/'))
                                                         : std::string();
    tables_.erase(entity, before.key);
    record(entity, before.key, piece, tables_.next_change(), cause, &before, {});
}

std::int64_t& Act::counter(const std::string& prefix) {
    const auto known = counters_.find(prefix);
    return known != counters_.end() ? known->second : counters_[prefix] = tables_.counter(prefix);
}

std::string Act::free_id(const std::string& prefix) { return fmt::format("{}{:04}", prefix, ++counter(prefix)); }

void Act::note_id(const std::string& prefix, const std::string& id) {
    if (const std::int64_t number = number_in(prefix, id); number > 0)
        counter(prefix) = std::max(counter(prefix), number);
}

void Act::keep_counters() {
    for (const auto& [prefix, value] : counters_) tables_.set_counter(prefix, value);
}

}  // namespace footring::store
