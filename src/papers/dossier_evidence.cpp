// The end of a dossier: dated uses, contested points, who else used it, and what is not known.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "base/text.h"
#include "papers/dossier_parts.h"
#include "papers/pictures.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;

// A date is said in words; the value of any other property as it is written.
std::string stated(const book::Statement& statement) {
    static constexpr std::string_view kDated[] = {"year", "date", "use", "made"};
    const std::string property = lower(statement.property);
    return std::ranges::any_of(kDated, [&](auto word) { return property.find(word) != std::string::npos; })
               ? date_words(statement.value)
               : statement.value;
}

}  // namespace

void dated_uses(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    std::vector<const book::DatedUse*> list;
    for (const book::DatedUse& use : b.dated_uses)
        if (g.about(use.subject)) list.push_back(&use);
    if (list.empty()) return;
    std::ranges::stable_sort(list, {}, [](const book::DatedUse* use) {
        return first_year(use->date).value_or(std::numeric_limits<int>::max());
    });
    Table table;
    table.columns = {{"Date", 1.6}, {"Kind", 1.6}, {"What", 4}, {"Source", 4}};
    for (const book::DatedUse* use : list) {
        Text source;
        if (!use->sources.empty()) {
            const book::Source& first = b[use->sources.front()];
            source.italic(first.title.empty() ? first.id : first.title);
        }
        source.append(g.sources.cite(use->sources));
        table.rows.push_back({Cell(edtf::in_words(use->date)), Cell(use->kind), Cell(subject_name(b, use->subject)),
                              Cell(std::move(source))});
    }
    out.emplace_back(Heading{1, "Dated uses", "dated-uses", ""});
    out.emplace_back(Paragraph{
        .text = {"Each is one occasion on which it is known to have been made, sold or found. They date the ware "
                 "from below and from above, and never exclude years between them."},
        .keep = true});
    out.emplace_back(std::move(table));
}

void contested(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    std::vector<std::pair<std::string, std::string>> order;  // subject, property
    std::map<std::pair<std::string, std::string>, std::vector<const book::Statement*>> grouped;
    for (const book::Statement& statement : b.statements) {
        bool ours = g.about(statement.subject);
        // What is said of a shape, a mark or a glaze belongs into a dossier of which it is a part.
        if (!ours)
            for (const auto shape : g.shapes) ours = ours || statement.subject == full_id_of(b, Subject(shape));
        if (!ours) continue;
        const std::pair key{statement.subject, statement.property};
        if (!grouped.contains(key)) order.push_back(key);
        grouped[key].push_back(&statement);
    }
    if (order.empty()) return;
    out.emplace_back(Heading{1, "What is contested, and what is only said", "contested", ""});
    for (const auto& key : order) {
        const auto& list = grouped[key];
        bool with = false, against = false;
        for (const book::Statement* each : list) (each->stance_for ? with : against) = true;
        out.emplace_back(Heading{3,
                                 fmt::format("{}: {}{}", capital(subject_name(b, key.first)), key.second,
                                             with && against ? " (contested)" : ""),
                                 "", ""});
        for (const book::Statement* each : list) {
            Paragraph p;
            p.kind = Paragraph::Kind::kListed;
            p.aside = each->stance_for ? "for" : "against";
            p.text.bold(stated(*each));
            if (!each->note.empty()) p.text.add(". " + each->note);
            else p.text.add(".");
            p.text.append(g.sources.cite(each->sources));
            std::vector<std::string> trust;
            for (const auto source : each->sources) trust.push_back(trust_words(b[source].trust));
            if (!trust.empty()) p.text.add(" (" + listed(trust) + ")");
            out.emplace_back(std::move(p));
        }
    }
}

void who_else(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    Table table;
    table.columns = {{"Ornament", 2.4},
                     {"Maker", 2.6},
                     {"Shape", 2},
                     {"Treatments", 1, Table::Align::kRight},
                     {"Earliest", 1, Table::Align::kRight}};
    const bool of_ornament = std::holds_alternative<Ref<book::Ornament>>(g.subject);
    std::vector<Ref<book::Ornament>> ornaments = g.ornaments();
    if (of_ornament) ornaments.resize(1);
    for (const auto ornament : ornaments) {
        // Lines and solid colours are on everything: they bind nobody to anybody.
        if (!of_ornament &&
            (b[ornament].kind == book::OrnamentKind::kLine || b[ornament].kind == book::OrnamentKind::kSolid))
            continue;
        std::map<std::uint32_t, std::vector<Ref<book::Treatment>>> by_shape;
        for (const auto t : treatments_of(b, Subject(ornament))) by_shape[b[t].shape.at].push_back(t);
        bool first = true;
        for (const auto& [shape, list] : by_shape) {
            const Ref<book::Shape> at{shape};
            if (!of_ornament && std::ranges::find(g.shapes, at) != g.shapes.end()) continue;
            std::optional<int> earliest;
            for (const auto t : list)
                if (const auto year = first_year(b[t].years); year && (!earliest || *year < *earliest))
                    earliest = year;
            table.rows.push_back({Cell(first ? b[ornament].name : ""),
                                  Cell(b[at].maker ? b[*b[at].maker].name : "not recorded"), Cell(shape_of(b, at)),
                                  Cell(std::to_string(list.size())),
                                  Cell(earliest ? std::to_string(*earliest) : "")});
            first = false;
        }
    }
    if (table.rows.empty()) return;
    out.emplace_back(Heading{1, of_ornament ? "Who used it" : "Who else used these ornaments", "who-else", ""});
    if (of_ornament) {
        const auto& row = b[std::get<Ref<book::Ornament>>(g.subject)];
        out.emplace_back(Paragraph{
            .text = row.supplier
                        ? fmt::format("It was bought from {}: the ornament alone does not name the pottery.",
                                      b[*row.supplier].name)
                    : row.shared ? "Several potteries used it: the ornament alone does not name the pottery."
                                 : "As far as it is recorded:",
            .keep = true});
    } else {
        out.emplace_back(Paragraph{
            .text = {"Beyond what this dossier is about. An ornament that others used does not name its maker."},
            .keep = true});
    }
    out.emplace_back(std::move(table));
}

// What the packs leave blank, said so that somebody can go and look.
void open_questions(const Ground& g, Blocks& out) {
    const Book& b = g.book;
    List list;
    const auto ask = [&](const std::vector<std::string>& which, const char* one, const char* several) {
        if (which.empty()) return;
        const std::size_t shown = std::min<std::size_t>(which.size(), 8);
        std::string names = listed({which.begin(), which.begin() + static_cast<std::ptrdiff_t>(shown)},
                                   which.size() > shown ? ", " : " and ");
        if (which.size() > shown) names += fmt::format(" and {} more", which.size() - shown);
        list.items.emplace_back(fmt::format(fmt::runtime(which.size() == 1 ? one : several), names));
    };
    std::vector<std::string> no_years, no_use, no_glaze, unsourced, always_alike;
    for (const auto t : g.treatments) {
        const book::Treatment& row = b[t];
        const std::string name = number_of(b, t);
        if (!row.years) no_years.push_back(name);
        if (!row.glaze) no_glaze.push_back(name);
        if (row.sources.empty()) unsourced.push_back(name);
        const std::string full = full_id_of(b, Subject(t));
        if (std::ranges::none_of(b.dated_uses, [&](const book::DatedUse& use) { return use.subject == full; }))
            no_use.push_back(name);
        if (const auto alike = g.alike.find(t); alike != g.alike.end()) {
            const std::size_t forms = book::forms_of(b, row.shape).size();
            for (const Ground::Alike& each : alike->second)
                if (each.forms.size() == forms) {
                    always_alike.push_back(name);
                    break;
                }
        }
    }
    ask(no_years, "In which years was {} made? None are recorded.",
        "In which years were {} made? None are recorded.");
    ask(no_use, "No dated use is recorded of {}: an advertisement, a catalogue or a dated mark would help.",
        "No dated use is recorded of {}: an advertisement, a catalogue or a dated mark would help.");
    ask(no_glaze, "Which glaze has {}?", "Which glazes have {}?");
    ask(unsourced, "Where does {} come from? No source is named.", "Where do {} come from? No sources are named.");
    ask(always_alike,
        "{} looks like another treatment on every form that is recorded. Is there a form that differs, or are they "
        "one?",
        "{} look like other treatments on every form that is recorded. Is there a form that differs, or are they "
        "one?");
    std::vector<std::string> drawn, unknown_share;
    for (const auto ornament : g.ornaments()) {
        const book::Ornament& row = b[ornament];
        const bool plain = row.kind == book::OrnamentKind::kLine || row.kind == book::OrnamentKind::kBand ||
                           row.kind == book::OrnamentKind::kSolid;
        if (row.drawing.empty() && !plain) drawn.push_back(row.name);
    }
    ask(drawn, "There is no drawing of {} yet.", "There are no drawings of {} yet.");
    if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&g.subject); ornament && !b[*ornament].second_share)
        list.items.emplace_back("How much of it stands on second-grade ware? Nobody has counted.");
    std::size_t contested = 0;
    for (const book::Statement& each : b.statements)
        if (!each.stance_for && g.about(each.subject)) ++contested;
    if (contested > 0)
        list.items.emplace_back(fmt::format("{} contradicted: see \u2018What is contested\u2019.",
                                            capital(count_of(contested, "statement is", "statements are"))));
    if (list.items.empty()) return;
    out.emplace_back(Heading{1, "Open questions", "open-questions", ""});
    out.emplace_back(std::move(list));
}

}  // namespace footring::papers
