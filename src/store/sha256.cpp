// SPDX-License-Identifier: Apache-2.0
#include "store/sha256.h"

#include <algorithm>
#include <array>

namespace footring::store {

std::string sha256_of(std::string_view bytes) {
    Sha256 sum;
    sum.add(bytes);
    return sum.name();
}

bool is_sha256(std::string_view name) {
    return name.size() == 64 &&
           std::ranges::all_of(name, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

Sha256::Sha256() : state_() { crypto_hash_sha256_init(&state_); }

void Sha256::add(std::string_view bytes) {
    crypto_hash_sha256_update(&state_, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
}

std::string Sha256::name() {
    std::array<unsigned char, crypto_hash_sha256_BYTES> hash{};
    crypto_hash_sha256_final(&state_, hash.data());
    std::string out(2 * hash.size() + 1, '\0');
    sodium_bin2hex(out.data(), out.size(), hash.data(), hash.size());
    out.pop_back();  // the NUL that sodium writes
    return out;
}

}  // namespace footring::store
