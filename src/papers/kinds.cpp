// SPDX-License-Identifier: Apache-2.0
#include "papers/kinds.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "papers/dossier.h"
#include "papers/gather.h"
#include "papers/html.h"
#include "papers/key_paper.h"
#include "papers/pdf.h"
#include "papers/piece_papers.h"
#include "papers/row_papers.h"
#include "papers/subject.h"
#include "papers/talk.h"

namespace footring::papers {

namespace {

Expected<void> one_of(const std::string& value, std::initializer_list<const char*> allowed, const char* where) {
    if (value.empty()) return {};
    for (const char* each : allowed)
        if (value == each) return {};
    return fail(ProblemCode::kBadInput, where, fmt::format("'{}' is none of them", value),
                fmt::format("use {}", fmt::join(std::vector<std::string>(allowed.begin(), allowed.end()), " or ")));
}

Expected<std::optional<book::Ref<book::Form>>> form_of_order(const Order& order, const Context& with) {
    if (order.form.empty()) return std::optional<book::Ref<book::Form>>{};
    const auto form = book::find<book::Form>(with.book, order.form, "form");
    if (form) return std::optional(*form);
    Problem problem = form.error();
    if (!with.book.ids.contains("forms/" + order.form)) problem.code = ProblemCode::kNotFound;
    return std::unexpected(std::move(problem));
}

Expected<Paper> make_key(const Order& order, const Context& with) {
    const auto subject = subject_named(with.book, order.of, "of");
    if (!subject) return std::unexpected(subject.error());
    const auto form = form_of_order(order, with);
    if (!form) return std::unexpected(form.error());
    return key_paper(with.book, *subject, *form, with.settings, order.date);
}

Expected<Paper> make_dossier(const Order& order, const Context& with) {
    const auto subject = subject_named(with.book, order.of, "of");
    if (!subject) return std::unexpected(subject.error());
    const auto pieces = pieces_about(*subject, with);
    if (!pieces) return std::unexpected(pieces.error());
    return dossier(*subject, *pieces, with, order.date);
}

Expected<Paper> make_talk(const Order& order, const Context& with) {
    const auto subject = subject_named(with.book, order.of, "of");
    if (!subject) return std::unexpected(subject.error());
    const auto pieces = pieces_about(*subject, with);
    if (!pieces) return std::unexpected(pieces.error());
    return talk_sheet(*subject, *pieces, with, order.date);
}

Expected<std::vector<OwnPiece>> some_pieces(const Order& order, const Context& with) {
    auto pieces = pieces_of(order, with);
    if (pieces && pieces->empty())
        return fail(ProblemCode::kNotFound, order.lot.empty() ? "data" : "lot", "there is no piece here",
                    "add pieces to the cupboard first");
    return pieces;
}

Expected<Paper> make_labels(const Order& order, const Context& with) {
    if (const auto as = one_of(order.labels, {"shelf", "price"}, "labels"); !as) return std::unexpected(as.error());
    const auto pieces = some_pieces(order, with);
    if (!pieces) return std::unexpected(pieces.error());
    return label_sheet(*pieces, order, with);
}

Expected<Paper> make_inventory(const Order& order, const Context& with) {
    const auto pieces = some_pieces(order, with);
    if (!pieces) return std::unexpected(pieces.error());
    return inventory(*pieces, order, with);
}

Expected<Paper> make_condition(const Order& order, const Context& with) {
    if (order.pieces.size() != 1)
        return fail(ProblemCode::kBadInput, "piece", "a condition report is of one piece", "name one piece");
    const auto pieces = pieces_of(order, with);
    if (!pieces) return std::unexpected(pieces.error());
    return condition_report(pieces->front(), order, with);
}

Expected<Paper> make_schedule(const Order& order, const Context& with) {
    const auto rows = schedule_rows(order.rows);
    if (!rows) return std::unexpected(rows.error());
    return schedule(*rows, with.book, order.date);
}

Expected<Paper> make_wants(const Order& order, const Context& with) {
    const auto rows = want_rows(order.rows);
    if (!rows) return std::unexpected(rows.error());
    return wants(*rows, with.book, order.date);
}

constexpr std::array kKinds = {
    Kind{"dossier", "Dossier",
         "All that is recorded of an ornament, a treatment or a shape: in order of time, shape by shape, with its "
         "sources.",
         Takes::kSubject, make_dossier},
    Kind{"talk", "Talk sheet",
         "For a talk or a video: what to bring, in which order to show it, and a caption card for each piece.",
         Takes::kSubject, make_talk},
    Kind{"key", "Key", "Two pages: what to look at, step by step, and every treatment drawn.", Takes::kSubject,
         make_key},
    Kind{"labels", "Labels", "Shelf or price labels on sheets, each with a drawing and a QR code to its piece.",
         Takes::kPieces, make_labels},
    Kind{"inventory", "Inventory", "What there is, place by place; with what is private also what was paid for it.",
         Takes::kPieces, make_inventory},
    Kind{"condition", "Condition report",
         "One piece: its photographs with what is marked on them, and lines for what is found.", Takes::kPiece,
         make_condition},
    Kind{"schedule", "Schedule", "Estimates for an insurer, with intervals; no appraisal.", Takes::kRows,
         make_schedule},
    Kind{"wants", "Wants", "What the services lack, as a list to carry.", Takes::kRows, make_wants},
};

Problem no_kind(const std::string& name) {
    std::vector<std::string> names;
    for (const Kind& kind : kKinds) names.emplace_back(kind.name);
    return {ProblemCode::kNotFound, "kind", fmt::format("there is no paper '{}'", name),
            did_you_mean(name, names, fmt::format("the papers are {}", fmt::join(names, ", ")))};
}

}  // namespace

std::span<const Kind> all_kinds() { return kKinds; }

std::string_view name_of(Takes takes) {
    static constexpr std::string_view kNames[] = {"subject", "pieces", "piece", "rows"};
    return kNames[static_cast<std::size_t>(takes)];
}

const Kind* kind_named(std::string_view name) {
    const auto found = std::ranges::find(kKinds, name, &Kind::name);
    return found == kKinds.end() ? nullptr : &*found;
}

Expected<Paper> paper_for(const Order& order, const Context& with) {
    const Kind* kind = kind_named(order.kind);
    if (kind == nullptr) return std::unexpected(no_kind(order.kind));
    if ((kind->takes == Takes::kPieces || kind->takes == Takes::kPiece) && with.store == nullptr)
        return fail(ProblemCode::kBadInput, "data", fmt::format("a paper of kind '{}' is about pieces", order.kind),
                    "name the folder that holds them");
    if (kind->takes == Takes::kRows && order.rows.empty())
        return fail(ProblemCode::kBadInput, "rows",
                    fmt::format("a paper of kind '{}' is set from rows", order.kind),
                    "give them as a JSON list, or name the folder with --data that they are worked out from");
    if (const auto sized = one_of(order.size, {"a4", "letter"}, "size"); !sized)
        return std::unexpected(sized.error());
    if (const auto as = one_of(order.format, {"pdf", "html"}, "format"); !as) return std::unexpected(as.error());
    if (!order.date.empty())
        if (const auto date = edtf::parse(order.date); !date) {
            Problem problem = date.error();
            problem.where = "date";
            return std::unexpected(std::move(problem));
        }
    return kind->make(order, with);
}

Expected<Made> made_of(const Paper& paper, const std::string& name, const std::string& format,
                       const std::string& size, const std::string& date) {
    const PageSize on = size == "letter" ? PageSize::kLetter : PageSize::kA4;
    if (format == "html") return Made{html(paper, on), "text/html; charset=utf-8", name + ".html"};
    PdfOptions options;
    options.size = on;
    // Whole days only: a date that is less exact leaves the file's own date as it is by default.
    if (date.size() == 10 && date.find_first_not_of("0123456789-") == std::string::npos)
        options.made = date + "T00:00:00Z";
    auto bytes = pdf(paper, options);
    if (!bytes) return std::unexpected(bytes.error());
    return Made{std::move(*bytes), "application/pdf", name + ".pdf"};
}

Expected<Made> made(const Order& order, const Context& with) {
    const auto paper = paper_for(order, with);
    if (!paper) return std::unexpected(paper.error());
    std::string name = order.kind;
    const std::string about = order.of.empty() && order.pieces.size() == 1 ? order.pieces.front() : order.of;
    for (const char c : about.substr(std::min(about.find(':') + 1, about.size()))) {
        if (name.size() == order.kind.size()) name += '-';
        name += std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' ? c : '-';
    }
    return made_of(*paper, name, order.format, order.size, order.date);
}

}  // namespace footring::papers
