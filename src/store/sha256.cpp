// SPDX-License-Identifier: Apache-2.0
#include "store/sha256.h"

#include <sodium.h>

#include <algorithm>
#include <array>

namespace footring::store {

std::string sha256_of(std::string_view bytes) {
    std::array<unsigned char, crypto_hash_sha256_BYTES> hash{};
    crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
    std::string name(2 * hash.size() + 1, '\0');
    sodium_bin2hex(name.data(), name.size(), hash.data(), hash.size());
    name.pop_back();  // the NUL that sodium writes
    return name;
}

bool is_sha256(std::string_view name) {
    return name.size() == 64 &&
           std::ranges::all_of(name, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

}  // namespace footring::store
