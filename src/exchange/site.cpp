// SPDX-License-Identifier: Apache-2.0
#include "exchange/site.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <set>
#include <utility>

#include "exchange/json_text.h"
#include "exchange/site_book.h"
#include "exchange/site_files.h"
#include "exchange/site_page.h"

namespace footring::exchange {

namespace {

std::string photo_path(const std::string& sha256) { return "photos/" + sha256 + ".jpg"; }

std::string title_of(const book::Book& book, const SiteOptions& options) {
    if (!options.title.empty()) return options.title;
    std::string out;
    for (const book::Pack& pack : book.packs) out += (out.empty() ? "" : "; ") + pack.title;
    return out.empty() ? "Dinnerware" : out;
}

class SiteWriter {
  public:
    SiteWriter(const book::Book& book, const std::vector<Described>& pieces, const SiteOptions& options,
               const SitePhoto& photo, const SiteWrite& write)
        : book_(book),
          pieces_(pieces),
          options_(options),
          photo_(photo),
          write_(write),
          title_(title_of(book, options)) {}

    Expected<SiteCount> all() {
        PiecesByTreatment by_treatment;
        for (const Described& piece : pieces_)
            if (piece.treatment)
                by_treatment[piece.treatment->first].push_back({piece.id, piece.title, page_of_piece(piece.id)});
        const auto give = [&](const SitePage& page) -> Expected<void> {
            ++count_.pages;
            return write_(page.path(), page.html(title_));
        };
        if (auto done = book_pages(book_, by_treatment, finds_, give); !done) return std::unexpected(done.error());
        for (const Described& piece : pieces_)
            if (auto done = piece_page(piece, give); !done) return std::unexpected(done.error());
        if (auto done = give(piece_list()); !done) return std::unexpected(done.error());
        if (auto done = give(front()); !done) return std::unexpected(done.error());
        for (const auto& [path, text] : {std::pair<std::string, std::string>{"site.css", std::string(kSiteCss)},
                                         {"search.js", std::string(kSiteSearch)},
                                         {"search-index.js", index()}})
            if (auto done = write_(path, text); !done) return std::unexpected(done.error());
        count_.pieces = static_cast<int>(pieces_.size());
        return count_;
    }

  private:
    template <class Give>
    Expected<void> piece_page(const Described& piece, const Give& give) {
        SitePage page(page_of_piece(piece.id), piece.title, "Piece " + piece.id);
        page.paragraph(piece.summary);
        std::string shown;
        for (const store::PhotoMeta& photo : piece.photos) {
            if (!written_.contains(photo.sha256)) {
                auto jpeg = photo_(photo.sha256);
                if (!jpeg) return std::unexpected(jpeg.error());
                if (jpeg->empty()) continue;
                if (auto done = write_(photo_path(photo.sha256), *jpeg); !done)
                    return std::unexpected(done.error());
                written_.insert(photo.sha256);
                ++count_.photographs;
            }
            shown += fmt::format("<img src=\"{}\" alt=\"Photograph {} of {}: {}\" loading=\"lazy\">\n",
                                 page.to(photo_path(photo.sha256)), 1 + (&photo - piece.photos.data()),
                                 piece.photos.size(), escaped(piece.title));
        }
        if (!shown.empty()) page.raw("<div class=\"photos\">\n" + shown + "</div>\n");
        page.fact("Form", escaped(piece.form));
        page.fact("Shape", escaped(piece.shape));
        page.fact("Maker", piece.maker ? link(page, *piece.maker, book_.makers) : "");
        page.fact("Treatment", piece.treatment ? link(page, *piece.treatment, book_.treatments) : "");
        page.fact("Number", escaped(piece.number));
        page.fact("Glaze", escaped(piece.glaze));
        page.fact("Date", escaped(piece.date_words));
        page.fact("Grade", escaped(piece.grade));
        page.fact("Mark", escaped(piece.mark));
        std::string size;
        for (const auto& [what, mm] :
             {std::pair{"long", piece.length_mm}, {"wide", piece.width_mm}, {"high", piece.height_mm}})
            if (mm) size += fmt::format("{}{:g} mm {}", size.empty() ? "" : ", ", *mm, what);
        page.fact("Size", size);
        page.end_facts();
        if (!piece.decoration.empty()) page.heading("Decoration");
        std::vector<std::string> items;
        for (const std::string& one : piece.decoration) items.push_back(escaped(one));
        page.list(items);
        if (!piece.sources.empty()) page.heading("What the name rests on");
        items.clear();
        for (const std::string& one : piece.sources) items.push_back(escaped(one));
        page.list(items);
        finds_.push_back({piece.title, "piece", piece.id, page.path()});
        return give(page);
    }

    SitePage piece_list() const {
        SitePage page("pieces/index.html", "Pieces", "");
        page.paragraph(pieces_.empty() ? "No pieces are shown." : fmt::format("{} in all.", pieces_.size()));
        std::vector<std::vector<std::string>> rows;
        for (const Described& piece : pieces_)
            rows.push_back({page.link(page_of_piece(piece.id), piece.title), escaped(piece.id),
                            escaped(piece.date_words), escaped(piece.grade)});
        page.table("Pieces", {"Piece", "Id", "Date", "Grade"}, rows);
        return page;
    }

    SitePage front() const {
        SitePage page("index.html", title_, "");
        page.paragraph(options_.note);
        for (const book::Pack& pack : book_.packs) page.paragraph(pack.description);
        page.heading("What is here");
        const std::pair<std::string_view, std::size_t> tables[] = {
            {"treatments", book_.treatments.size()}, {"ornaments", book_.ornaments.size()},
            {"shapes", book_.shapes.size()},         {"makers", book_.makers.size()},
            {"glazes", book_.glazes.size()},         {"marks", book_.marks.size()},
            {"sources", book_.sources.size()},       {"pieces", pieces_.size()}};
        std::vector<std::string> items;
        for (const auto& [table, rows] : tables)
            items.push_back(
                page.link(fmt::format("{}/index.html", table),
                          fmt::format("{} {}", rows, table.substr(0, table.size() - (rows == 1 ? 1 : 0)))));
        page.list(items);
        page.heading("How to take it");
        page.paragraph(
            "Every statement of the reference stands with its source. What is said of a piece is what its keeper "
            "decided, or what was seen where nothing was decided.");
        page.paragraph(
            "Old tableware can give off lead or cadmium, and metal trim sparks in a microwave oven. Have a piece "
            "tested "
            "by an accredited laboratory before it is used for food.");
        if (!book_.packs.empty()) {
            page.heading("Packs");
            items.clear();
            for (const book::Pack& pack : book_.packs)
                items.push_back(escaped(fmt::format("{} {} ({})", pack.title, pack.version, pack.id)));
            page.list(items);
        }
        return page;
    }

    // The page of a row by its full id; its name alone when no open pack has it any more.
    template <class T>
    std::string link(const SitePage& page, const std::pair<std::string, std::string>& named,
                     const std::vector<T>&) const {
        const auto found = book::find<T>(book_, named.first, "");
        return found ? page.link(page_of(book_, *found), named.second) : escaped(named.second);
    }

    std::string index() const {
        nlohmann::ordered_json rows = nlohmann::ordered_json::array();
        for (const SiteFind& find : finds_) rows.push_back({find.name, find.kind, find.detail, find.path});
        return "window.siteIndex = " + print_json(rows) + ";\n";
    }

    const book::Book& book_;
    const std::vector<Described>& pieces_;
    const SiteOptions& options_;
    const SitePhoto& photo_;
    const SiteWrite& write_;
    const std::string title_;
    std::vector<SiteFind> finds_;
    std::set<std::string> written_;
    SiteCount count_;
};

}  // namespace

Expected<SiteCount> write_site(const book::Book& book, const std::vector<Described>& pieces,
                               const SiteOptions& options, const SitePhoto& photo, const SiteWrite& write) {
    return SiteWriter(book, pieces, options, photo, write).all();
}

}  // namespace footring::exchange
