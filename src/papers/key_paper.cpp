// SPDX-License-Identifier: Apache-2.0
#include "papers/key_paper.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/text.h"
#include "naming/apart.h"
#include "naming/key.h"
#include "papers/pictures.h"
#include "papers/words.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;
using Treatments = std::vector<Ref<book::Treatment>>;

std::string plate_id(const Book& b, Ref<book::Treatment> t) {
    std::string id = "plate-" + book::id_of(b, t);
    std::ranges::replace(id, ':', '-');
    return id;
}

std::string minutes(double m) {
    if (m == 0.5) return "half a minute";
    if (m == 1) return "one minute";
    return fmt::format("{:g} minutes", m);
}

// "117, 614 or 617", each leading to its drawing. `shapes`: treatments of several shapes are told apart by it.
Text leaf_words(const Book& b, const Treatments& leaf, bool shapes) {
    Text out;
    for (std::size_t i = 0; i < leaf.size(); ++i) {
        if (i > 0) out.add(i + 1 == leaf.size() ? " or " : ", ");
        out.bold(number_of(b, leaf[i]), "#" + plate_id(b, leaf[i]));
        if (shapes) out.add(" " + shape_of(b, b[leaf[i]].shape));
        if (leaf.size() == 1 && !b[leaf[i]].number.empty() && !b[leaf[i]].name.empty())
            out.add("  " + b[leaf[i]].name);
    }
    return out;
}

Table couplets(const Book& b, const naming::Key& key, bool shapes) {
    std::vector<std::size_t> number(key.nodes.size(), 0);
    std::size_t forks = 0;
    for (std::size_t i = 0; i < key.nodes.size(); ++i)
        if (!key.nodes[i].branches.empty()) number[i] = ++forks;
    Table table;
    table.compact = true;
    table.columns = {{"Step", 1.1}, {"Look at", 1.7}, {"If you see", 4.2}, {"It is", 5}};
    for (std::size_t i = 0; i < key.nodes.size(); ++i) {
        naming::KeyNode node = key.nodes[i];
        std::ranges::stable_partition(node.branches, [](const auto& branch) { return branch.value != "none"; });
        for (std::size_t branch = 0; branch < node.branches.size(); ++branch) {
            const naming::KeyNode& to = key.nodes[node.branches[branch].node];
            Text step, look, goal;
            if (branch == 0) {
                step.bold(std::to_string(number[i]));
                look.add(node.look);
                if (node.effort.value != 0.5) look.add(fmt::format(" ({})", minutes(node.effort.value)));
            }
            if (to.branches.empty()) goal = leaf_words(b, to.treatments, shapes);
            else goal.add(fmt::format("\u2192 step {}", number[node.branches[branch].node]));
            table.rows.push_back(
                {Cell(step), Cell(look), Cell(value_words(b, node.look, node.branches[branch].value)), Cell(goal)});
        }
    }
    return table;
}

}  // namespace

Expected<Paper> key_paper(const Book& whole, const Subject& subject, std::optional<Ref<book::Form>> form,
                          const Settings& settings, const std::string& date) {
    const std::string named = std::string(table_of(subject)) + " " + id_of(whole, subject);
    if (std::holds_alternative<Ref<book::Treatment>>(subject))
        return fail(ProblemCode::kBadInput, named, "one treatment needs no key",
                    "ask for a key to its shape or to one of its ornaments");
    const Treatments all = treatments_of(whole, subject);
    if (all.empty())
        return fail(ProblemCode::kNotFound, named, "no open pack has a treatment with it",
                    "open another pack, or name another");
    if (!form) form = telling_form(whole, all);
    const Book b = part_of(whole, all);
    const naming::Key key = naming::key(b, std::nullopt, form, settings);
    const bool shapes = std::holds_alternative<Ref<book::Ornament>>(subject);
    const std::string on = form ? form_of(b, *form) : "any form";

    Paper paper;
    paper.kind = "Key";
    paper.title = name_of(whole, subject);
    paper.subtitle = fmt::format("{} on {}", capital(count_of(all.size(), "treatment", "treatments")),
                                 form ? "the form \u2018" + lower(on) + "\u2019" : "any form");
    paper.about = fmt::format("A key that names the treatments of {} with the least looking.", paper.title);
    paper.keywords = {paper.title, "identification key", on};
    paper.date = date;
    Paragraph how;
    how.text.add(
        fmt::format("Begin at step 1 and follow the line of what you see. It takes {:.1f} minutes on average; {}. "
                    "Where a line ends in "
                    "several numbers, no look at this form tells them apart. The key takes every look as right and "
                    "every treatment as "
                    "equally common; a worn or unrecorded piece can lead astray, so compare with the drawing "
                    "before you believe it.",
                    key.expected_effort.value,
                    key.optimal ? "no order of these looks takes less"
                                : "at each step the look that tells most a minute comes first"));
    paper.blocks.emplace_back(std::move(how));
    if (key.nodes.empty() || key.nodes.front().branches.empty()) {
        Paragraph none;
        none.kind = Paragraph::Kind::kLead;
        none.text.add("Nothing on this form tells them apart: ")
            .append(leaf_words(b, key.nodes.empty() ? Treatments{} : key.nodes.front().treatments, shapes))
            .add(".");
        paper.blocks.emplace_back(std::move(none));
    } else {
        paper.blocks.emplace_back(couplets(b, key, shapes));
    }

    paper.blocks.emplace_back(PageBreak{});
    paper.blocks.emplace_back(Heading{1, "The treatments drawn", "drawn", ""});
    Figures figures;
    figures.each_mm = 22;  // six in a row: thirty-six on a page
    for (std::uint32_t i = 0; i < b.treatments.size(); ++i) {
        const Ref<book::Treatment> t{i};
        Figure figure;
        figure.picture = glyph(b, t, form);
        figure.id = plate_id(b, t);
        figure.caption.bold(number_of(b, t));
        if (shapes) figure.caption.add(" " + shape_of(b, b[t].shape));
        if (!b[t].number.empty() && !b[t].name.empty()) figure.caption.add(" " + b[t].name);
        figures.items.push_back(std::move(figure));
    }
    paper.blocks.emplace_back(std::move(figures));

    const auto twins = naming::twins(b, form);
    if (!twins.empty()) {
        paper.blocks.emplace_back(Heading{2, "What this form cannot tell", "twins", ""});
        std::map<std::string, Text> by_telling;  // groups that the same forms tell apart
        for (const Treatments& group : twins) {
            std::vector<std::string> telling;
            for (const auto other : naming::apart(b, form, group).telling_forms)
                telling.push_back(lower(form_of(b, other)));
            const bool many = telling.size() > 4;
            if (many) telling.resize(4);
            Text& text = by_telling[telling.empty() ? "Alike on every form"
                                                    : fmt::format("Look at {}{}", listed(telling, " or "),
                                                                  many ? " or others" : "")];
            if (!text.empty()) text.add("; ");
            text.append(leaf_words(b, group, shapes));
        }
        for (auto& [telling, groups] : by_telling)
            paper.blocks.emplace_back(Paragraph{Text(telling + ": ").append(groups).add(".")});
    }
    Paragraph made;
    made.kind = Paragraph::Kind::kNote;
    made.text.add("Made from ").italic(pack_titles(b)).add(". The drawings are schematic.");
    paper.blocks.emplace_back(std::move(made));
    return paper;
}

}  // namespace footring::papers
