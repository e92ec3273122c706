// SPDX-License-Identifier: Apache-2.0
#include "cli/reference.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/pack.h"
#include "cli/files.h"

namespace footring::cli {

std::expected<Settings, std::vector<Problem>> read_settings(const Call& call) {
    Settings settings;
    std::vector<Problem> problems;
    for (const std::string& pair : call.all("--set")) {
        const std::size_t equals = pair.find('=');
        if (equals == std::string::npos) {
            problems.push_back({ProblemCode::kBadInput, "--set", fmt::format("'{}' has no '='", pair),
                                "write --set name=value, as in --set sure_guess=0.5"});
            continue;
        }
        auto set_one = set(settings, pair.substr(0, equals), pair.substr(equals + 1));
        if (!set_one) problems.push_back(set_one.error());
    }
    if (settings.last_year < settings.first_year)
        problems.push_back({ProblemCode::kBadInput, "setting last_year",
                            fmt::format("{} is before first_year ({})", settings.last_year, settings.first_year),
                            "set first_year to the earlier year"});
    if (!problems.empty()) return std::unexpected(problems);
    return settings;
}

std::expected<Reference, std::vector<Problem>> open_reference(const Call& call) {
    auto settings = read_settings(call);
    std::vector<std::filesystem::path> folders;
    for (const std::string& folder : call.all("--pack")) folders.emplace_back(folder);
    auto book = book::read_packs(folders);
    std::vector<Problem> problems;
    if (!settings) problems = settings.error();
    if (!book) problems.insert(problems.end(), book.error().begin(), book.error().end());
    if (!problems.empty()) return std::unexpected(problems);
    return Reference{std::move(*book), *settings};
}

bool law_is_there(const World& world) {
    std::error_code error;
    return !world.share.empty() && std::filesystem::exists(world.share / kLawPack, error);
}

std::expected<Reference, std::vector<Problem>> open_reference_with_law(const Call& call, const World& world) {
    auto settings = read_settings(call);
    std::vector<Problem> problems;
    if (!settings) problems = settings.error();
    std::vector<std::filesystem::path> folders;
    for (const std::string& folder : call.all("--pack")) folders.emplace_back(folder);
    const std::filesystem::path law = world.share / kLawPack;
    if (!law_is_there(world)) {
        // Somebody who names the pack needs none beside the program.
        auto given = folders.empty() ? std::expected<book::Book, std::vector<Problem>>(book::Book{})
                                     : book::read_packs(folders);
        if (!given) problems.insert(problems.end(), given.error().begin(), given.error().end());
        else if (std::ranges::find(given->packs, kLawPackName, &book::Pack::id) == given->packs.end())
            problems.push_back({ProblemCode::kNotFound, std::string(kLawPack), "the pack is not beside the program",
                                "name its folder with --pack, or say with FOOTRING_SHARE where packs/ lies"});
        if (!problems.empty()) return std::unexpected(problems);
        return Reference{std::move(*given), *settings};
    }
    auto book = book::read_packs_besides(std::move(folders), law);
    if (!book) problems.insert(problems.end(), book.error().begin(), book.error().end());
    if (!problems.empty()) return std::unexpected(problems);
    return Reference{std::move(*book), *settings};
}

std::string called(const book::Book& book, book::Ref<book::Treatment> treatment) {
    const book::Treatment& row = book[treatment];
    if (row.number.empty() && row.name.empty()) return book::id_of(book, treatment);
    if (row.number.empty()) return row.name;
    return row.name.empty() ? row.number : row.number + " " + row.name;
}

std::string form_name(const book::Book& book, book::Ref<book::Form> form) {
    return book[form].name.empty() ? book::id_of(book, form) : book[form].name;
}

std::string shape_name(const book::Book& book, book::Ref<book::Shape> shape) {
    return book[shape].name.empty() ? book::id_of(book, shape) : book[shape].name;
}

}  // namespace footring::cli
