// The middle of a dossier: each shape with its treatments, what tells them apart, and one's own pieces of it; then
// grades and marks. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "naming/apart.h"
#include "papers/dossier.h"
#include "papers/dossier_parts.h"
#include "papers/pictures.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;
using Treatments = std::vector<Ref<book::Treatment>>;

std::string numbers(const Book& b, const Treatments& list, std::size_t most = 6) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < list.size() && i < most; ++i) out.push_back(number_of(b, list[i]));
    if (list.size() > most) return fmt::format("{} and {} more", fmt::join(out, ", "), list.size() - most);
    return listed(out);
}

std::string forms_words(const Book& b, const std::vector<Ref<book::Form>>& forms, std::size_t most = 3) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < forms.size() && i < most; ++i) out.push_back(lower(form_of(b, forms[i])));
    if (forms.size() > most) return fmt::format("{} and {} more forms", fmt::join(out, ", "), forms.size() - most);
    return listed(out);
}

Entry treatment_entry(const Ground& g, Ref<book::Treatment> t) {
    const Book& b = g.book;
    const book::Treatment& row = b[t];
    Entry entry;
    const auto form = shown_form(b, row.shape);
    entry.picture = glyph(b, t, form);
    entry.picture_mm = 30;
    entry.blocks.emplace_back(Heading{3, called(b, t), treatment_anchor(b, t), ""});
    Text about;
    std::vector<std::string> parts;
    if (row.glaze) parts.push_back("glaze " + b[*row.glaze].name);
    if (row.years) parts.push_back(short_years(row.years));
    parts.push_back(grade_words(row.grade));
    if (!row.outlet.empty()) parts.push_back("sold by " + row.outlet);
    about.add(capital(joined(parts, "; "))).add(". ");
    about.add(capital(decoration_words(b, book::decoration(b, t, form)))).add(".");
    about.append(g.sources.cite(row.sources));
    if (!row.note.empty()) about.add(" " + row.note);
    entry.blocks.emplace_back(Paragraph{std::move(about)});
    Text twins;
    if (const auto alike = g.alike.find(t); alike != g.alike.end())
        for (const Ground::Alike& each : alike->second)
            twins.add(fmt::format("{}Nothing tells it from {} on {}.", twins.empty() ? "" : " ",
                                  numbers(b, each.others), forms_words(b, each.forms)));
    if (!twins.empty()) {
        Paragraph p{std::move(twins)};
        p.kind = Paragraph::Kind::kNote;
        entry.blocks.emplace_back(std::move(p));
    }
    return entry;
}

// Rows: treatments; columns: the looks that differ between them on the form that tells most.
void telling(const Ground& g, Ref<book::Shape> shape, Blocks& out) {
    const Book& b = g.book;
    const Treatments list = g.of(shape);
    if (list.size() < 2) return;
    // Every treatment of the shape may be met, not only those of this subject; but those are what is asked.
    const Book part = part_of(b, list);
    Treatments here;
    for (std::uint32_t i = 0; i < list.size(); ++i) here.push_back({i});
    const auto form = telling_form(b, list);
    const naming::Apart apart = naming::apart(part, form, here);
    const std::string on = form ? lower(form_of(b, *form)) : "any form";
    if (apart.differences.empty()) {
        out.emplace_back(
            Paragraph{fmt::format("Nothing tells these treatments apart on the form \u2018{}\u2019.", on)});
        return;
    }
    Table table;
    table.caption = fmt::format("How to tell them apart, on the form \u2018{}\u2019", on);
    table.columns = {{"Number", 1.1}};
    for (const naming::Difference& each : apart.differences) table.columns.push_back({capital(each.look), 1.8});
    for (std::size_t i = 0; i < here.size(); ++i) {
        Text number;
        number.bold(number_of(b, list[i]), "#" + treatment_anchor(b, list[i]));
        std::vector<Cell> cells{Cell(std::move(number))};
        for (const naming::Difference& each : apart.differences)
            cells.emplace_back(value_words(part, each.look, each.values[i]));
        table.rows.push_back(std::move(cells));
    }
    out.emplace_back(std::move(table));
    std::vector<std::string> groups;
    for (const auto& group : apart.twin_groups) {
        if (group.size() < 2) continue;
        Treatments whole;
        for (const auto t : group) whole.push_back(list[t.at]);
        groups.push_back(numbers(b, whole));
    }
    if (!groups.empty()) {
        Paragraph p{fmt::format("Alike on this form: {}.", fmt::join(groups, "; "))};
        p.kind = Paragraph::Kind::kNote;
        out.emplace_back(std::move(p));
    }
}

Expected<void> photographs(const Ground& g, Ref<book::Shape> shape, std::size_t& left, Blocks& out) {
    Figures figures;
    figures.each_mm = 52.6;
    for (const OwnPiece& piece : g.pieces) {
        if (piece.shape != shape) continue;
        for (const std::string& sha256 : piece.record.photos) {
            if (left == 0) break;
            --left;
            const std::string what =
                fmt::format("{}, {}", piece.record.piece.id,
                            piece.form ? lower(form_of(g.book, *piece.form)) : "form not known");
            auto photo = small_photo(*g.with.store, sha256, "Photograph of " + what);
            if (!photo) return std::unexpected(photo.error());
            Text caption;
            caption.bold(piece.record.piece.id).add(" ");
            caption.add(piece.form ? form_of(g.book, *piece.form) : "Form not known");
            if (piece.treatment) caption.add(", " + number_of(g.book, *piece.treatment));
            caption.add("; " + certainty(g.book, piece) + ".");
            figures.items.push_back({std::move(*photo), std::move(caption)});
        }
    }
    if (!figures.items.empty()) out.emplace_back(std::move(figures));
    return {};
}

}  // namespace

std::optional<Ref<book::Form>> shown_form(const Book& b, Ref<book::Shape> shape) {
    const auto forms = book::forms_of(b, shape);
    for (const auto form : forms)
        if (b[form].ware == book::Ware::kFlat) return form;
    return forms.empty() ? std::nullopt : std::optional(forms.front());
}

Expected<void> shape_by_shape(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    if (g.shapes.empty()) return {};
    out.emplace_back(
        Heading{1, g.shapes.size() > 1 ? "Shape by shape" : "The shape and its treatments", "shapes", ""});
    std::size_t photos_left = kMostPhotos;
    for (const auto shape : g.shapes) {
        const book::Shape& row = b[shape];
        std::string anchor = "shape-" + book::id_of(b, shape);
        std::ranges::replace(anchor, ':', '-');
        out.emplace_back(Heading{2, shape_of(b, shape), anchor, short_years(row.years)});
        Text about;
        const Treatments list = g.of(shape);
        about.add(fmt::format("{}{}. ", row.maker ? b[*row.maker].name : "Maker not recorded",
                              row.years ? ", " + years_of(row.years) : ""));
        if (!row.note.empty()) about.add(row.note + " ");
        about.add(capital(count_of(list.size(), "treatment", "treatments")) + " here.")
            .append(g.sources.cite(row.sources));
        Paragraph intro{std::move(about)};
        intro.keep = true;
        out.emplace_back(std::move(intro));
        for (const auto t : list) out.emplace_back(treatment_entry(g, t));
        telling(g, shape, out);
        if (auto done = photographs(g, shape, photos_left, out); !done) return done;
    }
    return {};
}

void grades(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    // Two treatments of one shape and glaze with the same rows of decoration and another grade are a pair.
    const auto looks_like = [&](Ref<book::Treatment> t) {
        std::vector<std::string> rows;
        for (const std::uint32_t row : b.decoration_rows[t.at]) {
            const book::TreatmentOrnament& each = b.treatment_ornaments[row];
            rows.push_back(fmt::format("{}/{}/{}/{}/{}", static_cast<int>(each.place), each.ornament.at,
                                       each.on.ware ? static_cast<int>(*each.on.ware) + 1 : 0,
                                       each.on.form ? static_cast<int>(each.on.form->at) + 1 : 0, each.share));
        }
        std::ranges::sort(rows);
        return fmt::format("{} {} {}", b[t].shape.at, b[t].glaze ? static_cast<int>(b[t].glaze->at) : -1,
                           fmt::join(rows, " "));
    };
    std::map<std::string, Treatments> alike;
    std::vector<std::string> order;
    for (std::uint32_t i = 0; i < b.treatments.size(); ++i) {
        if (std::ranges::find(g.shapes, b.treatments[i].shape) == g.shapes.end()) continue;
        const std::string look = looks_like({i});
        if (!alike.contains(look)) order.push_back(look);
        alike[look].push_back({i});
    }
    Table table;
    table.columns = {{"Shape", 1.5}, {"First run", 3}, {"Second grade", 3}};
    for (const std::string& look : order) {
        std::vector<std::string> first, second;
        bool ours = false;
        for (const auto t : alike[look]) {
            ours = ours || std::ranges::find(g.treatments, t) != g.treatments.end();
            if (b[t].grade == book::Grade::kFirst) first.push_back(called(b, t));
            if (b[t].grade == book::Grade::kSecond) second.push_back(called(b, t));
        }
        if (ours && !first.empty() && !second.empty())
            table.rows.push_back({Cell(shape_of(b, b[alike[look].front()].shape)), Cell(joined(first, "; ")),
                                  Cell(joined(second, "; "))});
    }
    if (table.rows.empty()) return;
    out.emplace_back(Heading{1, "Grades", "grades", ""});
    out.emplace_back(Paragraph{
        .text = {"The same look was sold as first run and as second-grade ware, under two numbers. Only the "
                 "number, the mark "
                 "and the faults of a piece tell which it is; the looks do not."},
        .keep = true});
    out.emplace_back(std::move(table));
}

void marks(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    std::set<Ref<book::Maker>> makers;
    for (const auto shape : g.shapes)
        if (b[shape].maker) makers.insert(*b[shape].maker);
    Table table;
    table.columns = {{"Wording", 3}, {"Maker", 2}, {"Years", 2}, {"On", 2}, {"Grade", 1.4}, {"Source", 0.9}};
    for (const book::Mark& mark : b.marks) {
        if (!mark.maker || !makers.contains(*mark.maker)) continue;
        std::vector<std::string> on;
        for (const auto shape : mark.shapes)
            if (std::ranges::find(g.shapes, shape) != g.shapes.end()) on.push_back(shape_of(b, shape));
        if (!mark.shapes.empty() && on.empty()) continue;
        Text wording(mark.wording.empty() ? mark.id : mark.wording);
        if (mark.code_scheme) wording.italic(" with a date code");
        table.rows.push_back({Cell(std::move(wording)), Cell(b[*mark.maker].name), Cell(short_years(mark.years)),
                              Cell(mark.shapes.empty() ? "every shape" : listed(on)),
                              Cell(mark.second ? "second" : "either"), Cell(g.sources.cite(mark.sources))});
    }
    if (table.rows.empty()) return;
    out.emplace_back(Heading{1, "Marks", "marks", ""});
    out.emplace_back(Paragraph{
        .text = {"Marks of the makers of these shapes. Much of this ware was never marked: a piece without a mark "
                 "is no evidence "
                 "against any treatment here."},
        .keep = true});
    out.emplace_back(std::move(table));
}

}  // namespace footring::papers
