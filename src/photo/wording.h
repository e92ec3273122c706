// photo/wording.h - the mark on the underside: found, set upright, read, and compared with the packs' marks.
//   in      the photograph; the outline when one was found (else the whole picture is searched)
//   out     words with the reader's confidence, marks by likeness of wording, numbers, date codes by the packs'
//           code schemes
//   source  Tesseract 5, English, as it comes; several turns and binarisations; curved text unrolled round its
//   circle One reader per call: Tesseract's engine is not shared between threads.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "book/book.h"
#include "photo/outline.h"
#include "photo/picture.h"

namespace footring::photo {

// Whether a photograph without a stated side shows an underside: ink or relief in lines of text near the middle.
bool looks_like_back(const Picture&, const std::optional<Plate>&);

Wording read_wording(const Picture&, const std::optional<Plate>&, const book::Book&,
                     const std::function<bool()>& stop);

// How alike a wording as read and that of a mark are, 0..1: case, spacing, breaks, lost and misread letters
// (0/O, 1/I/l, 5/S, 8/B ...) cost little. Pure.
double likeness(std::string_view read, std::string_view mark_wording);

}  // namespace footring::photo
