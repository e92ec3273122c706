// Text in lines: a paragraph is shaped once as a whole, its breaks are chosen (papers/linebreak.h), and each line
// is shaped again without soft hyphens, so that what is selected and copied is the text itself.
// SPDX-License-Identifier: Apache-2.0
#include <cairo-pdf.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>

#include "papers/linebreak.h"
#include "papers/pdf_canvas.h"

namespace footring::papers {

// The runs joined, and which bytes have which style and link.
struct Canvas::Flat {
    struct Part {
        std::size_t begin, end;
        Run::Style style;
        std::string link;
    };
    std::string text;
    std::vector<Part> parts;

    // Bytes [from, to) as they are shown: without soft hyphens.
    Flat shown(std::size_t from, std::size_t to) const {
        Flat out;
        std::vector<std::size_t> now(to - from + 1);  // where each byte went
        for (std::size_t i = from; i < to;) {
            now[i - from] = out.text.size();
            if (std::string_view(text).substr(i).starts_with(kSoftHyphen)) {
                now[i + 1 - from] = out.text.size();
                i += kSoftHyphen.size();
            } else {
                out.text += text[i++];
            }
        }
        now.back() = out.text.size();
        for (const Part& part : parts) {
            const std::size_t begin = std::clamp(part.begin, from, to), end = std::clamp(part.end, from, to);
            if (begin < end) out.parts.push_back({now[begin - from], now[end - from], part.style, part.link});
        }
        return out;
    }
};

Canvas::Flat Canvas::flat(const Text& text, bool divided) const {
    Flat out;
    for (const Run& run : text.runs) {
        const std::size_t begin = out.text.size();
        std::string plain;
        for (const char c : run.text) plain += c == '\n' || c == '\r' || c == '\t' ? ' ' : c;
        out.text += divided ? hyphenator_.with_soft_hyphens(plain) : plain;
        std::string link = run.link;
        if (link.starts_with('#') && std::ranges::find(known, link.substr(1)) == known.end()) link.clear();
        out.parts.push_back({begin, out.text.size(), run.style, std::move(link)});
    }
    return out;
}

const PangoFontDescription* Canvas::font(const Face& face, bool italic, bool bold) {
    const std::string key = fmt::format("{} {} {} {}", face.family, face.size, italic, bold);
    auto found = described_.find(key);
    if (found == described_.end()) {
        PangoFontDescription* made = pango_font_description_new();
        pango_font_description_set_family(
            made, bold && std::string_view(face.family).starts_with("EB") ? "EB Garamond 12" : face.family);
        pango_font_description_set_absolute_size(made, face.size * PANGO_SCALE);
        pango_font_description_set_weight(made, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
        pango_font_description_set_style(made, italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
        found = described_.emplace(key, made).first;
    }
    return found->second;
}

std::shared_ptr<PangoLayout> Canvas::shaped(const Flat& what, const Face& face, double extra_per_space) {
    std::shared_ptr<PangoLayout> layout(pango_layout_new(PANGO_CONTEXT(context_.get())), GObjectFree{});
    pango_layout_set_font_description(layout.get(), font(face, face.italic, face.bold));
    pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
    PangoAttrList* list = pango_attr_list_new();
    const auto add = [&](PangoAttribute* attribute, std::size_t begin, std::size_t end) {
        attribute->start_index = static_cast<guint>(begin);
        attribute->end_index = static_cast<guint>(end);
        pango_attr_list_insert(list, attribute);
    };
    const auto spaced = [](double pt) { return pango_attr_letter_spacing_new(static_cast<int>(pt * PANGO_SCALE)); };
    if (*face.features != 0) add(pango_attr_font_features_new(face.features), 0, what.text.size());
    if (face.tracking != 0) add(spaced(face.tracking), 0, what.text.size());
    for (const Flat::Part& part : what.parts)
        if (part.style != Run::Style::kPlain)
            add(pango_attr_font_desc_new(font(face, face.italic != (part.style == Run::Style::kItalic),
                                              face.bold || part.style == Run::Style::kBold)),
                part.begin, part.end);
    if (extra_per_space != 0)
        for (std::size_t i = 0; i < what.text.size(); ++i)
            if (what.text[i] == ' ') add(spaced(face.tracking + extra_per_space), i, i + 1);
    pango_layout_set_text(layout.get(), what.text.c_str(), static_cast<int>(what.text.size()));
    pango_layout_set_attributes(layout.get(), list);
    pango_attr_list_unref(list);
    return layout;
}

namespace {

double width_now(PangoLayout* layout) {
    int width = 0;
    pango_layout_get_size(layout, &width, nullptr);
    return static_cast<double>(width) / PANGO_SCALE;
}
double x_at(PangoLayoutLine* line, std::size_t byte) {
    int x = 0;
    pango_layout_line_index_to_x(line, static_cast<int>(byte), FALSE, &x);
    return static_cast<double>(x) / PANGO_SCALE;
}

struct Place {
    BreakPlace at;
    std::size_t end, next;  // bytes of the text
};

// Where the text may break: spaces, soft hyphens, and after hyphens, dashes and slashes within words.
std::vector<Place> places_of(const std::string& text, PangoLayoutLine* line) {
    std::vector<Place> out;
    int spaces = 0;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view rest = std::string_view(text).substr(i);
        if (rest.front() == ' ') {
            std::size_t next = i + 1;
            while (next < text.size() && text[next] == ' ') ++next;
            if (i > 0 && next < text.size())
                out.push_back({{x_at(line, i), x_at(line, next), spaces, false}, i, next});
            spaces += static_cast<int>(next - i);
            i = next;
            continue;
        }
        if (rest.starts_with(kSoftHyphen)) {
            const std::size_t next = i + kSoftHyphen.size();
            out.push_back({{x_at(line, i), x_at(line, next), spaces, true}, i, next});
            i = next;
            continue;
        }
        std::size_t sign = 0;
        if (rest.starts_with("\u2013") || rest.starts_with("\u2014")) sign = 3;
        else if ((rest.front() == '-' || rest.front() == '/') && i > 0 && i + 2 < text.size() &&
                 text[i - 1] != ' ' && text[i + 1] != ' ' &&
                 std::isalpha(static_cast<unsigned char>(text[i + 1])) != 0)
            sign = 1;
        if (sign > 0 && i + sign < text.size() && text[i + sign] != ' ' && i > 0)
            out.push_back({{x_at(line, i + sign), x_at(line, i + sign), spaces, false}, i + sign, i + sign});
        i += std::max<std::size_t>(sign, 1);
    }
    out.push_back({{x_at(line, text.size()), x_at(line, text.size()), spaces, false}, text.size(), text.size()});
    return out;
}

}  // namespace

double Canvas::width_of(const std::string& text, const Face& face) {
    return width_now(shaped({text, {}}, face, 0).get());
}

SetText Canvas::set(const Text& text, const Face& face, double width) {
    SetText out;
    out.leading = face.leading;
    const Flat whole = flat(text, face.divided);
    if (whole.text.empty()) return out;
    const auto unbroken = shaped(whole, face, 0);
    const auto places = places_of(whole.text, pango_layout_get_line_readonly(unbroken.get(), 0));
    std::vector<BreakPlace> only;
    for (const Place& place : places) only.push_back(place.at);
    const Measure measure{width, width_of("\u00a0", face), width_of("-", face), face.justified};
    std::size_t from = 0;
    for (const std::size_t taken : break_lines(only, measure)) {
        const Place& end = places[taken];
        Flat shown = whole.shown(from, end.end);
        from = end.next;
        if (end.at.hyphen) {
            if (!shown.parts.empty() && shown.parts.back().end == shown.text.size()) ++shown.parts.back().end;
            shown.text += '-';
        }
        SetLine line;
        line.ink = face.ink;
        line.layout = shaped(shown, face, 0);
        line.width = width_now(line.layout.get());
        const auto spaces = std::ranges::count(shown.text, ' ');
        const double slack = width - line.width;
        if (face.justified && spaces > 0 && (taken + 1 < places.size() || slack < 0)) {
            line.layout = shaped(shown, face, slack / static_cast<double>(spaces));
            line.width = width_now(line.layout.get());
        }
        line.indent = face.right ? width - line.width : 0;
        PangoLayoutLine* set_line = pango_layout_get_line_readonly(line.layout.get(), 0);
        PangoRectangle box{};
        pango_layout_line_get_extents(set_line, nullptr, &box);
        line.baseline = (face.leading - static_cast<double>(box.height) / PANGO_SCALE) / 2 -
                        static_cast<double>(box.y) / PANGO_SCALE;
        for (const Flat::Part& part : shown.parts)
            if (!part.link.empty())
                line.links.push_back(
                    {line.indent + x_at(set_line, part.begin), line.indent + x_at(set_line, part.end), part.link});
        out.lines.push_back(std::move(line));
    }
    return out;
}

void Canvas::line(const SetLine& set, double x, double top) {
    auto* on = cairo_.get();
    cairo_set_source_rgb(on, set.ink.r, set.ink.g, set.ink.b);
    cairo_move_to(on, x + set.indent, top + set.baseline);
    pango_cairo_show_layout_line(on, pango_layout_get_line_readonly(set.layout.get(), 0));
    for (const SetLine::Link& link : set.links) {
        std::string target;
        for (const char c : link.target) {
            if (c == '\'' || c == '\\') target += '\\';
            target += c;
        }
        const bool inside = target.starts_with('#');
        const std::string about =
            fmt::format("rect=[{:.2f} {:.2f} {:.2f} {:.2f}] {}='{}'", x + link.from, top, link.to - link.from,
                        set.baseline * 1.3, inside ? "dest" : "uri", inside ? target.substr(1) : target);
        cairo_tag_begin(on, CAIRO_TAG_LINK, about.c_str());
        cairo_tag_end(on, CAIRO_TAG_LINK);
        check("a link");
    }
}

void Canvas::text(const SetText& set, double x, double top) {
    for (const SetLine& each : set.lines) {
        line(each, x, top);
        top += set.leading;
    }
}

}  // namespace footring::papers
