// cli/piece_files.h - the piece files of a command line, tied to the Book: everything that is wrong with all of
// them is told before anything is answered. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "cli/command.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "looks/piece.h"
#include "looks/resolve.h"

namespace footring::cli {

struct Asked {
    looks::Piece piece;
    looks::Findings findings;
    std::vector<std::string> notes;
};
std::vector<Asked> read_pieces(const Call&, World&, const Reference&, std::vector<Problem>&);

// "p-0041  Sugar, lidded, Harrow": what the person knows of it already.
std::string piece_title(const book::Book&, const looks::Piece&, const looks::Findings&, Ink);

}  // namespace footring::cli
