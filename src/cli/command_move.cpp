// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/json_page.h"
#include "store/move.h"
#include "store/postgres_dialect.h"

namespace footring::cli {

namespace {

// A folder, or the address of a database with the folder of its photographs.
std::expected<store::Place, Problem> end_of(const Call& call, const World& world, const std::string& option,
                                            const std::string& photos) {
    store::Place place;
    const std::string named = call.one(option).value_or("");
    const auto beside = call.one(photos);
    if (!store::is_postgres_address(named)) {
        if (beside)
            return std::unexpected(Problem{ProblemCode::kBadInput, photos,
                                           fmt::format("is given although {} names a folder", option),
                                           "leave it out: its photographs are in that folder"});
        place.folder = named;
        return place;
    }
    if (!beside)
        return std::unexpected(Problem{ProblemCode::kBadInput, option,
                                       "the photographs of a database are elsewhere",
                                       fmt::format("add {} DIR, or an address that begins with s3://", photos)});
    place.database = named;
    place.photos = *beside;
    take_keys(place, world);
    return place;
}

Outcome move(const Call& call, World& world) {
    const auto from = end_of(call, world, "--from", "--from-photos"),
               to = end_of(call, world, "--to", "--to-photos");
    std::vector<Problem> problems;
    for (const auto* end : {&from, &to})
        if (!*end) problems.push_back(end->error());
    if (!problems.empty()) return refuse(std::move(problems));
    const auto moved = store::move_store(*from, *to, utc_now);
    if (!moved) return refuse(moved.error());
    if (call.json()) {
        auto tables = nlohmann::ordered_json::array();
        for (const store::MovedTable& table : moved->tables)
            tables.push_back({{"name", table.name}, {"rows", table.rows}, {"sha256", table.digest}});
        return page(json_line({{"from", name_of(*from)},
                               {"to", name_of(*to)},
                               {"tables", std::move(tables)},
                               {"photographs", moved->photographs},
                               {"photograph_bytes", moved->photograph_bytes},
                               {"already_there", moved->already_there},
                               {"pictures", moved->pictures}}));
    }
    std::string text = fmt::format("{} is now in {} as well; each table was read back and is the same\n",
                                   name_of(*from), name_of(*to));
    for (const store::MovedTable& table : moved->tables)
        text += fmt::format("  {:12} {:>9} rows  {}\n", table.name, table.rows, table.digest.substr(0, 16));
    text += fmt::format("  {} photographs ({} were there already), {} pictures of readings\n", moved->photographs,
                        moved->already_there, moved->pictures);
    return page(std::move(text));
}

}  // namespace

Command move_command() {
    return {
        .name = "move",
        .sentence = "Moves a whole store: a folder to a PostgreSQL database, or back.",
        .detail =
            {"Pieces, lots, photographs, readings, records and the whole history go, so that whatever could be "
             "undone "
             "still can be. The new place has to be empty; the old one stays as it was, and nobody may have "
             "either open meanwhile.",
             "Every photograph is compared with its name, and every table is read back and compared by number and "
             "SHA-256 of its rows before anything of them is kept. When it is interrupted the tables of the new "
             "place are empty: give the same command again, and photographs that are there already are not "
             "copied twice."},
        .arguments = {},
        .options = {{.name = "--from",
                     .value = "PLACE",
                     .sentence = "The folder of the store, or postgresql://USER@HOST/DATABASE.",
                     .takes = Takes::kFolder,
                     .required = true},
                    {.name = "--to",
                     .value = "PLACE",
                     .sentence = "Where it is to be: an empty folder, or an empty database.",
                     .takes = Takes::kFolder,
                     .required = true},
                    {.name = "--from-photos",
                     .value = "PLACE",
                     .sentence = "The folder of the photographs, or s3://..., when --from is a database.",
                     .takes = Takes::kFolder},
                    {.name = "--to-photos",
                     .value = "PLACE",
                     .sentence = "The same for --to; it may be where they are.",
                     .takes = Takes::kFolder}},
        .run = move};
}

}  // namespace footring::cli
