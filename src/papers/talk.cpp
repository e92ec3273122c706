// SPDX-License-Identifier: Apache-2.0
#include "papers/talk.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "papers/dossier_parts.h"
#include "papers/pictures.h"
#include "papers/showing_order.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;

// The middle of the years that a piece, its treatment or its shape is dated to.
double year_of(const Book& b, const OwnPiece* piece, std::optional<Ref<book::Treatment>> treatment,
               std::optional<Ref<book::Shape>> shape) {
    const auto middle = [](const std::optional<edtf::Edtf>& years) -> std::optional<double> {
        const auto first = first_year(years), last = last_year(years);
        if (first && last) return (*first + *last) / 2.0;
        return first ? std::optional<double>(*first) : last ? std::optional<double>(*last) : std::nullopt;
    };
    if (piece != nullptr && piece->record.decision && !piece->record.decision->date.empty())
        if (const auto date = edtf::parse(piece->record.decision->date))
            if (const auto year = middle(std::optional(*date))) return *year;
    if (piece != nullptr && piece->record.attribution) {
        const auto& answer = piece->record.attribution->answer;
        if (answer.is_object() && answer.contains("date") && answer["date"].is_object() &&
            answer["date"].contains("median") && answer["date"]["median"].is_number())
            return answer["date"]["median"].get<double>();
    }
    if (treatment)
        if (const auto year = middle(b[*treatment].years)) return *year;
    if (shape)
        if (const auto year = middle(b[*shape].years)) return *year;
    return 9999;  // not dated: last
}

struct Shown {
    const OwnPiece* piece = nullptr;  // null: the treatment alone
    std::optional<Ref<book::Treatment>> treatment;
    std::optional<Ref<book::Shape>> shape;
    std::optional<Ref<book::Form>> form;
};

// A talk shows each treatment once on a flat piece and once on a hollow one, decided ones first; the rest stays at
// home.
std::vector<Shown> choose(const Book& b, const std::vector<OwnPiece>& pieces, const Subject& subject) {
    std::vector<Shown> out;
    std::set<std::tuple<std::uint32_t, std::uint32_t, int>> had;
    for (const bool decided : {true, false})
        for (const OwnPiece& piece : pieces) {
            if (piece.treatment.has_value() != decided || out.size() >= kMostShown) continue;
            const int ware = piece.form ? static_cast<int>(b[*piece.form].ware) : 2;
            if (!had.insert(
                        {piece.treatment ? piece.treatment->at : ~0u, piece.shape ? piece.shape->at : ~0u, ware})
                     .second)
                continue;
            out.push_back({&piece, piece.treatment, piece.shape, piece.form});
        }
    if (!out.empty()) return out;
    for (const auto t : treatments_of(b, subject)) {
        if (out.size() >= kMostShown) break;
        out.push_back({nullptr, t, b[t].shape, std::nullopt});
    }
    return out;
}

std::string turn_over(const Book& b, const Shown& shown) {
    std::vector<std::string> parts;
    if (shown.piece != nullptr) {
        const looks::Piece& seen = shown.piece->record.piece;
        if (seen.mark && seen.mark->value == looks::kNone) parts.emplace_back("no mark, as on much of this ware");
        else if (seen.mark)
            if (const auto mark = book::find<book::Mark>(b, seen.mark->value, ""))
                parts.push_back(fmt::format("the mark \u2018{}\u2019", b[*mark].wording));
        if (seen.number && seen.number->value != looks::kNone)
            parts.push_back(fmt::format("the number {}{}", seen.number->value,
                                        seen.number->value.find('?') != std::string::npos ? " (partly worn)" : ""));
        if (!seen.date_code.empty()) parts.push_back("the date code " + seen.date_code);
        if (seen.faults && *seen.faults == looks::Faults::kMany) parts.emplace_back("the faults in the glaze");
        if (parts.empty()) return "the foot; its underside was not recorded";
        return listed(parts);
    }
    return "the number and the mark, if it has them";
}

Text what_to_say(const Ground& g, const Shown& shown) {
    const Book& b = g.book;
    Text out;
    if (shown.piece != nullptr && shown.piece->record.attribution) {
        const auto& answer = shown.piece->record.attribution->answer;
        if (answer.is_object() && answer.contains("candidates") && answer["candidates"].is_array() &&
            !answer["candidates"].empty() && answer["candidates"][0].is_object()) {
            const auto& best = answer["candidates"][0];
            std::string name = best.value("number", "");
            if (name.empty()) name = best.value("treatment", "");
            out.add(fmt::format("The looks alone give {} to {}. ",
                                percent(best.contains("probability") && best["probability"].is_number()
                                            ? best["probability"].get<double>()
                                            : 0),
                                name));
        }
    }
    if (shown.piece != nullptr && !shown.treatment) out.add("It is not decided which treatment this is: say so. ");
    if (shown.treatment) {
        std::set<std::string> twins;
        if (const auto alike = g.alike.find(*shown.treatment); alike != g.alike.end())
            for (const Ground::Alike& each : alike->second)
                if (!shown.form || std::ranges::find(each.forms, *shown.form) != each.forms.end())
                    for (const auto other : each.others) twins.insert(number_of(b, other));
        if (!twins.empty())
            out.add(fmt::format("{} no look can tell it from {}. ", shown.form ? "On this form" : "On some forms",
                                listed({twins.begin(), twins.end()}, " or ")));
        else out.add("No other recorded treatment looks the same on it. ");
        out.append(g.sources.cite(b[*shown.treatment].sources));
    }
    return out;
}

}  // namespace

Expected<Paper> talk_sheet(const Subject& subject, const std::vector<OwnPiece>& pieces, const Context& with,
                           const std::string& date) {
    const Book& b = with.book;
    Bibliography sources(b);
    const Ground ground = ground_of(subject, pieces, with, sources);
    std::vector<Shown> chosen = choose(b, pieces, subject);
    if (chosen.empty())
        return fail(ProblemCode::kNotFound, "of",
                    fmt::format("there is nothing to show of '{}'", id_of(b, subject)),
                    "name something that a treatment of the open packs carries");
    std::vector<Showpiece> places;
    for (const Shown& each : chosen)
        places.push_back({year_of(b, each.piece, each.treatment, each.shape), each.shape ? each.shape->at : ~0u,
                          each.form ? each.form->at : ~0u,
                          each.treatment && b[*each.treatment].glaze ? b[*each.treatment].glaze->at : ~0u});
    std::vector<Shown> shown;
    for (const std::size_t i : showing_order(places)) shown.push_back(chosen[i]);

    Paper paper;
    paper.kind = "Talk sheet";
    paper.title = name_of(b, subject);
    const bool own = shown.front().piece != nullptr;
    paper.subtitle = own ? fmt::format("{} to bring, in the order of showing",
                                       capital(count_of(shown.size(), "piece", "pieces")))
                         : "Its treatments, drawn: the cupboard has none of its pieces";
    paper.about = fmt::format("What to show and what to say in a talk about {}.", paper.title);
    paper.date = date;

    paper.blocks.emplace_back(Heading{1, "What to bring", "bring", ""});
    Table bring;
    bring.compact = true;
    bring.columns = {{"", 0.5}, {"Piece", 1.1}, {"What", 3.6}, {"Shape", 1.4}, {"Named", 2.6}, {"Kept", 1.8}};
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const Shown& each = shown[i];
        Text number;
        number.bold(std::to_string(i + 1));
        bring.rows.push_back({Cell(std::move(number)),
                              Cell(each.piece != nullptr ? each.piece->record.piece.id : ""),
                              Cell(each.form               ? form_of(b, *each.form)
                                   : each.piece != nullptr ? "form not known"
                                                           : "any form"),
                              Cell(each.shape ? shape_of(b, *each.shape) : ""),
                              Cell(each.treatment ? called(b, *each.treatment) : "undecided"),
                              Cell(each.piece != nullptr ? each.piece->record.place : "")});
    }
    paper.blocks.emplace_back(std::move(bring));
    paper.blocks.emplace_back(
        Paragraph{"Lay them out from left to right in this order. It goes through time, keeps each shape together, "
                  "and moves the "
                  "fewest pieces about; for each treatment it takes one flat piece and one hollow one, decided "
                  "pieces before others."});

    paper.blocks.emplace_back(Heading{1, "Cards", "cards", ""});
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const Shown& each = shown[i];
        Card card;
        card.corner = fmt::format("{} of {}", i + 1, shown.size());
        if (each.piece != nullptr && !each.piece->record.photos.empty()) {
            auto photo = small_photo(*with.store, each.piece->record.photos.front(),
                                     "Photograph of piece " + each.piece->record.piece.id);
            if (!photo) return std::unexpected(photo.error());
            card.picture = std::move(*photo);
            card.picture_mm = 40;
        } else if (each.treatment) {
            card.picture = glyph(b, *each.treatment, each.form);
            card.picture_mm = 30;
        }
        std::string title = each.form ? form_of(b, *each.form) : "";
        if (each.shape) title += (title.empty() ? "" : ", ") + shape_of(b, *each.shape);
        card.blocks.emplace_back(Heading{3, each.treatment ? called(b, *each.treatment) : "Not yet named", "", ""});
        card.blocks.emplace_back(Paragraph{Text(title.empty() ? "Form and shape not recorded" : title)});
        Facts facts;
        std::string when = each.piece != nullptr ? each.piece->when : "";
        if (when.empty() && each.treatment) when = years_of(b[*each.treatment].years);
        facts.rows.push_back({"When", Text(when.empty() ? "not dated" : capital(when))});
        if (each.treatment)
            facts.rows.push_back(
                {"Show", Text(capital(decoration_words(b, book::decoration(b, *each.treatment, each.form))))});
        facts.rows.push_back({"Turn over", Text(capital(turn_over(b, each)))});
        facts.rows.push_back({"Say", what_to_say(ground, each)});
        card.blocks.emplace_back(std::move(facts));
        paper.blocks.emplace_back(std::move(card));
    }

    paper.blocks.emplace_back(Heading{1, "On being sure", "sure", ""});
    List sure;
    sure.items.emplace_back(
        "An ornament that was bought from a supplier names no pottery. Shape, number and mark do, in this order of "
        "worth.");
    sure.items.emplace_back(
        "Say \u2018recorded\u2019 where a source says it, \u2018likely\u2019 where the looks say it, and \u2018I "
        "think\u2019 where you do.");
    sure.items.emplace_back("A missing mark is no evidence: much of this ware never had one.");
    sure.items.emplace_back("First run and seconds can look alike; the number, the mark and the faults tell.");
    paper.blocks.emplace_back(std::move(sure));
    contested(ground, paper.blocks);
    if (!sources.empty()) {
        paper.blocks.emplace_back(Heading{1, "Sources", "sources", ""});
        for (Block& block : sources.list()) paper.blocks.push_back(std::move(block));
    }
    for (Block& block : colophon(b, date)) paper.blocks.push_back(std::move(block));
    return paper;
}

}  // namespace footring::papers
