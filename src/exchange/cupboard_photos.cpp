// SPDX-License-Identifier: Apache-2.0
#include "exchange/cupboard_photos.h"

#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <utility>

#include "photo/image_header.h"

namespace footring::exchange {

namespace {

namespace fs = std::filesystem;

constexpr int kLongestThumbnail = 480;  // px, as for photographs that come through the web app

Expected<std::string> bytes_of(const fs::path& path) {
    std::error_code error;
    const auto size = fs::file_size(path, error);
    if (error)
        return fail(ProblemCode::kNotFound, path.string(), "there is no such photograph",
                    "add it, or take its name out of the piece file");
    // admit() answers kTooLarge; a file of many gigabytes need not be read for that.
    std::string bytes(static_cast<std::size_t>(std::min<std::uintmax_t>(size, photo::kMostBytes + 1)), '\0');
    std::ifstream file(path, std::ios::binary);
    if (!file.read(bytes.data(), static_cast<std::streamsize>(bytes.size())))
        return fail(ProblemCode::kUnreadable, path.string(), "the file cannot be read", "check its permissions");
    return bytes;
}

bool is_plain(const std::string& name) {
    return !name.empty() && name != "." && name != ".." && name.find_first_of("/\\") == std::string::npos &&
           name.find('\0') == std::string::npos;
}

}  // namespace

std::vector<FolderPhoto> photos_of_folder(const fs::path& folder, const std::vector<Row>& rows,
                                          std::vector<Problem>& problems) {
    std::vector<FolderPhoto> found;
    std::error_code error;
    if (!fs::is_directory(folder / "photos", error)) return found;
    for (const Row& row : rows)
        for (std::size_t at = 0; at < row.record.piece.photos.size(); ++at) {
            const std::string& name = row.record.piece.photos[at];
            if (!is_plain(name)) {
                problems.push_back({ProblemCode::kBadInput, fmt::format("{}: /photos/{}", row.where, at),
                                    "this is no plain file name",
                                    "lay the photograph into photos/ and write its name alone"});
                continue;
            }
            const fs::path path = folder / "photos" / name;
            const auto bytes = bytes_of(path);
            auto small = bytes ? photo::thumbnail(*bytes, kLongestThumbnail, path.string())
                               : Expected<photo::Thumbnail>(std::unexpected(bytes.error()));
            if (small) found.push_back({row.record.piece.id, name, path, std::move(*small)});
            else problems.push_back(std::move(small.error()));
        }
    return found;
}

Expected<void> add_photos(store::Store& store, const std::vector<FolderPhoto>& photos) {
    for (const FolderPhoto& photo : photos) {
        if (const auto known = store.piece(photo.piece); !known) {
            // Its row was wrong and left out.
            if (known.error().code == ProblemCode::kNotFound) continue;
            return std::unexpected(known.error());
        }
        const auto bytes = bytes_of(photo.path);
        if (!bytes) return std::unexpected(bytes.error());
        store::PhotoMeta meta;
        meta.piece = photo.piece;
        meta.name = photo.name;
        meta.type = photo.small.type;
        meta.width = photo.small.width;
        meta.height = photo.small.height;
        if (const auto added = store.add_photo(std::move(meta), *bytes, photo.small.jpeg); !added)
            return std::unexpected(added.error());
    }
    return {};
}

}  // namespace footring::exchange
