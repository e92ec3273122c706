// SPDX-License-Identifier: Apache-2.0
#include "store/record_json.h"

#include <fmt/format.h>

#include <array>

namespace footring::store {

namespace {
using nlohmann::json;

void set_text(json& object, const char* name, const std::string& value) {
    if (!value.empty()) object[name] = value;
}

// Reads one field after another and keeps the first fault.
class Fields {
  public:
    Fields(const json& object, std::string_view where) : object_(object), where_(where) {
        if (!object.is_object()) complain("", "this is no JSON object", "send an object with braces");
    }
    void text(const char* name, std::string& into) {
        if (const json* value = get(name); value != nullptr) {
            if (value->is_string()) into = value->get<std::string>();
            else complain(name, "this is no text", "write it in quotes");
        }
    }
    void number(const char* name, std::optional<double>& into) {
        if (const json* value = get(name); value != nullptr) {
            if (value->is_number()) into = value->get<double>();
            else complain(name, "this is no number", "write digits without quotes, with '.' as the decimal point");
        }
    }
    template <class Whole>
    void whole(const char* name, Whole& into) {
        if (const json* value = get(name); value != nullptr) {
            if (value->is_number_integer()) into = value->get<Whole>();
            else complain(name, "this is no whole number", "write digits only, without quotes");
        }
    }
    void flag(const char* name, bool& into) {
        if (const json* value = get(name); value != nullptr) {
            if (value->is_boolean()) into = value->get<bool>();
            else complain(name, "this is neither true nor false", "write true or false without quotes");
        }
    }
    void texts(const char* name, std::vector<std::string>& into) {
        const json* value = get(name);
        if (value == nullptr) return;
        if (!value->is_array()) return complain(name, "this is no list", "write it in square brackets");
        for (const json& item : *value) {
            if (!item.is_string()) return complain(name, "the list holds something that is no text", "quote each");
            into.push_back(item.get<std::string>());
        }
    }
    void none_but(std::initializer_list<std::string_view> known) {
        if (!object_.is_object()) return;
        for (const auto& [name, value] : object_.items())
            if (std::find(known.begin(), known.end(), name) == known.end())
                complain(name, "there is no field of this name", "leave it out, or correct its name");
    }
    const json* get(const char* name) {
        if (!object_.is_object()) return nullptr;
        const auto at = object_.find(name);
        return at == object_.end() || at->is_null() ? nullptr : &*at;
    }
    void complain(std::string_view name, std::string what, std::string remedy) {
        if (!problem_)
            problem_ = Problem{ProblemCode::kBadInput, name.empty() ? where_ : fmt::format("{}: {}", where_, name),
                               std::move(what), std::move(remedy)};
    }
    void take(const Problem& problem) {
        if (!problem_) problem_ = problem;
    }
    std::string where(const char* name) const { return fmt::format("{}: {}", where_, name); }
    const std::optional<Problem>& problem() const { return problem_; }

  private:
    const json& object_;
    std::string where_;
    std::optional<Problem> problem_;
};

template <class T>
Expected<T> answer(const Fields& fields, T value) {
    if (fields.problem()) return std::unexpected(*fields.problem());
    return value;
}

json to_json(const Decision& d) {
    json out = json::object();
    set_text(out, "treatment", d.treatment);
    set_text(out, "grade", d.grade);
    set_text(out, "date", d.date);
    set_text(out, "note", d.note);
    return out;
}
Expected<Decision> decision_from_json(const json& object, const std::string& where) {
    Fields f(object, where);
    Decision d;
    f.none_but({"treatment", "grade", "date", "note"});
    f.text("treatment", d.treatment);
    f.text("grade", d.grade);
    f.text("date", d.date);
    f.text("note", d.note);
    return answer(f, std::move(d));
}
json to_json(const Attribution& a) {
    json out = json::object();
    if (!a.answer.is_null()) out["answer"] = a.answer;
    set_text(out, "packs", a.packs);
    set_text(out, "when", a.when);
    return out;
}
Expected<Attribution> attribution_from_json(const json& object, const std::string& where) {
    Fields f(object, where);
    Attribution a;
    f.none_but({"answer", "packs", "when"});
    if (const json* given = f.get("answer")) a.answer = *given;
    f.text("packs", a.packs);
    f.text("when", a.when);
    return answer(f, std::move(a));
}

}  // namespace

json to_json(const PieceRecord& r) {
    json out = {{"piece", json(looks::to_json(r.piece))}, {"revision", r.revision}};
    if (r.is_private) out["private"] = true;
    set_text(out, "lot", r.lot);
    set_text(out, "place", r.place);
    if (r.cost) out["cost"] = *r.cost;
    set_text(out, "currency", r.currency);
    set_text(out, "note", r.note);
    set_text(out, "search_words", r.search_words);
    if (r.decision) out["decision"] = to_json(*r.decision);
    if (r.attribution) out["attribution"] = to_json(*r.attribution);
    set_text(out, "created", r.created);
    set_text(out, "changed", r.changed);
    if (!r.photos.empty()) out["photos"] = r.photos;
    return out;
}

json to_json(const Lot& lot) {
    json out = {{"id", lot.id}, {"revision", lot.revision}};
    set_text(out, "name", lot.name);
    set_text(out, "date", lot.date);
    set_text(out, "place", lot.place);
    set_text(out, "note", lot.note);
    if (lot.cost) out["cost"] = *lot.cost;
    set_text(out, "currency", lot.currency);
    return out;
}

json to_json(const PhotoMeta& p) {
    json out = {{"sha256", p.sha256}, {"piece", p.piece}, {"name", p.name},     {"type", p.type},
                {"bytes", p.bytes},   {"width", p.width}, {"height", p.height}, {"added", p.added}};
    if (!p.corrections.is_null()) out["corrections"] = p.corrections;
    return out;
}

json to_json(const Reading& r) {
    return {{"sha256", r.sha256}, {"asked", r.asked}, {"found", r.found},
            {"packs", r.packs},   {"when", r.when},   {"pictures", r.pictures}};
}

json to_json(const Record& r) {
    json out = {{"kind", r.kind}, {"id", r.id}, {"body", r.body}, {"revision", r.revision}};
    set_text(out, "created", r.created);
    set_text(out, "changed", r.changed);
    return out;
}

Expected<PieceRecord> piece_record_from_json(const json& object, std::string_view where) {
    Fields f(object, where);
    PieceRecord r;
    f.none_but({"piece", "private", "lot", "place", "cost", "currency", "note", "search_words", "decision",
                "attribution", "created", "changed", "revision", "photos"});
    if (const json* piece = f.get("piece")) {
        std::vector<std::string> ignored;
        if (auto read = looks::piece_from_json(*piece, f.where("piece"), ignored)) r.piece = std::move(*read);
        else f.take(read.error().front());
    } else {
        f.complain("piece", "there is no piece in it", "send the piece file in the field `piece`");
    }
    f.flag("private", r.is_private);
    f.text("lot", r.lot);
    f.text("place", r.place);
    f.number("cost", r.cost);
    f.text("currency", r.currency);
    f.text("note", r.note);
    f.text("search_words", r.search_words);
    if (const json* given = f.get("decision")) {
        if (auto read = decision_from_json(*given, f.where("decision"))) r.decision = std::move(*read);
        else f.take(read.error());
    }
    if (const json* given = f.get("attribution")) {
        if (auto read = attribution_from_json(*given, f.where("attribution"))) r.attribution = std::move(*read);
        else f.take(read.error());
    }
    f.text("created", r.created);
    f.text("changed", r.changed);
    f.whole("revision", r.revision);
    f.texts("photos", r.photos);
    return answer(f, std::move(r));
}

Expected<Lot> lot_from_json(const json& object, std::string_view where) {
    Fields f(object, where);
    Lot lot;
    f.none_but({"id", "name", "date", "place", "note", "cost", "currency", "revision"});
    f.text("id", lot.id);
    f.text("name", lot.name);
    f.text("date", lot.date);
    f.text("place", lot.place);
    f.text("note", lot.note);
    f.number("cost", lot.cost);
    f.text("currency", lot.currency);
    f.whole("revision", lot.revision);
    return answer(f, std::move(lot));
}

Expected<PhotoMeta> photo_from_json(const json& object, std::string_view where) {
    Fields f(object, where);
    PhotoMeta p;
    f.none_but({"sha256", "piece", "name", "type", "bytes", "width", "height", "added", "corrections"});
    f.text("sha256", p.sha256);
    f.text("piece", p.piece);
    f.text("name", p.name);
    f.text("type", p.type);
    f.whole("bytes", p.bytes);
    f.whole("width", p.width);
    f.whole("height", p.height);
    f.text("added", p.added);
    if (const json* given = f.get("corrections")) p.corrections = *given;
    return answer(f, std::move(p));
}

Expected<Reading> reading_from_json(const json& object, std::string_view where) {
    Fields f(object, where);
    Reading r;
    f.none_but({"sha256", "asked", "found", "packs", "when", "pictures"});
    f.text("sha256", r.sha256);
    if (const json* given = f.get("asked")) r.asked = *given;
    if (const json* given = f.get("found")) r.found = *given;
    f.text("packs", r.packs);
    f.text("when", r.when);
    if (const json* given = f.get("pictures")) {
        Fields pictures(*given, f.where("pictures"));
        if (given->is_object())
            for (const auto& [kind, digest] : given->items()) pictures.text(kind.c_str(), r.pictures[kind]);
        if (pictures.problem()) f.take(*pictures.problem());
    }
    return answer(f, std::move(r));
}

Expected<Record> record_from_json(const json& object, std::string_view where) {
    Fields f(object, where);
    Record r;
    f.none_but({"kind", "id", "body", "created", "changed", "revision"});
    f.text("kind", r.kind);
    f.text("id", r.id);
    if (const json* given = f.get("body")) r.body = *given;
    f.text("created", r.created);
    f.text("changed", r.changed);
    f.whole("revision", r.revision);
    return answer(f, std::move(r));
}

}  // namespace footring::store
