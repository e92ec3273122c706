// SPDX-License-Identifier: Apache-2.0
#include "cli/text_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace footring::cli {

namespace {
bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }

constexpr std::array<std::string_view, 9> kEighths = {"", "▏", "▎", "▍", "▌", "▋", "▊", "▉", "█"};
constexpr std::array<std::string_view, 9> kHeights = {" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};

std::string inked(bool on, std::string_view code, std::string_view text) {
    return on ? fmt::format("\x1b[{}m{}\x1b[0m", code, text) : std::string(text);
}
}  // namespace

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, starts_character));
}

std::string repeat(std::string_view text, std::size_t times) {
    std::string out;
    for (std::size_t i = 0; i < times; ++i) out += text;
    return out;
}

std::string padded(std::string_view text, std::size_t width) {
    return std::string(text) + repeat(" ", width - std::min(width, width_of(text)));
}
std::string padded_left(std::string_view text, std::size_t width) {
    return repeat(" ", width - std::min(width, width_of(text))) + std::string(text);
}

std::string shortened(std::string_view text, std::size_t width) {
    if (width_of(text) <= width) return std::string(text);
    std::string out;
    for (std::size_t i = 0, shown = 0; i < text.size(); ++i) {
        if (starts_character(text[i]) && ++shown >= width) break;
        out += text[i];
    }
    return out + "…";
}

std::string wrapped(std::string_view text, int width, std::string_view first, std::string_view other) {
    std::string out(first);
    std::size_t used = width_of(first);
    bool begun = false;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find_first_of(" \n\t"), text.size());
        const std::string_view word = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (word.empty()) continue;
        if (begun && used + 1 + width_of(word) > static_cast<std::size_t>(width)) {
            out += '\n';
            out += other;
            used = width_of(other);
            begun = false;
        }
        if (begun) out += ' ', ++used;
        out += word;
        used += width_of(word);
        begun = true;
    }
    return out + '\n';
}

std::string bar(double share, std::size_t cells) {
    const double eighths = std::clamp(share, 0.0, 1.0) * static_cast<double>(cells) * 8;
    auto filled = static_cast<std::size_t>(std::lround(eighths));
    if (share > 0 && filled == 0) filled = 1;
    return padded(repeat(kEighths[8], filled / 8) + std::string(kEighths[filled % 8]), cells);
}

std::string signed_bar(double share, std::size_t half) {
    auto cells = static_cast<std::size_t>(std::lround(std::min(std::abs(share), 1.0) * static_cast<double>(half)));
    if (share != 0 && cells == 0) cells = 1;
    if (share < 0) return padded_left(repeat("▒", cells), half) + "│" + repeat(" ", half);
    return repeat(" ", half) + "│" + padded(repeat("█", cells), half);
}

std::string skyline(std::span<const double> values, std::size_t cells) {
    if (values.empty() || cells == 0) return {};
    cells = std::min(cells, values.size());
    std::vector<double> means(cells, 0);
    for (std::size_t c = 0; c < cells; ++c) {
        const std::size_t from = c * values.size() / cells, to = (c + 1) * values.size() / cells;
        for (std::size_t i = from; i < to; ++i) means[c] += values[i] / static_cast<double>(to - from);
    }
    const double tallest = std::ranges::max(means);
    std::string out;
    for (const double mean : means) {
        auto height = tallest > 0 ? static_cast<std::size_t>(std::lround(mean / tallest * 8)) : 0;
        if (mean > 0 && height == 0) height = 1;
        out += kHeights[height];
    }
    return out;
}

std::string percent(double share) {
    if (share <= 0) return "0 %";
    if (share < 0.01) return "<1 %";
    if (share > 0.99 && share < 1) return ">99 %";
    return fmt::format("{} %", std::lround(share * 100));
}

std::string years_in_words(std::pair<int, int> span) {
    return span.first == span.second ? fmt::format("in {}", span.first)
                                     : fmt::format("{} to {}", span.first, span.second);
}

std::string Ink::strong(std::string_view text) const { return inked(on, "1", text); }
std::string Ink::faint(std::string_view text) const { return inked(on, "2", text); }
std::string Ink::warm(std::string_view text) const { return inked(on, "33", text); }

}  // namespace footring::cli
