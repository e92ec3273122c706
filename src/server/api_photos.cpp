// Photographs of pieces: kept as they came, shown small. Originals are given back as downloads under a policy that
// lets nothing in them run.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "exchange/record_json.h"
#include "photo/thumbnail.h"
#include "server/app.h"
#include "server/pictures.h"
#include "server/records.h"
#include "server/routes.h"

namespace footring::server {

namespace {

constexpr int kLongestThumbnail = 480;                       // px
constexpr int kLongestView = 2048, kMostLongestView = 4096;  // px
// A file name as it may be shown and offered for saving: the last part of a path, without control characters.
std::string plain_name(std::string name) {
    if (const auto slash = name.find_last_of("/\\"); slash != std::string::npos) name.erase(0, slash + 1);
    std::erase_if(name, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
    constexpr std::size_t kLongest = 200;
    while (name.size() > kLongest || !is_utf8(name)) name.pop_back();
    return name.empty() ? "photo" : name;
}

Answered add_photo(App& app, const Request& request) {
    if (request.body.empty())
        return refuse(ProblemCode::kBadInput, "body", "there is no photograph in it", "send the bytes of the file");
    if (const auto known = app.store->piece(request.values[0]); !known) return refuse(known.error());
    store::PhotoMeta meta;
    meta.piece = request.values[0];
    meta.name = plain_name(query_text(request, "name"));
    meta.bytes = static_cast<std::int64_t>(request.body.size());
    Expected<photo::Thumbnail> small = [&] {
        const DecodingSlot slot(app.decoding);
        return photo::thumbnail(request.body, kLongestThumbnail, meta.name);
    }();
    if (!small) return refuse(small.error());
    meta.type = small->type;
    meta.width = small->width;
    meta.height = small->height;
    const std::lock_guard lock(app.changing);
    const auto stored = app.store->add_photo(std::move(meta), request.body, small->jpeg);
    if (!stored) return refuse(stored.error());
    return json_reply(exchange::photo_json(*stored), 201);
}

// The type by the first bytes: the store keeps bytes by their digest, whatever piece they belong to.
std::string type_of(std::string_view bytes) {
    if (bytes.starts_with("\xFF\xD8\xFF")) return "image/jpeg";
    if (bytes.starts_with("\x89PNG")) return "image/png";
    if (bytes.size() > 12 && bytes.starts_with("RIFF") && bytes.substr(8, 4) == "WEBP") return "image/webp";
    if (bytes.starts_with(std::string_view("II*\0", 4)) || bytes.starts_with(std::string_view("MM\0*", 4)))
        return "image/tiff";
    // ISO/IEC 23008-12: a file type box whose major brand is one of the still pictures of HEIF.
    if (bytes.size() > 12 && bytes.substr(4, 4) == "ftyp")
        for (const std::string_view brand : {"heic", "heix", "heim", "heis", "mif1", "msf1"})
            if (bytes.substr(8, 4) == brand) return brand.starts_with("he") ? "image/heic" : "image/heif";
    if (bytes.size() > 12 && bytes.substr(4, 4) == "ftyp") return "image/heic";
    return "application/octet-stream";
}

Answered original(App& app, const Request& request) {
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    auto bytes = app.store->photo_bytes(name);
    if (!bytes) return refuse(bytes.error());
    const std::string type = type_of(*bytes);
    const std::string ending = type.starts_with("image/") ? type.substr(6) : "bin";
    Reply reply = immutable(type, std::move(*bytes), name);
    reply.headers.emplace_back("Content-Disposition",
                               fmt::format("inline; filename=\"photo-{}.{}\"", name.substr(0, 12), ending));
    return reply;
}

Answered thumb(App& app, const Request& request) {
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    auto bytes = app.store->thumbnail(name);
    if (!bytes) return refuse(bytes.error());
    return immutable("image/jpeg", std::move(*bytes), name + "-thumb");
}

// The photograph as a browser can show it, whatever its format: upright, in sRGB, not larger than a screen needs.
Answered view(App& app, const Request& request) {
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    const auto longest = query_int(request, "longest", kLongestView, 16, kMostLongestView);
    if (!longest) return refuse(longest.error());
    const auto bytes = app.store->photo_bytes(name);
    if (!bytes) return refuse(bytes.error());
    const DecodingSlot slot(app.decoding);
    auto small = photo::thumbnail(*bytes, *longest, fmt::format("photo-{}", name.substr(0, 12)));
    if (!small) return refuse(small.error());
    return immutable("image/jpeg", std::move(small->jpeg), fmt::format("{}-view-{}", name, *longest));
}

Answered remove_photo(App& app, const Request& request) {
    if (!is_sha256(request.values[1])) return no_photo(request.values[1]);
    const std::lock_guard lock(app.changing);
    if (auto removed = app.store->remove_photo(request.values[0], request.values[1]); !removed)
        return refuse(removed.error());
    return json_reply({{"batch", app.store->own_batch()}});
}

}  // namespace

std::vector<Route> photo_routes() {
    return {{"POST", "/api/pieces/{id}/photos", Takes::kPhoto, Role::kContributor, add_photo},
            {"GET", "/api/photos/{sha256}", Takes::kNone, Role::kContributor, original},
            {"GET", "/api/photos/{sha256}/thumb", Takes::kNone, Role::kReader, thumb},
            {"GET", "/api/photos/{sha256}/view", Takes::kNone, Role::kReader, view},
            {"DELETE", "/api/pieces/{id}/photos/{sha256}", Takes::kNone, Role::kContributor, remove_photo}};
}

}  // namespace footring::server
