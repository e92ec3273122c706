// SPDX-License-Identifier: Apache-2.0
#include "exchange/record_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/text.h"
#include "book/json_reader.h"

namespace footring::exchange {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

using book::JsonReader;

ordered_json decision_json(const store::Decision& decision) {
    return {{"treatment", decision.treatment},
            {"grade", decision.grade},
            {"date", decision.date},
            {"note", decision.note}};
}

std::optional<store::Attribution> attribution_from(const JsonReader& reader, std::vector<Problem>& problems) {
    const json* value = reader.member("attribution");
    if (value == nullptr) return std::nullopt;
    JsonReader inner(*value, reader.at("attribution"), problems);
    store::Attribution out;
    inner.verbatim("packs", out.packs);
    inner.verbatim("when", out.when);
    if (const json* answer = inner.member("answer")) out.answer = *answer;
    return out;
}
void add(std::vector<Problem>& problems, std::vector<Problem> more) {
    std::ranges::move(more, std::back_inserter(problems));
}

}  // namespace

ordered_json lot_json(const store::Lot& lot) {
    ordered_json out{
        {"id", lot.id}, {"name", lot.name}, {"date", lot.date}, {"place", lot.place}, {"note", lot.note}};
    if (lot.cost) out["cost"] = *lot.cost;
    out["currency"] = lot.currency;
    out["revision"] = lot.revision;
    return out;
}

ordered_json record_json(const store::PieceRecord& record) {
    ordered_json out;
    out["piece"] = looks::to_json(record.piece);
    if (record.is_private) out["private"] = true;
    out["lot"] = record.lot;
    out["place"] = record.place;
    if (record.cost) out["cost"] = *record.cost;
    out["currency"] = record.currency;
    out["note"] = record.note;
    if (record.decision) out["decision"] = decision_json(*record.decision);
    if (record.attribution)
        out["attribution"] = {{"answer", record.attribution->answer},
                              {"packs", record.attribution->packs},
                              {"when", record.attribution->when}};
    out["created"] = record.created;
    out["changed"] = record.changed;
    out["revision"] = record.revision;
    return out;
}

ordered_json photo_json(const store::PhotoMeta& photo) {
    ordered_json out{{"sha256", photo.sha256}, {"piece", photo.piece}, {"name", photo.name},
                     {"type", photo.type},     {"bytes", photo.bytes}, {"width", photo.width},
                     {"height", photo.height}, {"added", photo.added}};
    if (!photo.corrections.is_null()) out["corrections"] = photo.corrections;
    return out;
}

ordered_json change_json(const store::Change& change) {
    ordered_json out{{"id", change.id},      {"when", change.when}, {"entity", change.entity},
                     {"key", change.key},    {"what", change.what}, {"before", change.before},
                     {"after", change.after}};
    if (!change.who.empty()) out["who"] = change.who;
    if (change.undoes) out["undoes"] = *change.undoes;
    out["batch"] = change.batch;
    return out;
}

std::expected<store::Lot, std::vector<Problem>> lot_from_json(const json& value, std::string_view where) {
    std::vector<Problem> problems;
    JsonReader reader(value, std::string(where), problems);
    store::Lot lot;
    reader.verbatim("id", lot.id);
    reader.verbatim("name", lot.name);
    reader.date("date", lot.date);
    reader.verbatim("place", lot.place);
    reader.verbatim("note", lot.note);
    reader.money("cost", lot.cost);
    reader.verbatim("currency", lot.currency);
    reader.revision("revision", lot.revision);
    if (value.is_object() && trim(lot.name).empty() && problems.empty())
        reader.fault("name", "the lot has no name", "name it as you speak of it, such as 'Barn sale, March'");
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return lot;
}

std::expected<store::Decision, std::vector<Problem>> decision_from_json(const json& value, std::string_view where) {
    std::vector<Problem> problems;
    JsonReader reader(value, std::string(where), problems);
    store::Decision decision;
    reader.verbatim("treatment", decision.treatment);
    reader.verbatim("grade", decision.grade);
    reader.date("date", decision.date);
    reader.verbatim("note", decision.note);
    if (value.is_object() && decision.treatment.empty() && problems.empty())
        reader.fault("treatment", "the decision names no treatment",
                     "give the id of a treatment, or 'unlisted' or 'elsewhere'");
    if (!decision.grade.empty() && decision.grade != "first" && decision.grade != "second")
        reader.fault("grade", fmt::format("there is no grade '{}'", decision.grade),
                     "give 'first', 'second' or nothing");
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return decision;
}

std::expected<store::PieceRecord, std::vector<Problem>> record_from_json(const json& value, std::string_view where,
                                                                         std::vector<std::string>& notes) {
    std::vector<Problem> problems;
    JsonReader reader(value, std::string(where), problems);
    store::PieceRecord record;
    if (const json* piece = reader.member("piece")) {
        auto read = looks::piece_from_json(*piece, where, notes);
        if (read) record.piece = std::move(*read);
        else add(problems, std::move(read.error()));
    } else if (value.is_object()) {
        reader.fault("piece", "the record has no piece", "give the piece file as the member 'piece'");
    }
    reader.flag("private", record.is_private);
    reader.verbatim("lot", record.lot);
    reader.verbatim("place", record.place);
    reader.money("cost", record.cost);
    reader.verbatim("currency", record.currency);
    reader.verbatim("note", record.note);
    reader.revision("revision", record.revision);
    if (const json* decision = reader.member("decision")) {
        auto read = decision_from_json(*decision, reader.at("decision"));
        if (read) record.decision = std::move(*read);
        else add(problems, std::move(read.error()));
    }
    record.attribution = attribution_from(reader, problems);
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return record;
}

}  // namespace footring::exchange
