// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/text.h"
#include "book/reading.h"
#include "book/tables.h"

namespace footring::book {

namespace {

// Words that stand where an id could stand in a piece file, a decision or an `on`, and so cannot be ids there.
bool is_reserved(std::string_view table, std::string_view id) {
    const auto one_of = [&](std::initializer_list<std::string_view> words) {
        return std::ranges::find(words, id) != words.end();
    };
    if (table == "forms") return one_of({"flat", "hollow"});
    if (table == "treatments") return one_of({"unlisted", "elsewhere"});
    if (table == "ornaments" || table == "marks" || table == "shapes" || table == "glazes")
        return one_of({"none", "something", "worn"});
    return false;
}

// "Fern Pair!" -> "fern-pair"; empty when nothing of it can stand in an id.
std::string kebab_of(std::string_view text) {
    std::string out;
    for (const char c : lower(text)) {
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) out += c;
        else if (!out.empty() && out.back() != '-') out += '-';
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out;
}

struct Holder {
    std::size_t table, row;
};

void register_id(Reading& reading, OpenPack& pack, std::size_t table, std::size_t row,
                 std::unordered_map<std::string, Holder>& holders) {
    const Sheet& sheet = pack.sheets[table];
    const std::string id(trim(sheet.text(row, 0)));
    const auto fault = [&](std::string what, std::string remedy) {
        reading.faults.add(sheet.file, sheet.spot(row, 0), std::move(what), std::move(remedy));
    };
    if (id.empty()) {
        if (!sheet.rows[row].faulty) fault("id is blank", "give the row an id in lower case, such as 'oat'");
        return;
    }
    pack.rows[table].emplace(id, static_cast<std::uint32_t>(row));
    if (!is_kebab(id)) {
        const std::string better = kebab_of(id);
        fault(fmt::format("id {} is not made of lower-case letters, digits and single hyphens", in_quotes(id)),
              better.empty() ? "write an id such as 'oat'" : fmt::format("write {}", in_quotes(better)));
    } else if (is_reserved(sheet.table->name, id)) {
        fault(fmt::format("id {} is a word with a meaning of its own", in_quotes(id)), "choose another id");
    }
    const auto [holder, fresh] = holders.try_emplace(id, Holder{table, row});
    if (fresh) return;
    const Sheet& other = pack.sheets[holder->second.table];
    fault(fmt::format("id {} is already taken at {}:{}", in_quotes(id), other.file, other.line(holder->second.row)),
          "ids are unique in a pack: give one of the two another id");
}

}  // namespace

std::size_t table_index(std::string_view name) {
    const auto tables = all_tables();
    return static_cast<std::size_t>(std::ranges::find(tables, name, &Table::name) - tables.begin());
}

void register_ids(Reading& reading) {
    const auto tables = all_tables();
    std::vector<std::uint32_t> next(tables.size());
    for (OpenPack& pack : reading.packs) {
        pack.rows.resize(tables.size());
        std::unordered_map<std::string, Holder> holders;
        for (std::size_t table = 0; table < tables.size(); ++table) {
            pack.offset.push_back(next[table]);
            next[table] += static_cast<std::uint32_t>(pack.sheets[table].rows.size());
            if (!tables[table].has_id() || pack.sheets[table].cell_of.front() < 0) continue;
            for (std::size_t row = 0; row < pack.sheets[table].rows.size(); ++row)
                register_id(reading, pack, table, row, holders);
        }
    }
}

Reading::Found Reading::find_row(std::size_t from, std::size_t table, std::string_view id) {
    Found found{.pack = from, .what = {}, .remedy = {}};
    const std::size_t colon = id.find(':');
    const std::string bare(colon == id.npos ? id : trim(id.substr(colon + 1)));
    if (colon != id.npos) {
        const std::string_view name = trim(id.substr(0, colon));
        const auto pack = std::ranges::find(packs, name, &OpenPack::name);
        if (pack == packs.end()) {
            std::vector<std::string> names;
            for (const OpenPack& open : packs) names.push_back(open.name());
            found.what = fmt::format("belongs to the pack {}, which is not open", in_quotes(name));
            found.remedy = did_you_mean(name, names, "open that pack as well, or correct its name");
            return found;
        }
        found.pack = static_cast<std::size_t>(pack - packs.begin());
    }
    const OpenPack& pack = packs[found.pack];
    if (const auto row = pack.rows[table].find(bare); row != pack.rows[table].end()) {
        found.row = pack.offset[table] + row->second;
        return found;
    }
    const Sheet& sheet = pack.sheets[table];
    if (!sheet.complete) return found;
    found.what = fmt::format("is not an id in {}", sheet.file);
    for (std::size_t other = 0; other < packs.size() && colon == id.npos; ++other)
        if (other != from && packs[other].rows[table].contains(bare)) {
            found.remedy = fmt::format("write '{}:{}' for the one of that pack", packs[other].name(), bare);
            return found;
        }
    std::vector<std::string> ids;
    if (suggestions_left-- > 0)
        for (std::size_t row = 0; row < sheet.rows.size(); ++row) ids.emplace_back(trim(sheet.text(row, 0)));
    found.remedy = did_you_mean(bare, ids, "add it there, or correct the id");
    return found;
}

}  // namespace footring::book
