// store/reading_pictures.h - how a picture that a reading made is named among the Blobs.
//   The name says what is in it, so that a new reading never overwrites the pictures of the old one.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace footring::store {

inline constexpr std::size_t kDigestInNames = 16;  // hexadecimal digits of the SHA-256 of its bytes

// "strip-0a1b2c3d4e5f6071"
inline std::string picture_name(const std::string& kind, const std::string& digest) { return kind + "-" + digest; }

// What the text of a reading has before the digest of such a picture (store/record_json.h).
inline std::string before_digest(const std::string& kind) { return "\"" + kind + "\":\""; }

}  // namespace footring::store
