// SPDX-License-Identifier: Apache-2.0
#include "book/stripes.h"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <string>

#include "base/text.h"
#include "book/colour.h"

namespace footring::book {

namespace {
constexpr std::size_t kMostStripes = 24;

bool is_space(char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; }

// Numbers and commands of path data, one after the other.
class PathReader {
  public:
    explicit PathReader(std::string_view d) : rest_(d) {}
    bool done() { return skip(), rest_.empty(); }
    std::optional<char> command() {
        skip();
        if (rest_.empty() || !std::isalpha(static_cast<unsigned char>(rest_[0]))) return std::nullopt;
        const char c = rest_[0];
        rest_.remove_prefix(1);
        return c;
    }
    std::optional<double> number() {
        skip();
        if (!rest_.empty() && rest_[0] == '+') rest_.remove_prefix(1);
        double value = 0;
        const auto [end, error] = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
        if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
        rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
        return value;
    }
    bool number_follows() {
        skip();
        return !rest_.empty() && std::string_view("+-.0123456789").find(rest_[0]) != std::string_view::npos;
    }

  private:
    void skip() {
        while (!rest_.empty() && (is_space(rest_[0]) || rest_[0] == ',')) rest_.remove_prefix(1);
    }
    std::string_view rest_;
};

struct Corner {
    double x, y;
};

// The bar that a closed run of corners makes, or nothing. Corners follow one another along the axes.
std::optional<Stripe> bar(const std::vector<Corner>& corners, const std::array<double, 4>& box) {
    if (corners.size() < 4) return std::nullopt;
    const double near = box[2] * 1e-3;
    double top = corners[0].y, bottom = top, left = corners[0].x, right = left;
    for (const Corner& c : corners) {
        top = std::min(top, c.y), bottom = std::max(bottom, c.y);
        left = std::min(left, c.x), right = std::max(right, c.x);
    }
    for (const Corner& c : corners)  // every corner is one of the box's: no steps, no slants
        if ((std::abs(c.x - left) > near && std::abs(c.x - right) > near) || (c.y != top && c.y != bottom))
            return std::nullopt;
    if (left > box[0] + near || right < box[0] + box[2] - near || bottom <= top) return std::nullopt;
    const double from = std::clamp((top - box[1]) / box[3], 0.0, 1.0);
    const double to = std::clamp((bottom - box[1]) / box[3], 0.0, 1.0);
    return to > from ? std::optional(Stripe{from, to, {}}) : std::nullopt;
}

std::optional<std::vector<Stripe>> bars_of_path(std::string_view d, const std::array<double, 4>& box) {
    PathReader path(d);
    std::vector<Stripe> bars;
    std::vector<Corner> corners;
    Corner pen{0, 0}, start{0, 0};
    const auto close = [&] {
        if (corners.empty()) return true;
        const auto one = bar(corners, box);
        if (one) bars.push_back(*one);
        corners.clear();
        return one.has_value();
    };
    while (!path.done()) {
        const auto command = path.command();
        if (!command) return std::nullopt;
        const char kind = static_cast<char>(std::toupper(static_cast<unsigned char>(*command)));
        const bool relative = *command != kind;
        if (kind == 'Z') {
            if (!close()) return std::nullopt;
            pen = start;
            continue;
        }
        if (std::string_view("MLHV").find(kind) == std::string_view::npos) return std::nullopt;
        if (kind == 'M' && !close()) return std::nullopt;
        bool first = true;
        do {
            const auto a = path.number();
            const auto b = kind == 'M' || kind == 'L' ? path.number() : std::optional(0.0);
            if (!a || !b) return std::nullopt;
            if (kind == 'H') pen.x = relative ? pen.x + *a : *a;
            else if (kind == 'V') pen.y = relative ? pen.y + *a : *a;
            else pen = relative ? Corner{pen.x + *a, pen.y + *b} : Corner{*a, *b};
            if (kind == 'M' && first) start = pen;
            first = false;
            corners.push_back(pen);
        } while (path.number_follows());
    }
    if (!close()) return std::nullopt;
    return bars;
}

// "#rrggbb" of a fill; empty for black and currentColor, which take the finish; nothing for what is no plain
// colour.
std::optional<std::string> plain_colour(std::string_view fill) {
    const std::string text = lower(trim(fill));
    if (text == "black" || text == "#000" || text == "#000000" || text == "currentcolor") return "";
    if (text.empty() || text == "none" || text == "transparent") return std::nullopt;
    if (text[0] != '#')
        return text.find('(') == std::string::npos ? std::optional(ink_of(text).base) : std::nullopt;
    if (text.find_first_not_of("0123456789abcdef", 1) != std::string::npos) return std::nullopt;
    if (text.size() == 7) return text;
    if (text.size() != 4) return std::nullopt;
    return std::string{'#', text[1], text[1], text[2], text[2], text[3], text[3]};
}

std::string_view name_of_tag(std::string_view tag) {
    std::size_t end = 0;
    while (end < tag.size() && !is_space(tag[end]) && (tag[end] != '/' || end == 0)) ++end;
    return tag.substr(0, end);
}

bool has_any(std::string_view tag, std::initializer_list<std::string_view> names) {
    return std::ranges::any_of(names, [&](std::string_view name) { return svg_attribute(tag, name).has_value(); });
}
}  // namespace

std::optional<std::string_view> svg_attribute(std::string_view tag, std::string_view name) {
    for (std::size_t at = tag.find(name); at != std::string_view::npos; at = tag.find(name, at + 1)) {
        if (at == 0 || !is_space(tag[at - 1])) continue;
        std::string_view rest = trim(tag.substr(at + name.size()));
        if (!rest.starts_with('=')) continue;
        rest = trim(rest.substr(1));
        if (rest.empty() || (rest[0] != '"' && rest[0] != '\'')) continue;
        const auto end = rest.find(rest[0], 1);
        if (end != std::string_view::npos) return rest.substr(1, end - 1);
    }
    return std::nullopt;
}

std::vector<Stripe> stripes_of_svg(std::string_view svg, const std::array<double, 4>& box) {
    std::vector<Stripe> all;
    std::vector<std::string> fills{"black"};  // of the groups around
    for (std::size_t at = svg.find('<'); at != std::string_view::npos; at = svg.find('<', at)) {
        const bool comment = svg.substr(at).starts_with("<!--");
        const std::size_t end = comment ? svg.find("-->", at) : svg.find('>', at);
        if (end == std::string_view::npos) return {};
        const std::string_view tag = svg.substr(at + 1, end - at - 1), name = name_of_tag(tag);
        at = end;
        if (comment || tag.starts_with('?') || tag.starts_with('!') || name == "/svg" || name == "/path" ||
            name == "/rect")
            continue;
        if (name == "/g") {
            if (fills.size() > 1) fills.pop_back();
            continue;
        }
        if (has_any(tag, {"style", "transform", "class", "opacity", "fill-opacity", "clip-path", "mask", "filter"}))
            return {};
        const auto stroke = svg_attribute(tag, "stroke");
        if (stroke && trim(*stroke) != "none") return {};
        const std::string fill(svg_attribute(tag, "fill").value_or(fills.back()));
        if (name == "svg" || name == "g") {
            if (!tag.ends_with('/') && name == "g") fills.push_back(fill);
            if (name == "svg") fills.back() = fill;
            continue;
        }
        const auto colour = plain_colour(fill);
        if (!colour) return {};
        std::optional<std::vector<Stripe>> bars;
        if (name == "path") {
            bars = bars_of_path(svg_attribute(tag, "d").value_or(""), box);
        } else if (name == "rect" && !has_any(tag, {"rx", "ry"})) {
            const auto value = [&](std::string_view key) {
                return to_number(svg_attribute(tag, key).value_or("0"));
            };
            const auto x = value("x"), y = value("y"), width = value("width"), height = value("height");
            if (!x || !y || !width || !height) return {};
            const auto one =
                bar({{*x, *y}, {*x + *width, *y}, {*x + *width, *y + *height}, {*x, *y + *height}}, box);
            if (one) bars = std::vector{*one};
        }
        if (!bars || all.size() + bars->size() > kMostStripes) return {};
        for (Stripe stripe : *bars) {
            stripe.colour = *colour;
            all.push_back(stripe);
        }
    }
    return all;
}

}  // namespace footring::book
