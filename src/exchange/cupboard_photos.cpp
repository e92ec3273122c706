// SPDX-License-Identifier: Apache-2.0
#include "exchange/cupboard_photos.h"

#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <utility>

#include "book/json_reader.h"
#include "photo/image_header.h"
#include "store/sha256.h"

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

std::string photo_file(const store::PhotoMeta& photo) {
    const std::size_t slash = photo.type.find('/');
    std::string ending;
    for (const char c : slash == std::string::npos ? std::string() : photo.type.substr(slash + 1))
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) ending += c;
    return photo.sha256 + "." + (ending.empty() ? "photo" : ending);
}

std::vector<FolderPhoto> photos_of_export(const fs::path& folder, const nlohmann::json& list,
                                          const std::string& where, std::vector<Problem>& problems) {
    std::vector<FolderPhoto> found;
    if (!list.is_array()) {
        problems.push_back({ProblemCode::kBadInput, where, "this is not a list", "put it in square brackets"});
        return found;
    }
    for (std::size_t at = 0; at < list.size(); ++at) {
        const std::size_t before = problems.size();
        book::JsonReader reader(list[at], fmt::format("{}/{}", where, at), problems);
        FolderPhoto photo;
        std::string sha256, file;
        reader.verbatim("sha256", sha256);
        reader.verbatim("piece", photo.piece);
        reader.verbatim("name", photo.name);
        reader.verbatim("file", file);
        if (const auto* corrections = reader.member("corrections")) photo.corrections = *corrections;
        if (problems.size() != before) continue;
        if (!is_plain(file)) {
            reader.fault("file", "this is no plain file name",
                         "lay the photograph into photos/ and write its name alone");
            continue;
        }
        photo.path = folder / "photos" / file;
        const auto bytes = bytes_of(photo.path);
        auto small = bytes ? photo::thumbnail(*bytes, kLongestThumbnail, photo.path.string())
                           : Expected<photo::Thumbnail>(std::unexpected(bytes.error()));
        if (!small) {
            problems.push_back(std::move(small.error()));
        } else if (store::sha256_of(*bytes) != sha256) {
            problems.push_back({ProblemCode::kBadInput, photo.path.string(),
                                "these are not the bytes that were exported",
                                "export again, or take another copy"});
        } else {
            photo.small = std::move(*small);
            found.push_back(std::move(photo));
        }
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
        const auto added = store.add_photo(std::move(meta), *bytes, photo.small.jpeg);
        if (!added) return std::unexpected(added.error());
        if (!photo.corrections.is_null() && added->corrections != photo.corrections)
            if (const auto mended = store.correct_photo(photo.piece, added->sha256, photo.corrections, ""); !mended)
                return std::unexpected(mended.error());
    }
    return {};
}

}  // namespace footring::exchange
