// SPDX-License-Identifier: Apache-2.0
#include "papers/reply_paper.h"

#include <fmt/format.h>

#include "base/text.h"
#include "papers/gather.h"
#include "papers/pictures.h"
#include "papers/words.h"

namespace footring::papers {

namespace {

// Lines of the text between empty lines.
std::vector<std::vector<std::string>> paragraphs_of(const std::string& text) {
    std::vector<std::vector<std::string>> out(1);
    std::size_t from = 0;
    while (from <= text.size()) {
        const std::size_t end = std::min(text.find('\n', from), text.size());
        const std::string line(trim(std::string_view(text).substr(from, end - from)));
        if (!line.empty()) out.back().push_back(line);
        else if (!out.back().empty()) out.emplace_back();
        from = end + 1;
    }
    if (out.back().empty()) out.pop_back();
    return out;
}

std::string in_one_line(const std::string& text) { return joined(split(text, '\n'), ", "); }

}  // namespace

Expected<void> show_piece(ReplySheet& sheet, const book::Book& book, const store::Store* store,
                          const ReplyPiece& piece) {
    constexpr std::size_t kMostPhotos = 3;  // of a piece: a reply is no album
    if (store != nullptr) {
        const auto photos = store->photos(piece.id);
        if (!photos) return std::unexpected(photos.error());
        for (std::size_t at = 0; at < std::min(photos->size(), kMostPhotos); ++at) {
            auto picture = small_photo(*store, (*photos)[at].sha256, fmt::format("Photograph of {}", piece.id));
            if (!picture) return std::unexpected(picture.error());
            sheet.pictures.push_back({std::move(*picture), Text("As you showed it."), {}, {}});
        }
    }
    if (piece.likeliest)
        sheet.pictures.push_back({glyph(book, *piece.likeliest, piece.form),
                                  Text("The likeliest, drawn: " + called(book, *piece.likeliest) + "."),
                                  {},
                                  {}});
    return {};
}

Paper reply_paper(const ReplySheet& sheet) {
    Paper paper;
    paper.kind = "Reply";
    paper.title = sheet.about.empty() ? "Your question" : capital(sheet.about);
    paper.about = "The reply to a question about pieces of dinnerware.";
    paper.date = sheet.date;
    Facts facts;
    if (!sheet.name.empty()) facts.rows.push_back({"To", Text(sheet.name)});
    if (const std::string address = in_one_line(sheet.address); !address.empty())
        facts.rows.push_back({facts.rows.empty() ? "To" : "", Text(address)});
    if (!sheet.date.empty()) {
        const auto date = edtf::parse(sheet.date);
        facts.rows.push_back({"Date", Text(date ? edtf::in_words(*date) : sheet.date)});
    }
    if (!facts.rows.empty()) paper.blocks.emplace_back(std::move(facts));
    for (const auto& lines : paragraphs_of(sheet.text))
        for (std::size_t at = 0; at < lines.size(); ++at) {
            Paragraph one{Text(lines[at])};
            one.keep = at + 1 < lines.size();
            paper.blocks.emplace_back(std::move(one));
        }
    if (!sheet.pictures.empty()) paper.blocks.emplace_back(Figures{sheet.pictures, 48});
    return paper;
}

}  // namespace footring::papers
