// SPDX-License-Identifier: Apache-2.0
#include "server/pictures.h"

#include <fmt/format.h>

#include <utility>

namespace footring::server {

namespace {

constexpr const char* kPhotoPolicy = "default-src 'none'; sandbox";

}  // namespace

bool is_sha256(const std::string& text) {
    return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

std::unexpected<Problems> no_photo(const std::string& name) {
    return refuse(ProblemCode::kNotFound, "photo", fmt::format("there is no photograph '{}'", name),
                  "photographs are named by the SHA-256 of their bytes, in small letters");
}

Reply immutable(std::string type, std::string bytes, const std::string& tag) {
    Reply reply;
    reply.type = std::move(type);
    reply.body = std::move(bytes);
    reply.headers = {{"Content-Security-Policy", kPhotoPolicy},
                     {"Cache-Control", "private, max-age=31536000, immutable"},
                     {"ETag", "\"" + tag + "\""}};
    return reply;
}

}  // namespace footring::server
