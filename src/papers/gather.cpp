// SPDX-License-Identifier: Apache-2.0
#include "papers/gather.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "papers/pictures.h"
#include "papers/words.h"
#include "photo/thumbnail.h"

namespace footring::papers {

namespace {

using book::Book;

OwnPiece own(const Book& b, store::PieceRecord record) {
    OwnPiece out;
    out.record = std::move(record);
    if (out.record.decision) {
        if (const auto found = book::find<book::Treatment>(b, out.record.decision->treatment, "")) {
            out.treatment = *found;
            out.shape = b[*found].shape;
        }
        if (const auto date = edtf::parse(out.record.decision->date); date && !out.record.decision->date.empty())
            out.when = edtf::in_words(*date);
    }
    const looks::Piece& piece = out.record.piece;
    if (!out.shape && piece.shape)
        if (const auto found = book::find<book::Shape>(b, piece.shape->value, "")) out.shape = *found;
    if (!piece.form.empty())
        if (const auto found = book::find<book::Form>(b, piece.form, "")) out.form = *found;
    if (out.when.empty() && out.record.attribution) {
        const auto& answer = out.record.attribution->answer;
        if (answer.is_object() && answer.contains("date") && answer["date"].is_object()) {
            const std::string years = answer["date"].value("edtf", "");
            if (const auto date = edtf::parse(years); date && !years.empty()) out.when = edtf::in_words(*date);
        }
    }
    return out;
}

Expected<std::vector<store::PieceRecord>> own_records(const Context& with, const std::string& lot) {
    store::Query query;
    query.lot = lot;
    query.sort = store::Query::Sort::kId;
    query.descending = false;
    query.limit = 1000;
    std::vector<store::PieceRecord> out;
    while (true) {
        auto page = with.store->find(query);
        if (!page) return std::unexpected(page.error());
        if (page->rows.empty()) break;
        query.offset += static_cast<int>(page->rows.size());
        std::ranges::move(page->rows, std::back_inserter(out));
    }
    if (with.others != nullptr)
        std::erase_if(out, [&](const auto& record) { return with.others->contains(record.piece.id); });
    return out;
}

bool belongs(const Book& b, const Subject& subject, const OwnPiece& piece) {
    if (const auto* treatment = std::get_if<book::Ref<book::Treatment>>(&subject))
        return piece.treatment == *treatment;
    if (const auto* shape = std::get_if<book::Ref<book::Shape>>(&subject)) return piece.shape == *shape;
    const auto ornament = std::get<book::Ref<book::Ornament>>(subject);
    for (const looks::Look& look : piece.record.piece.looks)
        if (const auto seen = book::find<book::Ornament>(b, look.seen.value, "");
            seen && *seen == ornament && look.seen.sure != looks::Sure::kGuess)
            return true;
    if (!piece.treatment) return false;
    const auto& rows = b.decoration_rows[piece.treatment->at];
    return std::ranges::any_of(rows, [&](std::uint32_t row) {
        return b.treatment_ornaments[row].ornament == ornament && b.treatment_ornaments[row].share > 0;
    });
}

}  // namespace

Expected<std::vector<OwnPiece>> pieces_of(const Order& order, const Context& with) {
    std::vector<OwnPiece> out;
    if (!order.pieces.empty()) {
        for (const std::string& id : order.pieces) {
            auto record = with.store->piece(id);
            if (!record) {
                Problem problem = record.error();
                problem.where = "piece " + id;
                return std::unexpected(std::move(problem));
            }
            out.push_back(own(with.book, std::move(*record)));
        }
        return out;
    }
    if (!order.lot.empty()) {
        const auto lots = with.store->lots();
        if (!lots) return std::unexpected(lots.error());
        if (std::ranges::find(*lots, order.lot, &store::Lot::id) == lots->end())
            return fail(ProblemCode::kNotFound, "lot", fmt::format("there is no lot '{}'", order.lot),
                        "check its id");
    }
    auto records = own_records(with, order.lot);
    if (!records) return std::unexpected(records.error());
    for (store::PieceRecord& record : *records) out.push_back(own(with.book, std::move(record)));
    return out;
}

Expected<std::vector<OwnPiece>> pieces_about(const Subject& subject, const Context& with) {
    std::vector<OwnPiece> out;
    if (with.store == nullptr) return out;
    auto records = own_records(with, "");
    if (!records) return std::unexpected(records.error());
    for (store::PieceRecord& record : *records)
        if (OwnPiece piece = own(with.book, std::move(record)); belongs(with.book, subject, piece))
            out.push_back(std::move(piece));
    return out;
}

Expected<Picture> small_photo(const store::Store& store, const std::string& sha256, const std::string& alt) {
    auto jpeg = store.thumbnail(sha256);
    if (!jpeg) return std::unexpected(jpeg.error());
    return photograph(std::move(*jpeg), alt, "photo-" + sha256.substr(0, 12));
}

Expected<Picture> large_photo(const store::Store& store, const std::string& sha256, int longest,
                              const std::string& alt) {
    const auto bytes = store.photo_bytes(sha256);
    if (!bytes) return std::unexpected(bytes.error());
    auto small = photo::thumbnail(*bytes, longest, "photo-" + sha256.substr(0, 12));
    if (!small) return std::unexpected(small.error());
    return photograph(std::move(small->jpeg), alt, "photo-" + sha256.substr(0, 12));
}

std::string piece_name(const Book& b, const OwnPiece& piece) {
    std::vector<std::string> parts;
    if (piece.form) parts.push_back(form_of(b, *piece.form));
    else if (!piece.record.piece.form.empty()) parts.push_back(piece.record.piece.form);
    if (piece.shape) parts.push_back(shape_of(b, *piece.shape));
    if (piece.treatment) parts.push_back(called(b, *piece.treatment));
    return parts.empty() ? "Piece" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string certainty(const Book& b, const OwnPiece& piece) {
    if (!piece.record.decision) return "undecided";
    std::vector<std::string> parts;
    const store::Decision& decision = *piece.record.decision;
    if (!piece.treatment)
        parts.push_back(decision.treatment == "unlisted"    ? "a treatment no pack lists"
                        : decision.treatment == "elsewhere" ? "made or decorated elsewhere"
                                                            : decision.treatment);
    if (!decision.grade.empty()) parts.push_back(decision.grade == "second" ? "second-grade ware" : "first run");
    if (!piece.when.empty()) parts.push_back(piece.when);
    (void)b;
    return parts.empty() ? "decided" : "decided: " + joined(parts, ", ");
}

}  // namespace footring::papers
