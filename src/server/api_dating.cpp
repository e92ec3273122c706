// Dating beyond naming: everything that is known of one piece put together, wording and codes.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "dating/assemblage.h"
#include "dating/clue_statements.h"
#include "dating/clues.h"
#include "dating/codes.h"
#include "dating/piece_years.h"
#include "dating/sequence.h"
#include "dating/unseen_book.h"
#include "exchange/cupboard.h"
#include "naming/examine.h"
#include "server/app.h"
#include "server/book_detail.h"
#include "server/routes.h"
#include "server/wording.h"

namespace footring::server {

namespace {

Answered date(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    std::vector<std::string> notes;
    const auto piece = piece_member(*body, notes);
    if (!piece) return refuse(piece.error());
    const auto clues = list_member(*body, "clues");
    if (!clues) return refuse(clues.error());
    const auto findings = looks::resolve(*piece, app.book, app.settings, "piece");
    if (!findings) return refuse(findings.error());
    const auto view = app.views.at(findings->form);
    if (!view) return refuse(view.error());
    const naming::Answer answer = naming::examine(**view, *findings, {false, false, false});
    // Whatever was read on the photographs of the piece counts too, as far as it was read surely.
    auto texts = wordings_of_piece(*app.store, piece->id);
    if (!texts) return refuse(texts.error());
    for (const std::string& clue : *clues) texts->push_back({clue, "the wording given", 1});
    const auto further = dating::clue_statements(dating::ClueFinder(app.book), *texts, dating::range_of(**view),
                                                 !findings->mark, app.settings);
    if (!further) return refuse(further.error());
    const auto dated = dating::date_piece(**view, *findings, answer, *further);
    if (!dated) return refuse(dated.error());
    return json_reply(dating::date_json(app.book, piece->id, *dated, notes));
}

Answered clues(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto text = text_member(*body, "text");
    if (!text) return refuse(text.error());
    const auto answer = dating::find_clues(app.book, *text, app.settings);
    if (!answer) return refuse(answer.error());
    return json_reply(dating::clues_json(app.book, *answer));
}

Answered code(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto scheme = text_member(*body, "scheme"), text = text_member(*body, "text"),
               mark_id = text_member(*body, "mark");
    for (const auto* member : {&scheme, &text, &mark_id})
        if (!*member) return refuse(member->error());
    const auto schemes = dating::schemes_named(app.book, *scheme, fmt::format("scheme {}", *scheme));
    if (!schemes) return refuse(schemes.error());
    const auto mark = maybe_row_named<book::Mark>(app.book, *mark_id, "mark");
    if (!mark) return refuse(mark.error());
    const auto answer = dating::read_code(app.book, *schemes, *text, *mark, app.settings);
    if (!answer) return refuse(answer.error());
    return json_reply(dating::code_json(app.book, *answer));
}

Answered code_schemes(App& app, const Request&) {
    ordered_json rows = ordered_json::array();
    for (std::uint32_t at = 0; at < app.book.code_schemes.size(); ++at) {
        auto row = detail_json(app, book::Ref<book::CodeScheme>{at});
        if (!row) return refuse(std::move(row.error()));
        rows.push_back(std::move(*row));
    }
    return json_reply({{"rows", std::move(rows)}, {"total", app.book.code_schemes.size()}});
}

template <class T>
void look_up(const App& app, const Request& request, const std::string& name, std::optional<book::Ref<T>>& into,
             Problems& problems) {
    auto found = maybe_row_named<T>(app.book, query_text(request, name), "query: " + name);
    if (found) into = *found;
    else problems.insert(problems.end(), found.error().begin(), found.error().end());
}

// Numbers as they stand on pieces, separated by commas.
std::vector<std::int64_t> numbers_asked(const Request& request, std::optional<std::string>& sequence,
                                        Problems& problems) {
    std::vector<std::int64_t> numbers;
    for (const std::string& word : split(query_text(request, "number"), ',')) {
        const auto number = dating::sequence_number(word);
        const std::string where = fmt::format("query: number {}", trim(word));
        if (!number)
            problems.push_back({ProblemCode::kBadInput, where, "does not end in up to nine digits",
                                "write it as in 117 or H-117"});
        else if (sequence && *sequence != number->sequence)
            problems.push_back({ProblemCode::kBadInput, where, "is of another sequence than the first",
                                "ask for one sequence at a time"});
        else sequence = number->sequence, numbers.push_back(number->number);
    }
    constexpr std::size_t kMostNumbers = 1000;
    if (numbers.size() > kMostNumbers)
        problems.push_back({ProblemCode::kTooLarge, "query: number",
                            fmt::format("{} are asked for", numbers.size()),
                            fmt::format("ask for at most {} at a time", kMostNumbers)});
    return numbers;
}

Answered sequence(App& app, const Request& request) {
    Problems problems;
    dating::SequenceOf of;
    look_up(app, request, "shape", of.shape, problems);
    look_up(app, request, "maker", of.maker, problems);
    std::optional<std::string> prefix;
    const auto numbers = numbers_asked(request, prefix, problems);
    const auto seconds = query_flag(request, "seconds", false);
    if (!seconds) problems.push_back(seconds.error().front());
    if (!problems.empty()) return refuse(std::move(problems));
    of.sequence = prefix.value_or(lower(query_text(request, "sequence")));
    of.seconds = *seconds;
    const auto fit = dating::fit_sequence(dating::dated_numbers(app.book, of, app.settings), app.settings);
    if (!fit) return refuse(fit.error());
    return json_reply(dating::sequence_json(app.book, *fit, dating::years_of_numbers(*fit, numbers, app.settings)));
}

Answered unseen(App& app, const Request& request) {
    Problems problems;
    dating::UnseenOf of;
    look_up(app, request, "shape", of.shape, problems);
    look_up(app, request, "maker", of.maker, problems);
    look_up(app, request, "ornament", of.ornament, problems);
    constexpr int kHighest = 999'999'999;
    const auto from = query_int(request, "from", 0, 0, kHighest);
    if (!from) problems.push_back(from.error().front());
    if (!problems.empty()) return refuse(std::move(problems));
    const auto seen = decided_treatments(*app.store);
    if (!seen) return refuse(seen.error());
    const std::optional<std::int64_t> first = *from > 0 ? std::optional<std::int64_t>(*from) : std::nullopt;
    return json_reply(dating::unseen_json(app.book, dating::unseen_of(app.book, of, *seen, first, app.settings)));
}

Answered assemblage(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto lot = text_member(*body, "lot");
    if (!lot) return refuse(lot.error());
    const auto ids = list_member(*body, "pieces");
    if (!ids) return refuse(ids.error());
    if (!lot->empty() && !ids->empty())
        return refuse(ProblemCode::kBadInput, "body", "names a lot and pieces", "give one of them");
    std::vector<store::PieceRecord> records;
    if (ids->empty()) {
        dating::ChronologyOf of = dating::OwnPieces{*lot, ""};
        if (const auto named = name_lot(*app.store, of, "body: lot"); !named) return refuse(named.error());
        auto all = exchange::all_pieces(*app.store, *lot);
        if (!all) return refuse(all.error());
        records = std::move(*all);
    }
    Problems problems;
    for (const std::string& id : *ids) {
        auto record = app.store->piece(id);
        if (record) records.push_back(std::move(*record));
        else problems.push_back(record.error());
    }
    std::vector<dating::Member> members;
    for (const store::PieceRecord& record : records) {
        auto decided = record.decision ? dating::shares_of_date(record.decision->date, app.settings) : std::nullopt;
        if (decided) {
            members.push_back({record.piece.id, true, std::move(*decided)});
            continue;
        }
        const auto findings = looks::resolve(record.piece, app.book, app.settings, "piece " + record.piece.id);
        if (!findings) {
            problems.insert(problems.end(), findings.error().begin(), findings.error().end());
            continue;
        }
        auto answer = odds_of(app, *findings);
        if (!answer) return refuse(answer.error());
        members.push_back({record.piece.id, false, {answer->date.first_year, std::move(answer->date.by_year)}});
    }
    if (!problems.empty()) return refuse(std::move(problems));
    const auto made = dating::assemble(members, app.settings);
    if (!made) return refuse(made.error());
    return json_reply(dating::assemblage_json(members, *made));
}

}  // namespace

std::vector<Route> dating_routes() {
    return {{"POST", "/api/date", Takes::kJson, Role::kReader, date},
            {"POST", "/api/clues", Takes::kJson, Role::kReader, clues},
            {"POST", "/api/code", Takes::kJson, Role::kReader, code},
            {"GET", "/api/code-schemes", Takes::kNone, Role::kReader, code_schemes},
            {"GET", "/api/sequence", Takes::kNone, Role::kReader, sequence},
            {"GET", "/api/unseen", Takes::kNone, Role::kReader, unseen},
            {"POST", "/api/assemblage", Takes::kJson, Role::kReader, assemblage}};
}

}  // namespace footring::server
