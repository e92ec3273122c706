// SPDX-License-Identifier: Apache-2.0
#include "store/signature.h"

#include <fmt/format.h>
#include <sodium.h>

#include <array>

#include "store/sha256.h"

namespace footring::store {

namespace {

std::string hmac(std::string_view key, std::string_view text) {
    std::array<unsigned char, crypto_auth_hmacsha256_BYTES> out{};
    crypto_auth_hmacsha256_state state;  // takes keys of any length, unlike the function of one call
    crypto_auth_hmacsha256_init(&state, reinterpret_cast<const unsigned char*>(key.data()), key.size());
    crypto_auth_hmacsha256_update(&state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
    crypto_auth_hmacsha256_final(&state, out.data());
    return {out.begin(), out.end()};
}
std::string hexadecimal(std::string_view bytes) {
    std::string out;
    for (const char c : bytes) out += fmt::format("{:02x}", static_cast<unsigned char>(c));
    return out;
}

}  // namespace

std::string percent_encoded(std::string_view text, bool keep_slashes) {
    std::string out;
    for (const char c : text) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
                           c == '.' || c == '_' || c == '~' || (keep_slashes && c == '/');
        out += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

std::string query_text(const std::map<std::string, std::string>& query) {
    // Sorted by the encoded names, which sort otherwise than the plain ones where a name needs encoding.
    std::map<std::string, std::string> encoded;
    for (const auto& [name, value] : query) encoded[percent_encoded(name, false)] = percent_encoded(value, false);
    std::string out;
    for (const auto& [name, value] : encoded) out += fmt::format("{}{}={}", out.empty() ? "" : "&", name, value);
    return out;
}

std::string authorization(const ToSign& request, const SigningKey& key, const std::string& moment) {
    std::string names, headers;
    for (const auto& [name, value] : request.headers) {
        names += (names.empty() ? "" : ";") + name;
        headers += fmt::format("{}:{}\n", name, value);
    }
    const std::string canonical =
        fmt::format("{}\n{}\n{}\n{}\n{}\n{}", request.method, percent_encoded(request.path, true),
                    query_text(request.query), headers, names, request.payload_sha256);
    const std::string day = moment.substr(0, 8);
    const std::string scope = fmt::format("{}/{}/s3/aws4_request", day, key.region);
    const std::string to_sign = fmt::format("AWS4-HMAC-SHA256\n{}\n{}\n{}", moment, scope, sha256_of(canonical));
    const std::string signing = hmac(hmac(hmac(hmac("AWS4" + key.secret, day), key.region), "s3"), "aws4_request");
    return fmt::format("AWS4-HMAC-SHA256 Credential={}/{},SignedHeaders={},Signature={}", key.id, scope, names,
                       hexadecimal(hmac(signing, to_sign)));
}

}  // namespace footring::store
