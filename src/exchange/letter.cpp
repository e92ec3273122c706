// SPDX-License-Identifier: Apache-2.0
#include "exchange/letter.h"

#include <fmt/format.h>

#include <algorithm>

#include "edtf/edtf.h"
#include "exchange/cupboard.h"

namespace footring::exchange {

namespace {

using nlohmann::json;

class Reader {
  public:
    Reader(const json& object, std::string_view where) : object_(object), where_(where) {}

    void text(const char* name, std::string& into) {
        const json* value = member(name);
        if (value == nullptr) return;
        if (value->is_string()) into = value->get<std::string>();
        else add(name, "this is not text", "put it in double quotes");
    }
    void date(const char* name, std::string& into) {
        text(name, into);
        if (into.empty()) return;
        if (const auto read = edtf::parse(into); !read) add(name, read.error().what, read.error().remedy);
    }
    void flag(const char* name, bool& into) {
        const json* value = member(name);
        if (value == nullptr) return;
        if (value->is_boolean()) into = value->get<bool>();
        else add(name, "this is neither true nor false", "write true or false");
    }
    void ids(const char* name, std::vector<std::string>& into) {
        const json* value = member(name);
        if (value == nullptr) return;
        const bool texts = value->is_array() && std::ranges::all_of(*value, [](const json& id) {
                               return id.is_string() && !id.get_ref<const std::string&>().empty();
                           });
        if (!texts) return add(name, "this is no list of ids", R"(write ["p-0041", ...])");
        for (const json& id : *value)
            if (std::ranges::find(into, id.get<std::string>()) == into.end()) into.push_back(id.get<std::string>());
    }
    void add(const char* name, std::string what, std::string remedy) {
        problems.push_back(
            {ProblemCode::kBadInput, fmt::format("{}: /{}", where_, name), std::move(what), std::move(remedy)});
    }
    std::vector<Problem> problems;

  private:
    const json* member(const char* name) const {
        const auto found = object_.find(name);
        return found == object_.end() || found->is_null() ? nullptr : &*found;
    }
    const json& object_;
    std::string where_;
};

}  // namespace

json to_json(const Letter& letter) {
    return {{"name", letter.name},         {"address", letter.address}, {"received", letter.received},
            {"subject", letter.subject},   {"text", letter.text},       {"state", letter.state},
            {"pieces", letter.pieces},     {"reply", letter.reply},     {"answered", letter.answered},
            {"sighting", letter.sighting}, {"note", letter.note}};
}

std::expected<Letter, std::vector<Problem>> letter_from_json(const json& object, std::string_view where) {
    if (!object.is_object())
        return std::unexpected(std::vector{Problem{ProblemCode::kBadInput, std::string(where),
                                                   "this is not an object", "give a letter in braces"}});
    Letter letter;
    Reader reader(object, where);
    reader.text("name", letter.name);
    reader.text("address", letter.address);
    reader.date("received", letter.received);
    reader.text("subject", letter.subject);
    reader.text("text", letter.text);
    reader.text("state", letter.state);
    if (std::ranges::find(kLetterStates, letter.state) == kLetterStates.end())
        reader.add("state", fmt::format("'{}' is no state of a letter", letter.state),
                   "write new, asked, answered or closed");
    reader.ids("pieces", letter.pieces);
    reader.text("reply", letter.reply);
    reader.date("answered", letter.answered);
    reader.flag("sighting", letter.sighting);
    reader.text("note", letter.note);
    if (letter.name.empty() && letter.subject.empty() && letter.text.empty())
        reader.add("text", "the letter is empty", "write who asked, what about, or what");
    if (!reader.problems.empty()) return std::unexpected(std::move(reader.problems));
    return letter;
}

Expected<std::set<std::string>> borrowed(const store::Store& store) {
    const auto records = store.records("letter");
    if (!records) return std::unexpected(records.error());
    std::set<std::string> out;
    for (const store::Record& record : *records)
        if (const auto letter = letter_from_json(record.body, record.id))
            out.insert(letter->pieces.begin(), letter->pieces.end());
    return out;
}

Expected<std::vector<store::PieceRecord>> own_pieces(const store::Store& store) {
    const auto theirs = borrowed(store);
    if (!theirs) return std::unexpected(theirs.error());
    auto pieces = all_pieces(store);
    if (pieces) std::erase_if(*pieces, [&](const auto& record) { return theirs->contains(record.piece.id); });
    return pieces;
}

Expected<std::vector<Sighting>> sightings(const store::Store& store) {
    const auto records = store.records("letter");
    if (!records) return std::unexpected(records.error());
    std::vector<Sighting> out;
    for (const store::Record& record : *records) {
        const auto letter = letter_from_json(record.body, record.id);
        if (!letter || !letter->sighting || letter->state == "new" || letter->state == "asked") continue;
        for (const std::string& id : letter->pieces) {
            const auto piece = store.piece(id);
            if (!piece && piece.error().code == ProblemCode::kNotFound) continue;  // removed since
            if (!piece) return std::unexpected(piece.error());
            if (piece->decision && piece->decision->treatment.find(':') != std::string::npos)
                out.push_back({id, piece->decision->treatment, record.id, letter->received});
        }
    }
    return out;
}

}  // namespace footring::exchange
