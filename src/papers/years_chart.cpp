// SPDX-License-Identifier: Apache-2.0
#include "papers/years_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "base/text.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;

constexpr double kWidth = 1680, kLeft = 430, kRow = 34, kBar = 17, kTop = 44;  // tenths of a millimetre
constexpr int kSoft = 3;  // years that an approximate end is drawn paler, as it is weighed

struct Bar {
    std::string name;
    bool heading = false;
    std::optional<int> first, last;
    bool soft_first = false, soft_last = false;
    std::vector<int> uses;
};

void stretch(Bar& bar, const std::optional<edtf::Edtf>& years) {
    if (!years) return;
    for (const edtf::Span& span : years->spans()) {
        if (span.first && (!bar.first || *span.first < *bar.first)) {
            bar.first = static_cast<int>(*span.first);
            bar.soft_first = span.first_end != edtf::End::kSharp;
        }
        if (span.last && (!bar.last || *span.last > *bar.last)) {
            bar.last = static_cast<int>(*span.last);
            bar.soft_last = span.last_end != edtf::End::kSharp;
        }
    }
}

}  // namespace

std::optional<Picture> years_chart(const Ground& g) {
    const Book& b = g.book;
    const bool each = g.treatments.size() <= kMostBars;
    std::vector<Bar> bars;
    std::size_t dated = 0;
    const auto uses_of = [&](Bar& bar, const std::string& full_id) {
        for (const book::DatedUse& use : b.dated_uses)
            if (use.subject == full_id)
                if (const auto year = first_year(use.date)) bar.uses.push_back(*year);
    };
    if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&g.subject)) {
        Bar own;
        own.name = b[*ornament].name;
        own.heading = true;
        stretch(own, b[*ornament].years);
        uses_of(own, full_id_of(b, g.subject));
        bars.push_back(std::move(own));
    }
    for (const auto shape : g.shapes) {
        Bar lane;
        lane.name = shape_of(b, shape);
        lane.heading = true;
        std::vector<Bar> rows;
        for (const auto t : g.of(shape)) {
            Bar bar;
            bar.name = called(b, t);
            stretch(bar, b[t].years);
            if (bar.first || bar.last) ++dated;
            uses_of(each ? bar : lane, full_id_of(b, Subject(t)));
            if (!each) stretch(lane, b[t].years);
            rows.push_back(std::move(bar));
        }
        bars.push_back(std::move(lane));
        if (each) std::ranges::move(rows, std::back_inserter(bars));
    }
    if (dated < 2) return std::nullopt;
    int from = std::numeric_limits<int>::max(), to = std::numeric_limits<int>::min();
    for (const Bar& bar : bars) {
        for (const auto& year : {bar.first, bar.last})
            if (year) from = std::min(from, *year), to = std::max(to, *year);
        for (const int year : bar.uses) from = std::min(from, year), to = std::max(to, year);
    }
    from = (from - 4) / 10 * 10;
    to = (to + 13) / 10 * 10;
    const double per_year = (kWidth - kLeft - 32) / (to - from),
                 height = kTop + kRow * static_cast<double>(bars.size()) + 8;
    const auto x = [&](double year) { return kLeft + (year - from) * per_year; };

    std::string svg = fmt::format(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {:.0f} {:.0f}'><g font-family='Lato, sans-serif' "
        "font-size='23' fill='#1c1a17'>",
        kWidth, height);
    const int step = to - from > 80 ? 20 : 10;
    for (int year = (from + step - 1) / step * step; year <= to; year += step)
        svg += fmt::format(
            "<path d='M{0:.1f} {1}V{2:.0f}' stroke='#d8cfc2' stroke-width='1.5'/><text x='{0:.1f}' y='26' "
            "text-anchor='middle' fill='#5f5850'>{3}</text>",
            x(year), kTop - 8, height - 6, year);
    double y = kTop;
    for (const Bar& bar : bars) {
        const double middle = y + kRow / 2;
        std::string name = bar.name;
        if (name.size() > 34) {
            std::size_t cut = 32;
            while (cut > 0 && (static_cast<unsigned char>(name[cut]) & 0xC0) == 0x80) --cut;
            name = name.substr(0, cut) + "\u2026";
        }
        svg += fmt::format("<text x='{}' y='{:.1f}'{}>{}</text>", bar.heading ? 0 : 26, middle + 8,
                           bar.heading ? " font-weight='bold'" : "", escape_markup(name));
        if (bar.first || bar.last) {
            const int first = bar.first.value_or(from), last = bar.last.value_or(to) + 1;
            const char* colour = bar.heading ? "#7c4424" : "#a8875f";
            const auto part = [&](double begin, double end, double opacity) {
                begin = std::max<double>(begin, from);
                end = std::min<double>(end, to);
                if (end > begin)
                    svg += fmt::format(
                        "<rect x='{:.1f}' y='{:.1f}' width='{:.1f}' height='{}' fill='{}' "
                        "fill-opacity='{}'/>",
                        x(begin), middle - kBar / 2, (end - begin) * per_year, kBar, colour, opacity);
            };
            part(first, last, 1);
            if (bar.soft_first || !bar.first) part(first - kSoft, first, 0.35);
            if (bar.soft_last || !bar.last) part(last, last + kSoft, 0.35);
        }
        for (const int year : bar.uses)
            svg += fmt::format(
                "<path d='M{0:.1f} {1:.1f}l9 9l-9 9l-9-9z' fill='#fff' stroke='#1c1a17' "
                "stroke-width='2.5'/>",
                x(year + 0.5), middle - 9);
        y += kRow;
    }
    svg += "</g></svg>";
    Picture out;
    out.svg = std::move(svg);
    out.width = kWidth;
    out.chart = true;
    out.height = height;
    out.alt = fmt::format("Years from {} to {}: a bar for each {}, a diamond for each dated use", from, to,
                          each ? "treatment" : "shape");
    return out;
}

}  // namespace footring::papers
