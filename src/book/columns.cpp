// SPDX-License-Identifier: Apache-2.0
#include "book/columns.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <set>

#include "base/text.h"

namespace footring::book {

namespace {

// "Catalogue No.", "catalogue-no" and "CatalogueNo" are one name.
std::string bare(std::string_view name) {
    std::string out = lower(name);
    std::erase_if(out, [](char c) { return std::string_view(" _-\t.()#:/").find(c) != std::string_view::npos; });
    return out;
}

std::string guess(const std::string& heading, const Fields& known) {
    const std::string name = bare(heading);
    for (const std::string& field : known.names)
        if (bare(field) == name) return field;
    for (const OtherName& other : known.others)
        if (other.name == name) return std::string(other.field);
    return {};
}

// The end of the first line: a line break inside quotation marks does not end it.
std::size_t end_of_first_line(std::string_view text) {
    bool quoted = false;
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (text[at] == '"') quoted = !quoted;
        else if (!quoted && (text[at] == '\n' || text[at] == '\r')) return at;
    }
    return text.size();
}

}  // namespace

std::vector<MatchedColumn> match_columns(const std::vector<std::string>& headings, const Mapping& mapping,
                                         const Fields& known, std::string_view where,
                                         std::vector<Problem>& problems) {
    const auto add = [&](std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy)});
    };
    for (const auto& [column, field] : mapping) {
        if (std::ranges::find(headings, column) == headings.end())
            add(fmt::format("the mapping names a column '{}' that the file does not have", column),
                did_you_mean(column, headings, fmt::format("its columns are {}", fmt::join(headings, ", "))));
        if (!field.empty() && std::ranges::find(known.names, field) == known.names.end())
            add(fmt::format("the mapping names a field '{}' that {} do not have", field, known.of),
                did_you_mean(field, known.names, fmt::format("the fields are {}", fmt::join(known.names, ", "))));
    }
    std::vector<MatchedColumn> out;
    std::set<std::string> taken;
    const auto take = [&](const std::string& field, bool asked) {
        if (field.empty() || taken.insert(field).second) return field;
        if (asked) add(fmt::format("two columns are mapped to '{}'", field), "map one of them to nothing");
        return std::string{};
    };
    for (const std::string& heading : headings) {
        const auto said = mapping.find(heading);
        out.push_back({heading, said == mapping.end() ? "" : take(said->second, true)});
    }
    for (MatchedColumn& one : out)
        if (!mapping.contains(one.column)) one.field = take(guess(one.column, known), false);
    return out;
}

char delimiter_of(std::string_view text) {
    constexpr std::array kAll = {',', ';', '\t', '|'};
    std::array<std::size_t, kAll.size()> counts{};
    bool quoted = false;
    for (const char c : text.substr(0, end_of_first_line(text))) {
        if (c == '"') quoted = !quoted;
        if (quoted) continue;
        const auto* const at = std::ranges::find(kAll, c);
        if (at != kAll.end()) ++counts[static_cast<std::size_t>(at - kAll.begin())];
    }
    return kAll[static_cast<std::size_t>(std::ranges::max_element(counts) - counts.begin())];
}

std::vector<std::string> headings_of(std::string_view text) {
    const Csv csv = read_csv(text.substr(0, end_of_first_line(text)), delimiter_of(text));
    std::vector<std::string> out;
    if (csv.rows.empty()) return out;
    for (const CsvCell& cell : csv.rows.front().cells) out.emplace_back(trim(cell.text));
    return out;
}

}  // namespace footring::book
