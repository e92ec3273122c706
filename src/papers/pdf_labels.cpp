// SPDX-License-Identifier: Apache-2.0
#include "papers/pdf_labels.h"

#include <algorithm>
#include <memory>

#include "papers/pdf_faces.h"

namespace footring::papers {

namespace {

constexpr double kLabelInset = mm(2.2);  // printers shift a sheet by a millimetre or two

struct SetLabel {
    Label label;
    std::vector<SetText> lines;
    SetText price;
    double picture = 0, code = 0;  // widths
};

// The largest of a few sizes at which every line takes one line only, else the smallest.
std::vector<SetText> set_lines(Canvas& canvas, const std::vector<Text>& lines, double width, double height) {
    std::vector<SetText> out;
    for (const double scale : {1.0, 0.92, 0.84, 0.76, 0.68}) {
        out.clear();
        double tall = 0;
        for (std::size_t i = 0; i < lines.size(); ++i) {
            Face face = i == 0 ? Face{.size = 12, .leading = 13.4, .features = "onum=1", .divided = false}
                               : Face{.family = kSansFamily,
                                      .size = 7.4,
                                      .leading = 9.4,
                                      .features = kTableFigures,
                                      .divided = false};
            face.size *= scale;
            face.leading *= scale;
            out.push_back(canvas.set(lines[i], face, width));
            tall += out.back().height();
        }
        if (tall <= height) break;
    }
    return out;
}

void draw(Canvas& c, const SetLabel& set, double x, double y, double width, double height) {
    double left = x + kLabelInset;
    const double right = x + width - kLabelInset;
    if (set.label.picture) {
        const Picture& picture = *set.label.picture;
        const double tall = set.picture * picture.height / picture.width;
        c.picture(picture, left, y + (height - tall) / 2, set.picture, tall);
        left += set.picture + mm(2);
    }
    double tall = 0;
    for (const SetText& line : set.lines) tall += line.height();
    if (!set.price.lines.empty()) tall += set.price.height() + 2;
    double top = y + std::max(kLabelInset * 0.6, (height - tall) / 2);
    for (const SetText& line : set.lines) {
        c.text(line, left, top);
        top += line.height();
    }
    if (!set.price.lines.empty()) c.text(set.price, left, top + 2);
    if (set.label.code)
        c.picture(*set.label.code, right - set.code, y + (height - set.code) / 2, set.code, set.code);
}

}  // namespace

std::vector<Strip> label_sheets(Canvas& canvas, const Labels& labels) {
    const Grid& grid = labels.grid;
    const double width = mm(grid.width_mm), height = mm(grid.height_mm), inside = height - 2 * kLabelInset;
    const auto on_sheet = static_cast<std::size_t>(grid.columns * grid.rows);
    auto all = std::make_shared<std::vector<SetLabel>>();
    for (const Label& label : labels.labels) {
        SetLabel set;
        set.label = label;
        if (label.picture)
            set.picture = std::min({inside * label.picture->width / label.picture->height, width * 0.24, mm(24)});
        // A QR code under 12 mm is not read well by telephones.
        if (label.code) set.code = std::min(std::max(width * 0.21, mm(12)), std::min(inside, mm(18)));
        const double text = width - 2 * kLabelInset - (label.picture ? set.picture + mm(2) : 0) -
                            (label.code ? set.code + mm(1.5) : 0);
        const Face price{.size = 15, .leading = 17, .bold = true, .features = "lnum=1", .divided = false};
        if (!label.price.empty()) set.price = canvas.set(Text(label.price), price, text);
        set.lines =
            set_lines(canvas, label.lines, text,
                      height - 2 * kLabelInset * 0.6 - (set.price.lines.empty() ? 0 : set.price.height() + 2));
        all->push_back(std::move(set));
    }
    std::vector<Strip> out;
    const auto skip = static_cast<std::size_t>(std::max(labels.skip, 0));
    for (std::size_t sheet = 0; sheet * on_sheet < skip + all->size(); ++sheet) {
        Strip strip;
        strip.new_page = true;
        strip.flush = true;
        strip.height = canvas.height();
        strip.draw = [all, grid, sheet, on_sheet, skip, width, height](Canvas& c, double) {
            for (std::size_t place = 0; place < on_sheet; ++place) {
                const std::size_t at = sheet * on_sheet + place;
                const double x =
                    mm(grid.left_mm +
                       static_cast<double>(place % static_cast<std::size_t>(grid.columns)) * grid.step_x_mm);
                const double y =
                    mm(grid.top_mm +
                       static_cast<double>(place / static_cast<std::size_t>(grid.columns)) * grid.step_y_mm);
                if (at < skip || at - skip >= all->size()) continue;
                if (grid.outlines) c.frame(x, y, width, height, 0.25, kRule);
                c.tags({{"P", at + 1}});
                draw(c, (*all)[at - skip], x, y, width, height);
            }
            c.tags({});
        };
        out.push_back(std::move(strip));
    }
    return out;
}

}  // namespace footring::papers
