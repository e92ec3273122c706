// SPDX-License-Identifier: Apache-2.0
#include "book/code_scheme.h"

#include <fmt/format.h>
#include <re2/re2.h>

#include <algorithm>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "book/faults.h"
#include "book/json_text.h"

namespace footring::book {

namespace {

using Json = nlohmann::json;
struct Meaning {
    std::string token;  // as written
    Json value;
};
using Meanings = std::map<std::string, Meaning>;  // by token in lower case
using Tables = std::map<std::string, Meanings>;

constexpr std::size_t kLongestCode = 200;

// (?<year>..) is how most write a named group; RE2 of Debian 12 knows only (?P<year>..).
std::string with_named_groups(std::string_view pattern) {
    std::string out;
    bool in_class = false;
    for (std::size_t at = 0; at < pattern.size(); ++at) {
        const char c = pattern[at];
        out += c;
        if (c == '\\' && at + 1 < pattern.size()) out += pattern[++at];
        else if (c == '[') in_class = true;
        else if (c == ']') in_class = false;
        else if (!in_class && pattern.substr(at).starts_with("(?<") && at + 3 < pattern.size() &&
                 pattern[at + 3] != '=' && pattern[at + 3] != '!') {
            out += "?P<";
            at += 2;
        }
    }
    return out;
}

std::unique_ptr<RE2> compiled(const std::string& pattern) {
    RE2::Options options;
    options.set_case_sensitive(false);
    options.set_log_errors(false);
    return std::make_unique<RE2>(with_named_groups(pattern), options);
}

bool is_year(const Json& value) {
    return value.is_number_integer() && value.get<std::int64_t>() >= -9999 && value.get<std::int64_t>() <= 9999;
}

// Why a token cannot mean this; empty when it can.
std::string refusal(const std::string& group, const Json& meaning) {
    if (group == "decade")
        return is_year(meaning) && meaning.get<int>() % 10 == 0 ? "" : "the first year of a decade, such as 1930";
    if (group == "digit")
        return meaning.is_number_integer() && meaning.get<std::int64_t>() >= 0 && meaning.get<std::int64_t>() <= 9
                   ? ""
                   : "a number from 0 to 9";
    if (group != "year") return "";
    if (is_year(meaning)) return "";
    if (meaning.is_array() && !meaning.empty() && std::ranges::all_of(meaning, is_year)) return "";
    if (meaning.is_string() && edtf::parse(meaning.get_ref<const std::string&>())) return "";
    return "a year, a list of years, or a period such as \"1931/1934\"";
}

Expected<Tables> read_tables(const CodeScheme& scheme, const std::vector<std::string>& groups) {
    Tables out;
    if (trim(scheme.tables).empty()) return out;
    const auto bad = [](std::string what, std::string remedy) {
        return fail(ProblemCode::kBadInput, "tables", std::move(what), std::move(remedy));
    };
    const auto json = json_from_text(scheme.tables, "tables");
    if (!json) return bad("tables: " + json.error().what, json.error().remedy);
    if (!json->is_object())
        return bad("tables is not a JSON object", "write it as {\"month\": {\"A\": 1, \"B\": 2}}");
    for (const auto& [group, table] : json->items()) {
        if (std::ranges::find(groups, group) == groups.end())
            return bad(
                fmt::format("tables has {}, which is no group of the pattern", in_quotes(group)),
                did_you_mean(group, groups, fmt::format("name the group in the pattern: (?<{}>...)", group)));
        if (!table.is_object() || table.empty())
            return bad(fmt::format("tables '{}' is not an object from tokens to meanings", group),
                       fmt::format("write it as {{\"{}\": {{\"A\": ...}}}}", group));
        for (const auto& [token, meaning] : table.items()) {
            if (const std::string wanted = refusal(group, meaning); !wanted.empty())
                return bad(fmt::format("tables '{}' does not say what {} means", group, in_quotes(token)),
                           "write " + wanted);
            if (!out[group].try_emplace(lower(token), Meaning{token, meaning}).second)
                return bad(fmt::format("tables '{}' has '{}' in capitals and in small letters", group, token),
                           "keep one: case is ignored");
        }
    }
    return out;
}

struct Scheme {
    std::unique_ptr<RE2> pattern;
    std::map<std::string, int> groups;  // name -> number in the pattern
    Tables tables;
};

Expected<Scheme> compile(const CodeScheme& scheme) {
    Scheme out;
    out.pattern = compiled(scheme.pattern);
    if (!out.pattern->ok())
        return fail(ProblemCode::kBadInput, "pattern",
                    fmt::format("pattern {} is not a regular expression ({})", in_quotes(scheme.pattern),
                                out.pattern->error()),
                    "correct it (RE2 syntax)");
    out.groups = {out.pattern->NamedCapturingGroups().begin(), out.pattern->NamedCapturingGroups().end()};
    std::vector<std::string> names;
    for (const auto& [name, number] : out.groups) names.push_back(name);
    if (names.empty())
        return fail(ProblemCode::kBadInput, "pattern",
                    fmt::format("pattern {} has no named group", in_quotes(scheme.pattern)),
                    "name what it finds, such as (?<year>[0-9]{2})");
    if (out.groups.contains("decade") != out.groups.contains("digit"))
        return fail(
            ProblemCode::kBadInput, "pattern",
            fmt::format("pattern {} has only one of the groups decade and digit", in_quotes(scheme.pattern)),
            "a year needs both of them, or a group year");
    auto tables = read_tables(scheme, names);
    if (!tables) return std::unexpected(std::move(tables.error()));
    out.tables = std::move(*tables);
    return out;
}

using YearSet = std::set<int>;

YearSet between(int first, int last) {
    YearSet out;
    for (int year = first; year <= last; ++year) out.insert(out.end(), year);
    return out;
}

// Four digits are a year, fewer the ending of one.
std::optional<YearSet> years_of_digits(const std::string& token, int first, int last) {
    const auto number = to_int(token);
    if (!number || *number < 0 || token.size() > 4) return std::nullopt;
    int step = 10;
    for (std::size_t i = 1; i < token.size(); ++i) step *= 10;
    YearSet out = between(first, last);
    std::erase_if(out, [&](int year) { return year < 0 || year % step != *number; });
    return out;
}

YearSet years_of_meaning(const Json& meaning, int first, int last) {
    YearSet out;
    if (meaning.is_number()) out.insert(meaning.get<int>());
    if (meaning.is_array())
        for (const Json& year : meaning) out.insert(year.get<int>());
    if (meaning.is_string()) {
        const auto period = edtf::parse(meaning.get_ref<const std::string&>());
        for (const edtf::Span& span : period->spans())
            for (int year = first; year <= last; ++year)
                if ((!span.first || year >= *span.first) && (!span.last || year <= *span.last)) out.insert(year);
    }
    std::erase_if(out, [&](int year) { return year < first || year > last; });
    return out;
}

struct Decoder {
    const CodeScheme& scheme;
    const Scheme& compiled;
    std::map<std::string, std::string> token;  // of each group that took part in the match
    int first, last;

    std::unexpected<Problem> refuse(const std::string& group) const {
        std::vector<std::string> known;
        if (const auto table = compiled.tables.find(group); table != compiled.tables.end())
            for (const auto& [key, meaning] : table->second) known.push_back(meaning.token);
        return fail(
            ProblemCode::kBadInput, "date code",
            fmt::format("{} '{}' is not used in the scheme '{}'", group, token.at(group), scheme.id),
            known.empty() ? "write the digits of a year" : fmt::format("use one of {}", fmt::join(known, ", ")));
    }
    const Json* meaning(const std::string& group) const {
        const auto table = compiled.tables.find(group);
        if (table == compiled.tables.end()) return nullptr;
        const auto found = table->second.find(lower(token.at(group)));
        return found == table->second.end() ? nullptr : &found->second.value;
    }
    Expected<YearSet> years_of(const std::string& group) const {
        if (const Json* found = meaning(group)) return years_of_meaning(*found, first, last);
        const auto digits = years_of_digits(token.at(group), first, last);
        if (compiled.tables.contains(group) || !digits) return refuse(group);
        return *digits;
    }
    Expected<int> digit() const {
        if (const Json* found = meaning("digit")) return found->get<int>();
        const auto number = to_int(token.at("digit"));
        if (!number || *number < 0 || *number > 9) return refuse("digit");
        return *number;
    }
};

}  // namespace

Expected<void> check(const CodeScheme& scheme) {
    const auto fine = compile(scheme);
    if (!fine) return std::unexpected(fine.error());
    return {};
}

Expected<std::vector<int>> decode(const CodeScheme& scheme, std::string_view code, int first, int last) {
    const auto read = compile(scheme);
    if (!read) return std::unexpected(read.error());
    code = trim(code);
    const int count = read->pattern->NumberOfCapturingGroups() + 1;
    std::vector<re2::StringPiece> parts(static_cast<std::size_t>(count));
    const bool fits =
        code.size() <= kLongestCode && is_utf8(code) &&
        read->pattern->Match({code.data(), code.size()}, 0, code.size(), RE2::ANCHOR_BOTH, parts.data(), count);
    if (!fits)
        return fail(ProblemCode::kBadInput, "date code",
                    fmt::format("{} does not follow the scheme '{}'", in_quotes(code), scheme.id),
                    scheme.note.empty() ? fmt::format("a code of it fits {}", scheme.pattern) : scheme.note);
    Decoder decoder{scheme, *read, {}, first, last};
    for (const auto& [name, number] : read->groups)
        if (const auto& part = parts[static_cast<std::size_t>(number)]; part.data() != nullptr)
            decoder.token[name] = std::string(part.data(), part.size());

    bool says_a_year = false;
    YearSet years = between(first, last);
    const auto keep = [&](const YearSet& only) {
        says_a_year = true;
        std::erase_if(years, [&](int year) { return !only.contains(year); });
    };
    for (const auto& [name, text] : decoder.token) {
        if (name == "decade" || name == "digit") continue;
        if (name == "year") {
            const auto found = decoder.years_of(name);
            if (!found) return std::unexpected(found.error());
            keep(*found);
        } else if (read->tables.contains(name) && !decoder.meaning(name)) {
            return decoder.refuse(name);
        }
    }
    if (decoder.token.contains("decade") && decoder.token.contains("digit")) {
        // A decade may begin before the first year that is asked for.
        Decoder wider = decoder;
        wider.first -= 9;
        const auto decades = wider.years_of("decade");
        if (!decades) return std::unexpected(decades.error());
        const auto digit = decoder.digit();
        if (!digit) return std::unexpected(digit.error());
        YearSet found;
        for (const int decade : *decades)
            if (decade % 10 == 0) found.insert(decade + *digit);
        keep(found);
    }
    if (!says_a_year) return std::vector<int>{};
    return std::vector<int>(years.begin(), years.end());
}

}  // namespace footring::book
