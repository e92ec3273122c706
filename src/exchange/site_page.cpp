// SPDX-License-Identifier: Apache-2.0
#include "exchange/site_page.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "store/sha256.h"

namespace footring::exchange {

std::string file_name(std::string_view id) {
    constexpr std::string_view kPlain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.";
    std::string out;
    for (const char c : id.substr(0, 80)) out += kPlain.find(c) != std::string_view::npos ? c : '_';
    // Capitals get a digest too: some file systems take "P-1" and "p-1" for one name.
    const bool same =
        out == id && !out.starts_with('.') && std::ranges::none_of(id, [](char c) { return c >= 'A' && c <= 'Z'; });
    return same && !out.empty() ? out : "_" + out + "-" + store::sha256_of(id).substr(0, 12);
}

std::string escaped(std::string_view text) { return escape_markup(text); }

SitePage::SitePage(std::string path, std::string title, std::string kind)
    : path_(std::move(path)), title_(std::move(title)), kind_(std::move(kind)) {
    for (const char c : path_)
        if (c == '/') up_ += "../";
}

std::string SitePage::to(std::string_view path) const { return up_ + std::string(path); }
std::string SitePage::link(std::string_view path, std::string_view text) const {
    return fmt::format("<a href=\"{}\">{}</a>", escaped(to(path)), escaped(text));
}

void SitePage::heading(std::string_view text) { body_ += fmt::format("<h2>{}</h2>\n", escaped(text)); }
void SitePage::paragraph(std::string_view text) {
    if (!text.empty()) body_ += fmt::format("<p>{}</p>\n", escaped(text));
}
void SitePage::fact(std::string_view name, std::string_view html) {
    if (html.empty()) return;
    if (!in_facts_) body_ += "<dl>\n";
    in_facts_ = true;
    body_ += fmt::format("<dt>{}</dt><dd>{}</dd>\n", escaped(name), html);
}
void SitePage::end_facts() {
    if (in_facts_) body_ += "</dl>\n";
    in_facts_ = false;
}
void SitePage::list(const std::vector<std::string>& items) {
    if (items.empty()) return;
    body_ += "<ul>\n";
    for (const std::string& item : items) body_ += fmt::format("<li>{}</li>\n", item);
    body_ += "</ul>\n";
}
void SitePage::table(std::string_view caption, const std::vector<std::string>& columns,
                     const std::vector<std::vector<std::string>>& rows) {
    if (rows.empty()) return;
    // A wide table scrolls by itself, so that the page does not; whoever has no mouse can reach it.
    body_ += fmt::format(
        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{0}\"><table>"
        "<caption>{0}</caption>\n<thead><tr>",
        escaped(caption));
    for (const std::string& column : columns) body_ += fmt::format("<th scope=\"col\">{}</th>", escaped(column));
    body_ += "</tr></thead>\n<tbody>\n";
    for (const auto& row : rows) {
        body_ += "<tr>";
        for (std::size_t i = 0; i < row.size(); ++i)
            body_ += i == 0 ? fmt::format("<th scope=\"row\">{}</th>", row[i]) : fmt::format("<td>{}</td>", row[i]);
        body_ += "</tr>\n";
    }
    body_ += "</tbody></table></div>\n";
}

std::string SitePage::html(std::string_view site_title) const {
    struct Room {
        std::string_view path, name;
    };
    constexpr Room kRooms[] = {{"treatments/index.html", "Treatments"}, {"ornaments/index.html", "Ornaments"},
                               {"shapes/index.html", "Shapes"},         {"makers/index.html", "Makers"},
                               {"glazes/index.html", "Glazes"},         {"marks/index.html", "Marks"},
                               {"sources/index.html", "Sources"},       {"pieces/index.html", "Pieces"}};
    std::string rooms;
    for (const Room& room : kRooms)
        rooms += fmt::format("<li><a href=\"{}{}\"{}>{}</a></li>", up_, room.path,
                             room.path == path_ ? " aria-current=\"page\"" : "", room.name);
    const std::string whole = title_ == site_title ? title_ : fmt::format("{} - {}", title_, site_title);
    return fmt::format(R"(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; base-uri 'none'; form-action 'none'">
<title>{0}</title>
<link rel="stylesheet" href="{1}site.css">
<script defer src="{1}search-index.js"></script>
<script defer src="{1}search.js"></script>
</head>
<body data-up="{1}">
<a class="skip" href="#content">Skip to the page</a>
<header>
<p class="site"><a href="{1}index.html">{2}</a></p>
<form role="search" hidden>
<label for="find">Find</label>
<input id="find" type="search" autocomplete="off" spellcheck="false" role="combobox" aria-expanded="false" aria-controls="found" aria-autocomplete="list">
<ul id="found" role="listbox" aria-label="Found" hidden></ul>
<p class="said" role="status"></p>
</form>
<nav aria-label="Rooms"><ul>{3}</ul></nav>
</header>
<main id="content">
<h1>{4}{5}</h1>
{6}</main>
</body>
</html>
)",
                       escaped(whole), up_, escaped(site_title), rooms,
                       kind_.empty() ? "" : fmt::format("<small>{}</small> ", escaped(kind_)), escaped(title_),
                       body_);
}

}  // namespace footring::exchange
