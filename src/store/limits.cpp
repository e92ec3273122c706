// SPDX-License-Identifier: Apache-2.0
#include "store/limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace footring::store {

namespace {

Expected<void> check_text(std::string_view text, std::string_view where, std::string_view field) {
    if (text.size() > kMostTextBytes)
        return fail(ProblemCode::kTooLarge, fmt::format("{}: {}", where, field),
                    fmt::format("the text is {} bytes long, the most is {}", text.size(), kMostTextBytes),
                    "shorten it, or keep the long text in a file of its own");
    if (!is_utf8(text))
        return fail(ProblemCode::kBadInput, fmt::format("{}: {}", where, field),
                    "the text is not UTF-8, or holds a NUL character", "save it as UTF-8 and send it again");
    return {};
}

Expected<void> check_amount(const std::optional<double>& cost, std::string_view where) {
    if (cost && (!std::isfinite(*cost) || *cost < 0))
        return fail(ProblemCode::kBadInput, fmt::format("{}: cost", where), "this is no amount of money",
                    "give a number that is 0 or more, or leave it out");
    return {};
}

struct Text {
    std::string_view field, text;
};
Expected<void> check_texts(std::initializer_list<Text> texts, std::string_view where) {
    for (const Text& t : texts)
        if (auto ok = check_text(t.text, where, t.field); !ok) return ok;
    return {};
}

Expected<void> check_decision(const Decision& d, std::string_view where) {
    if (d.grade != "" && d.grade != "first" && d.grade != "second")
        return fail(ProblemCode::kBadInput, fmt::format("{}: decision: grade", where),
                    "the grade is neither first nor second", "choose one of them, or leave it out");
    return check_texts(
        {{"decision: treatment", d.treatment}, {"decision: date", d.date}, {"decision: note", d.note}}, where);
}

// JSON as the caller made it: text in it that is no UTF-8 cannot be written.
Expected<void> check_json(const nlohmann::json& value, std::size_t most, const std::string& where,
                          std::string_view name, std::string_view remedy) {
    std::string text;
    try {
        text = value.dump();
    } catch (const nlohmann::json::type_error&) {
        return fail(ProblemCode::kBadInput, where, fmt::format("the {} holds text that is not UTF-8", name),
                    fmt::format("send the {} as the program gave it", name));
    }
    if (text.size() > most)
        return fail(ProblemCode::kTooLarge, where,
                    fmt::format("the {} is {} bytes long, the most is {}", name, text.size(), most),
                    std::string(remedy));
    return {};
}

Expected<void> check_attribution(const Attribution& a, std::string_view where) {
    if (auto ok = check_json(a.answer, kMostAnswerBytes, fmt::format("{}: attribution: answer", where), "answer",
                             "leave out candidates that hardly matter");
        !ok)
        return ok;
    return check_texts({{"attribution: packs", a.packs}, {"attribution: when", a.when}}, where);
}

// A piece that no piece file could hold could not be read back.
Expected<void> check_piece(const looks::Piece& p, std::string_view where) {
    auto ok = check_texts({{"form", p.form},
                           {"shape", p.shape ? p.shape->value : ""},
                           {"glaze", p.glaze ? p.glaze->value : ""},
                           {"mark", p.mark ? p.mark->value : ""},
                           {"number", p.number ? p.number->value : ""},
                           {"date_code", p.date_code}},
                          where);
    if (!ok) return ok;
    for (const looks::Look& look : p.looks)
        if (ok = check_text(look.seen.value, where, book::name_of(look.place)); !ok) return ok;
    for (const std::string& photo : p.photos)
        if (ok = check_text(photo, where, "photos"); !ok) return ok;
    if (looks::is_sound(p)) return {};
    nlohmann::json file(looks::to_json(p));
    if (p.id.empty()) file["id"] = "p-0";  // the store is about to choose one
    std::vector<std::string> ignored;
    if (const auto read = looks::piece_from_json(file, where, ignored); !read)
        return std::unexpected(read.error().front());
    return {};
}

bool is_deeper(const nlohmann::json& value, int levels) {
    if (!value.is_structured()) return false;
    return levels == 0 || std::ranges::any_of(value, [&](const auto& part) { return is_deeper(part, levels - 1); });
}

}  // namespace

Expected<void> check_id(std::string_view id, std::string_view where) {
    if (id.empty())
        return fail(ProblemCode::kBadInput, std::string(where), "the id is empty", "name the record that you mean");
    if (id.size() > kMostIdBytes)
        return fail(ProblemCode::kTooLarge, std::string(where),
                    fmt::format("the id is {} bytes long, the most is {}", id.size(), kMostIdBytes),
                    "give it a shorter id");
    for (const char c : id)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F)
            return fail(ProblemCode::kBadInput, std::string(where), "the id holds a control character",
                        "use letters, digits and hyphens");
    if (!is_utf8(id))
        return fail(ProblemCode::kBadInput, std::string(where), "the id is not UTF-8",
                    "use letters, digits and hyphens");
    return {};
}

Expected<void> check(const PieceRecord& r, std::string_view where) {
    if (!r.piece.id.empty())
        if (auto ok = check_id(r.piece.id, where); !ok) return ok;
    auto ok = check_texts({{"lot", r.lot},
                           {"place", r.place},
                           {"currency", r.currency},
                           {"note", r.note},
                           {"search_words", r.search_words}},
                          where);
    if (ok) ok = check_amount(r.cost, where);
    if (ok && r.decision) ok = check_decision(*r.decision, where);
    if (ok && r.attribution) ok = check_attribution(*r.attribution, where);
    if (ok) ok = check_piece(r.piece, where);
    return ok;
}

Expected<void> check(const Lot& lot, std::string_view where) {
    if (!lot.id.empty())
        if (auto ok = check_id(lot.id, where); !ok) return ok;
    if (trim(lot.name).empty())
        return fail(ProblemCode::kBadInput, fmt::format("{}: name", where), "the lot has no name",
                    "name it as you speak of it, such as where and when it was bought");
    auto ok = check_texts({{"name", lot.name},
                           {"date", lot.date},
                           {"place", lot.place},
                           {"note", lot.note},
                           {"currency", lot.currency}},
                          where);
    if (ok) ok = check_amount(lot.cost, where);
    return ok;
}

Expected<void> check(const PhotoMeta& p, std::string_view where) {
    if (!p.corrections.is_null() && !p.corrections.is_object())
        return fail(ProblemCode::kBadInput, fmt::format("{}: corrections", where), "they are no object",
                    "send an object in braces, or null for none");
    if (auto ok = check_json(p.corrections, kMostTextBytes, fmt::format("{}: corrections", where), "corrections",
                             "leave out what does not correct the reading");
        !ok)
        return ok;
    return check_texts({{"name", p.name}, {"type", p.type}}, where);
}

Expected<void> check(const Reading& r, std::string_view where) {
    if (!r.found.is_object())
        return fail(ProblemCode::kBadInput, fmt::format("{}: found", where), "the reading is no object",
                    "send the object that reading made");
    for (const auto* part : {&r.found, &r.asked})
        if (auto ok = check_json(*part, kMostAnswerBytes, std::string(where), "reading",
                                 "leave out what can be read again");
            !ok)
            return ok;
    return check_text(r.packs, where, "packs");
}

Expected<void> check(const Record& r, std::string_view where) {
    if (!r.id.empty())
        if (auto ok = check_id(r.id, where); !ok) return ok;
    const std::string at = fmt::format("{}: body", where);
    if (!r.body.is_object())
        return fail(ProblemCode::kBadInput, at, "it is no JSON object", "send an object in braces");
    if (is_deeper(r.body, kDeepestBody))
        return fail(ProblemCode::kTooLarge, at, fmt::format("it is nested more than {} levels deep", kDeepestBody),
                    "make it flatter");
    return check_json(r.body, kMostBodyBytes, at, "body", "leave out what can be had elsewhere");
}

Expected<void> check_sentence(std::string_view what) { return check_text(what, "history", "what"); }

Expected<void> check(const Query& q) {
    if (q.limit < 0 || q.offset < 0)
        return fail(ProblemCode::kBadInput, "query", "limit and offset are numbers from 0 on",
                    "leave them out for the first hundred");
    return check_texts({{"text", q.text},
                        {"form", q.form},
                        {"shape", q.shape},
                        {"lot", q.lot},
                        {"place", q.place},
                        {"treatment", q.treatment},
                        {"grade", q.grade}},
                       "query");
}

}  // namespace footring::store
