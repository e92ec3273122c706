// papers/gather.h - one's own pieces as papers show them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "papers/kinds.h"
#include "papers/paper.h"
#include "papers/subject.h"
#include "store/store.h"

namespace footring::papers {

struct OwnPiece {
    store::PieceRecord record;
    std::optional<book::Ref<book::Treatment>> treatment;  // decided by the person, and in an open pack
    std::optional<book::Ref<book::Shape>> shape;          // of the decision, else as it was seen
    std::optional<book::Ref<book::Form>> form;
    std::string when;  // the decided date in words, else the median that the engine gave; empty: neither
};

// Pieces of the order: those named, else those of its lot, else all; in the order of their ids (those named: as
// named). kNotFound for an id that the store has not.
Expected<std::vector<OwnPiece>> pieces_of(const Order&, const Context&);
// Those that have to do with the subject: decided so, or seen with its ornament or shape. Empty without a store.
Expected<std::vector<OwnPiece>> pieces_about(const Subject&, const Context&);

// The small JPEG of a photograph: upright, without what the camera wrote about place and owner.
Expected<Picture> small_photo(const store::Store&, const std::string& sha256, const std::string& alt);
// The photograph itself, at most `longest` px.
Expected<Picture> large_photo(const store::Store&, const std::string& sha256, int longest, const std::string& alt);

std::string piece_name(const book::Book&, const OwnPiece&);  // "Sugar, Harrow, 117 Fern pair"
std::string certainty(const book::Book&,
                      const OwnPiece&);  // "decided: second-grade ware, 1930 to 1937" or "undecided"

}  // namespace footring::papers
