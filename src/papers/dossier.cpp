// SPDX-License-Identifier: Apache-2.0
#include "papers/dossier.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "base/text.h"
#include "naming/apart.h"
#include "papers/dossier_parts.h"
#include "papers/pictures.h"
#include "papers/years_chart.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;
using Treatments = std::vector<Ref<book::Treatment>>;

// Twins are asked of a Book that holds only the shapes in question: others are never twins, and take time.
std::map<Ref<book::Treatment>, std::vector<Ground::Alike>> find_alike(const Book& b, const Treatments& wanted) {
    std::set<Ref<book::Shape>> shapes;
    for (const auto t : wanted) shapes.insert(b[t].shape);
    Treatments kept;
    for (std::uint32_t i = 0; i < b.treatments.size(); ++i)
        if (shapes.contains(b.treatments[i].shape)) kept.push_back({i});
    const Book part = part_of(b, kept);
    std::map<Ref<book::Shape>, std::set<Ref<book::Form>>> forms;
    std::set<Ref<book::Form>> all;
    for (const auto shape : shapes)
        for (const auto form : book::forms_of(b, shape)) forms[shape].insert(form), all.insert(form);
    std::map<Ref<book::Treatment>, std::map<Treatments, std::vector<Ref<book::Form>>>> found;
    for (const auto form : all)
        for (const auto& group : naming::twins(part, form)) {
            Treatments here;
            for (const auto t : group) here.push_back(kept[t.at]);
            if (!forms[b[here.front()].shape].contains(form)) continue;
            for (const auto t : here) {
                Treatments others = here;
                std::erase(others, t);
                found[t][others].push_back(form);
            }
        }
    std::map<Ref<book::Treatment>, std::vector<Ground::Alike>> out;
    for (const auto t : wanted)
        for (const auto& [others, at] : found[t]) out[t].push_back({others, at});
    return out;
}

std::string full_id(const Book& b, Ref<book::Treatment> t) { return b.packs[b[t].origin.pack].id + ":" + b[t].id; }

template <class T>
std::string full_id(const Book& b, Ref<T> ref) {
    return b.packs[b[ref].origin.pack].id + ":" + b[ref].id;
}

}  // namespace

std::vector<Ref<book::Treatment>> Ground::of(Ref<book::Shape> shape) const {
    Treatments out;
    for (const auto t : treatments)
        if (book[t].shape == shape) out.push_back(t);
    return out;
}

std::vector<Ref<book::Ornament>> Ground::ornaments() const {
    std::vector<Ref<book::Ornament>> out;
    if (const auto* own = std::get_if<Ref<book::Ornament>>(&subject)) out.push_back(*own);
    for (const auto t : treatments)
        for (const std::uint32_t row : book.decoration_rows[t.at]) {
            const auto ornament = book.treatment_ornaments[row].ornament;
            if (book.treatment_ornaments[row].share > 0 && std::ranges::find(out, ornament) == out.end())
                out.push_back(ornament);
        }
    return out;
}

bool Ground::about(const std::string& id) const {
    if (id == full_id_of(book, subject)) return true;
    for (const auto t : treatments)
        if (id == full_id(book, t)) return true;
    if (std::holds_alternative<Ref<book::Treatment>>(subject))
        for (const auto ornament : ornaments())
            if (id == full_id(book, ornament)) return true;
    return false;
}

Ground ground_of(const Subject& subject, std::vector<OwnPiece> pieces, const Context& with, Bibliography& sources) {
    Ground out{with.book, with, subject, treatments_of(with.book, subject), {}, std::move(pieces), sources, {}};
    for (const auto t : out.treatments)
        if (std::ranges::find(out.shapes, with.book[t].shape) == out.shapes.end())
            out.shapes.push_back(with.book[t].shape);
    if (const auto* shape = std::get_if<Ref<book::Shape>>(&subject); shape && out.shapes.empty())
        out.shapes.push_back(*shape);
    out.alike = find_alike(with.book, out.treatments);
    return out;
}

std::string treatment_anchor(const Book& b, Ref<book::Treatment> t) {
    std::string id = "treatment-" + book::id_of(b, t);
    std::ranges::replace(id, ':', '-');
    return id;
}

std::string subject_name(const Book& b, const std::string& id) {
    if (const auto t = book::find<book::Treatment>(b, id, ""))
        return called(b, *t) + " on " + shape_of(b, b[*t].shape);
    if (const auto o = book::find<book::Ornament>(b, id, "")) return b[*o].name;
    if (const auto s = book::find<book::Shape>(b, id, "")) return "the shape " + shape_of(b, *s);
    if (const auto g = book::find<book::Glaze>(b, id, "")) return "the glaze " + b[*g].name;
    if (const auto m = book::find<book::Mark>(b, id, ""))
        return "the mark \u2018" + (b[*m].wording.empty() ? b[*m].id : b[*m].wording) + "\u2019";
    return id;
}

void summary(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    Facts facts;
    const auto fact = [&](std::string label, Text value) {
        if (!value.empty()) facts.rows.push_back({std::move(label), std::move(value)});
    };
    Paragraph lead;
    lead.kind = Paragraph::Kind::kLead;
    std::vector<std::string> shapes;
    for (const auto shape : g.shapes) shapes.push_back(shape_of(b, shape));
    if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&g.subject)) {
        const book::Ornament& row = b[*ornament];
        std::set<Ref<book::Maker>> makers;
        for (const auto shape : g.shapes)
            if (b[shape].maker) makers.insert(*b[shape].maker);
        lead.text.add(fmt::format("{} is a {} in {}. The open packs record it on {} of {}{}.",
                                  row.name.empty() ? row.id : row.name, book::name_of(row.kind), row.finish,
                                  count_of(g.treatments.size(), "treatment", "treatments"),
                                  count_of(g.shapes.size(), "shape", "shapes"),
                                  makers.size() > 1 ? ", by " + count_of(makers.size(), "maker", "makers") : ""));
        fact("Years", Text(years_of(row.years)));
        fact("Repeats", row.repeats ? Text(fmt::format("{} round a dinner plate", *row.repeats)) : Text());
        fact("Bought from", row.supplier ? Text(b[*row.supplier].name) : Text());
        fact("Shared", Text(row.shared ? "several potteries used it" : ""));
        if (row.second_share) fact("Second-grade ware", Text(percent(*row.second_share) + " of its uses"));
        fact("Recorded in", g.sources.cite(row.sources));
    } else if (const auto* treatment = std::get_if<Ref<book::Treatment>>(&g.subject)) {
        const book::Treatment& row = b[*treatment];
        lead.text.add(fmt::format("{} on {}: {}.", called(b, *treatment), shape_of(b, row.shape),
                                  decoration_words(b, book::decoration(b, *treatment, shown_form(b, row.shape)))));
        fact("Glaze", row.glaze ? Text(b[*row.glaze].name) : Text("not recorded"));
        fact("Years", Text(years_of(row.years)));
        fact("Grade", Text(grade_words(row.grade)));
        fact("Sold by", Text(row.outlet));
        fact("Note", Text(row.note));
        fact("Recorded in", g.sources.cite(row.sources));
    } else {
        const auto shape = std::get<Ref<book::Shape>>(g.subject);
        const book::Shape& row = b[shape];
        lead.text.add(fmt::format("{} is a shape of {}. The open packs record {} on it, in {}.", shape_of(b, shape),
                                  row.maker ? b[*row.maker].name : "an unknown maker",
                                  count_of(g.treatments.size(), "treatment", "treatments"),
                                  count_of(book::forms_of(b, shape).size(), "form", "forms")));
        fact("Years", Text(years_of(row.years)));
        fact("Note", Text(row.note));
        fact("Recorded in", g.sources.cite(row.sources));
    }
    if (!std::holds_alternative<Ref<book::Shape>>(g.subject) && shapes.size() > 1)
        fact("Shapes", Text(listed(shapes)));
    fact("In the cupboard", g.with.store != nullptr ? Text(count_of(g.pieces.size(), "piece", "pieces")) : Text());
    out.emplace_back(std::move(lead));
    if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&g.subject)) {
        Figures figures;
        figures.each_mm = 168;
        figures.items.push_back({strip(b, *ornament), Text("The rim unrolled, from the ornament\u2019s drawing.")});
        out.emplace_back(std::move(figures));
    }
    out.emplace_back(std::move(facts));
}

// Everything with a year, one line each, in order.
void story(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    struct Event {
        int year;
        std::string when;
        Text what;
    };
    std::vector<Event> events;
    const auto add = [&](const std::optional<edtf::Edtf>& date, Text what) {
        const auto year = first_year(date);
        if (year) events.push_back({*year, short_years(date), std::move(what)});
    };
    const auto when = [](int year) { return std::to_string(year); };
    for (const auto shape : g.shapes) {
        Text what;
        what.add("Years of the shape ").italic(shape_of(b, shape));
        if (b[shape].maker) what.add(" of " + b[*b[shape].maker].name);
        what.add(".").append(g.sources.cite(b[shape].sources));
        add(b[shape].years, std::move(what));
    }
    if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&g.subject)) {
        Text what;
        what.bold(b[*ornament].name).add(" is in use.").append(g.sources.cite(b[*ornament].sources));
        add(b[*ornament].years, std::move(what));
    }
    // Treatments that begin in one year on one shape make one line.
    std::map<std::pair<std::string, std::uint32_t>, Treatments> begun;
    for (const auto t : g.treatments)
        if (const auto year = first_year(b[t].years)) begun[{when(*year), b[t].shape.at}].push_back(t);
    for (const auto& [key, list] : begun) {
        Text what;
        if (list.size() == 1) what = Text("A treatment begins on " + shape_of(b, b[list.front()].shape) + ": ");
        else
            what = Text(capital(count_of(list.size(), "", "treatments begin on ")) +
                        shape_of(b, b[list.front()].shape) + ": ");
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (i > 0) what.add(i + 1 == list.size() ? " and " : ", ");
            what.add(list.size() <= 3 ? called(b, list[i]) : number_of(b, list[i]), Run::Style::kPlain,
                     "#" + treatment_anchor(b, list[i]));
        }
        std::vector<Ref<book::Source>> all;
        for (const auto t : list)
            for (const auto source : b[t].sources)
                if (std::ranges::find(all, source) == all.end()) all.push_back(source);
        what.add(".").append(g.sources.cite(all));
        events.push_back({*first_year(b[list.front()].years), key.first, std::move(what)});
    }
    for (const book::DatedUse& use : b.dated_uses) {
        if (!g.about(use.subject)) continue;
        Text what;
        what.add(capital(use.kind.empty() ? "use" : use.kind) + ": " + subject_name(b, use.subject) + ".")
            .append(g.sources.cite(use.sources));
        add(use.date, std::move(what));
    }
    const auto chart = years_chart(g);
    if (events.empty() && !chart) return;
    std::ranges::stable_sort(events, {}, &Event::year);
    out.emplace_back(Heading{1, "The story in order of time", "story", ""});
    if (chart) {
        Figures figures;
        figures.each_mm = 168;
        figures.items.push_back(
            {*chart,
             Text("A bar for the years of each, paler where an end is approximate or open; a diamond "
                  "for each dated use."),
             "",
             {}});
        out.emplace_back(std::move(figures));
    }
    for (Event& event : events) {
        Paragraph p;
        p.kind = Paragraph::Kind::kListed;
        p.aside = event.when;
        p.text = std::move(event.what);
        out.emplace_back(std::move(p));
    }
}

Expected<Paper> dossier(const Subject& subject, const std::vector<OwnPiece>& pieces, const Context& with,
                        const std::string& date) {
    const Book& b = with.book;
    Bibliography sources(b);
    const Ground ground = ground_of(subject, pieces, with, sources);
    Paper paper;
    paper.kind = "Dossier";
    paper.title = name_of(b, subject);
    paper.subtitle = fmt::format("{} {}", capital(std::string(table_of(subject))), id_of(b, subject));
    std::string years;
    std::visit([&](auto ref) { years = years_of(b[ref].years); }, subject);
    if (!years.empty()) paper.subtitle += ", " + years;
    paper.about = fmt::format("All that {} records of the {} {}, with its sources.", pack_titles(b),
                              table_of(subject), paper.title);
    paper.keywords = {paper.title, std::string(table_of(subject)), "dinnerware"};
    paper.date = date.empty() ? pack_titles(b) : pack_titles(b) + " \u00b7 " + date;
    paper.contents = true;
    summary(ground, paper.blocks);
    story(ground, paper.blocks);
    if (auto done = shape_by_shape(ground, paper.blocks); !done) return std::unexpected(done.error());
    grades(ground, paper.blocks);
    marks(ground, paper.blocks);
    dated_uses(ground, paper.blocks);
    contested(ground, paper.blocks);
    who_else(ground, paper.blocks);
    open_questions(ground, paper.blocks);
    if (!sources.empty()) {
        paper.blocks.emplace_back(Heading{1, "Sources", "sources", ""});
        for (Block& block : sources.list()) paper.blocks.push_back(std::move(block));
    }
    for (Block& block : colophon(b, date)) paper.blocks.push_back(std::move(block));
    return paper;
}

}  // namespace footring::papers
