// SPDX-License-Identifier: Apache-2.0
#include "exchange/letter.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/json_reader.h"
#include "exchange/cupboard.h"
#include "store/readers_view.h"

namespace footring::exchange {

using nlohmann::json;

json to_json(const Letter& letter) {
    return {{"name", letter.name},         {"address", letter.address}, {"received", letter.received},
            {"subject", letter.subject},   {"text", letter.text},       {"state", letter.state},
            {"pieces", letter.pieces},     {"reply", letter.reply},     {"answered", letter.answered},
            {"sighting", letter.sighting}, {"note", letter.note}};
}

std::expected<Letter, std::vector<Problem>> letter_from_json(const json& object, std::string_view where) {
    if (!object.is_object())
        return std::unexpected(std::vector{Problem{ProblemCode::kBadInput, std::string(where),
                                                   "this is not an object", "give a letter in braces"}});
    Letter letter;
    std::vector<Problem> problems;
    book::JsonReader reader(object, std::string(where), problems);
    reader.verbatim("name", letter.name);
    reader.verbatim("address", letter.address);
    reader.date("received", letter.received);
    reader.verbatim("subject", letter.subject);
    reader.verbatim("text", letter.text);
    reader.verbatim("state", letter.state);
    if (std::ranges::find(kLetterStates, letter.state) == kLetterStates.end())
        reader.fault("state", fmt::format("'{}' is no state of a letter", letter.state),
                     "write new, asked, answered or closed");
    reader.ids("pieces", letter.pieces);
    reader.verbatim("reply", letter.reply);
    reader.date("answered", letter.answered);
    reader.flag("sighting", letter.sighting);
    reader.verbatim("note", letter.note);
    if (letter.name.empty() && letter.subject.empty() && letter.text.empty())
        reader.fault("text", "the letter is empty", "write who asked, what about, or what");
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return letter;
}

Expected<std::set<std::string>> borrowed(const store::Store& store) {
    const auto records = store.records("letter");
    if (!records) return std::unexpected(records.error());
    std::set<std::string> out;
    for (const store::Record& record : *records)
        if (const auto letter = letter_from_json(record.body, record.id))
            out.insert(letter->pieces.begin(), letter->pieces.end());
    return out;
}

Expected<void> hide_pieces(store::Store& store, const std::vector<std::string>& ids) {
    std::vector<store::PieceRecord> shown;
    for (const std::string& id : ids) {
        auto piece = store.piece(id);
        if (!piece && piece.error().code == ProblemCode::kNotFound) continue;
        if (!piece) return std::unexpected(piece.error());
        if (piece->is_private) continue;
        piece->is_private = true;
        shown.push_back(std::move(*piece));
    }
    if (shown.empty()) return {};
    if (const auto kept = store.put_all(std::move(shown), ""); !kept) return std::unexpected(kept.error());
    return {};
}

Expected<void> hide_borrowed(store::Store& store) {
    const auto theirs = borrowed(store);
    if (!theirs) return std::unexpected(theirs.error());
    return hide_pieces(store, {theirs->begin(), theirs->end()});
}

Expected<OnPaper> on_paper(store::Store* store, store::Sight sight) {
    OnPaper out;
    out.sight = sight;
    if (store == nullptr) return out;
    auto theirs = borrowed(*store);
    if (!theirs) return std::unexpected(theirs.error());
    out.others = std::move(*theirs);
    if (sight == store::Sight::kReaders) out.view = store::for_readers(*store);
    out.store = out.view ? out.view.get() : store;
    return out;
}

Expected<std::vector<store::PieceRecord>> own_pieces(const store::Store& store) {
    const auto theirs = borrowed(store);
    if (!theirs) return std::unexpected(theirs.error());
    auto pieces = all_pieces(store);
    if (pieces) std::erase_if(*pieces, [&](const auto& record) { return theirs->contains(record.piece.id); });
    return pieces;
}

Expected<std::vector<Sighting>> sightings(const store::Store& store) {
    const auto records = store.records("letter");
    if (!records) return std::unexpected(records.error());
    std::vector<Sighting> out;
    for (const store::Record& record : *records) {
        const auto letter = letter_from_json(record.body, record.id);
        if (!letter || !letter->sighting || letter->state == "new" || letter->state == "asked") continue;
        for (const std::string& id : letter->pieces) {
            const auto piece = store.piece(id);
            if (!piece && piece.error().code == ProblemCode::kNotFound) continue;  // removed since
            if (!piece) return std::unexpected(piece.error());
            if (piece->decision && piece->decision->treatment.find(':') != std::string::npos)
                out.push_back({id, piece->decision->treatment, record.id, letter->received});
        }
    }
    return out;
}

}  // namespace footring::exchange
