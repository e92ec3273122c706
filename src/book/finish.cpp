// The inks of finishes. To add a colour word: a pair in kColours, written without spaces or hyphens.
// SPDX-License-Identifier: Apache-2.0
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/text.h"
#include "book/colour.h"

namespace footring::book {

namespace {
// CSS Color 4 names, and trade words for glazes and enamels. The plain words (red, blue, ...) are fired colours,
// not screen primaries: pure #0000ff is no colour of a pot. The values are chosen by eye.
constexpr std::pair<std::string_view, std::uint32_t> kColours[] = {
    // clang-format off
    {"aliceblue", 0xf0f8ff}, {"amber", 0xc07f2a}, {"amethyst", 0x7c5ca0}, {"antiquewhite", 0xfaebd7},
    {"apple", 0x8cab56}, {"applegreen", 0x8cab56}, {"apricot", 0xe2a56e}, {"aqua", 0x6fb7b4},
    {"aquamarine", 0x7fffd4}, {"ashesofroses", 0xa98583}, {"aubergine", 0x4b2a44}, {"avocado", 0x6f7a3a},
    {"azure", 0xf0ffff}, {"beige", 0xf5f5dc}, {"bisque", 0xffe4c4}, {"bistre", 0x4f3a28}, {"black", 0x1f1c1a},
    {"blanchedalmond", 0xffebcd}, {"blue", 0x2f5597}, {"blueviolet", 0x8a2be2}, {"blush", 0xe3b5ae},
    {"bone", 0xe9e2d0}, {"bottle", 0x24503d}, {"bottlegreen", 0x24503d}, {"brown", 0x75492b},
    {"buff", 0xd8bf94}, {"burgundy", 0x6a1f32}, {"burlywood", 0xdeb887}, {"burntorange", 0xb9591f},
    {"butter", 0xeedb9a}, {"cadetblue", 0x5f9ea0}, {"canary", 0xead05a}, {"caramel", 0xa8703a},
    {"celadon", 0xa6c3a7}, {"cerulean", 0x3a86b4}, {"charcoal", 0x3c3c3f}, {"chartreuse", 0xb3bf45},
    {"cherry", 0xa3243b}, {"chestnut", 0x6f3b26}, {"chocolate", 0x53321f}, {"claret", 0x72213a},
    {"cobalt", 0x1f3f8f}, {"cobaltblue", 0x1f3f8f}, {"cocoa", 0x6b4636}, {"coffee", 0x5a4132},
    {"copperred", 0x9a3b2a}, {"coral", 0xd9705a}, {"coralred", 0xc8503e}, {"cornflowerblue", 0x6495ed},
    {"cornsilk", 0xfff8dc}, {"cranberry", 0x8c2740}, {"cream", 0xf5ebcf}, {"crimson", 0xdc143c},
    {"cucumber", 0x7d9a5a}, {"cyan", 0x00ffff}, {"darkblue", 0x00008b}, {"darkcyan", 0x008b8b},
    {"darkgoldenrod", 0xb8860b}, {"darkgray", 0xa9a9a9}, {"darkgreen", 0x006400}, {"darkgrey", 0xa9a9a9},
    {"darkkhaki", 0xbdb76b}, {"darkmagenta", 0x8b008b}, {"darkolivegreen", 0x556b2f}, {"darkorange", 0xff8c00},
    {"darkorchid", 0x9932cc}, {"darkred", 0x8b0000}, {"darksalmon", 0xe9967a}, {"darkseagreen", 0x8fbc8f},
    {"darkslateblue", 0x483d8b}, {"darkslategray", 0x2f4f4f}, {"darkslategrey", 0x2f4f4f},
    {"darkturquoise", 0x00ced1}, {"darkviolet", 0x9400d3}, {"deeppink", 0xff1493}, {"deepskyblue", 0x00bfff},
    {"delft", 0x2f549a}, {"delftblue", 0x2f549a}, {"dimgray", 0x696969}, {"dimgrey", 0x696969},
    {"dodgerblue", 0x1e90ff}, {"dove", 0xa3a4a5}, {"dovegrey", 0xa3a4a5}, {"duckegg", 0xb9d3c9},
    {"duckeggblue", 0xb5d2d2}, {"dustypink", 0xc99a97}, {"dustyrose", 0xbf8a8b}, {"ebony", 0x26211f},
    {"ecru", 0xd9cdb0}, {"eggplant", 0x4b2a44}, {"eggshell", 0xf1e9d8}, {"emerald", 0x1f7a57},
    {"fawn", 0xb99a74}, {"fern", 0x567a4a}, {"firebrick", 0xb22222}, {"flame", 0xcf4f2a},
    {"floralwhite", 0xfffaf0}, {"flowblue", 0x2b4a8c}, {"forest", 0x2f5d3f}, {"forestgreen", 0x228b22},
    {"frenchblue", 0x4f74a8}, {"fuchsia", 0xff00ff}, {"gainsboro", 0xdcdcdc}, {"ghostwhite", 0xf8f8ff},
    {"goldenbrown", 0xa5712d}, {"goldenrod", 0xdaa520}, {"goldenyellow", 0xd9a72f}, {"grape", 0x5b3a6b},
    {"graphite", 0x4a4b4e}, {"gray", 0x85837f}, {"green", 0x3f7a4a}, {"greenyellow", 0xadff2f},
    {"grey", 0x85837f}, {"harvest", 0xc98a3a}, {"heliotrope", 0x8d6aa6}, {"honey", 0xc98f35},
    {"honeydew", 0xf0fff0}, {"hotpink", 0xff69b4}, {"hunter", 0x2b5240}, {"huntergreen", 0x2b5240},
    {"iceblue", 0xc1dbe4}, {"indianred", 0xcd5c5c}, {"indigo", 0x2f3566}, {"iron", 0xa8412c},
    {"ironred", 0xa8412c}, {"ivory", 0xf4ecd6}, {"jade", 0x5f9f7c}, {"jet", 0x1c1b1d}, {"jonquil", 0xead06a},
    {"khaki", 0xf0e68c}, {"lavender", 0xa99bc4}, {"lavenderblush", 0xfff0f5}, {"lawngreen", 0x7cfc00},
    {"lemon", 0xe8d76b}, {"lemonchiffon", 0xfffacd}, {"lightblue", 0xadd8e6}, {"lightcoral", 0xf08080},
    {"lightcyan", 0xe0ffff}, {"lightgoldenrodyellow", 0xfafad2}, {"lightgray", 0xd3d3d3},
    {"lightgreen", 0x90ee90}, {"lightgrey", 0xd3d3d3}, {"lightpink", 0xffb6c1}, {"lightsalmon", 0xffa07a},
    {"lightseagreen", 0x20b2aa}, {"lightskyblue", 0x87cefa}, {"lightslategray", 0x778899},
    {"lightslategrey", 0x778899}, {"lightsteelblue", 0xb0c4de}, {"lightyellow", 0xffffe0}, {"lilac", 0xb39ac2},
    {"lime", 0x9db53c}, {"limegreen", 0x32cd32}, {"linen", 0xfaf0e6}, {"lustreblack", 0x222226},
    {"magenta", 0xa43a78}, {"mahogany", 0x5c2a20}, {"maize", 0xe3c267}, {"malachite", 0x2f8560},
    {"mandarin", 0xd96b3a}, {"manganese", 0x5f3f57}, {"maroon", 0x6d2530}, {"mauve", 0xa07f99},
    {"mazarine", 0x1d2b6b}, {"mazarineblue", 0x1d2b6b}, {"mediumaquamarine", 0x66cdaa},
    {"mediumblue", 0x0000cd}, {"mediumorchid", 0xba55d3}, {"mediumpurple", 0x9370db},
    {"mediumseagreen", 0x3cb371}, {"mediumslateblue", 0x7b68ee}, {"mediumspringgreen", 0x00fa9a},
    {"mediumturquoise", 0x48d1cc}, {"mediumvioletred", 0xc71585}, {"midnightblue", 0x191970},
    {"mint", 0xa8d3bb}, {"mintcream", 0xf5fffa}, {"mistyrose", 0xffe4e1}, {"moccasin", 0xffe4b5},
    {"mocha", 0x6a4c3a}, {"moss", 0x68733f}, {"mulberry", 0x7d3055}, {"mulberryprint", 0x7d3055},
    {"mushroom", 0xb5a594}, {"mustard", 0xc39a33}, {"navajowhite", 0xffdead}, {"navy", 0x1e2b57},
    {"nile", 0xa3c49c}, {"nilegreen", 0xa3c49c}, {"oat", 0xe9dfc8}, {"ochre", 0xb9822f}, {"oldlace", 0xfdf5e6},
    {"oldrose", 0xb8747c}, {"olive", 0x6f6f37}, {"olivedrab", 0x6b8e23}, {"orange", 0xd9772b},
    {"orangered", 0xff4500}, {"orchid", 0xda70d6}, {"oxblood", 0x6f1d1b}, {"oyster", 0xdcd8cc},
    {"palegoldenrod", 0xeee8aa}, {"palegreen", 0x98fb98}, {"paleturquoise", 0xafeeee},
    {"palevioletred", 0xdb7093}, {"papayawhip", 0xffefd5}, {"parchment", 0xece0c2}, {"peach", 0xe6b08e},
    {"peachpuff", 0xffdab9}, {"peacock", 0x1f6f7d}, {"peacockblue", 0x1f6f7d}, {"pearl", 0xe8e4dc},
    {"periwinkle", 0x7f8fc9}, {"peru", 0xcd853f}, {"petrol", 0x1f5566}, {"pewter", 0x7b7e80},
    {"pine", 0x2e5a4a}, {"pink", 0xd98a97}, {"plum", 0x6c3a5a}, {"pompadour", 0xd87f97}, {"powder", 0x9db7d1},
    {"powderblue", 0xb0e0e6}, {"primrose", 0xecdf9a}, {"puce", 0x8a4a5c}, {"pumpkin", 0xcf6c2a},
    {"purple", 0x6b4580}, {"raspberry", 0xa6385a}, {"rebeccapurple", 0x663399}, {"red", 0xb3362b},
    {"robinsegg", 0x8cc7c4}, {"robinseggblue", 0x8cc7c4}, {"rose", 0xc97b8b}, {"rosepompadour", 0xd87f97},
    {"roses", 0xc97b8b}, {"rosybrown", 0xbc8f8f}, {"rouge", 0xb2463e}, {"rougedefer", 0xb0472f},
    {"royal", 0x2c4fa3}, {"royalblue", 0x4169e1}, {"ruby", 0x8f1f3c}, {"russet", 0x8a4528}, {"rust", 0xa04b27},
    {"saddlebrown", 0x8b4513}, {"saffron", 0xdfa02f}, {"sage", 0x93a187}, {"salmon", 0xdd8f79},
    {"sand", 0xd6c3a0}, {"sandybrown", 0xf4a460}, {"sangdeboeuf", 0x7a1b1a}, {"sapphire", 0x1f4a93},
    {"scarlet", 0xbd2f2a}, {"seafoam", 0xa5cfba}, {"seagreen", 0x2e8b57}, {"seashell", 0xfff5ee},
    {"sepia", 0x6a4a33}, {"shrimp", 0xe39a85}, {"sienna", 0x9a5530}, {"silverblue", 0x9db1c3},
    {"silvergray", 0xa7adb2}, {"silvergrey", 0xa7adb2}, {"sky", 0x8db8d6}, {"skyblue", 0x87ceeb},
    {"slate", 0x5d6b7a}, {"slateblue", 0x6a5acd}, {"slategray", 0x708090}, {"slategrey", 0x708090},
    {"smalt", 0x2b4a9b}, {"smoke", 0x8e8f90}, {"snow", 0xfffafa}, {"springgreen", 0x00ff7f},
    {"steelblue", 0x4682b4}, {"straw", 0xdfcb8b}, {"tan", 0xc3a37a}, {"tangerine", 0xdd7a33},
    {"taupe", 0x8b7b6c}, {"teal", 0x2a7a7b}, {"terracotta", 0xb5603f}, {"thistle", 0xd8bfd8},
    {"tomato", 0xff6347}, {"turquoise", 0x3fa7a3}, {"umber", 0x5f4530}, {"vellum", 0xefe4c8},
    {"verdigris", 0x5fa38f}, {"vermilion", 0xcf4a2e}, {"violet", 0x7d5a9c}, {"walnut", 0x5a4030},
    {"wheat", 0xf5deb3}, {"white", 0xfdfcf8}, {"whitesmoke", 0xf5f5f5}, {"wine", 0x6a2235},
    {"yellow", 0xd9b23c}, {"yellowgreen", 0x9acd32},
    // clang-format on
};

struct Metal {
    std::string_view word, base, light, dark;
};
// base keeps 3:1 against an ivory ground, so that a gold line is seen.
constexpr Metal kMetals[] = {
    {"gold", "#a5781d", "#d9b558", "#775510"},     {"gilt", "#a5781d", "#d9b558", "#775510"},
    {"gilded", "#a5781d", "#d9b558", "#775510"},   {"gilding", "#a5781d", "#d9b558", "#775510"},
    {"platinum", "#767e85", "#bcc4ca", "#50575d"}, {"palladium", "#767e85", "#bcc4ca", "#50575d"},
    {"silver", "#8b949c", "#d3dae0", "#646c74"},   {"copper", "#9c5631", "#cf8a61", "#6d381c"},
    {"bronze", "#7d5a35", "#b48d5e", "#553a1e"},
};
constexpr std::string_view kMixedWords[] = {"multicolour", "multicolor", "multicoloured", "multicolored",
                                            "polychrome",  "multi",      "various",       "colours",
                                            "colors",      "mixed",      "rainbow",       "floral"};

std::optional<std::string> colour_named(std::string_view word) {
    for (const auto& [name, value] : kColours)
        if (name == word) {
            const auto channel = [v = value](int shift) { return static_cast<double>((v >> shift) & 0xFFu) / 255; };
            return hex_of({channel(16), channel(8), channel(0)});
        }
    return std::nullopt;
}

Ink shaded(const std::string& base, bool metal = false, bool mixed = false) {
    return {base, mix(base, "#ffffff", metal ? 0.45 : 0.35), mix(base, "#000000", 0.3), metal, mixed};
}

std::vector<std::string> words_of(std::string_view finish) {
    std::vector<std::string> words(1);
    for (const char c : lower(finish)) {
        const bool letter =
            (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
        if (letter) words.back() += c;
        else if (c != '\'' && !words.back().empty()) words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

bool any_of_words(const std::vector<std::string>& words, auto test) {
    for (const auto& word : words)
        if (test(word)) return true;
    return false;
}

bool is_pale(std::string_view word) { return word == "pale" || word == "light" || word == "soft"; }
bool is_deep(std::string_view word) { return word == "deep" || word == "dark"; }

// The longest run of words that is a colour; of equal runs the later one, as the noun stands last. "Dark blue" is a
// run of its own, so that its first word does not darken it twice.
std::optional<std::string> longest_colour(const std::vector<std::string>& words) {
    for (std::size_t length = words.size(); length > 0; --length)
        for (std::size_t first = words.size() - length + 1; first-- > 0;) {
            std::string joined;
            for (std::size_t i = first; i < first + length; ++i) joined += words[i];
            auto colour = colour_named(joined);
            if (!colour) continue;
            for (std::size_t i = 0; i < words.size(); ++i) {
                if (i >= first && i < first + length) continue;
                if (is_pale(words[i])) *colour = mix(*colour, "#ffffff", 0.4);
                if (is_deep(words[i])) *colour = mix(*colour, "#000000", 0.3);
            }
            return colour;
        }
    return std::nullopt;
}

// FNV-1a spread over the hue circle at one lightness and chroma, so that no unknown finish shouts.
std::string muted_hue(const std::vector<std::string>& words) {
    std::uint32_t hash = 2166136261u;
    for (const auto& word : words)
        for (const char c : word) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
    // 24 hues: direction by rotating a unit vector, which needs no trigonometry and so rounds alike everywhere
    constexpr double kCos = 0.96592582628906829, kSin = 0.25881904510252076;  // of 15 degrees
    double a = 26, b = 0;
    for (std::uint32_t i = 0; i < (hash >> 7) % 24; ++i) {
        const double next = a * kCos - b * kSin;
        b = a * kSin + b * kCos;
        a = next;
    }
    return hex_of(rgb_of_lab({46, a, b}));
}
}  // namespace

Ink ink_of(std::string_view finish) {
    const std::string text = lower(trim(finish));
    if (text.size() == 7 && text[0] == '#' && text.find_first_not_of("0123456789abcdef", 1) == std::string::npos)
        return shaded(text);
    const auto words = words_of(text);
    const bool lustre = any_of_words(words, [](std::string_view w) { return w == "lustre" || w == "luster"; });
    const auto whole = [&] {
        std::string joined;
        for (const auto& word : words) joined += word;
        return colour_named(joined);
    }();
    if (whole) return shaded(*whole, lustre);
    for (const auto& word : words)
        for (const Metal& metal : kMetals)
            if (metal.word == word)
                return {std::string(metal.base), std::string(metal.light), std::string(metal.dark), true, false};
    for (const std::string_view mixed : kMixedWords)
        if (any_of_words(words, [&](std::string_view w) { return w == mixed; }))
            return shaded("#b0566a", false, true);
    return shaded(longest_colour(words).value_or(muted_hue(words)), lustre);
}

}  // namespace footring::book
