// SPDX-License-Identifier: Apache-2.0
#include "server/reviewed_packs.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "book/pack.h"
#include "book/pack_writer.h"

namespace footring::server {

namespace fs = std::filesystem;

bool ReviewedPacks::there() const {
    std::error_code error;
    return fs::is_directory(folder_, error);
}

Expected<void> ReviewedPacks::take(const std::vector<fs::path>& packs) const {
    std::error_code error;
    const fs::path incoming = folder_.parent_path() / ".reviewed.incoming";
    fs::remove_all(incoming, error);
    for (std::size_t at = 0; at < packs.size(); ++at)
        // The number keeps the order of the packs and lets two of them have folders of one name.
        if (auto copied = book::copy_pack(packs[at], incoming / fmt::format("{:03}", at)); !copied) {
            fs::remove_all(incoming, error);
            return copied;
        }
    fs::remove_all(folder_, error);
    fs::rename(incoming, folder_, error);
    if (error)
        return fail(ProblemCode::kStore, folder_.string(), error.message(),
                    "check the space and the permissions of the data folder");
    return {};
}

std::optional<book::Book> ReviewedPacks::read() const {
    std::error_code error;
    std::vector<fs::path> packs;
    for (const auto& entry : fs::directory_iterator(folder_, error)) packs.push_back(entry.path());
    if (packs.empty()) return std::nullopt;
    std::ranges::sort(packs);
    auto book = book::read_packs(packs);
    return book ? std::optional(std::move(*book)) : std::nullopt;
}

}  // namespace footring::server
