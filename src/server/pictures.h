// server/pictures.h - pictures by name, as replies that never change.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "server/request.h"

namespace footring::server {

bool is_sha256(const std::string& text);
std::unexpected<Problems> no_photo(const std::string& name);  // kNotFound

// A reply that a browser may keep for good, under a policy that lets nothing in the bytes run.
Reply immutable(std::string type, std::string bytes, const std::string& tag);

}  // namespace footring::server
