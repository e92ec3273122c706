// SPDX-License-Identifier: Apache-2.0
#include "book/svg_check.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <string>

#include "base/text.h"
#include "book/faults.h"

namespace footring::book {

namespace {

constexpr std::string_view kSvg = "http://www.w3.org/2000/svg";
constexpr std::string_view kXhtml = "http://www.w3.org/1999/xhtml";

constexpr std::string_view kElements[] = {
    "svg",     "g",        "path",   "rect",  "circle", "ellipse",  "line",           "polygon",        "polyline",
    "defs",    "use",      "symbol", "title", "desc",   "metadata", "linearGradient", "radialGradient", "stop",
    "pattern", "clipPath", "mask",   "style", "text",   "tspan",    "image"};

bool is_xml_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
bool is_name(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == ':' || c == '_' ||
           c == '-' || c == '.' || static_cast<unsigned char>(c) >= 0x80;
}

// &#106; and &lt; as a reader of XML sees them. Absent: a reference that no plain drawing has.
std::optional<std::string> decoded(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (text[at] != '&') {
            out += text[at];
            continue;
        }
        const std::size_t end = text.find(';', at);
        if (end == text.npos) return std::nullopt;
        const std::string_view name = text.substr(at + 1, end - at - 1);
        constexpr std::pair<std::string_view, char> kNamed[] = {
            {"lt", '<'}, {"gt", '>'}, {"amp", '&'}, {"quot", '"'}, {"apos", '\''}};
        const auto named = std::ranges::find(kNamed, name, [](const auto& pair) { return pair.first; });
        if (named != std::end(kNamed)) {
            out += named->second;
        } else if (name.starts_with('#') && name.size() > 1 && name.size() < 10) {
            const bool hex = name[1] == 'x';
            std::uint32_t code = 0;
            for (const char c : name.substr(hex ? 2 : 1)) {
                const int digit = c >= '0' && c <= '9'          ? c - '0'
                                  : hex && c >= 'a' && c <= 'f' ? c - 'a' + 10
                                  : hex && c >= 'A' && c <= 'F' ? c - 'A' + 10
                                                                : -1;
                if (digit < 0) return std::nullopt;
                code = code * (hex ? 16u : 10u) + static_cast<std::uint32_t>(digit);
            }
            out += code < 0x80 ? static_cast<char>(code) : '?';  // only ASCII can spell what is looked for
        } else {
            return std::nullopt;
        }
        at = end;
    }
    return out;
}

// In lower case, without blanks, control characters and escapes by which an address or a style could be hidden.
std::string squeezed(std::string_view text) {
    std::string out;
    for (const char c : lower(text))
        if (static_cast<unsigned char>(c) > ' ') out += c;
    return out;
}

struct SvgChecker {
    std::string_view text, where;
    std::vector<Problem> problems{};
    std::set<std::string> told{};
    std::size_t at = 0;
    bool in_style = false, seen_root = false;

    void refuse(std::string what, std::string remedy) {
        if (told.insert(what).second)
            problems.push_back({ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy)});
    }
    void broken(std::string what) { refuse(std::move(what), "export the drawing again as plain SVG"); }

    bool starts(std::string_view with) const { return text.substr(at).starts_with(with); }
    // The text up to `end`, and behind it; absent: it does not come.
    std::optional<std::string_view> until(std::string_view end) {
        const std::size_t found = text.find(end, at);
        if (found == text.npos) return std::nullopt;
        const std::string_view part = text.substr(at, found - at);
        at = found + end.size();
        return part;
    }

    void check_address(const std::string& attribute, std::string_view value) {
        const std::string address = squeezed(value);
        if (address.empty() || address.starts_with('#')) return;
        for (const std::string_view head :
             {"data:image/png;base64,", "data:image/jpeg;base64,", "data:image/jpg;base64,"})
            if (address.starts_with(head)) return;
        refuse(fmt::format("it leads out of the drawing: {}={}", attribute, in_quotes(value)),
               "draw what it loads into the file, or take it out");
    }

    void check_style(std::string_view style) {
        if (style.find('\\') != style.npos)
            refuse("a style in it has an escape (\\)", "write the style out in plain letters");
        const std::string plain = squeezed(style);
        for (const std::string_view word : {"@", "expression(", "javascript:", "behavior:", "-moz-binding"})
            if (plain.find(word) != plain.npos)
                refuse(fmt::format("a style in it has {}", in_quotes(word)), "keep to colours, lines and sizes");
        for (std::size_t url = plain.find("url("); url != plain.npos; url = plain.find("url(", url + 1)) {
            std::string_view inside = std::string_view(plain).substr(url + 4);
            while (inside.starts_with('"') || inside.starts_with('\'')) inside.remove_prefix(1);
            if (!inside.starts_with('#'))
                refuse(fmt::format("it leads out of the drawing: {}",
                                   in_quotes(plain.substr(url, plain.find(')', url) - url + 1))),
                       "draw what it loads into the file, or take it out");
        }
        if (plain.find("src(") != plain.npos || plain.find("image-set(") != plain.npos)
            refuse("a style in it loads something", "keep to colours, lines and sizes");
    }

    void check_attribute(const std::string& name, std::string_view raw) {
        const auto value = decoded(raw);
        if (!value)
            return broken(fmt::format("the value of {} has a reference that is not known", in_quotes(name)));
        const std::size_t colon = name.rfind(':');
        const std::string local = lower(colon == name.npos ? name : name.substr(colon + 1));
        if (name == "xmlns" || name.starts_with("xmlns:")) {
            if (name == "xmlns" && *value != kSvg)
                refuse(fmt::format("it has another namespace: {}", in_quotes(*value)), "export it as plain SVG");
            if (name != "xmlns" && (*value == kSvg || *value == kXhtml))
                refuse(fmt::format("it names the namespace {} by a prefix", in_quotes(*value)),
                       "export it as plain SVG");
            return;
        }
        if (local.starts_with("on"))
            return refuse(fmt::format("it runs a script: {}", in_quotes(name)), "take the script out");
        if (local == "href" || local == "src" || local == "base") check_address(name, *value);
        else check_style(*value);  // fill="url(...)" is as good as a style
    }

    void check_element(const std::string& name) {
        const std::size_t colon = name.find(':');
        // Editors leave notes of their own in a namespace of their own; nothing draws or runs them.
        if (colon != name.npos) {
            const std::string local = lower(name.substr(colon + 1));
            if (local == "script" || local == "foreignobject" || local == "handler" || local == "listener")
                refuse(fmt::format("it has a part that is no drawing: <{}>", name), "take it out");
            return;
        }
        if (lower(name) == "script") return refuse("it runs a script: <script>", "take the script out");
        if (std::ranges::find(kElements, name) == std::end(kElements))
            refuse(fmt::format("it has a part that is not allowed in a drawing: <{}>", name),
                   "export it as plain SVG, or take that part out");
    }

    bool tag() {
        const bool closing = starts("</");
        at += closing ? 2 : 1;
        const std::size_t begin = at;
        while (at < text.size() && is_name(text[at])) ++at;
        const std::string name(text.substr(begin, at - begin));
        if (name.empty()) return false;
        if (!closing) {
            if (!seen_root && name != "svg") broken(fmt::format("it begins with <{}>, not with <svg>", name));
            seen_root = true;
            check_element(name);
        }
        while (at < text.size()) {
            while (at < text.size() && is_xml_space(text[at])) ++at;
            if (starts("/>") || starts(">")) {
                in_style = name == "style" && !closing && starts(">");
                at += starts("/>") ? 2 : 1;
                return true;
            }
            const std::size_t attribute = at;
            while (at < text.size() && is_name(text[at])) ++at;
            const std::string attribute_name(text.substr(attribute, at - attribute));
            while (at < text.size() && is_xml_space(text[at])) ++at;
            if (attribute_name.empty() || !starts("=")) return false;
            ++at;
            while (at < text.size() && is_xml_space(text[at])) ++at;
            if (!starts("\"") && !starts("'")) return false;
            const char quote = text[at++];
            const auto value = until(std::string_view(&quote, 1));
            if (!value || value->find('<') != value->npos) return false;
            check_attribute(attribute_name, *value);
        }
        return false;
    }

    void run() {
        if (!is_utf8(text)) return broken("it is not UTF-8 text");
        if (text.starts_with("\xEF\xBB\xBF")) at = 3;
        while (at < text.size()) {
            if (text[at] != '<') {
                const std::size_t next = std::min(text.find('<', at), text.size());
                const auto plain = decoded(text.substr(at, next - at));
                if (!plain) broken("it has a reference that is not known");
                else if (in_style) check_style(*plain);
                at = next;
            } else if (starts("<!--")) {
                at += 4;
                if (!until("-->")) return broken("a comment in it is not closed");
            } else if (starts("<![CDATA[")) {
                at += 9;
                const auto part = until("]]>");
                if (!part) return broken("it is cut off");
                if (in_style) check_style(*part);
            } else if (starts("<?xml ") || starts("<?xml\t") || starts("<?xml\n")) {
                if (!until("?>")) return broken("it is cut off");
            } else if (starts("<?")) {
                refuse("it gives orders to other programs: <?...?>", "take them out");
                if (!until("?>")) return;
            } else if (starts("<!")) {
                // The plain DOCTYPE of SVG 1.1 loads nothing; one with declarations of its own may.
                const auto part = until(">");
                if (!part) return broken("it is cut off");
                if (part->find('[') != part->npos || !part->starts_with("<!DOCTYPE svg"))
                    refuse("it has declarations of its own: <!...>", "export it as plain SVG");
            } else if (!tag()) {
                return broken("it is not well-formed XML");
            }
        }
        if (!seen_root) broken("there is no <svg> in it");
    }
};

}  // namespace

std::vector<Problem> check_svg(std::string_view bytes, std::string_view where) {
    SvgChecker checker{bytes, where};
    checker.run();
    return std::move(checker.problems);
}

}  // namespace footring::book
