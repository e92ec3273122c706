// SPDX-License-Identifier: Apache-2.0
#include "cli/services_input.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>

#include "book/json_text.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "exchange/kept_services.h"
#include "exchange/record_json.h"

namespace footring::cli {

namespace {

namespace fs = std::filesystem;

void append(std::vector<Problem>& all, const std::vector<Problem>& more) {
    all.insert(all.end(), more.begin(), more.end());
}

// The decisions of records.json, by piece.
std::map<std::string, store::Decision> decisions_of(const fs::path& file, std::vector<Problem>& problems) {
    std::map<std::string, store::Decision> out;
    std::error_code error;
    if (!fs::exists(file, error)) return out;
    const auto text = read_file(file.string());
    if (!text) {
        problems.push_back(text.error());
        return out;
    }
    const auto list = book::json_from_text(*text, file.string(), {.bytes = kMostInputBytes});
    if (!list || !list->is_array()) {
        problems.push_back(list ? Problem{ProblemCode::kBadInput, file.string(), "this is not a list of records",
                                          "put it in square brackets"}
                                : list.error());
        return out;
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
        const auto& record = (*list)[i];
        if (!record.is_object() || !record.contains("piece") || !record["piece"].is_string() ||
            !record.contains("decision"))
            continue;
        auto decision =
            exchange::decision_from_json(record["decision"], fmt::format("{}: /{}/decision", file.string(), i));
        if (decision) out.emplace(record["piece"].get<std::string>(), std::move(*decision));
        else append(problems, decision.error());
    }
    return out;
}

void read_folder(const fs::path& folder, World& world, const exchange::Namer& namer, ServicesInput& into,
                 std::vector<Problem>& problems) {
    std::error_code error;
    const fs::path inner = folder / "pieces";
    const fs::path from = fs::is_directory(inner, error) ? inner : folder;
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(from, error))
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    if (error || files.empty()) {
        problems.push_back({ProblemCode::kNotFound, folder.string(), "there are no piece files in this folder",
                            "name a cupboard, or a folder of piece files"});
        return;
    }
    std::ranges::sort(files);
    const auto decisions =
        from == inner ? decisions_of(folder / "records.json", problems) : std::map<std::string, store::Decision>{};
    for (const fs::path& file : files) {
        const auto text = read_file_or_stdin(file.string(), world);
        if (!text) {
            problems.push_back(text.error());
            continue;
        }
        std::vector<std::string> notes;
        const auto pieces = looks::pieces_from_json(*text, file.string(), notes);
        if (!pieces) {
            append(problems, pieces.error());
            continue;
        }
        for (looks::Piece piece : *pieces) {
            if (piece.id.empty()) piece.id = file.stem().string();
            const auto decided = decisions.find(piece.id);
            auto one = exchange::owned(namer, piece,
                                       decided == decisions.end() ? std::nullopt : std::optional(decided->second),
                                       file.string());
            if (one) into.pieces.push_back(std::move(*one));
            else append(problems, one.error());
        }
    }
}

// The compositions of a cupboard, and its services unless others were named.
void read_kept(const store::Store& store, const std::string& folder, bool services_too,
               const exchange::Namer& namer, ServicesInput& into, std::vector<Problem>& problems) {
    auto pieces = exchange::owned_pieces(namer, store);
    if (pieces) into.pieces = std::move(*pieces);
    else append(problems, pieces.error());
    auto kept = exchange::kept_services(store);
    if (!kept) return append(problems, kept.error());
    std::ranges::move(kept->compositions, std::back_inserter(into.given.compositions));
    if (!services_too) return;
    into.where = folder;
    std::ranges::move(kept->services, std::back_inserter(into.given.services));
}

void read_file_of_services(const std::string& path, World& world, ServicesInput& into,
                           std::vector<Problem>& problems) {
    const std::string name = path == "-" ? "standard input" : path;
    const auto text = read_file_or_stdin(path, world);
    if (!text) {
        problems.push_back(text.error());
        return;
    }
    auto given = services::given_from_text(*text, name);
    if (!given) {
        append(problems, given.error());
        return;
    }
    into.where = into.where.empty() ? name : into.where + ", " + name;
    std::ranges::move(given->services, std::back_inserter(into.given.services));
    std::ranges::move(given->compositions, std::back_inserter(into.given.compositions));
}

void check_ids(const ServicesInput& input, std::vector<Problem>& problems) {
    std::vector<std::string> ids;
    for (const services::Owned& piece : input.pieces) ids.push_back(piece.id);
    std::ranges::sort(ids);
    for (auto twice = std::ranges::adjacent_find(ids); twice != ids.end();
         twice = std::adjacent_find(std::ranges::upper_bound(twice, ids.end(), *twice), ids.end()))
        problems.push_back({ProblemCode::kBadInput, "--pieces", fmt::format("two pieces are called '{}'", *twice),
                            "give one of them another id"});
}

}  // namespace

ServicesInput read_services_input(const Call& call, World& world, const Reference& reference, FormViews& views,
                                  std::vector<Problem>& problems) {
    ServicesInput out;
    for (const std::string& path : call.all("--service")) read_file_of_services(path, world, out, problems);
    const std::string folder = call.one("--pieces").value_or("");
    std::error_code error;
    if (!fs::is_directory(folder, error)) {
        problems.push_back({ProblemCode::kNotFound, folder, "there is no such folder",
                            "name a cupboard, or a folder of piece files"});
        return out;
    }
    if (fs::exists(fs::path(folder) / "footring.db", error)) {
        const auto store = open_cupboard(store::Place{folder, "", "", "", ""}, WhenMissing::kRefuse);
        if (!store) problems.push_back(store.error());
        else read_kept(**store, folder, !call.has("--service"), namer_of(reference, views), out, problems);
    } else {
        read_folder(folder, world, namer_of(reference, views), out, problems);
        if (!call.has("--service")) {
            const fs::path file = fs::path(folder) / "services.json";
            if (fs::exists(file, error)) read_file_of_services(file.string(), world, out, problems);
        }
    }
    check_ids(out, problems);
    if (problems.empty() && out.given.services.empty())
        problems.push_back({ProblemCode::kBadInput, "--service", "there is no service to build",
                            "name a file of services; docs/services.md shows one"});
    return out;
}

Expected<services::Owned> read_found_piece(const std::string& path, World& world, const Reference& reference,
                                           FormViews& views, std::vector<Problem>& problems) {
    const std::string name = path == "-" ? "standard input" : path;
    const auto text = read_file_or_stdin(path, world);
    if (!text) return std::unexpected(text.error());
    std::vector<std::string> notes;
    auto pieces = looks::pieces_from_json(*text, name, notes);
    if (!pieces) {
        append(problems, pieces.error());
        return fail(ProblemCode::kBadInput, name, "it cannot be read", "mend it");
    }
    if (pieces->size() != 1)
        return fail(ProblemCode::kBadInput, name, fmt::format("there are {} pieces in this file", pieces->size()),
                    "give the one that was found");
    auto one = exchange::owned(namer_of(reference, views), pieces->front(), std::nullopt, name);
    if (one) return std::move(*one);
    append(problems, one.error());
    return fail(ProblemCode::kBadInput, name, "it cannot be read", "mend it");
}

}  // namespace footring::cli
