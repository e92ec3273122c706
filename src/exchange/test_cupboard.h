// exchange/test_cupboard.h - a small reference and records for the tests of this room and of the server.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "book/book.h"
#include "store/store.h"

namespace footring::exchange::testing {

inline std::vector<std::string> lines_of(const std::vector<Problem>& problems) {
    std::vector<std::string> out;
    for (const Problem& problem : problems) out.push_back(to_line(problem));
    return out;
}

inline book::Book small_book() {
    book::Book book;
    book::Pack pack;
    pack.id = "demo";
    book.packs.push_back(pack);
    const auto add = [](auto& table, const char* id, const char* name) -> auto& {
        auto& row = table.emplace_back();
        row.id = id;
        row.name = name;
        return row;
    };
    add(book.shapes, "harrow", "Harrow");
    add(book.shapes, "plough", "Plough");
    add(book.forms, "plate", "Dinner plate");
    add(book.forms, "sugar", "Sugar bowl").ware = book::Ware::kHollow;
    add(book.glazes, "oat", "Oat");
    add(book.glazes, "ivory", "Ivory");
    add(book.ornaments, "fern-pair", "Fern pair");
    add(book.ornaments, "rosette", "Rosette");
    book::Mark mark;
    mark.id = "m-3";
    mark.wording = "WARRANTED";
    book.marks.push_back(mark);
    for (const char* number : {"117", "162"}) {
        book::Treatment treatment{};
        treatment.id = std::string("t-") + number;
        treatment.number = number;
        treatment.name = "Fern";
        treatment.shape = {0};
        treatment.glaze = book::Ref<book::Glaze>{0};
        book.treatments.push_back(treatment);
    }
    book.index();
    return book;
}

// Every field filled, with text that is awkward in a table.
inline store::PieceRecord full_record(const std::string& id) {
    using looks::Sure;
    store::PieceRecord record;
    looks::Piece& piece = record.piece;
    piece.id = id;
    piece.form = "sugar";
    piece.shape = {"harrow", Sure::kLikely};
    piece.glaze = {"oat", Sure::kSure};
    piece.wear = looks::Wear::kModerate;
    piece.looks = {{book::Place::kRim, {"fern-pair", Sure::kSure}},
                   {book::Place::kEdge, {"none", Sure::kLikely}},
                   {book::Place::kCentre, {"something", Sure::kGuess}}};
    piece.mark = {"m-3", Sure::kGuess};
    piece.number = {"1?7", Sure::kLikely};
    piece.date_code = "-B";
    piece.faults = looks::Faults::kFew;
    piece.length_mm = 121;
    piece.width_mm = 120.5;
    piece.height_mm = 0.1 + 0.2;
    record.place = "=HYPERLINK(\"x\")";
    record.cost = 12.25;
    record.currency = "GBP";
    record.note = "two\nlines, a \"quote\", ' and\ttab ";
    record.decision = store::Decision{"demo:t-117", "first", "1931/1940", "+sure of it"};
    record.search_words = "117 Fern Harrow Oat";
    return record;
}

}  // namespace footring::exchange::testing
