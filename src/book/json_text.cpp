// SPDX-License-Identifier: Apache-2.0
#include "book/json_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/text.h"

namespace footring::book {

namespace {

constexpr std::string_view kBom = "\xEF\xBB\xBF";

std::string place(std::string_view where, TextPosition at) {
    return fmt::format("{}:{}:{}", where, at.line, at.column);
}

// The byte at which brackets go deeper than allowed. Looked for before parsing, so that no later step that
// follows the nesting by recursion can be driven out of its stack.
std::optional<std::size_t> too_deep(std::string_view text, int depth) {
    int open = 0;
    bool quoted = false;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (quoted) {
            if (c == '\\') ++at;
            else if (c == '"') quoted = false;
        } else if (c == '"') {
            quoted = true;
        } else if (c == '[' || c == '{') {
            if (++open > depth) return at;
        } else if (c == ']' || c == '}') {
            --open;
        }
    }
    return std::nullopt;
}

// "[json.exception.parse_error.101] parse error at line 1, column 2: syntax error while parsing value - unexpected
// '}'; expected ..." becomes "unexpected '}', expected ...": the place is already in `where`, and what was last
// read may be as long as the file.
std::string reason_of(std::string_view message) {
    if (const auto dash = message.find(" - "); dash != message.npos) message.remove_prefix(dash + 3);
    else if (const auto bracket = message.find("] "); bracket != message.npos) message.remove_prefix(bracket + 2);
    std::string out(message);
    if (const auto read = out.find("; last read: '"); read != out.npos) {
        const auto end = out.rfind("'; expected ");
        out.erase(read, end == out.npos || end < read ? out.npos : end + 1 - read);
    }
    if (const auto semicolon = out.find("; "); semicolon != out.npos) out.replace(semicolon, 1, ",");
    return out;
}

}  // namespace

TextPosition position_in(std::string_view text, std::size_t at) {
    TextPosition position;
    if (text.starts_with(kBom)) {
        text.remove_prefix(kBom.size());
        at -= std::min(at, kBom.size());
    }
    at = std::min(at, text.size());
    for (std::size_t i = 0; i < at; ++i) {
        if (text[i] == '\n') ++position.line, position.column = 1;
        else if ((static_cast<unsigned char>(text[i]) & 0xC0) != 0x80 && text[i] != '\r') ++position.column;
    }
    return position;
}

Expected<nlohmann::json> json_from_text(std::string_view text, std::string_view where, const JsonLimits& limits) {
    if (text.size() > limits.bytes)
        return fail(ProblemCode::kTooLarge, std::string(where),
                    fmt::format("the file has {} bytes, more than the {} that are read", text.size(), limits.bytes),
                    "split it into smaller files");
    if (!is_utf8(text))
        return fail(ProblemCode::kUnreadable, std::string(where), "the file is not UTF-8 text", "save it as UTF-8");
    if (trim(text.substr(text.starts_with(kBom) ? kBom.size() : 0)).empty())
        return fail(ProblemCode::kBadInput, place(where, {}), "the file is empty", "write a JSON object into it");
    if (const auto at = too_deep(text, limits.depth))
        return fail(ProblemCode::kBadInput, place(where, position_in(text, *at)),
                    fmt::format("brackets are nested more than {} deep", limits.depth), "nest them less deeply");

    std::vector<std::set<std::string>> fields;  // of the objects that are open while reading
    std::string twice;
    const auto note_twice = [&](int, nlohmann::json::parse_event_t event, nlohmann::json& value) {
        if (event == nlohmann::json::parse_event_t::object_start) fields.emplace_back();
        else if (event == nlohmann::json::parse_event_t::object_end) fields.pop_back();
        else if (event == nlohmann::json::parse_event_t::key)
            if (auto name = value.get<std::string>(); !fields.back().insert(name).second && twice.empty())
                twice = std::move(name);
        return true;
    };
    try {
        nlohmann::json value = nlohmann::json::parse(text, note_twice);
        if (!twice.empty())
            return fail(ProblemCode::kBadInput, std::string(where),
                        fmt::format("an object has the field '{}' twice", twice), "keep one of them");
        return value;
    } catch (const nlohmann::json::parse_error& error) {
        return fail(ProblemCode::kBadInput, place(where, position_in(text, error.byte == 0 ? 0 : error.byte - 1)),
                    fmt::format("this is not JSON ({})", reason_of(error.what())),
                    "correct the text at this place");
    } catch (const nlohmann::json::exception& error) {  // a number that no double holds
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("this is not usable JSON ({})", reason_of(error.what())), "correct that value");
    }
}

}  // namespace footring::book
