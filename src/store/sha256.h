// store/sha256.h - the name of a photograph: SHA-256 of its bytes, 64 hexadecimal digits in lower case
//   (FIPS 180-4).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <sodium.h>

#include <string>
#include <string_view>

namespace footring::store {

std::string sha256_of(std::string_view bytes);
bool is_sha256(std::string_view name);  // also keeps every other text from becoming part of a path

// The same for bytes that come in parts.
class Sha256 {
  public:
    Sha256();
    void add(std::string_view bytes);
    std::string name();  // once, at the end

  private:
    crypto_hash_sha256_state state_;
};

}  // namespace footring::store
