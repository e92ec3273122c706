// SPDX-License-Identifier: Apache-2.0
#include "book/code_scheme.h"

#include <fmt/format.h>
#include <re2/re2.h>

#include <algorithm>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "book/code_tables.h"
#include "book/faults.h"
#include "book/json_text.h"

namespace footring::book {

namespace {

using Json = nlohmann::json;

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

// {"when": {group: token or [lowest, highest]}, "means": {group: meaning}, "note": text}; what is wrong with it, or
// empty.
std::string fault_of_exception(const Json& one, const std::vector<std::string>& groups) {
    const auto is_group = [&](const std::string& name) { return std::ranges::find(groups, name) != groups.end(); };
    const auto object = [&](const char* key) {
        return one.contains(key) && one[key].is_object() && !one[key].empty();
    };
    if (!one.is_object() || !object("when") || !object("means"))
        return "is not an object with \"when\" and \"means\"";
    if (one.contains("note") && !one["note"].is_string()) return "has a note that is no text";
    for (const auto& [group, condition] : one["when"].items()) {
        if (!is_group(group)) return fmt::format("asks for {}, which is no group of the pattern", in_quotes(group));
        const bool range = condition.is_array() && condition.size() == 2 && condition[0].is_number_integer() &&
                           condition[1].is_number_integer();
        if (!condition.is_string() && !range)
            return fmt::format("asks for a '{}' that is neither a token nor [lowest, highest]", group);
    }
    for (const auto& [group, meaning] : one["means"].items()) {
        if (!is_group(group)) return fmt::format("gives {}, which is no group of the pattern", in_quotes(group));
        if (const std::string wanted = refusal(group, meaning); !wanted.empty())
            return fmt::format("gives '{}' no meaning: write {}", group, wanted);
    }
    return "";
}

Expected<CodeTables> read_tables(const CodeScheme& scheme, const std::vector<std::string>& groups) {
    CodeTables out;
    if (trim(scheme.tables).empty()) return out;
    const auto bad = [](std::string what, std::string remedy) {
        return fail(ProblemCode::kBadInput, "tables", std::move(what), std::move(remedy));
    };
    const auto json = json_from_text(scheme.tables, "tables");
    if (!json) return bad("tables: " + json.error().what, json.error().remedy);
    if (!json->is_object())
        return bad("tables is not a JSON object", "write it as {\"month\": {\"A\": 1, \"B\": 2}}");
    for (const auto& [group, table] : json->items()) {
        if (group == "exceptions" && table.is_array()) {
            for (const Json& one : table) {
                if (const std::string wrong = fault_of_exception(one, groups); !wrong.empty())
                    return bad(fmt::format("tables: exception {} {}", &one - &table.front() + 1, wrong),
                               "write it as {\"when\": {\"year\": \"K\"}, \"means\": {\"year\": 1857}, "
                               "\"note\": \"...\"}");
                out.exceptions.push_back(one);
            }
            continue;
        }
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
            if (!out.groups[group].try_emplace(lower(token), CodeMeaning{token, meaning}).second)
                return bad(fmt::format("tables '{}' has '{}' in capitals and in small letters", group, token),
                           "keep one: case is ignored");
        }
    }
    return out;
}

}  // namespace

Expected<CompiledScheme> compile(const CodeScheme& scheme) {
    CompiledScheme out;
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

Expected<void> check(const CodeScheme& scheme) {
    const auto fine = compile(scheme);
    if (!fine) return std::unexpected(fine.error());
    return {};
}

Expected<void> check_pattern(const std::string& pattern) {
    const auto read = compiled(pattern);
    if (read->ok()) return {};
    return fail(ProblemCode::kBadInput, "pattern",
                fmt::format("pattern {} is not a regular expression ({})", in_quotes(pattern), read->error()),
                "correct it (RE2 syntax)");
}

}  // namespace footring::book
