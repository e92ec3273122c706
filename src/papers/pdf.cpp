// SPDX-License-Identifier: Apache-2.0
#include "papers/pdf.h"

#include <fmt/format.h>

#include <algorithm>

#include "papers/pdf_blocks.h"
#include "papers/pdf_canvas.h"
#include "papers/pdf_faces.h"

namespace footring::papers {

namespace {

struct Page {
    double top, bottom, left, right, main;
};

Page page_of(const Canvas& canvas) {
    return {mm(20), canvas.height() - mm(22), mm(22), canvas.width() - mm(20), mm(22) + mm(42)};
}

struct Placed {
    const Strip* strip;
    double top;
};
using Pages = std::vector<std::vector<Placed>>;

// Strips onto pages, first come first placed; those that keep together move to the next page together.
Pages paginated(const std::vector<Strip>& strips, const Page& page) {
    Pages pages(1);
    double y = page.top;
    const auto next_page = [&] {
        pages.emplace_back();
        y = page.top;
    };
    for (std::size_t at = 0; at < strips.size();) {
        if (strips[at].new_page && !pages.back().empty()) next_page();
        if (strips[at].flush) {
            pages.back().push_back({&strips[at], 0});
            y = page.bottom;
            ++at;
            continue;
        }
        std::size_t end = at + 1;
        while (end < strips.size() && strips[end - 1].keep && !strips[end].new_page) ++end;
        double tall = pages.back().empty() ? 0 : strips[at].before;
        for (std::size_t i = at; i < end; ++i) tall += (i == at ? 0 : strips[i].before) + strips[i].height;
        const bool fits = y + tall <= page.bottom + 0.01;
        const double whole = page.bottom - page.top;
        if (!fits && !pages.back().empty() && tall - strips[at].before <= whole) next_page();
        for (; at < end; ++at) {
            const Strip& strip = strips[at];
            double before = pages.back().empty() ? 0 : strip.before;
            if (y + before + strip.height > page.bottom + 0.01 && !pages.back().empty()) {
                next_page();
                before = 0;
            }
            if (pages.back().empty() && strip.header) {
                pages.back().push_back({strip.header.get(), y});
                y += strip.header->height;
            }
            y += before;
            pages.back().push_back({&strip, y});
            y += strip.height;
        }
    }
    return pages;
}

void gather_ids(const std::vector<Block>& blocks, std::vector<std::string>& out) {
    for (const Block& block : blocks)
        std::visit(
            [&](const auto& each) {
                if constexpr (requires { each.id; })
                    if (!each.id.empty()) out.push_back(each.id);
                if constexpr (requires { each.blocks; }) gather_ids(each.blocks, out);
                if constexpr (std::is_same_v<std::remove_cvref_t<decltype(each)>, Figures>)
                    for (const Figure& figure : each.items)
                        if (!figure.id.empty()) out.push_back(figure.id);
            },
            block.is);
}

}  // namespace

Expected<std::string> pdf(const Paper& paper, const PdfOptions& options) {
    auto opened = Canvas::open(size_of(options.size), paper, options.made);
    if (!opened) return std::unexpected(opened.error());
    Canvas& canvas = **opened;
    gather_ids(paper.blocks, canvas.known);
    const Page page = page_of(canvas);
    Setter setter(canvas, {page.left, page.main, page.right});

    const std::vector<Strip> head = paper.bare ? std::vector<Strip>{} : setter.title(paper);
    const std::vector<Strip> body = setter.strips(paper.blocks);
    std::vector<Setter::Listed> listed;
    if (paper.contents)
        for (const Strip& strip : body)
            if (strip.level >= 1 && strip.level <= 2 && !strip.id.empty())
                listed.push_back({strip.heading, strip.id, strip.level, 0});
    // The list is as long with every page number, so it is set twice: to count, and with the pages that came out.
    std::vector<Strip> all;
    Pages pages;
    for (int round = 0; round < 2; ++round) {
        all = head;
        for (Strip& strip : setter.contents(listed)) all.push_back(std::move(strip));
        all.insert(all.end(), body.begin(), body.end());
        pages = paginated(all, page);
        for (Setter::Listed& each : listed)
            for (std::size_t i = 0; i < pages.size(); ++i)
                for (const Placed& placed : pages[i])
                    if (placed.strip->id == each.id) each.page = static_cast<int>(i) + 1;
    }

    const std::string left = paper.kind.empty() ? paper.title : paper.kind + " \u00b7 " + paper.title;
    // One element around all others (ISO 32000-1, 14.8.4.2); it ends before the last foot, which is no part of it.
    canvas.open_tag("Document");
    for (std::size_t i = 0; i < pages.size(); ++i) {
        canvas.label_page(static_cast<int>(i) + 1);
        for (const Placed& placed : pages[i]) {
            canvas.tags(placed.strip->tags);
            if (!placed.strip->id.empty()) canvas.place(placed.strip->id, placed.top);
            placed.strip->draw(canvas, placed.top);
            if (!placed.strip->heading.empty() && !placed.strip->id.empty() && placed.strip->level <= 3)
                canvas.outline(placed.strip->heading, placed.strip->level, placed.strip->id);
        }
        canvas.tags({});
        if (i + 1 == pages.size()) canvas.close_tag("Document");
        if (!paper.bare) {
            const double y = canvas.height() - mm(14);
            Face number = kFoot;
            number.right = true;
            canvas.text(canvas.set(Text(paper.date.empty() ? left : left + " \u00b7 " + paper.date), kFoot,
                                   page.right - page.left - 60),
                        page.left, y);
            canvas.text(canvas.set(Text(fmt::format("{} of {}", i + 1, pages.size())), number, 55), page.right - 55,
                        y);
        }
        canvas.end_page();
    }
    return canvas.finish();
}

}  // namespace footring::papers
