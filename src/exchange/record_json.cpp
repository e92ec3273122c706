// SPDX-License-Identifier: Apache-2.0
#include "exchange/record_json.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "base/text.h"
#include "edtf/edtf.h"

namespace footring::exchange {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

std::string_view kind_of(const json& value) {
    if (value.is_string()) return "text";
    if (value.is_number()) return "a number";
    if (value.is_boolean()) return "true or false";
    if (value.is_array()) return "a list";
    return value.is_object() ? "an object" : "null";
}

// Reads members of one object and collects every fault; absent and null members leave the target as it is.
class Reader {
  public:
    Reader(const json& object, std::string_view where) : object_(object), where_(where) {
        if (!object.is_object())
            add("", fmt::format("this is {}, not an object", kind_of(object)), "give an object in braces");
    }

    void text(const char* name, std::string& into) {
        const json* value = member(name);
        if (value == nullptr) return;
        if (value->is_string()) into = value->get<std::string>();
        else add(name, fmt::format("this is {}, not text", kind_of(*value)), "put it in double quotes");
    }
    void amount(const char* name, std::optional<double>& into) {
        const json* value = member(name);
        if (value == nullptr) return;
        if (value->is_number() && std::isfinite(value->get<double>()) && value->get<double>() >= 0)
            into = value->get<double>();
        else add(name, "this is no amount of money", "give a number that is not negative, or leave it out");
    }
    void revision(const char* name, std::int64_t& into) {
        const json* value = member(name);
        if (value == nullptr) return;
        if (value->is_number_integer() && value->get<std::int64_t>() >= 0) into = value->get<std::int64_t>();
        else add(name, "this is no revision", "give the number that came with the record");
    }
    void date(const char* name, std::string& into) {
        const std::size_t before = problems_.size();
        text(name, into);
        if (problems_.size() != before || into.empty()) return;
        if (auto read = edtf::parse(into); !read) add(name, read.error().what, read.error().remedy);
    }
    const json* member(const char* name) const {
        if (!object_.is_object()) return nullptr;
        const auto found = object_.find(name);
        return found == object_.end() || found->is_null() ? nullptr : &*found;
    }
    // "file: /decision/grade": `where` of an inner object already has its pointer.
    std::string at(const char* name) const {
        return fmt::format("{}{}{}", where_, where_.find(": /") == std::string::npos ? ": /" : "/", name);
    }
    void add(const char* name, std::string what, std::string remedy) {
        problems_.push_back(
            {ProblemCode::kBadInput, *name == '\0' ? where_ : at(name), std::move(what), std::move(remedy)});
    }
    void add(std::vector<Problem> more) {
        for (Problem& problem : more) problems_.push_back(std::move(problem));
    }
    std::vector<Problem>& problems() { return problems_; }

  private:
    const json& object_;
    std::string where_;
    std::vector<Problem> problems_;
};

ordered_json decision_json(const store::Decision& decision) {
    return {{"treatment", decision.treatment},
            {"grade", decision.grade},
            {"date", decision.date},
            {"note", decision.note}};
}

std::optional<store::Attribution> attribution_from(Reader& reader) {
    const json* value = reader.member("attribution");
    if (value == nullptr) return std::nullopt;
    Reader inner(*value, reader.at("attribution"));
    store::Attribution out;
    inner.text("packs", out.packs);
    inner.text("when", out.when);
    if (const json* answer = inner.member("answer")) out.answer = *answer;
    const bool sound = inner.problems().empty();
    reader.add(std::move(inner.problems()));
    return sound ? std::optional(std::move(out)) : std::nullopt;
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
    if (change.undoes) out["undoes"] = *change.undoes;
    out["batch"] = change.batch;
    return out;
}

std::expected<store::Lot, std::vector<Problem>> lot_from_json(const json& value, std::string_view where) {
    Reader reader(value, where);
    store::Lot lot;
    reader.text("id", lot.id);
    reader.text("name", lot.name);
    reader.date("date", lot.date);
    reader.text("place", lot.place);
    reader.text("note", lot.note);
    reader.amount("cost", lot.cost);
    reader.text("currency", lot.currency);
    reader.revision("revision", lot.revision);
    if (value.is_object() && trim(lot.name).empty() && reader.problems().empty())
        reader.add("name", "the lot has no name", "name it as you speak of it, such as 'Barn sale, March'");
    if (!reader.problems().empty()) return std::unexpected(std::move(reader.problems()));
    return lot;
}

std::expected<store::Decision, std::vector<Problem>> decision_from_json(const json& value, std::string_view where) {
    Reader reader(value, where);
    store::Decision decision;
    reader.text("treatment", decision.treatment);
    reader.text("grade", decision.grade);
    reader.date("date", decision.date);
    reader.text("note", decision.note);
    if (value.is_object() && decision.treatment.empty() && reader.problems().empty())
        reader.add("treatment", "the decision names no treatment",
                   "give the id of a treatment, or 'unlisted' or 'elsewhere'");
    if (!decision.grade.empty() && decision.grade != "first" && decision.grade != "second")
        reader.add("grade", fmt::format("there is no grade '{}'", decision.grade),
                   "give 'first', 'second' or nothing");
    if (!reader.problems().empty()) return std::unexpected(std::move(reader.problems()));
    return decision;
}

std::expected<store::PieceRecord, std::vector<Problem>> record_from_json(const json& value, std::string_view where,
                                                                         std::vector<std::string>& notes) {
    Reader reader(value, where);
    store::PieceRecord record;
    if (const json* piece = reader.member("piece")) {
        auto read = looks::piece_from_json(*piece, where, notes);
        if (read) record.piece = std::move(*read);
        else reader.add(std::move(read.error()));
    } else if (value.is_object()) {
        reader.add("piece", "the record has no piece", "give the piece file as the member 'piece'");
    }
    reader.text("lot", record.lot);
    reader.text("place", record.place);
    reader.amount("cost", record.cost);
    reader.text("currency", record.currency);
    reader.text("note", record.note);
    reader.revision("revision", record.revision);
    if (const json* decision = reader.member("decision")) {
        auto read = decision_from_json(*decision, reader.at("decision"));
        if (read) record.decision = std::move(*read);
        else reader.add(std::move(read.error()));
    }
    record.attribution = attribution_from(reader);
    if (!reader.problems().empty()) return std::unexpected(std::move(reader.problems()));
    return record;
}

}  // namespace footring::exchange
