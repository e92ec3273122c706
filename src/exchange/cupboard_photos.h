// exchange/cupboard_photos.h - the photographs of a cupboard folder: photos/NAME, named in the piece files.
//   A folder without photos/ has none, whatever its piece files name: they may lie elsewhere. Where it has one,
//   each name has to be a plain file name of a photograph in it that we take (photo/open.h). Used by
//   import_folder() of cupboard.h.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/problem.h"
#include "exchange/intake.h"
#include "photo/thumbnail.h"
#include "store/store.h"

namespace footring::exchange {

struct FolderPhoto {
    std::string piece, name;
    std::filesystem::path path;
    photo::Thumbnail small;
    nlohmann::json corrections = {};  // what a person mended of its reading; null: nothing
};
// Looks at every photograph before anything is stored; what is wrong with them goes to `problems`.
std::vector<FolderPhoto> photos_of_folder(const std::filesystem::path& folder, const std::vector<Row>& rows,
                                          std::vector<Problem>& problems);
// The photographs that cupboard.json lists, {"sha256", "piece", "name", "file", "corrections"} each; the bytes have
// to be those of the SHA-256.
std::vector<FolderPhoto> photos_of_export(const std::filesystem::path& folder, const nlohmann::json& list,
                                          const std::string& where, std::vector<Problem>& problems);
std::string photo_file(const store::PhotoMeta&);  // "<sha256>.jpeg"
// Adds them to the pieces that the store has. One that a piece has already stays as it is.
Expected<void> add_photos(store::Store&, const std::vector<FolderPhoto>&);

}  // namespace footring::exchange
