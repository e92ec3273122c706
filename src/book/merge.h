// book/merge.h - two people's edits of one pack, brought together.
//   in      the tables of the pack as both had it, as one has it (mine) and as the other has it (theirs)
//   out     edits of mine, so that what theirs did not touch keeps every byte. A row or cell that only one changed
//   is
//           taken from that one; sources that both added are joined. Where both changed one cell in two ways, mine
//           stays and both are kept as statements: one for each value, and one against mine from theirs, which
//           makes it contested. A row that one took out and the other changed stays, and is told.
//   A row is known by its key (book/tables.h); rows of a table without a key are known by all their cells.
//   Pure. The merged pack still has to be checked: what each edit meant for itself may not fit together.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "book/edit.h"
#include "book/pack_edit.h"

namespace footring::book {

struct MergeConflict {
    std::string table, row, column;  // row: its key; column empty: the row as a whole
    std::string base, mine, theirs;  // of the cell
    std::string kept;                // what became of it, a sentence
};
struct MergedSheet {
    std::vector<RowEdit> edits;       // of mine
    std::vector<RowEdit> statements;  // rows of the table of statements, without ids
    std::vector<MergeConflict> conflicts;
    std::vector<std::string> notes;
    int taken = 0;  // rows added, changed or taken out as theirs has it
};
MergedSheet merge_sheet(const Table&, const std::vector<TextRow>& base, const std::vector<TextRow>& mine,
                        const std::vector<TextRow>& theirs, const std::vector<std::string>& columns_of_mine);

struct MergedPack {
    std::vector<FileChange> files;  // of mine
    std::vector<MergeConflict> conflicts;
    std::vector<std::string> notes;
    int taken = 0;
};
std::expected<MergedPack, std::vector<Problem>> merge_packs(const std::filesystem::path& base,
                                                            const std::filesystem::path& mine,
                                                            const std::filesystem::path& theirs);

}  // namespace footring::book
