// SPDX-License-Identifier: Apache-2.0
#include "cli/piece_files.h"

#include <fmt/format.h>

#include <algorithm>

#include "cli/files.h"

namespace footring::cli {

std::vector<Asked> read_pieces(const Call& call, World& world, const Reference& reference,
                               std::vector<Problem>& problems) {
    std::vector<Asked> asked;
    const auto report = [&](std::vector<Problem> found) {
        problems.insert(problems.end(), std::make_move_iterator(found.begin()),
                        std::make_move_iterator(found.end()));
    };
    if (std::ranges::count(call.arguments, "-") > 1) {
        problems.push_back({ProblemCode::kBadInput, "standard input", "is named twice", "write - once"});
        return asked;
    }
    for (const std::string& path : call.arguments) {
        const std::string name = path == "-" ? "standard input" : path;
        const auto text = read_file_or_stdin(path, world);
        if (!text) {
            problems.push_back(text.error());
            continue;
        }
        std::vector<std::string> notes;
        auto pieces = looks::pieces_from_json(*text, name, notes);
        if (!pieces) {
            report(pieces.error());
            continue;
        }
        if (pieces->empty())
            problems.push_back({ProblemCode::kBadInput, name, "there is no piece in this file",
                                "write a piece, or a list of pieces"});
        const bool list = text->find_first_not_of(" \t\r\n\xEF\xBB\xBF") != std::string::npos &&
                          (*text)[text->find_first_not_of(" \t\r\n\xEF\xBB\xBF")] == '[';
        for (std::size_t i = 0; i < pieces->size(); ++i) {
            const std::string inside = list ? fmt::format("/{}", i) : "";
            auto findings = looks::resolve((*pieces)[i], reference.book, reference.settings, name);
            if (!findings) {
                // "pieces.json: /form" becomes "pieces.json: /3/form"
                for (Problem& problem : findings.error())
                    if (problem.where.starts_with(name + ": /")) problem.where.insert(name.size() + 2, inside);
                report(findings.error());
                continue;
            }
            std::vector<std::string> own;
            for (const std::string& note : notes)
                if (note.starts_with(fmt::format("{}: {}/", name, inside))) own.push_back(note);
            asked.push_back({std::move((*pieces)[i]), std::move(*findings), std::move(own)});
        }
    }
    return asked;
}

std::string piece_title(const book::Book& book, const looks::Piece& piece, const looks::Findings& findings,
                        Ink ink) {
    std::string known;
    if (findings.form) known = form_name(book, *findings.form);
    if (piece.shape)
        if (const auto* shape = std::get_if<book::Ref<book::Shape>>(&findings.shape->value))
            known += (known.empty() ? "" : ", ") + shape_name(book, *shape);
    return ink.strong(piece.id.empty() ? "This piece" : piece.id) + (known.empty() ? "" : ink.faint("  " + known));
}

}  // namespace footring::cli
