// SPDX-License-Identifier: Apache-2.0
#include "looks/piece.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "base/text.h"
#include "book/json_text.h"

namespace footring::looks {

namespace {

using Json = nlohmann::json;
using Problems = std::vector<Problem>;

constexpr std::size_t kLongestText = 500;  // bytes; no id, number or file name of a piece is longer

constexpr std::string_view kPieceFields[] = {"id",        "form",     "shape",     "glaze",     "wear",
                                             "looks",     "mark",     "number",    "date_code", "faults",
                                             "length_mm", "width_mm", "height_mm", "photos"};
constexpr std::string_view kSeenFields[] = {"value", "sure"};
constexpr std::string_view kLookFields[] = {"place", "value", "sure"};

std::string kind_of(const Json& value) {
    switch (value.type()) {
        case Json::value_t::object:
            return "an object";
        case Json::value_t::array:
            return "a list";
        case Json::value_t::string:
            return "a text";
        case Json::value_t::boolean:
            return "true or false";
        case Json::value_t::null:
            return "null";
        default:
            return "a number";
    }
}

template <class Names>
std::string one_of(const Names& names) {
    return fmt::format("use one of {}", fmt::join(names, ", "));
}

bool has_control_characters(std::string_view text) {
    return std::ranges::any_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
}

struct PieceReader {
    std::string file;
    std::string base;  // pointer of the piece in its file: "" or "/0"
    Problems& problems;
    std::vector<std::string>& notes;

    void fault(const std::string& pointer, std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput,
                            base.empty() && pointer.empty() ? file : file + ": " + base + pointer, std::move(what),
                            std::move(remedy)});
    }

    static std::vector<std::string> strings(std::span<const std::string_view> names) {
        return {names.begin(), names.end()};
    }

    void note_strangers(const Json& object, const std::string& pointer, std::span<const std::string_view> known,
                        std::string_view thing) {
        for (const auto& [name, value] : object.items()) {
            if (std::ranges::find(known, name) != known.end()) continue;
            const std::string hint = did_you_mean(name, strings(known), "");
            notes.push_back(fmt::format("{}: {}{}/{}: {} has no such field, so it was left out{}{}", file, base,
                                        pointer, name, thing, hint.empty() ? "" : ": ", hint));
        }
    }

    // The text of a value; a whole number counts as its digits, because 117 is a natural way to write a number.
    std::optional<std::string> text(const Json& value, const std::string& pointer, std::string_view wanted) {
        std::string out;
        if (value.is_string()) {
            out = trim(value.get_ref<const std::string&>());
        } else if (value.is_number_unsigned()) {
            out = fmt::format("{}", value.get<std::uint64_t>());
        } else {
            fault(pointer, fmt::format("{} stands here", kind_of(value)), fmt::format("write {}", wanted));
            return std::nullopt;
        }
        if (out.size() > kLongestText) {
            fault(pointer, fmt::format("the text has {} bytes", out.size()),
                  fmt::format("shorten it to at most {}", kLongestText));
            return std::nullopt;
        }
        if (has_control_characters(out)) {
            fault(pointer, "the text has a control character in it", "write it on one line, without tabs");
            return std::nullopt;
        }
        return out;
    }

    static const Json* field(const Json& object, const char* name) {
        const auto found = object.find(name);
        return found == object.end() || found->is_null() ? nullptr : &*found;
    }

    std::string text_field(const Json& object, const char* name, std::string_view wanted) {
        const Json* value = field(object, name);
        return value ? text(*value, std::string("/") + name, wanted).value_or("") : "";
    }

    template <class Enum, std::size_t N>
    std::optional<Enum> word(const Json& value, const std::string& pointer,
                             const std::array<std::string_view, N>& names, std::string_view kind) {
        const auto given = text(value, pointer, one_of(names).substr(4));
        if (!given) return std::nullopt;
        const auto found = std::ranges::find(names, *given);
        if (found != names.end()) return static_cast<Enum>(found - names.begin());
        fault(pointer, fmt::format("'{}' is not {}", *given, kind),
              did_you_mean(*given, strings(names), one_of(names)));
        return std::nullopt;
    }

    template <class Enum, std::size_t N>
    std::optional<Enum> word_field(const Json& object, const char* name,
                                   const std::array<std::string_view, N>& names, std::string_view kind) {
        const Json* value = field(object, name);
        if (!value || (value->is_string() && trim(value->get_ref<const std::string&>()).empty()))
            return std::nullopt;
        return word<Enum>(*value, std::string("/") + name, names, kind);
    }

    Sure sure_of(const Json& object, const std::string& pointer) {
        const Json* value = field(object, "sure");
        if (!value) return Sure::kSure;
        return word<Sure>(*value, pointer + "/sure", kSureNames, "a sureness").value_or(Sure::kSure);
    }

    // {"value", "sure"} or a plain text. An empty value was not looked at.
    std::optional<Seen> seen(const Json& object, const char* name) {
        const Json* given = field(object, name);
        if (!given) return std::nullopt;
        const std::string pointer = std::string("/") + name;
        constexpr std::string_view kWanted = "a text, or an object with value and sure";
        Seen out;
        if (given->is_object()) {
            note_strangers(*given, pointer, kSeenFields, fmt::format("a {}", name));
            out.sure = sure_of(*given, pointer);
            const Json* value = field(*given, "value");
            if (!value) {
                fault(pointer, "it has no value",
                      fmt::format("give it one, or leave {} out if nobody looked", name));
                return std::nullopt;
            }
            out.value = text(*value, pointer + "/value", "a text").value_or("");
        } else {
            out.value = text(*given, pointer, kWanted).value_or("");
        }
        return out.value.empty() ? std::nullopt : std::optional(out);
    }

    std::optional<Look> look(const Json& given, const std::string& pointer) {
        if (!given.is_object()) {
            fault(pointer, fmt::format("{} stands here", kind_of(given)),
                  "write an object with place, value and sure");
            return std::nullopt;
        }
        note_strangers(given, pointer, kLookFields, "a look");
        std::optional<book::Place> place;
        if (const Json* name = field(given, "place"))
            place = word<book::Place>(*name, pointer + "/place", book::kPlaceNames, "a place");
        else fault(pointer, "the look has no place", one_of(book::kPlaceNames));
        Look out{place.value_or(book::Place::kRim), {"", sure_of(given, pointer)}};
        const Json* value = field(given, "value");
        std::string at = pointer + "/value";
        if (value && value->is_object()) {  // {"place": "rim", "value": {"value": "fern-pair", "sure": "likely"}}
            note_strangers(*value, at, kSeenFields, "a value");
            if (!field(given, "sure")) out.seen.sure = sure_of(*value, at);
            value = field(*value, "value");
            at += "/value";
        }
        if (!value) {
            fault(pointer, "the look has no value", "write an ornament's id, none, something or worn");
            return std::nullopt;
        }
        const auto named = text(*value, at, "an ornament's id, none, something or worn");
        if (!named) return std::nullopt;
        if (named->empty()) {
            fault(at, "the value is empty",
                  "write an ornament's id, none, something or worn, or leave the look out");
            return std::nullopt;
        }
        out.seen.value = *named;
        return place ? std::optional(out) : std::nullopt;
    }

    std::optional<double> length(const Json& object, const char* name) {
        const Json* value = field(object, name);
        if (!value) return std::nullopt;
        const std::string pointer = std::string("/") + name;
        if (!value->is_number()) {
            const std::string shown = value->is_string()
                                          ? fmt::format("the text '{}'", value->get_ref<const std::string&>())
                                          : kind_of(*value);
            fault(pointer, fmt::format("{} stands where a number belongs", shown.substr(0, kLongestText)),
                  "write millimetres as a bare number, such as 121");
            return std::nullopt;
        }
        const double mm = value->get<double>();
        if (!(mm > 0 && mm <= kLongestMm)) {
            fault(pointer, fmt::format("{} is not a length of tableware", mm),
                  fmt::format("write millimetres, over 0 and at most {}", kLongestMm));
            return std::nullopt;
        }
        return mm;
    }

    Piece piece(const Json& given) {
        Piece out;
        if (!given.is_object()) {
            fault("", fmt::format("{} stands where a piece belongs", kind_of(given)),
                  "write an object such as {\"id\": \"p-1\", \"looks\": []}");
            return out;
        }
        note_strangers(given, "", kPieceFields, "a piece");
        out.id = text_field(given, "id", "a text");
        out.form = text_field(given, "form", "a form's id");
        out.shape = seen(given, "shape");
        out.glaze = seen(given, "glaze");
        out.wear = word_field<Wear>(given, "wear", kWearNames, "a degree of wear");
        if (const Json* list = field(given, "looks")) {
            if (!list->is_array())
                fault("/looks", fmt::format("{} stands here", kind_of(*list)), "write a list of looks");
            for (std::size_t at = 0; list->is_array() && at < list->size(); ++at)
                if (auto one = look((*list)[at], fmt::format("/looks/{}", at)))
                    out.looks.push_back(std::move(*one));
        }
        out.mark = seen(given, "mark");
        out.number = seen(given, "number");
        out.date_code = text_field(given, "date_code", "the code as a text");
        out.faults = word_field<Faults>(given, "faults", kFaultsNames, "a degree of faults");
        out.length_mm = length(given, "length_mm");
        out.width_mm = length(given, "width_mm");
        out.height_mm = length(given, "height_mm");
        if (const Json* list = field(given, "photos")) {
            if (!list->is_array())
                fault("/photos", fmt::format("{} stands here", kind_of(*list)), "write a list of file names");
            for (std::size_t at = 0; list->is_array() && at < list->size(); ++at)
                if (auto name = text((*list)[at], fmt::format("/photos/{}", at), "a file name");
                    name && !name->empty())
                    out.photos.push_back(std::move(*name));
        }
        return out;
    }
};

nlohmann::ordered_json seen_json(const Seen& seen) {
    return {{"value", seen.value}, {"sure", kSureNames[static_cast<std::size_t>(seen.sure)]}};
}

}  // namespace

double sureness(Sure sure, const Settings& settings) {
    switch (sure) {
        case Sure::kSure:
            return settings.sure_sure;
        case Sure::kLikely:
            return settings.sure_likely;
        case Sure::kGuess:
            break;
    }
    return settings.sure_guess;
}

std::expected<Piece, Problems> piece_from_value(const Json& given, std::string_view where,
                                                std::vector<std::string>& notes) {
    Problems problems;
    Piece piece = PieceReader{std::string(where), "", problems, notes}.piece(given);
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return piece;
}

std::expected<Piece, Problems> piece_from_json(std::string_view text, std::string_view where,
                                               std::vector<std::string>& notes) {
    const auto given = book::json_from_text(text, where);
    if (!given) return std::unexpected(Problems{given.error()});
    return piece_from_value(*given, where, notes);
}

std::expected<std::vector<Piece>, Problems> pieces_from_json(std::string_view text, std::string_view where,
                                                             std::vector<std::string>& notes) {
    const auto given = book::json_from_text(text, where);
    if (!given) return std::unexpected(Problems{given.error()});
    Problems problems;
    std::vector<Piece> pieces;
    if (!given->is_array()) {
        pieces.push_back(PieceReader{std::string(where), "", problems, notes}.piece(*given));
    } else {
        for (std::size_t at = 0; at < given->size(); ++at)
            pieces.push_back(
                PieceReader{std::string(where), fmt::format("/{}", at), problems, notes}.piece((*given)[at]));
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return pieces;
}

bool is_sound(const Piece& piece) {
    const auto text = [](const std::string& value) {
        return value.size() <= kLongestText && is_utf8(value) && !has_control_characters(value);
    };
    // An empty value is written as one that is there.
    const auto seen = [&](const std::optional<Seen>& one) {
        return !one || (!one->value.empty() && text(one->value));
    };
    const auto length = [](const std::optional<double>& mm) { return !mm || (*mm > 0 && *mm <= kLongestMm); };
    return text(piece.id) && text(piece.form) && seen(piece.shape) && seen(piece.glaze) && seen(piece.mark) &&
           seen(piece.number) && text(piece.date_code) && length(piece.length_mm) && length(piece.width_mm) &&
           length(piece.height_mm) && std::ranges::all_of(piece.photos, text) &&
           std::ranges::all_of(piece.looks, [&](const Look& look) {
               return !trim(look.seen.value).empty() && text(look.seen.value);
           });
}

nlohmann::ordered_json to_json(const Piece& piece) {
    nlohmann::ordered_json out = nlohmann::ordered_json::object();
    if (!piece.id.empty()) out["id"] = piece.id;
    if (!piece.form.empty()) out["form"] = piece.form;
    if (piece.shape) out["shape"] = seen_json(*piece.shape);
    if (piece.glaze) out["glaze"] = seen_json(*piece.glaze);
    if (piece.wear) out["wear"] = kWearNames[static_cast<std::size_t>(*piece.wear)];
    out["looks"] = nlohmann::ordered_json::array();
    for (const Look& look : piece.looks)
        out["looks"].push_back({{"place", book::name_of(look.place)},
                                {"value", look.seen.value},
                                {"sure", kSureNames[static_cast<std::size_t>(look.seen.sure)]}});
    if (piece.mark) out["mark"] = seen_json(*piece.mark);
    if (piece.number) out["number"] = seen_json(*piece.number);
    if (!piece.date_code.empty()) out["date_code"] = piece.date_code;
    if (piece.faults) out["faults"] = kFaultsNames[static_cast<std::size_t>(*piece.faults)];
    if (piece.length_mm) out["length_mm"] = *piece.length_mm;
    if (piece.width_mm) out["width_mm"] = *piece.width_mm;
    if (piece.height_mm) out["height_mm"] = *piece.height_mm;
    if (!piece.photos.empty()) out["photos"] = piece.photos;
    return out;
}

}  // namespace footring::looks
