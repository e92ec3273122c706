// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <set>

#include "base/text.h"
#include "book/code_scheme.h"
#include "book/code_tables.h"
#include "book/faults.h"

namespace footring::book {

namespace {

using Json = nlohmann::json;
using YearSet = std::set<int>;

constexpr std::array<std::string_view, 12> kMonths = {"January",   "February", "March",    "April",
                                                      "May",       "June",     "July",     "August",
                                                      "September", "October",  "November", "December"};

std::optional<int> month_named(std::string_view name) {
    const std::string small = lower(trim(name));
    for (std::size_t at = 0; at < kMonths.size(); ++at)
        if (small == lower(kMonths[at]) || small == lower(kMonths[at].substr(0, 3)))
            return static_cast<int>(at) + 1;
    return std::nullopt;
}

bool in_scope(int year, int first, int last) { return year >= first && year <= last; }

// Four digits are a year, fewer the ending of one; each on its own.
std::optional<std::vector<YearSet>> years_of_digits(const std::string& token, int first, int last) {
    const auto number = to_int(token);
    if (!number || *number < 0 || token.size() > 4) return std::nullopt;
    if (token.size() == 4) return std::vector<YearSet>{{*number}};
    int step = 10;
    for (std::size_t i = 1; i < token.size(); ++i) step *= 10;
    std::vector<YearSet> out;
    for (int year = std::max(first, 0); year <= last; ++year)
        if (year % step == *number) out.push_back({year});
    return out;
}

// A list means one of its years each time, a period any year in it.
std::vector<YearSet> years_of_meaning(const Json& meaning, int first, int last) {
    std::vector<YearSet> out;
    if (meaning.is_number()) out.push_back({meaning.get<int>()});
    if (meaning.is_array()) {
        YearSet each;
        for (const Json& year : meaning) each.insert(year.get<int>());
        for (const int year : each) out.push_back({year});
    }
    if (meaning.is_string()) {
        const auto period = edtf::parse(meaning.get_ref<const std::string&>());
        YearSet any;
        for (const edtf::Span& span : period->spans()) {
            const std::int64_t from = std::max<std::int64_t>(span.first.value_or(first), -9999);
            const std::int64_t to = std::min<std::int64_t>(span.last.value_or(last), 9999);
            for (std::int64_t year = from; year <= to; ++year) any.insert(static_cast<int>(year));
        }
        if (!any.empty()) out.push_back(std::move(any));
    }
    return out;
}

struct Decoder {
    const CodeScheme& scheme;
    const CompiledScheme& compiled;
    std::map<std::string, std::string> token;  // of each group that took part in the match
    std::vector<std::string> order;            // those groups as they stand in the code
    int first, last;
    const Json* exception = nullptr;  // read as this one says

    std::unexpected<Problem> refuse(const std::string& group) const {
        std::vector<std::string> known;
        if (const auto table = compiled.tables.groups.find(group); table != compiled.tables.groups.end())
            for (const auto& [key, meaning] : table->second) known.push_back(meaning.token);
        return fail(
            ProblemCode::kBadInput, "date code",
            fmt::format("{} '{}' is not used in the scheme '{}'", group, token.at(group), scheme.id),
            known.empty() ? "write the digits of a year" : fmt::format("use one of {}", fmt::join(known, ", ")));
    }
    bool has_table(const std::string& group) const { return compiled.tables.groups.contains(group); }
    const Json* meaning(const std::string& group) const {
        if (exception != nullptr)
            if (const auto given = (*exception)["means"].find(group); given != (*exception)["means"].end())
                return &*given;
        const auto table = compiled.tables.groups.find(group);
        if (table == compiled.tables.groups.end()) return nullptr;
        const auto found = table->second.find(lower(token.at(group)));
        return found == table->second.end() ? nullptr : &found->second.value;
    }
    Expected<std::vector<YearSet>> years_of(const std::string& group) const {
        if (const Json* found = meaning(group)) return years_of_meaning(*found, first, last);
        auto digits = years_of_digits(token.at(group), first, last);
        if (has_table(group) || !digits) return refuse(group);
        return std::move(*digits);
    }
    Expected<int> digit() const {
        if (const Json* found = meaning("digit")) return found->get<int>();
        const auto number = to_int(token.at("digit"));
        if (!number || *number < 0 || *number > 9) return refuse("digit");
        return *number;
    }

    // The years that the code can mean, one entry for each way to read it; absent: it says nothing about the year.
    Expected<std::optional<std::vector<YearSet>>> alternatives() const {
        std::optional<std::vector<YearSet>> out;
        for (const auto& [name, text] : token) {
            if (name == "decade" || name == "digit") continue;
            if (name == "year") {
                auto found = years_of(name);
                if (!found) return std::unexpected(found.error());
                out = std::move(*found);
            } else if (has_table(name) && !meaning(name)) {
                return refuse(name);
            }
        }
        if (!token.contains("decade") || !token.contains("digit")) return out;
        Decoder wider = *this;
        wider.first -= 9;  // a decade may begin before the first year that is asked for
        const auto decades = wider.years_of("decade");
        if (!decades) return std::unexpected(decades.error());
        const auto one = digit();
        if (!one) return std::unexpected(one.error());
        std::vector<YearSet> found;
        for (const YearSet& decade : *decades)
            for (const int begin : decade)
                if (begin % 10 == 0) found.push_back({begin + *one});
        if (!out) return found;
        std::vector<YearSet> both;
        for (const YearSet& a : *out)
            for (const YearSet& b : found) {
                YearSet common;
                std::ranges::set_intersection(a, b, std::inserter(common, common.end()));
                if (!common.empty()) both.push_back(std::move(common));
            }
        return both;
    }

    std::optional<int> month() const {
        if (!token.contains("month")) return std::nullopt;
        const Json* found = meaning("month");
        std::optional<int> number = found == nullptr             ? to_int(token.at("month"))
                                    : found->is_number_integer() ? std::optional(found->get<int>())
                                    : found->is_string()         ? month_named(found->get_ref<const std::string&>())
                                                                 : std::nullopt;
        return number && *number >= 1 && *number <= 12 ? number : std::nullopt;
    }
    // Digits beside a month of the same scheme; a scheme without months may count days in its own way.
    std::optional<int> day() const {
        if (!token.contains("day") || !compiled.groups.contains("month") || has_table("day")) return std::nullopt;
        return to_int(token.at("day"));
    }

    std::vector<CodePart> parts(const YearSet& years) const {
        std::vector<CodePart> out;
        for (const std::string& group : order) {
            CodePart part{group, token.at(group), ""};
            const Json* found = meaning(group);
            if (group == "year") part.meaning = date_of(years, std::nullopt, std::nullopt);
            else if (group == "month" && month()) part.meaning = kMonths[static_cast<std::size_t>(*month() - 1)];
            else if (found != nullptr)
                part.meaning = found->is_string() ? found->get<std::string>() : found->dump();
            if (part.meaning == part.token) part.meaning.clear();
            out.push_back(std::move(part));
        }
        return out;
    }
    static std::string date_of(const YearSet& years, std::optional<int> in_month, std::optional<int> on_day) {
        if (years.empty()) return "";
        const int from = *years.begin(), to = *years.rbegin();
        if (years.size() > 1) {
            if (to - from + 1 == static_cast<int>(years.size())) return edtf::from_years(from, to);
            std::vector<std::string> all;
            for (const int year : years) all.push_back(edtf::from_years(year, year));
            return fmt::format("[{}]", fmt::join(all, ","));
        }
        std::string date = edtf::from_years(from, from);
        if (in_month) date += fmt::format("-{:02}", *in_month);
        if (in_month && on_day) date += fmt::format("-{:02}", *on_day);
        return date;
    }

    // Adds the readings of this decoder; the problem when there is none.
    Expected<void> add_readings(std::vector<CodeReading>& out) const {
        auto found = alternatives();
        if (!found) return std::unexpected(found.error());
        std::vector<YearSet> ways = found->value_or(std::vector<YearSet>{{}});
        std::ranges::sort(ways);
        ways.erase(std::unique(ways.begin(), ways.end()), ways.end());
        const auto in_month = month(), on_day = day();
        std::optional<Problem> no_such_day;
        const auto note = [&] {
            return exception != nullptr && exception->contains("note") ? (*exception)["note"].get<std::string>()
                                                                       : "";
        };
        for (const YearSet& years : ways) {
            const std::string date = date_of(years, in_month, on_day);
            // 2000 was a leap year: a day that it lacks, no year has.
            const int year = years.size() == 1 ? *years.begin() : 2000;
            if (on_day &&
                (*on_day < 1 || *on_day > 31 || (in_month && !edtf::parse(date_of({year}, in_month, on_day))))) {
                const std::string month_name =
                    in_month ? std::string(kMonths[static_cast<std::size_t>(*in_month - 1)]) : "any month";
                no_such_day =
                    Problem{ProblemCode::kBadInput, "date code",
                            fmt::format("there is no day '{}' in {}", token.at("day"),
                                        in_month && years.size() == 1 ? fmt::format("{} {}", month_name, year)
                                                                      : month_name),
                            "read the day and the month again"};
                continue;
            }
            out.push_back({parts(years), {years.begin(), years.end()}, date, 1, note()});
        }
        if (out.empty() && no_such_day) return std::unexpected(*no_such_day);
        return {};
    }
};

// Whether every condition of an exception holds; an illegible token fulfils any.
bool applies(const Json& exception, const Decoder& decoder) {
    for (const auto& [group, condition] : exception["when"].items()) {
        const auto found = decoder.token.find(group);
        if (found == decoder.token.end()) return false;
        if (found->second == "?") continue;
        if (condition.is_string()) {
            if (lower(condition.get_ref<const std::string&>()) != lower(found->second)) return false;
        } else {
            const auto number = to_int(found->second);
            if (!number || *number < condition[0].get<int>() || *number > condition[1].get<int>()) return false;
        }
    }
    return true;
}

// The pattern with anything but spaces in place of what one group allows; empty when the group is not found.
std::string with_any(const std::string& pattern, const std::string& group) {
    for (const std::string_view opening : {"(?P<", "(?<"}) {
        const std::string begin = fmt::format("{}{}>", opening, group);
        const std::size_t at = pattern.find(begin);
        if (at == pattern.npos) continue;
        int depth = 1;
        bool in_class = false;
        for (std::size_t end = at + begin.size(); end < pattern.size(); ++end) {
            if (pattern[end] == '\\') ++end;
            else if (pattern[end] == '[') in_class = true;
            else if (pattern[end] == ']') in_class = false;
            else if (!in_class && pattern[end] == '(') ++depth;
            else if (!in_class && pattern[end] == ')' && --depth == 0)
                return pattern.substr(0, at) + begin + "[^\\s]{1,8}?" + pattern.substr(end);
        }
    }
    return "";
}

// Why a code does not follow the pattern, when one group alone is to blame: "month 'Q' is not used in the scheme".
std::optional<Problem> one_wrong_group(const CodeScheme& scheme, const CompiledScheme& read,
                                       std::string_view code) {
    std::map<int, std::string> by_number;
    for (const auto& [name, number] : read.groups) by_number[number] = name;
    for (const auto& [number, name] : by_number) {
        CodeScheme looser = scheme;
        looser.pattern = with_any(scheme.pattern, name);
        if (looser.pattern.empty()) continue;
        const auto loose = compile(looser);
        if (!loose) continue;
        const int count = loose->pattern->NumberOfCapturingGroups() + 1;
        std::vector<re2::StringPiece> pieces(static_cast<std::size_t>(count));
        if (!loose->pattern->Match({code.data(), code.size()}, 0, code.size(), RE2::ANCHOR_BOTH, pieces.data(),
                                   count))
            continue;
        const auto& piece = pieces[static_cast<std::size_t>(number)];
        if (piece.data() == nullptr) continue;
        std::vector<std::string> known;
        if (const auto table = read.tables.groups.find(name); table != read.tables.groups.end())
            for (const auto& [key, meaning] : table->second) known.push_back(meaning.token);
        const std::string otherwise =
            scheme.note.empty() ? fmt::format("a code of it fits {}", scheme.pattern) : scheme.note;
        return Problem{ProblemCode::kBadInput, "date code",
                       fmt::format("{} '{}' is not used in the scheme '{}'", name,
                                   std::string(piece.data(), piece.size()), scheme.id),
                       known.empty() ? otherwise : fmt::format("use one of {}", fmt::join(known, ", "))};
    }
    return std::nullopt;
}

Expected<Decoder> match(const CodeScheme& scheme, const CompiledScheme& read, std::string_view code, int first,
                        int last) {
    code = trim(code);
    const int count = read.pattern->NumberOfCapturingGroups() + 1;
    std::vector<re2::StringPiece> pieces(static_cast<std::size_t>(count));
    const bool fits =
        code.size() <= kLongestCode && is_utf8(code) &&
        read.pattern->Match({code.data(), code.size()}, 0, code.size(), RE2::ANCHOR_BOTH, pieces.data(), count);
    const auto wrong =
        !fits && code.size() <= kLongestCode && is_utf8(code) ? one_wrong_group(scheme, read, code) : std::nullopt;
    if (wrong) return std::unexpected(*wrong);
    if (!fits)
        return fail(ProblemCode::kBadInput, "date code",
                    fmt::format("{} does not follow the scheme '{}'", in_quotes(code), scheme.id),
                    scheme.note.empty() ? fmt::format("a code of it fits {}", scheme.pattern) : scheme.note);
    Decoder decoder{scheme, read, {}, {}, first, last};
    std::map<int, std::string> by_number;
    for (const auto& [name, number] : read.groups) by_number[number] = name;
    for (const auto& [number, name] : by_number)
        if (const auto& piece = pieces[static_cast<std::size_t>(number)]; piece.data() != nullptr) {
            decoder.token[name] = std::string(piece.data(), piece.size());
            decoder.order.push_back(name);
        }
    return decoder;
}

}  // namespace

Expected<std::vector<CodeReading>> readings(const CodeScheme& scheme, std::string_view code, int first, int last) {
    const auto read = compile(scheme);
    if (!read) return std::unexpected(read.error());
    auto decoder = match(scheme, *read, code, first, last);
    if (!decoder) return std::unexpected(decoder.error());
    std::vector<CodeReading> out;
    const auto plain = decoder->add_readings(out);
    for (const Json& exception : read->tables.exceptions) {
        if (!applies(exception, *decoder)) continue;
        Decoder other = *decoder;
        other.exception = &exception;
        // An exception whose day does not exist is no reading; the plain one then tells what is wrong.
        static_cast<void>(other.add_readings(out));
    }
    if (!plain && out.empty()) return std::unexpected(plain.error());
    for (CodeReading& one : out) one.weight = 1.0 / static_cast<double>(out.size());
    return out;
}

Expected<std::vector<int>> decode(const CodeScheme& scheme, std::string_view code, int first, int last) {
    const auto read = compile(scheme);
    if (!read) return std::unexpected(read.error());
    const auto decoder = match(scheme, *read, code, first, last);
    if (!decoder) return std::unexpected(decoder.error());
    YearSet years;
    const auto add = [&](const Decoder& one) -> Expected<void> {
        const auto found = one.alternatives();
        if (!found) return std::unexpected(found.error());
        if (*found)
            for (const YearSet& way : **found)
                for (const int year : way)
                    if (in_scope(year, first, last)) years.insert(year);
        return {};
    };
    const auto plain = add(*decoder);
    bool other_meaning = false;
    for (const Json& exception : read->tables.exceptions) {
        if (!applies(exception, *decoder)) continue;
        Decoder other = *decoder;
        other.exception = &exception;
        other_meaning = add(other).has_value() || other_meaning;
    }
    if (!plain && !other_meaning) return std::unexpected(plain.error());
    return std::vector<int>(years.begin(), years.end());
}

}  // namespace footring::book
