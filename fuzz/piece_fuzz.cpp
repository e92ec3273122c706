// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as a piece file. What is read must print as a file that reads the same; what is refused must be
// refused on one line each, with a place, a reason and a remedy. Looking its ids up in a small Book must not fail
// otherwise.
#include <cstdint>

#include "base/text.h"
#include "book/pack_text.h"
#include "holds.h"
#include "looks/piece.h"
#include "looks/resolve.h"

using namespace footring;

namespace {

void check_faults(const std::vector<Problem>& problems) {
    HOLDS(!problems.empty());
    for (const Problem& p : problems) {
        HOLDS(p.where.starts_with("p.json") && !p.what.empty() && !p.remedy.empty());
        HOLDS(is_utf8(p.where) && is_utf8(p.what) && is_utf8(p.remedy));
        HOLDS(exit_status(p.code) == 2);
        HOLDS(to_line(p).find('\n') == std::string::npos);
    }
}

const book::Book& small_book() {
    static const book::Book kBook = book::book_from_tables({
        {"forms", "id,ware\nplate,flat\nsugar,hollow\n"},
        {"shapes", "id\nharrow\n"},
        {"glazes", "id\noat\n"},
        {"ornaments", "id,kind,finish\nfern-pair,stamp,gold\n"},
        {"marks", "id\nm-3\n"},
    });
    return kBook;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    std::vector<std::string> notes;
    const auto pieces = looks::pieces_from_json(text, "p.json", notes);
    if (!pieces) {
        check_faults(pieces.error());
        return 0;
    }
    for (const looks::Piece& piece : *pieces) {
        std::vector<std::string> none;
        const auto again = looks::piece_from_json(looks::to_json(piece).dump(), "p.json", none);
        HOLDS(again.has_value() && none.empty());
        HOLDS(*again == piece);
        const auto found = looks::resolve(piece, small_book(), {}, "p.json");
        if (!found) check_faults(found.error());
        else HOLDS(found->ornaments.size() == piece.looks.size());
    }
    return 0;
}
