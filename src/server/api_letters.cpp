// Letters: questions that came, their pieces, and the replies. The reply is composed from the reasoning and is the
// person's to change before it goes out. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/json.h"
#include "base/text.h"
#include "care/cautions.h"
#include "exchange/letter.h"
#include "exchange/reply.h"
#include "naming/examine.h"
#include "papers/reply_paper.h"
#include "server/app.h"
#include "server/paper_reply.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

// A letter as stored, with its letter read: nobody but the API writes records of this kind.
std::expected<exchange::Letter, Problems> letter_of(const store::Record& record) {
    auto letter = exchange::letter_from_json(record.body, record.id);
    if (!letter) return refuse(std::move(letter.error()));
    return std::move(*letter);
}
ordered_json row(const store::Record& record) {
    return {{"id", record.id},
            {"letter", record.body},
            {"created", record.created},
            {"changed", record.changed},
            {"revision", record.revision}};
}
std::string what_of(const exchange::Letter& letter) {
    return letter.subject.empty() ? letter.name
           : letter.name.empty()  ? letter.subject
                                  : letter.name + ": " + letter.subject;
}

Answered letters(App& app, const Request& request) {
    const std::string state = query_text(request, "state");
    const auto records = app.store->records("letter");
    if (!records) return refuse(records.error());
    ordered_json rows = ordered_json::array(), counts = ordered_json::object();
    for (const std::string_view one : exchange::kLetterStates) counts[std::string(one)] = 0;
    // The newest first: that is the one to be answered.
    for (auto record = records->rbegin(); record != records->rend(); ++record) {
        const std::string of = record->body.value("state", "new");
        if (counts.contains(of)) counts[of] = counts[of].get<int>() + 1;
        if (state.empty() || of == state) rows.push_back(row(*record));
    }
    const std::size_t total = rows.size();
    return json_reply({{"rows", std::move(rows)}, {"total", total}, {"states", std::move(counts)}});
}

Answered letter(App& app, const Request& request) {
    const auto record = app.store->record("letter", request.values[0]);
    if (!record) return refuse(record.error());
    return json_reply(row(*record));
}

// The body's letter; its pieces have to be there.
std::expected<exchange::Letter, Problems> sent_letter(const App& app, const json& body) {
    const auto sent = body.find("letter");
    if (sent == body.end())
        return refuse(ProblemCode::kBadInput, "body", "there is no letter in it",
                      R"(send {"letter": {...}, "revision": 0})");
    auto letter = exchange::letter_from_json(*sent, "letter");
    if (!letter) return refuse(std::move(letter.error()));
    Problems problems;
    for (const std::string& id : letter->pieces)
        if (const auto piece = app.store->piece(id); !piece) problems.push_back(piece.error());
    if (!problems.empty()) return refuse(std::move(problems));
    return std::move(*letter);
}

Answered put(App& app, const Request& request, const std::string& id) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto letter = sent_letter(app, *body);
    if (!letter) return refuse(letter.error());
    const auto revision = body->find("revision");
    if (!id.empty() && (revision == body->end() || !revision->is_number_integer()))
        return refuse(ProblemCode::kBadInput, "body: revision", "it is missing",
                      "send the one that came with the letter");
    store::Record record{
        .kind = "letter", .id = id, .body = exchange::to_json(*letter), .created = {}, .changed = {}};
    record.revision = id.empty() ? 0 : revision->get<std::int64_t>();
    const std::lock_guard lock(app.changing);
    // First: no reader may see a stranger's piece, not even when what follows fails.
    if (auto hidden = exchange::hide_pieces(*app.store, letter->pieces); !hidden) return refuse(hidden.error());
    const auto kept = app.store->put(std::move(record), fmt::format("Letter: {}.", what_of(*letter)));
    if (!kept) return refuse(kept.error());
    return json_reply(row(*kept), id.empty() ? 201 : 200);
}
Answered add_letter(App& app, const Request& request) { return put(app, request, ""); }
Answered change_letter(App& app, const Request& request) { return put(app, request, request.values[0]); }

Answered remove_letter(App& app, const Request& request) {
    const std::lock_guard lock(app.changing);
    if (const auto done = app.store->remove_records("letter", {request.values[0]}, ""); !done)
        return refuse(done.error());
    return json_reply({{"batch", app.store->own_batch()}});
}

std::expected<std::vector<exchange::AskedPiece>, Problems> asked_pieces(App& app, const exchange::Letter& letter) {
    std::vector<exchange::AskedPiece> pieces;
    for (const std::string& id : letter.pieces) {
        const auto piece = app.store->piece(id);
        if (!piece) return refuse(piece.error());
        auto findings = looks::resolve(piece->piece, app.book, app.settings, id);
        if (!findings) return refuse(findings.error());
        const auto view = app.views.at(findings->form);
        if (!view) return refuse(view.error());
        naming::Answer answer = naming::examine(**view, *findings);
        auto cautions =
            care::cautions(app.book, *findings, answer.candidates,
                           answer.date.by_year.empty() ? std::nullopt : std::optional(answer.date.median));
        pieces.push_back({piece->piece, std::move(*findings), std::move(answer), std::move(cautions)});
    }
    return pieces;
}

std::expected<exchange::Letter, Problems> kept_letter(const App& app, const Request& request) {
    const auto record = app.store->record("letter", request.values[0]);
    if (!record) return refuse(record.error());
    auto letter = letter_of(*record);
    if (!letter) return refuse(std::move(letter.error()));
    return std::move(*letter);
}

Answered compose(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto signature = text_member(*body, "signature");
    if (!signature) return refuse(signature.error());
    const auto letter = kept_letter(app, request);
    if (!letter) return refuse(letter.error());
    const auto pieces = asked_pieces(app, *letter);
    if (!pieces) return refuse(pieces.error());
    const exchange::Reply reply = exchange::reply(app.book, {letter->name, letter->subject}, *pieces, *signature);
    return json_reply({{"text", reply.text()}, {"paragraphs", reply.paragraphs}, {"asks", reply.asks}});
}

// The reply as it is kept, set to be sent.
Answered reply_as_paper(App& app, const Request& request) {
    const auto letter = kept_letter(app, request);
    if (!letter) return refuse(letter.error());
    const std::string format = query_text(request, "format"), size = query_text(request, "paper");
    if (!format.empty() && format != "pdf" && format != "html")
        return refuse(ProblemCode::kBadInput, "query: format", fmt::format("there is no format '{}'", format),
                      "use pdf or html");
    if (!size.empty() && size != "a4" && size != "letter")
        return refuse(ProblemCode::kBadInput, "query: paper", fmt::format("there is no paper '{}'", size),
                      "use a4 or letter");
    if (trim(letter->reply).empty())
        return refuse(ProblemCode::kNotFound, request.values[0], "there is no reply to this letter yet",
                      "compose it, and keep the letter");
    const auto pieces = asked_pieces(app, *letter);
    if (!pieces) return refuse(pieces.error());
    papers::ReplySheet sheet{letter->name,
                             letter->address,
                             letter->subject,
                             letter->reply,
                             letter->answered.empty() ? app.now().substr(0, 10) : letter->answered,
                             {}};
    for (const exchange::AskedPiece& one : *pieces) {
        const auto shown = papers::show_piece(
            sheet, app.book, app.store, {one.piece.id, exchange::drawn_likeliest(one.answer), one.findings.form});
        if (!shown) return refuse(shown.error());
    }
    auto made = papers::made_of(papers::reply_paper(sheet), request.values[0], format, size, sheet.date);
    if (!made) return refuse(made.error());
    return paper_reply(std::move(*made));
}

Answered seen(App& app, const Request&) {
    const auto found = exchange::sightings(*app.store);
    if (!found) return refuse(found.error());
    const auto rows = json_list(*found, [](const exchange::Sighting& one) {
        return ordered_json{
            {"piece", one.piece}, {"treatment", one.treatment}, {"letter", one.letter}, {"seen", one.seen}};
    });
    return json_reply({{"rows", rows}, {"total", rows.size()}});
}

}  // namespace

std::vector<Route> letter_routes() {
    return {{"GET", "/api/letters", Takes::kNone, Role::kContributor, letters},
            {"POST", "/api/letters", Takes::kJson, Role::kContributor, add_letter},
            {"GET", "/api/letters/{id}", Takes::kNone, Role::kContributor, letter},
            {"PUT", "/api/letters/{id}", Takes::kJson, Role::kContributor, change_letter},
            {"DELETE", "/api/letters/{id}", Takes::kNone, Role::kContributor, remove_letter},
            {"POST", "/api/letters/{id}/reply", Takes::kJson, Role::kContributor, compose},
            {"GET", "/api/letters/{id}/paper", Takes::kNone, Role::kContributor, reply_as_paper},
            {"GET", "/api/sightings", Takes::kNone, Role::kReader, seen}};
}

}  // namespace footring::server
