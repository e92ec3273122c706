// SPDX-License-Identifier: Apache-2.0
#include "exchange/overlay.h"

#include <algorithm>
#include <tuple>
#include <vector>

namespace footring::exchange {

namespace {

using looks::Look;
using looks::Seen;

struct Over {
    const std::set<std::string>& fields;
    bool has(const std::string& field) const { return fields.contains(field); }

    template <class T>
    void take(const std::string& field, T& kept, const T& row) const {
        if (has(field)) kept = row;
    }
    void take_seen(const std::string& field, std::optional<Seen>& kept, const std::optional<Seen>& row) const {
        if (!has(field)) return;
        std::optional<Seen> taken = row;
        if (taken && kept && !has(field + "_sure") && taken->value == kept->value) taken->sure = kept->sure;
        kept = taken;
    }
};

bool before(const Look& a, const Look& b) {
    return std::tie(a.place, a.seen.value, a.seen.sure) < std::tie(b.place, b.seen.value, b.seen.sure);
}

std::vector<Look> overlay_looks(const std::vector<Look>& kept, const std::vector<Look>& row, const Over& over) {
    std::vector<Look> out;
    for (const Look& look : kept)
        if (!over.has(std::string(name_of(look.place)))) out.push_back(look);
    for (Look look : row) {
        const std::string place(name_of(look.place));
        if (!over.has(place)) continue;
        if (!over.has(place + "_sure"))
            for (const Look& old : kept)
                if (old.place == look.place && old.seen.value == look.seen.value) look.seen.sure = old.seen.sure;
        out.push_back(std::move(look));
    }
    // The order of looks says nothing: the same looks in another order are no change.
    std::vector<Look> a = kept, b = out;
    std::ranges::sort(a, before);
    std::ranges::sort(b, before);
    return a == b ? kept : out;
}

void overlay_piece(looks::Piece& kept, const looks::Piece& row, const Over& over) {
    over.take("piece", kept, row);
    over.take("form", kept.form, row.form);
    over.take_seen("shape", kept.shape, row.shape);
    over.take_seen("glaze", kept.glaze, row.glaze);
    over.take("wear", kept.wear, row.wear);
    if (!over.has("piece")) kept.looks = overlay_looks(kept.looks, row.looks, over);
    over.take_seen("mark", kept.mark, row.mark);
    over.take_seen("number", kept.number, row.number);
    over.take("date_code", kept.date_code, row.date_code);
    over.take("faults", kept.faults, row.faults);
    over.take("length_mm", kept.length_mm, row.length_mm);
    over.take("width_mm", kept.width_mm, row.width_mm);
    over.take("height_mm", kept.height_mm, row.height_mm);
}

void overlay_decision(store::PieceRecord& kept, const store::PieceRecord& row, const Over& over) {
    const auto old = kept.decision;
    if (over.has("decision") || over.has("decision_treatment")) kept.decision = row.decision;
    if (kept.decision && old && !over.has("decision")) {
        if (!over.has("decision_grade")) kept.decision->grade = old->grade;
        if (!over.has("decision_date")) kept.decision->date = old->date;
        if (!over.has("decision_note")) kept.decision->note = old->note;
    }
    // What the engine said belongs to the decision beside which it was kept.
    if (kept.decision != old) kept.attribution.reset();
    if (over.has("attribution") && row.attribution) kept.attribution = row.attribution;
}

}  // namespace

store::PieceRecord overlay(const store::PieceRecord& kept, const store::PieceRecord& row,
                           const std::set<std::string>& fields) {
    const Over over{fields};
    store::PieceRecord out = kept;
    overlay_piece(out.piece, row.piece, over);
    out.piece.id = kept.piece.id;
    over.take("private", out.is_private, row.is_private);
    over.take("lot", out.lot, row.lot);
    over.take("place_kept", out.place, row.place);
    over.take("cost", out.cost, row.cost);
    over.take("currency", out.currency, row.currency);
    over.take("note", out.note, row.note);
    overlay_decision(out, row, over);
    return out;
}

}  // namespace footring::exchange
