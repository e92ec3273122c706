// server/base64.h - bytes in JSON, RFC 4648 section 4.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace footring::server {

std::string to_base64(std::string_view bytes);
std::optional<std::string> from_base64(std::string_view text);  // padded; absent: it is none

}  // namespace footring::server
