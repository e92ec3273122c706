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
#include "exchange/record_json.h"
#include "looks/resolve.h"
#include "naming/examine.h"

namespace footring::cli {

namespace {

namespace fs = std::filesystem;

void append(std::vector<Problem>& all, const std::vector<Problem>& more) {
    all.insert(all.end(), more.begin(), more.end());
}

// Examined, and what was decided laid over it.
std::optional<services::Owned> own(const looks::Piece& piece, const std::optional<store::Decision>& decision,
                                   const std::string& where, const Reference& reference, FormViews& views,
                                   std::vector<Problem>& problems) {
    const auto findings = looks::resolve(piece, reference.book, reference.settings, where);
    if (!findings) {
        append(problems, findings.error());
        return std::nullopt;
    }
    const auto answer =
        naming::examine(views.of(findings->form), *findings, {.reasons = false, .next = false, .conflicts = false});
    services::Odds odds = services::odds_of(answer);
    if (decision && !decision->treatment.empty()) {
        // A treatment that no open pack has is none that a service here could ask for.
        const auto treatment = book::find<book::Treatment>(reference.book, decision->treatment, where);
        odds =
            services::decided_odds(treatment ? std::optional(*treatment) : std::nullopt, decision->grade, answer);
    }
    return services::owned(piece.id, piece, *findings, std::move(odds));
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

void read_folder(const fs::path& folder, World& world, const Reference& reference, FormViews& views,
                 ServicesInput& into, std::vector<Problem>& problems) {
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
            auto one = own(piece, decided == decisions.end() ? std::nullopt : std::optional(decided->second),
                           file.string(), reference, views, problems);
            if (one) into.pieces.push_back(std::move(*one));
        }
    }
}

void read_cupboard(const store::Store& store, const std::string& folder, const Reference& reference,
                   FormViews& views, ServicesInput& into, std::vector<Problem>& problems) {
    store::Query query;
    query.sort = store::Query::Sort::kId;
    query.descending = false;
    query.limit = 1000;
    for (query.offset = 0;; query.offset += query.limit) {
        const auto found = store.find(query);
        if (!found) {
            problems.push_back(found.error());
            return;
        }
        for (const store::PieceRecord& record : found->rows) {
            auto one =
                own(record.piece, record.decision, folder + ", " + record.piece.id, reference, views, problems);
            if (one) into.pieces.push_back(std::move(*one));
        }
        if (found->rows.size() < static_cast<std::size_t>(query.limit)) return;
    }
}

// The compositions of a cupboard, and its services unless others were named.
void read_kept_services(const store::Store& store, const std::string& folder, bool services_too,
                        ServicesInput& into, std::vector<Problem>& problems) {
    if (services_too) into.where = folder;
    for (const std::string kind : {"composition", "service"}) {
        if (kind == "service" && !services_too) continue;
        const auto records = store.records(kind);
        if (!records) {
            problems.push_back(records.error());
            return;
        }
        for (const store::Record& record : *records) {
            nlohmann::json body = record.body;
            body["id"] = record.id;
            const std::string where = folder + ", " + record.id;
            if (record.kind == "service") {
                auto one = services::service_from_json(body, where);
                if (one) into.given.services.push_back(std::move(*one));
                else append(problems, one.error());
            } else {
                auto one = services::composition_from_json(body, where);
                if (one) into.given.compositions.push_back(std::move(*one));
                else append(problems, one.error());
            }
        }
    }
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
        else {
            read_cupboard(**store, folder, reference, views, out, problems);
            read_kept_services(**store, folder, !call.has("--service"), out, problems);
        }
    } else {
        read_folder(folder, world, reference, views, out, problems);
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
    auto one = own(pieces->front(), std::nullopt, name, reference, views, problems);
    if (!one) return fail(ProblemCode::kBadInput, name, "it cannot be read", "mend it");
    return std::move(*one);
}

}  // namespace footring::cli
