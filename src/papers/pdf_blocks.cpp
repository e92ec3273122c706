// SPDX-License-Identifier: Apache-2.0
#include "papers/pdf_blocks.h"

#include <algorithm>
#include <cmath>

#include "papers/pdf_faces.h"
#include "papers/pdf_labels.h"

namespace footring::papers {

namespace {

constexpr double kGap = mm(5);     // between pictures, and between a picture and its text
constexpr double kTextBefore = 5;  // above a paragraph that follows another
constexpr double kPad = 7;         // between the cells of a table
constexpr double kInset = 10;      // within a card
constexpr const char* kHeads[] = {"H1", "H2", "H3"};

double height_for(const Picture& picture, double width) {
    return picture.width > 0 ? width * picture.height / picture.width : width;
}

}  // namespace

// Sets one block into a column. Entries and cards set their own blocks with another one of these.
struct OneBlock {
    Setter& setter;
    double margin, left, width;  // the margin column begins at `margin`, the text column is [left, left + width]
    std::vector<Tag> path;       // tags around all of it
    std::vector<Strip>& out;
    bool narrow = false;  // within a card: there is no margin column

    Canvas& canvas() const { return setter.canvas_; }
    std::vector<Tag> within(std::initializer_list<Tag> more) const {
        std::vector<Tag> tags = path;
        tags.insert(tags.end(), more);
        return tags;
    }
    Tag tag(const char* name) const { return {name, setter.fresh()}; }
    double whole_left() const { return narrow ? left : margin; }
    double whole_width() const { return left + width - whole_left(); }

    // Lines as strips. The first two and the last two stay together: no line stands alone on a page.
    void lines(SetText text, double x, double before, std::vector<Tag> tags, bool keep_with_next = false,
               std::function<void(Canvas&, double)> first = {}) {
        const std::size_t n = text.lines.size();
        for (std::size_t i = 0; i < n; ++i) {
            Strip strip;
            strip.before = i == 0 ? before : 0;
            strip.height = text.leading;
            strip.tags = tags;
            strip.keep = (i + 1 == n && keep_with_next) || (i + 1 < n && (keep_with_next || n <= 3)) ||
                         (n > 3 && (i == 0 || i + 2 == n));
            strip.draw = [set = std::move(text.lines[i]), x, first = i == 0 ? first : nullptr](Canvas& c,
                                                                                               double top) {
                if (first) first(c, top);
                c.line(set, x, top);
            };
            out.push_back(std::move(strip));
        }
    }

    // A small word in the margin on the first line, drawn before it.
    std::function<void(Canvas&, double)> aside(const std::string& words, const Face& beside) const {
        if (words.empty() || narrow) return {};
        SetText set = canvas().set(Text(words), kAside, left - margin - kGap * 0.6);
        if (set.lines.empty()) return {};
        return [set = std::move(set), x = margin, drop = (beside.leading - kAside.leading) * 0.62](Canvas& c,
                                                                                                   double top) {
            double y = top + drop;
            for (const SetLine& each : set.lines) c.line(each, x, y), y += set.leading;
        };
    }
    double aside_height(const std::string& words) const {
        if (words.empty() || narrow) return 0;
        return canvas().set(Text(words), kAside, left - margin - kGap * 0.6).height();
    }

    void operator()(const Heading& h) {
        const Face& face = h.level <= 1 ? kHead1 : h.level == 2 ? kHead2 : kHead3;
        const std::size_t at = out.size();
        const double x = h.level <= 1 && !narrow ? margin : left;
        const bool ruled = h.level <= 1 && !narrow;
        const double before = h.level <= 1 ? 30 : h.level == 2 ? 18 : 11;
        const SetText set = canvas().set(Text(h.text), face, left + width - x);
        std::function<void(Canvas&, double)> first = aside(h.level <= 1 ? "" : h.aside, face);
        if (ruled)
            first = [x0 = margin, x1 = left + width](Canvas& c, double top) {
                c.rule(x0, top - 5, x1, top - 5, 0.7, kAccent);
            };
        lines(set, x, before, within({tag(kHeads[std::clamp(h.level, 1, 3) - 1])}), true, first);
        if (at < out.size()) {
            out[at].id = h.id;
            out[at].heading = h.text;
            out[at].level = h.level;
        }
        if (h.level <= 1 && !h.aside.empty())
            lines(canvas().set(Text(h.aside), kSubtitle, width), left, 1, within({tag("P")}), true);
    }

    void operator()(const Paragraph& p) {
        using enum Paragraph::Kind;
        const Face& face = p.kind == kLead      ? kLeadFace
                           : p.kind == kNote    ? kNoteFace
                           : p.kind == kCaution ? kCautionFace
                           : p.kind == kListed  ? kListedFace
                                                : kBodyFace;
        if (p.kind == kCaution) {
            const double inset = 9;
            SetText set = canvas().set(p.text, face, width - 2 * inset);
            Strip strip;
            strip.before = 9;
            strip.height = set.height() + 2 * 6;
            strip.tags = within({tag("P")});
            strip.draw = [set = std::move(set), x = left, w = width, h = strip.height](Canvas& c, double top) {
                c.box(x, top, w, h, kWash);
                c.rule(x, top, x, top + h, 1.6, kAccent);
                c.text(set, x + 9, top + 6);
            };
            out.push_back(std::move(strip));
            return;
        }
        const std::size_t at = out.size();
        lines(canvas().set(p.text, face, width), left,
              p.kind == kNote || p.kind == kListed ? 3
              : p.kind == kLead                    ? 18
                                                   : kTextBefore,
              within({tag("P")}), p.keep, aside(p.aside, face));
        if (at < out.size()) {
            out[at].id = p.id;
            // A word in the margin that takes more lines than the text beside it.
            const double more = aside_height(p.aside) - face.leading * static_cast<double>(out.size() - at);
            if (more > 0) out.back().height += more;
        }
    }

    void operator()(const List& list) {
        const Tag whole = tag("L");
        const double indent = list.numbered ? 17 : 11;
        for (std::size_t i = 0; i < list.items.size(); ++i) {
            const std::string mark = list.numbered ? std::to_string(i + 1) + "." : "\u2013";
            Face face = kBodyFace;
            face.justified = false;
            SetText sign = canvas().set(Text(mark), kMarkFace, indent);
            lines(canvas().set(list.items[i], face, width - indent), left + indent, i == 0 ? 4 : 2,
                  within({whole, tag("LI"), tag("LBody")}), false, [sign, x = left](Canvas& c, double top) {
                      if (!sign.lines.empty()) c.line(sign.lines.front(), x, top);
                  });
        }
    }

    void operator()(const Facts& facts) {
        const Tag whole = tag("L");
        Face face = kBodyFace;
        face.justified = false;
        const double label_width = narrow ? 64 : left - margin - kGap * 0.6;
        const double x = narrow ? left + 70 : left, w = narrow ? width - 70 : width;
        const double label_x = narrow ? left : margin;
        for (std::size_t i = 0; i < facts.rows.size(); ++i) {
            const Facts::Fact& fact = facts.rows[i];
            SetText label = canvas().set(Text(fact.label), kAside, label_width);
            SetText value = canvas().set(fact.value.empty() ? Text("\u2013") : fact.value, face, w);
            const double more = label.height() - value.height();
            lines(std::move(value), x, i == 0 ? 6 : 2.5, within({whole, tag("LI"), tag("LBody")}), false,
                  [label = std::move(label), label_x](Canvas& c, double top) {
                      double y = top + 1.3;
                      for (const SetLine& each : label.lines) c.line(each, label_x, y), y += label.leading;
                  });
            if (more > 0) out.back().height += more;
        }
    }

    void operator()(const Space& space) {
        SetText label = canvas().set(Text(space.label), kAside, narrow ? 64 : left - margin - kGap * 0.6);
        Strip strip;
        strip.before = 6;
        strip.height = 18.0 * space.lines;
        strip.tags = within({tag("P")});
        strip.draw = [label = std::move(label), x = narrow ? left : margin, x0 = narrow ? left + 70 : left,
                      x1 = left + width, n = space.lines](Canvas& c, double top) {
            double y = top + 5;
            for (const SetLine& each : label.lines) c.line(each, x, y), y += label.leading;
            for (int i = 1; i <= n; ++i) c.rule(x0, top + 18.0 * i - 3, x1, top + 18.0 * i - 3, 0.4, kRule);
        };
        out.push_back(std::move(strip));
    }

    void operator()(const PageBreak&) {
        Strip strip;
        strip.new_page = true;
        strip.draw = [](Canvas&, double) {};
        out.push_back(std::move(strip));
    }

    void operator()(const Figures& figures) {
        const double x0 = whole_left(), wide = whole_width(), each = std::min(mm(figures.each_mm), wide);
        const auto in_row = static_cast<std::size_t>(std::max(1.0, std::floor((wide + kGap) / (each + kGap))));
        const double gap =
            in_row > 1 ? (wide - each * static_cast<double>(in_row)) / static_cast<double>(in_row - 1) : 0;
        for (std::size_t at = 0; at < figures.items.size(); at += in_row) {
            struct Placed {
                Picture picture;
                SetText caption;
                double width, height;
                Tag figure, caption_tag;
                std::string id;
                std::vector<PhotoMark> marks;
            };
            std::vector<Placed> row;
            double tallest = 0, caption = 0;
            for (std::size_t i = at; i < std::min(at + in_row, figures.items.size()); ++i) {
                const Figure& figure = figures.items[i];
                double w = each, h = height_for(figure.picture, each);
                if (h > each * 1.15)
                    w *= each * 1.15 / h, h = each * 1.15;  // upright ones no taller than they need be
                canvas().soon(figure.picture, w, h);
                row.push_back({figure.picture, canvas().set(figure.caption, kCaption, each), w, h, tag("Figure"),
                               tag("Caption"), figure.id, figure.marks});
                tallest = std::max(tallest, h);
                caption = std::max(caption, row.back().caption.height());
            }
            Strip strip;
            strip.before = at == 0 ? 9 : 8;
            strip.height = tallest + 4 + caption;
            strip.tags = path;
            strip.draw = [row = std::move(row), x0, each, gap, tallest, around = path](Canvas& c, double top) {
                double x = x0;
                for (const Placed& placed : row) {
                    std::vector<Tag> tags = around;
                    tags.push_back(placed.figure);
                    c.tags(tags);
                    if (!placed.id.empty()) c.place(placed.id, top);
                    c.picture(placed.picture, x, top + tallest - placed.height, placed.width, placed.height);
                    for (std::size_t m = 0; m < placed.marks.size(); ++m)
                        c.ring(x + placed.marks[m].x * placed.width,
                               top + tallest - placed.height + placed.marks[m].y * placed.height,
                               std::to_string(m + 1));
                    tags.push_back(placed.caption_tag);
                    c.tags(tags);
                    c.text(placed.caption, x, top + tallest + 4);
                    x += each + gap;
                }
            };
            out.push_back(std::move(strip));
        }
    }

    void operator()(const Table&);
    void operator()(const Entry&);
    void operator()(const Card&);
    void operator()(const Labels& labels) {
        for (Strip& sheet : label_sheets(canvas(), labels)) out.push_back(std::move(sheet));
    }
};

void OneBlock::operator()(const Table& table) {
    const double x0 = whole_left(), wide = whole_width();
    double shares = 0;
    for (const Table::Column& column : table.columns) shares += column.share;
    std::vector<double> x, w;
    double at = x0;
    for (const Table::Column& column : table.columns) {
        const double full = wide * column.share / shares;
        const bool last = x.size() + 1 == table.columns.size();
        // Figures that end at the right edge would touch words that begin at the next left one.
        const bool meets = !last && column.align == Table::Align::kRight &&
                           table.columns[x.size() + 1].align == Table::Align::kLeft;
        x.push_back(at);
        w.push_back(full - (last ? 0 : meets ? 2 * kPad : kPad));
        at += full;
    }
    const Tag whole = tag("Table");
    const double below = table.compact ? 1.4 : 3.4;
    if (!table.caption.empty())
        lines(canvas().set(Text(table.caption), kTableCaption, wide), x0, 12, within({whole, tag("Caption")}),
              true);

    struct SetCell {
        SetText text;
        std::optional<Picture> picture;
        double picture_width = 0, picture_height = 0;
        double x = 0;
        Tag tag;
    };
    // `under`: the first of rows that belong together, below a rule.
    const auto row_strip = [&](const std::vector<Cell>& cells, bool head, bool total, bool ruled = true,
                               bool under = false) {
        const double above = table.compact && !under ? 1.2 : table.compact ? 2.2 : 3.2;
        const Tag row_tag = tag("TR");
        std::vector<SetCell> set;
        double height = 0;
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            const Cell empty;
            const Cell& cell = i < cells.size() ? cells[i] : empty;
            Face face = head ? kTableHead : table.compact ? kTableCompact : kTableFace;
            face.right = table.columns[i].align == Table::Align::kRight;
            face.bold = face.bold || total;
            SetCell one{canvas().set(cell.text, face, w[i]), cell.picture, 0, 0, x[i], tag(head ? "TH" : "TD")};
            if (cell.picture) {
                one.picture_width = std::min(mm(cell.picture_mm), w[i]);
                one.picture_height = height_for(*cell.picture, one.picture_width);
                canvas().soon(*cell.picture, one.picture_width, one.picture_height);
            }
            height = std::max(height, one.text.height() + one.picture_height);
            set.push_back(std::move(one));
        }
        Strip strip;
        strip.height = height + above + below;
        strip.tags = within({whole, row_tag});
        strip.draw = [set = std::move(set), x0, x1 = x0 + wide, height = strip.height, head, total, ruled, above,
                      around = strip.tags](Canvas& c, double top) {
            if (total) c.rule(x0, top, x1, top, 0.9, kInk);
            for (const SetCell& cell : set) {
                std::vector<Tag> tags = around;
                tags.push_back(cell.tag);
                c.tags(tags);
                if (cell.picture)
                    c.picture(*cell.picture, cell.x, top + above, cell.picture_width, cell.picture_height);
                c.text(cell.text, cell.x, top + above + cell.picture_height);
            }
            c.tags(around);
            if (ruled) c.rule(x0, top + height, x1, top + height, head ? 0.9 : 0.35, head ? kInk : kRule);
        };
        return strip;
    };
    std::shared_ptr<const Strip> header;
    if (std::ranges::any_of(table.columns, [](const Table::Column& c) { return !c.head.empty(); })) {
        std::vector<Cell> heads;
        for (const Table::Column& column : table.columns) heads.emplace_back(column.head);
        Strip strip = row_strip(heads, true, false);
        strip.before = table.caption.empty() ? 10 : 2;
        strip.keep = true;
        header = std::make_shared<Strip>(strip);
        out.push_back(std::move(strip));
    }
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        // Rows that carry on the one above, with nothing in the first column, belong together.
        const bool on = table.compact && i + 1 < table.rows.size() && !table.rows[i + 1].empty() &&
                        table.rows[i + 1].front().text.empty();
        Strip strip = row_strip(table.rows[i], false, false, !on, on && !table.rows[i].front().text.empty());
        strip.header = header;
        // The total never stands alone at the top of a page.
        strip.keep = !table.total.empty() && i + 1 == table.rows.size();
        out.push_back(std::move(strip));
    }
    if (!table.total.empty()) out.push_back(row_strip(table.total, false, true));
}

void OneBlock::operator()(const Entry& entry) {
    const Tag around = tag("Sect"), figure = tag("Figure");
    const std::size_t first = out.size();
    OneBlock inner{setter, margin, left, width, within({around}), out, narrow};
    for (const Block& block : entry.blocks) std::visit(inner, block.is);
    if (first >= out.size()) return;
    const double w = std::min(mm(entry.picture_mm), left - margin - kGap * 0.8);
    const double h = height_for(entry.picture, w);
    canvas().soon(entry.picture, w, h);
    // The picture stands beside the first lines: they stay together for as long as it is tall.
    double tall = 0;
    for (std::size_t i = first; i < out.size(); ++i) {
        tall += (i == first ? 0 : out[i].before) + out[i].height;
        if (tall >= h + 3) break;
        if (i + 1 < out.size()) out[i].keep = true;
        else out[i].height += h + 3 - tall;
    }
    Strip& lead = out[first];
    if (!entry.id.empty()) lead.id = entry.id;
    lead.before = std::max(lead.before, 14.0);
    lead.draw = [draw = lead.draw, picture = entry.picture, x = margin, w, h, figure, tags = lead.tags,
                 outer = within({around})](Canvas& c, double top) {
        std::vector<Tag> own = outer;
        own.push_back(figure);
        c.tags(own);
        c.picture(picture, x, top + 2, w, h);
        c.tags(tags);
        draw(c, top);
    };
}

void OneBlock::operator()(const Card& card) {
    const double x0 = whole_left(), wide = whole_width();
    const Tag around = tag("Sect"), figure = tag("Figure");
    const double w = card.picture ? mm(card.picture_mm) : 0;
    const double h = card.picture ? height_for(*card.picture, w) : 0;
    if (card.picture) canvas().soon(*card.picture, w, h);
    const double text_left = x0 + kInset + (card.picture ? w + kGap : 0);
    std::vector<Strip> inside;
    OneBlock inner{setter, text_left, text_left, x0 + wide - kInset - text_left, within({around}), inside, true};
    for (const Block& block : card.blocks) std::visit(inner, block.is);
    double tall = 0;
    for (std::size_t i = 0; i < inside.size(); ++i) tall += (i == 0 ? 0 : inside[i].before) + inside[i].height;
    SetText corner = canvas().set(Text(card.corner), kCorner, 120);
    Strip strip;
    strip.before = 9;
    strip.height = std::max(tall, h) + 2 * kInset - 3;
    strip.tags = within({around});
    strip.id = card.id;
    strip.draw = [inside = std::move(inside), picture = card.picture, corner = std::move(corner), x0, wide, w, h,
                  figure, around_tags = strip.tags, height = strip.height](Canvas& c, double top) {
        c.frame(x0 + 0.25, top + 0.25, wide - 0.5, height - 0.5, 0.5, kRule);
        if (picture) {
            std::vector<Tag> own = around_tags;
            own.push_back(figure);
            c.tags(own);
            c.picture(*picture, x0 + kInset, top + kInset - 1, w, h);
        }
        double y = top + kInset - 2;
        for (std::size_t i = 0; i < inside.size(); ++i) {
            if (i > 0) y += inside[i].before;
            c.tags(inside[i].tags);
            inside[i].draw(c, y);
            y += inside[i].height;
        }
        if (!corner.lines.empty())
            c.line(corner.lines.front(), x0 + wide - kInset - corner.lines.front().width, top + kInset - 3);
        c.tags(around_tags);
    };
    out.push_back(std::move(strip));
}

std::vector<Strip> Setter::strips(const std::vector<Block>& blocks) {
    std::vector<Strip> out;
    OneBlock one{*this, columns_.left, columns_.main, columns_.text(), {}, out};
    for (const Block& block : blocks) std::visit(one, block.is);
    return out;
}

std::vector<Strip> Setter::title(const Paper& paper) {
    std::vector<Strip> out;
    OneBlock one{*this, columns_.left, columns_.left, columns_.whole(), {}, out};
    one.lines(canvas_.set(Text(paper.kind), kKind, columns_.whole()), columns_.left, 0, {{"P", fresh()}}, true);
    one.lines(canvas_.set(Text(paper.title), kTitle, columns_.whole()), columns_.left, 6, {{"H1", fresh()}}, true);
    if (!paper.subtitle.empty())
        one.lines(canvas_.set(Text(paper.subtitle), kSubtitle, columns_.whole()), columns_.left, 3,
                  {{"P", fresh()}}, true);
    Strip rule;
    rule.before = 9;
    rule.height = 8;
    rule.draw = [x0 = columns_.left, x1 = columns_.right](Canvas& c, double top) {
        c.rule(x0, top, x1, top, 1.1, kInk);
    };
    out.push_back(std::move(rule));
    return out;
}

std::vector<Strip> Setter::contents(const std::vector<Listed>& list) {
    std::vector<Strip> out;
    const Tag whole{"TOC", fresh()};
    for (std::size_t i = 0; i < list.size(); ++i) {
        const Listed& each = list[i];
        const double x = columns_.main + (each.level - 1) * 12;
        const Face& face = each.level == 1 ? kContents1 : kContents2;
        Face number = face;
        number.right = true;
        number.features = "lnum=1,tnum=1";
        Text title;
        title.add(each.title, Run::Style::kPlain, "#" + each.id);
        SetText name = canvas_.set(title, face, columns_.right - x - 34);
        SetText page = canvas_.set(Text(std::to_string(each.page)), number, 30);
        Strip strip;
        strip.before = i == 0 ? 10 : each.level == 1 ? 5 : 0;
        strip.height = name.height();
        strip.keep = each.level == 1;
        strip.tags = {whole, {"TOCI", fresh()}};
        strip.draw = [name, page, x, right = columns_.right](Canvas& c, double top) {
            c.text(name, x, top);
            const double last = top + name.leading * static_cast<double>(name.lines.size() - 1);
            const double base = last + name.lines.back().baseline;
            c.dots(x + name.lines.back().width + 6, right - page.lines.front().width - 5, base - 0.6, kRule);
            c.text(page, right - 30, last);
        };
        out.push_back(std::move(strip));
    }
    return out;
}

}  // namespace footring::papers
