// exchange/site_page.h - what every page of the site shares: its frame, its addresses, and the small pieces of
// HTML. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"

namespace footring::exchange {

// A name that every file system and every address bar takes: letters, figures, '.', '-' and '_' stay; an id that
// has others gets a digest, so that two ids never share a file.
std::string file_name(std::string_view id);

template <class T>
std::string page_of(const book::Book& book, book::Ref<T> ref) {  // "treatments/ambrel-valley/t-117.html"
    return std::string(book::Book::table_name<T>()) + "/" + file_name(book.packs[book[ref].origin.pack].id) + "/" +
           file_name(book[ref].id) + ".html";
}
inline std::string page_of_piece(const std::string& id) { return "pieces/" + file_name(id) + ".html"; }

std::string escaped(std::string_view text);  // for HTML

// A page on its way: `path` is its own, so that links in it can be relative to it.
class SitePage {
  public:
    SitePage(std::string path, std::string title, std::string kind);

    const std::string& path() const { return path_; }
    std::string to(std::string_view path) const;                           // the relative address of another page
    std::string link(std::string_view path, std::string_view text) const;  // <a>; both plain text

    void raw(std::string_view html) { body_ += html; }
    void heading(std::string_view text);    // h2
    void paragraph(std::string_view text);  // plain text; nothing when empty
    // A row of a list of facts; `html` is markup. Nothing when empty.
    void fact(std::string_view name, std::string_view html);
    void end_facts();
    void list(const std::vector<std::string>& items);  // markup; nothing when empty
    // A table of markup cells; nothing when it has no rows.
    void table(std::string_view caption, const std::vector<std::string>& columns,
               const std::vector<std::vector<std::string>>& rows);

    std::string html(std::string_view site_title) const;

  private:
    std::string path_, title_, kind_, body_, up_;
    bool in_facts_ = false;
};

}  // namespace footring::exchange
