// SPDX-License-Identifier: Apache-2.0
#include "exchange/identified.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <map>

#include "exchange/letter.h"
#include "looks/resolve.h"

namespace footring::exchange {

namespace {

std::unexpected<Problems> refuse(Problem problem) { return std::unexpected(Problems{std::move(problem)}); }

std::string piece_words(const worth::Things& things, const looks::Piece& piece, const std::string& identity) {
    std::vector<std::string> words;
    if (!piece.form.empty()) words.push_back(things.form_name(things.form_key(piece.form)));
    if (piece.shape) words.push_back(things.shape_name(things.shape_key(piece.shape->value)));
    if (!identity.empty()) words.push_back(identity);
    return words.empty() ? piece.id : fmt::format("{}", fmt::join(words, ", "));
}

}  // namespace

std::expected<services::Owned, Problems> owned(const Namer& namer, const looks::Piece& piece,
                                               const std::optional<store::Decision>& decision,
                                               const std::string& where) {
    const auto findings = looks::resolve(piece, namer.book, namer.settings, where);
    if (!findings) return std::unexpected(findings.error());
    const auto answer = namer.answer(*findings);
    if (!answer) return refuse(answer.error());
    services::Odds odds = services::odds_of(*answer);
    if (decision && !decision->treatment.empty()) {
        // A treatment that no open pack has is none that a service could ask for here.
        const auto treatment = book::find<book::Treatment>(namer.book, decision->treatment, where);
        odds =
            services::decided_odds(treatment ? std::optional(*treatment) : std::nullopt, decision->grade, *answer);
    }
    return services::owned(piece.id, piece, *findings, std::move(odds));
}

std::expected<std::vector<services::Owned>, Problems> owned_pieces(const Namer& namer, const store::Store& store) {
    const auto records = own_pieces(store);
    if (!records) return refuse(records.error());
    std::vector<services::Owned> out;
    for (const store::PieceRecord& record : *records) {
        auto one = owned(namer, record.piece, record.decision, record.piece.id);
        if (one) {
            out.push_back(std::move(*one));
            continue;
        }
        services::Owned bare;
        bare.id = record.piece.id;
        out.push_back(std::move(bare));
    }
    return out;
}

std::expected<worth::Identified, Problems> identified(const Namer& namer, const worth::Things& things,
                                                      const looks::Piece& piece, const worth::Manner& manner,
                                                      const std::string& where) {
    const auto findings = looks::resolve(piece, namer.book, namer.settings, where);
    if (!findings) return std::unexpected(findings.error());
    const auto answer = namer.answer(*findings);
    if (!answer) return refuse(answer.error());
    auto identities = worth::identities_of(things, piece, *findings, *answer, manner);
    std::string words = piece_words(things, piece, identities.front().words);
    return worth::Identified{std::move(words), std::move(identities)};
}

std::expected<worth::Identified, Problems> identified(const Namer& namer, const worth::Things& things,
                                                      const store::PieceRecord& record, worth::Manner manner,
                                                      const std::string& where) {
    if (!record.decision || record.decision->treatment == "unlisted" || record.decision->treatment == "elsewhere")
        return identified(namer, things, record.piece, manner, where);
    const auto treatment = things.treatment(record.decision->treatment);
    if (!treatment) return identified(namer, things, record.piece, manner, where);
    worth::Described described;
    described.treatment = treatment;
    if (const auto form = book::find<book::Form>(namer.book, record.piece.form, where)) described.form = *form;
    if (manner.condition == worth::Condition::kUnsaid) manner.condition = worth::condition_of(record.piece.wear);
    if (manner.grade.empty()) manner.grade = record.decision->grade;
    if (!manner.size_mm) manner.size_mm = record.piece.length_mm;
    auto identities = worth::identities_of(things, described, manner);
    std::string words = piece_words(things, record.piece, identities.front().words);
    return worth::Identified{std::move(words), std::move(identities)};
}

std::expected<Holdings, Problems> holdings_of(const Namer& namer, const worth::Things& things,
                                              const store::Store& store, const worth::Prices& prices,
                                              worth::Market market, const std::string& lot,
                                              const std::string& place) {
    constexpr std::size_t kMostIdentities = 12;  // of a piece: what is beyond weighs little in a sum
    const auto records = own_pieces(store);
    if (!records) return refuse(records.error());
    const auto lots = store.lots();
    if (!lots) return refuse(lots.error());
    std::map<std::string, double> bought;
    for (const store::Lot& known : *lots)
        if (const auto year = worth::year_of_sale(known.date, "", "lot")) bought[known.id] = *year;
    Holdings out;
    for (const store::PieceRecord& record : *records) {
        if ((!lot.empty() && record.lot != lot) || (!place.empty() && record.place != place)) continue;
        if (record.piece.form.empty() && !record.decision) {
            out.without.push_back({record.piece.id, "its form is not known"});
            continue;
        }
        worth::Manner manner;
        manner.market = market;
        auto found = identified(namer, things, record, manner, record.piece.id);
        if (!found) {
            out.without.push_back({record.piece.id, found.error().front().what});
            continue;
        }
        if (found->identities.size() > kMostIdentities) found->identities.resize(kMostIdentities);
        worth::Holding holding{record.piece.id, std::move(found->identities), 0, std::nullopt};
        const auto when = bought.find(record.lot);
        const auto created = worth::year_of_sale(record.created.substr(0, 10), "", "created");
        holding.since = when != bought.end() ? when->second : created ? *created : prices.last_year();
        if (record.cost && record.currency == prices.currency()) holding.cost = record.cost;
        else if (record.cost) ++out.other_currency;
        out.holdings.push_back(std::move(holding));
        out.records.push_back(record);
        out.words.push_back(std::move(found->words));
    }
    return out;
}

worth::Interval in_market(const worth::Prices& prices, const worth::Holding& holding, worth::Market market,
                          double year) {
    std::vector<worth::Weighted> mixture;
    for (worth::Identity identity : holding.identities) {
        identity.thing.market = market;
        mixture.push_back({identity.probability, prices.outlook(identity.thing, year)});
    }
    return worth::interval(mixture);
}

}  // namespace footring::exchange
