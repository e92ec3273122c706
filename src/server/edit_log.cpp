// SPDX-License-Identifier: Apache-2.0
#include "server/edit_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "book/json_text.h"
#include "server/base64.h"
#include "store/disk.h"

namespace footring::server {

namespace fs = std::filesystem;

namespace {

using nlohmann::json;

json bytes_json(const std::optional<std::string>& bytes) { return bytes ? json(to_base64(*bytes)) : json(); }
std::optional<std::string> bytes_from(const json& value) {
    return value.is_string() ? from_base64(value.get<std::string>()) : std::nullopt;
}

json to_json(const BookChange& change) {
    json rows = json::array(), files = json::array();
    for (const book::RowChange& row : change.rows)
        rows.push_back({{"table", row.table},
                        {"line", row.line},
                        {"before", json(row.before)},
                        {"after", json(row.after)},
                        {"written", row.written}});
    for (const book::FileChange& file : change.files)
        files.push_back(
            {{"path", file.path}, {"before", bytes_json(file.before)}, {"after", bytes_json(file.after)}});
    return {{"id", change.id},
            {"when", change.when},
            {"what", change.what},
            {"pack", change.pack},
            {"rows", rows},
            {"files", files},
            {"undoes", change.undoes ? json(*change.undoes) : json()}};
}

// Absent: not a file of ours. Throws what the JSON library throws for members of another type.
BookChange from_json(const json& value) {
    BookChange change;
    change.id = value.at("id").get<std::int64_t>();
    change.when = value.at("when").get<std::string>();
    change.what = value.at("what").get<std::string>();
    change.pack = value.at("pack").get<std::string>();
    for (const json& row : value.at("rows"))
        change.rows.push_back({row.at("table").get<std::string>(), row.at("line").get<std::uint32_t>(),
                               row.at("before").get<book::Cells>(), row.at("after").get<book::Cells>(),
                               row.at("written").get<std::string>(), 0});
    for (const json& file : value.at("files"))
        change.files.push_back(
            {file.at("path").get<std::string>(), bytes_from(file.at("before")), bytes_from(file.at("after"))});
    if (value.at("undoes").is_number()) change.undoes = value.at("undoes").get<std::int64_t>();
    return change;
}

std::optional<BookChange> read(const fs::path& path) {
    const auto text = store::read_file(path);
    if (!text) return std::nullopt;
    const auto value = book::json_from_text(*text, path.generic_string(), {.bytes = std::size_t{256} << 20});
    if (!value) return std::nullopt;
    try {
        return from_json(*value);
    } catch (const json::exception&) {
        return std::nullopt;
    }
}

}  // namespace

fs::path EditLog::path_of(std::int64_t id) const { return folder_ / fmt::format("{:06}.json", id); }

std::vector<std::int64_t> EditLog::ids() const {
    std::vector<std::int64_t> out;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder_, error)) {
        if (entry.path().extension() != ".json") continue;
        if (const auto id = to_int(entry.path().stem().string())) out.push_back(*id);
    }
    std::ranges::sort(out);
    return out;
}

Expected<std::int64_t> EditLog::add(BookChange change) {
    if (auto made = store::make_folder(folder_); !made) return std::unexpected(made.error());
    const auto known = ids();
    change.id = known.empty() ? 1 : known.back() + 1;
    const auto written =
        store::write_file(path_of(change.id), folder_ / "incoming",
                          to_json(change).dump(1, ' ', false, json::error_handler_t::replace) + "\n");
    if (!written) return std::unexpected(written.error());
    return change.id;
}

void EditLog::forget(std::int64_t id) {
    std::error_code ignored;
    fs::remove(path_of(id), ignored);
}

Expected<BookChange> EditLog::at(std::int64_t id) const {
    if (auto change = read(path_of(id))) return std::move(*change);
    return fail(ProblemCode::kNotFound, "change", fmt::format("there is no edit {} of the Book", id),
                "see the list of edits");
}

std::vector<BookChange> EditLog::newest(std::size_t most) const {
    const auto known = ids();
    std::vector<BookChange> out;
    std::set<std::int64_t> undone;
    for (auto id = known.rbegin(); id != known.rend() && out.size() < most; ++id) {
        auto change = read(path_of(*id));
        if (!change) continue;
        change->undone = undone.contains(change->id);
        if (change->undoes && !change->undone) undone.insert(*change->undoes);
        out.push_back(std::move(*change));
    }
    return out;
}

}  // namespace footring::server
