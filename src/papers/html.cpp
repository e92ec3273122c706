// SPDX-License-Identifier: Apache-2.0
#include "papers/html.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "papers/html_style.h"

namespace footring::papers {

namespace {

std::string base64(std::string_view bytes) {
    static constexpr char kDigits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const auto at = [&](std::size_t k) -> unsigned {
            return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0;
        };
        const unsigned three = at(0) << 16 | at(1) << 8 | at(2);
        out += kDigits[three >> 18 & 63];
        out += kDigits[three >> 12 & 63];
        out += i + 1 < bytes.size() ? kDigits[three >> 6 & 63] : '=';
        out += i + 2 < bytes.size() ? kDigits[three & 63] : '=';
    }
    return out;
}

// Only addresses that a reader expects behind a link; anything else is shown as text.
bool is_address(std::string_view link) {
    return link.starts_with("https://") || link.starts_with("http://") || link.starts_with("mailto:");
}

struct Writer {
    std::string out;
    int headings_below = 1;  // an h2 is the first below the title

    void text(const Text& text) {
        for (const Run& run : text.runs) {
            const bool linked = run.link.starts_with('#') || is_address(run.link);
            if (linked) out += fmt::format("<a href=\"{}\">", escape_markup(run.link));
            const char* tag = run.style == Run::Style::kItalic ? "em"
                              : run.style == Run::Style::kBold ? "strong"
                                                               : "";
            if (*tag != 0) out += fmt::format("<{}>", tag);
            out += escape_markup(run.text);
            if (*tag != 0) out += fmt::format("</{}>", tag);
            if (linked) out += "</a>";
        }
    }
    // As an image each drawing keeps to itself: its ids cannot meet those of another.
    void picture(const Picture& picture, double width_mm, const char* kind = "") {
        const std::string data = picture.jpeg.empty() ? "data:image/svg+xml;base64," + base64(picture.svg)
                                                      : "data:image/jpeg;base64," + base64(picture.jpeg);
        out +=
            fmt::format("<img{} src=\"{}\" alt=\"{}\" width=\"{:.0f}\" height=\"{:.0f}\" style=\"width:{:.1f}mm\">",
                        *kind != 0 ? fmt::format(" class=\"{}\"", kind) : "", data, escape_markup(picture.alt),
                        width_mm * 96 / 25.4, width_mm * 96 / 25.4 * picture.height / picture.width, width_mm);
    }
    static std::string named(const std::string& id) {
        return id.empty() ? "" : fmt::format(" id=\"{}\"", escape_markup(id));
    }
    void aside(const std::string& words) {
        if (!words.empty()) out += fmt::format("<span class=\"aside\">{}</span> ", escape_markup(words));
    }

    void operator()(const Heading& h) {
        const int level = std::clamp(h.level, 1, 4) + 1;
        out += fmt::format("<h{}{}>{}", level, named(h.id), escape_markup(curled(h.text)));
        if (!h.aside.empty()) out += fmt::format(" <small>{}</small>", escape_markup(h.aside));
        out += fmt::format("</h{}>\n", level);
    }
    void operator()(const Paragraph& p) {
        static constexpr const char* kKinds[] = {"", " class=\"lead\"", " class=\"note\"", " class=\"caution\"",
                                                 " class=\"listed\""};
        out += fmt::format("<p{}{}>", kKinds[static_cast<std::size_t>(p.kind)], named(p.id));
        aside(p.aside);
        text(p.text);
        out += "</p>\n";
    }
    void operator()(const List& list) {
        out += list.numbered ? "<ol>\n" : "<ul>\n";
        for (const Text& item : list.items) {
            out += "<li>";
            text(item);
            out += "</li>\n";
        }
        out += list.numbered ? "</ol>\n" : "</ul>\n";
    }
    void operator()(const Facts& facts) {
        out += "<dl>\n";
        for (const Facts::Fact& fact : facts.rows) {
            out += fmt::format("<dt>{}</dt><dd>", escape_markup(fact.label));
            text(fact.value.empty() ? Text("\u2013") : fact.value);
            out += "</dd>\n";
        }
        out += "</dl>\n";
    }
    void cells(const Table& table, const std::vector<Cell>& row, const char* tag) {
        out += "<tr>";
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            const bool right = table.columns[i].align == Table::Align::kRight;
            out += fmt::format("<{}{}>", tag, right ? " class=\"number\"" : "");
            if (i < row.size()) {
                if (row[i].picture) picture(*row[i].picture, row[i].picture_mm);
                text(row[i].text);
            }
            out += fmt::format("</{}>", tag);
        }
        out += "</tr>\n";
    }
    void operator()(const Table& table) {
        out += "<div class=\"scroll\"><table";
        out += table.compact ? " class=\"compact\">\n" : ">\n";
        if (!table.caption.empty())
            out += fmt::format("<caption>{}</caption>\n", escape_markup(curled(table.caption)));
        if (std::ranges::any_of(table.columns, [](const Table::Column& c) { return !c.head.empty(); })) {
            out += "<thead><tr>";
            for (const Table::Column& column : table.columns)
                out += fmt::format("<th scope=\"col\"{}>{}</th>",
                                   column.align == Table::Align::kRight ? " class=\"number\"" : "",
                                   escape_markup(column.head));
            out += "</tr></thead>\n";
        }
        out += "<tbody>\n";
        for (const auto& row : table.rows) cells(table, row, "td");
        out += "</tbody>\n";
        if (!table.total.empty()) {
            out += "<tfoot>\n";
            cells(table, table.total, "td");
            out += "</tfoot>\n";
        }
        out += "</table></div>\n";
    }
    void operator()(const Figures& figures) {
        out += fmt::format("<div class=\"figures\" style=\"--each:{:.1f}mm\">\n", figures.each_mm);
        for (const Figure& figure : figures.items) {
            out += fmt::format("<figure{}>", named(figure.id));
            if (!figure.marks.empty()) out += "<div class=\"marked\">";
            picture(figure.picture, figures.each_mm, figure.picture.chart ? "chart" : "");
            for (std::size_t m = 0; m < figure.marks.size(); ++m)
                out += fmt::format("<span style=\"left:{:.1f}%;top:{:.1f}%\">{}</span>", 100 * figure.marks[m].x,
                                   100 * figure.marks[m].y, m + 1);
            if (!figure.marks.empty()) out += "</div>";
            out += "<figcaption>";
            text(figure.caption);
            out += "</figcaption></figure>\n";
        }
        out += "</div>\n";
    }
    void operator()(const Space& space) {
        out += fmt::format("<div class=\"space\" style=\"--lines:{}\"><span class=\"aside\">{}</span></div>\n",
                           space.lines, escape_markup(space.label));
    }
    void operator()(const PageBreak&) { out += "<div class=\"page-break\"></div>\n"; }
    void operator()(const Entry& entry) {
        out += fmt::format("<section class=\"entry\"{}>\n", named(entry.id));
        picture(entry.picture, entry.picture_mm, "beside");
        out += "<div>\n";
        all(entry.blocks);
        out += "</div></section>\n";
    }
    void operator()(const Card& card) {
        out += fmt::format("<section class=\"card\"{}>\n", named(card.id));
        if (card.picture) picture(*card.picture, card.picture_mm, "beside");
        out += "<div>\n";
        if (!card.corner.empty()) out += fmt::format("<p class=\"corner\">{}</p>\n", escape_markup(card.corner));
        all(card.blocks);
        out += "</div></section>\n";
    }
    void operator()(const Labels& labels) {
        const Grid& g = labels.grid;
        const auto on_sheet = static_cast<std::size_t>(g.columns * g.rows);
        const auto skip = static_cast<std::size_t>(std::max(labels.skip, 0));
        for (std::size_t sheet = 0; sheet * on_sheet < skip + labels.labels.size(); ++sheet) {
            out += "<section class=\"sheet\">\n";
            for (std::size_t place = 0; place < on_sheet; ++place) {
                const std::size_t at = sheet * on_sheet + place;
                if (at < skip || at - skip >= labels.labels.size()) continue;
                const Label& label = labels.labels[at - skip];
                const auto columns = static_cast<std::size_t>(g.columns);
                out += fmt::format(
                    "<div class=\"label{}\" "
                    "style=\"left:{:.2f}mm;top:{:.2f}mm;width:{:.2f}mm;height:{:.2f}mm\">",
                    g.outlines ? " outlined" : "", g.left_mm + static_cast<double>(place % columns) * g.step_x_mm,
                    g.top_mm + static_cast<double>(place / columns) * g.step_y_mm, g.width_mm, g.height_mm);
                const double tall = g.height_mm - 4.4;
                if (label.picture)
                    picture(*label.picture, std::min({tall * label.picture->width / label.picture->height,
                                                      g.width_mm * 0.3, 24.0}));
                out += "<div>";
                for (std::size_t i = 0; i < label.lines.size(); ++i) {
                    out += i == 0 ? "<p class=\"name\">" : "<p>";
                    text(label.lines[i]);
                    out += "</p>";
                }
                if (!label.price.empty())
                    out += fmt::format("<p class=\"price\">{}</p>", escape_markup(label.price));
                out += "</div>";
                if (label.code) picture(*label.code, std::min(std::max(tall * 0.62, 12.0), std::min(tall, 18.0)));
                out += "</div>\n";
            }
            out += "</section>\n";
        }
    }
    void all(const std::vector<Block>& blocks) {
        for (const Block& block : blocks) std::visit(*this, block.is);
    }
};

void list_headings(const std::vector<Block>& blocks, std::vector<const Heading*>& out) {
    for (const Block& block : blocks)
        if (const auto* heading = std::get_if<Heading>(&block.is);
            heading && heading->level <= 2 && !heading->id.empty())
            out.push_back(heading);
}

}  // namespace

std::string html(const Paper& paper, PageSize size) {
    Writer w;
    const std::string title = paper.kind.empty() ? paper.title : paper.kind + ": " + paper.title;
    w.out = fmt::format(
        "<!doctype html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src "
        "'unsafe-inline'\">\n<title>{}</title>\n",
        escape_markup(title));
    if (!paper.about.empty())
        w.out += fmt::format("<meta name=\"description\" content=\"{}\">\n", escape_markup(paper.about));
    w.out += fmt::format("<style>\n@page {{ size: {}; margin: {} }}\n{}</style>\n</head>\n<body>\n",
                         size == PageSize::kA4 ? "A4" : "letter", paper.bare ? "0" : "18mm 20mm 20mm", kHtmlStyle);
    if (!paper.bare) {
        w.out += fmt::format("<header>\n<p class=\"kind\">{}</p>\n<h1>{}</h1>\n", escape_markup(paper.kind),
                             escape_markup(curled(paper.title)));
        if (!paper.subtitle.empty())
            w.out += fmt::format("<p class=\"subtitle\">{}</p>\n", escape_markup(curled(paper.subtitle)));
        w.out += "</header>\n";
    }
    if (paper.contents) {
        std::vector<const Heading*> list;
        list_headings(paper.blocks, list);
        w.out += "<nav aria-label=\"Contents\"><ol>\n";
        for (const Heading* h : list)
            w.out += fmt::format("<li class=\"level-{}\"><a href=\"#{}\">{}</a></li>\n", h->level,
                                 escape_markup(h->id), escape_markup(curled(h->text)));
        w.out += "</ol></nav>\n";
    }
    w.out += paper.bare ? "<main class=\"sheets\">\n" : "<main>\n";
    w.all(paper.blocks);
    w.out += "</main>\n";
    if (!paper.bare && !paper.date.empty())
        w.out += fmt::format("<footer><p>{}</p></footer>\n", escape_markup(title + " \u00b7 " + paper.date));
    w.out += "</body>\n</html>\n";
    return std::move(w.out);
}

}  // namespace footring::papers
