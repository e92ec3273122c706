// book/pack_edit.h - one edit of one pack, over several tables and drawings, as a whole or not at all.
//   in      the packs as they were opened (with the digest of every file that was read), and the edit
//   out     what the pack's files would hold, the Book that comes of it, and what changed row by row. Nothing is
//           written here: pack_writer.h does that with `files`.
//   errors  in EditedPacks::faults, every one at once: those of the edit, and all that reading the edited packs
//   finds.
//           kConflict alone when a file on the disk is not as it was opened.
//   rules   what a row states carries its source: a new row names one, and a row that names one keeps one. A
//   drawing
//           is a PNG or a plain SVG (svg_check.h) of at most kMostDrawingBytes, and never takes another's place.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "book/edit.h"

namespace footring::book {

using FileDigests = std::map<std::string, std::string>;  // by path inside the pack: of each file that was read

struct OpenedPacks {
    std::vector<std::filesystem::path> folders;
    Book book;
    std::vector<FileDigests> files;  // by pack
    std::vector<std::string> ids() const;
};
std::expected<OpenedPacks, std::vector<Problem>> open_packs(const std::vector<std::filesystem::path>& folders);

struct NewFile {
    std::string path;                  // inside the pack, ending in .svg or .png
    std::optional<std::string> bytes;  // absent: the file goes
};
struct PackEdit {
    std::string pack;
    std::vector<RowEdit> rows;
    std::vector<NewFile> files;
    bool asks_for_sources = true;  // false: an undo, which may bring back a row without one
};

struct FileChange {
    std::string path;
    std::optional<std::string> before, after;  // absent: there was none, there is none
};
// A fault, and which cell of the edit it speaks of where it speaks of one.
struct EditFault {
    Problem problem;
    std::optional<std::size_t> row;  // index into PackEdit::rows
    std::string column;
};
struct EditedPacks {
    std::vector<EditFault> faults;   // not empty: nothing else of this may be used, but `notes`
    std::vector<std::string> notes;  // what is allowed and yet worth a look
    OpenedPacks opened;              // as the packs would be
    std::vector<FileChange> files;   // of the edited pack
    std::vector<RowChange> rows;     // of the edited pack
    std::filesystem::path folder;    // the edited pack
};
// By pack: its folder, its id, and the files as they were when it was opened.
EditedPacks edit_packs(const std::vector<std::filesystem::path>& folders, const std::vector<std::string>& ids,
                       const std::vector<FileDigests>& files, const PackEdit&);

// A table of a pack as text, for forms and lists of its rows.
struct TableText {
    std::string path, text;  // text empty: the file is not there
    char delimiter = ',';
    bool listed = false;  // the descriptor names it
};
Expected<TableText> table_text(const std::filesystem::path& folder, const Table&);

// Where a new row belongs: behind the last one of the same subject (treatment, shape, series), else 0.
std::uint32_t line_for_new_row(const Table&, const TableText&, const Cells&);

// The problem that the pack was changed by another program.
Problem changed_meanwhile(const std::string& where);

}  // namespace footring::book
