// SPDX-License-Identifier: Apache-2.0
#include "store/undo.h"

#include <fmt/format.h>

#include "store/act.h"
#include "store/record_kinds.h"

namespace footring::store {

namespace {

std::string in_words(const ChangeRow& c) {
    switch (c.entity) {
        case Entity::kPiece:
            return fmt::format("piece {}", c.key);
        case Entity::kLot:
            return fmt::format("lot {}", c.key);
        case Entity::kPhoto:
            return fmt::format("a photograph of piece {}", c.piece);
        case Entity::kRecord:
            return fmt::format("{} {}", kind_in(c.key), id_in(c.key));
    }
    return c.key;
}
std::unexpected<Problem> conflict(std::int64_t batch, std::string what, std::string remedy) {
    return fail(ProblemCode::kConflict, fmt::format("change {}", batch), std::move(what), std::move(remedy));
}

class Undo {
  public:
    Undo(Writer& tables, const Blobs& blobs, const std::string& when, const std::string& who, std::int64_t batch)
        : tables_(tables), blobs_(blobs), act_(tables, when, who, batch), batch_(batch) {}

    Expected<std::int64_t> run() {
        const auto row = tables_.batch(batch_);
        if (!row)
            return fail(ProblemCode::kNotFound, fmt::format("change {}", batch_), "there is no such change",
                        "choose one from the history");
        if (row->undone_by != 0)
            return conflict(batch_, "this was undone already", "to have it again, undo its undoing");
        for (const ChangeRow& change : tables_.changes_in(batch_))
            if (auto ok = take_back(change); !ok) return std::unexpected(ok.error());
        mark(*row);
        act_.sign();
        return act_.batch();
    }

  private:
    // Whoever is undone no longer holds; what it had undone itself holds again, and so on.
    void mark(const BatchRow& undone) {
        tables_.set_undone_by(undone.id, act_.batch());
        bool holds = false;
        for (std::optional<BatchRow> row = undone; row && row->undoes != 0; row = tables_.batch(row->undoes)) {
            tables_.set_undone_by(row->undoes, holds ? row->id : 0);
            holds = !holds;
        }
    }

    Expected<void> take_back(const ChangeRow& change) {
        const auto newest = tables_.newest_change(change.entity, change.key);
        if (!newest || newest->state != change.state)
            return conflict(batch_,
                            fmt::format("{} was changed since: {}", in_words(change), newest ? newest->what : ""),
                            "undo the later change first, or correct the record by hand");
        const Cause why = cause(change);
        const Entry now{change.key, newest->after, newest->id};
        if (change.before.empty()) return forget(change, now, why);
        return restore(change, newest->after.empty() ? nullptr : &now, why);
    }

    Cause cause(const ChangeRow& change) {
        ChangeRow original = change;
        bool undone = true;
        for (; original.undoes != 0; undone = !undone) original = tables_.change(original.undoes).value();
        Cause why;
        why.what = fmt::format("{} {}", undone ? "Undone:" : "Done again:", original.what);
        why.undoes = change.id;
        why.state = change.state_before;
        return why;
    }

    Expected<void> forget(const ChangeRow& change, const Entry& now, const Cause& why) {
        if (change.entity == Entity::kPiece && !tables_.photos_of({change.key}).empty())
            return conflict(batch_, fmt::format("{} has photographs that were added since", in_words(change)),
                            "remove them first");
        if (change.entity == Entity::kLot && !tables_.pieces_in(change.key).empty())
            return conflict(batch_, fmt::format("{} has pieces in it", in_words(change)), "move them first");
        act_.erase(change.entity, now, why);
        return {};
    }

    Expected<void> restore(const ChangeRow& change, const Entry* now, const Cause& why) {
        const Entry old{change.key, change.before, 0};
        switch (change.entity) {
            case Entity::kPiece: {
                auto piece = piece_of(old);
                if (!piece) return std::unexpected(piece.error());
                if (!piece->lot.empty() && !tables_.entry(Entity::kLot, piece->lot))
                    return conflict(batch_,
                                    fmt::format("{} was in the lot '{}', which was removed since", in_words(change),
                                                piece->lot),
                                    "undo the removal of the lot first");
                return act_.put(*piece, now, why);
            }
            case Entity::kLot: {
                auto lot = lot_of(old);
                if (!lot) return std::unexpected(lot.error());
                return act_.put(*lot, now, why);
            }
            case Entity::kPhoto: {
                const auto photo = photo_of(old);
                if (!photo) return std::unexpected(photo.error());
                if (!tables_.entry(Entity::kPiece, photo->piece))
                    return conflict(batch_, fmt::format("piece {} was removed since", photo->piece),
                                    "undo the removal of the piece first");
                if (!blobs_.has(photo->sha256))
                    return conflict(batch_,
                                    fmt::format("the file of the photograph '{}' was swept away", photo->name),
                                    "add the photograph again from the camera or a backup");
                act_.put(*photo, now, why);
                return {};
            }
            case Entity::kRecord: {
                auto record = record_of(old);
                if (!record) return std::unexpected(record.error());
                act_.put(*record, now, why);
                return {};
            }
        }
        return {};
    }

    Writer& tables_;
    const Blobs& blobs_;
    Act act_;
    std::int64_t batch_;
};

}  // namespace

Expected<std::int64_t> undo_batch(Writer& tables, const Blobs& blobs, const std::string& when,
                                  const std::string& who, std::int64_t batch) {
    return Undo(tables, blobs, when, who, batch).run();
}

}  // namespace footring::store
