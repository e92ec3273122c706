// server/files.h - the pages of the built web app.
//   A path that is no file and has no ending is a page of the app: it gets index.html, which draws it.
//   No path leaves the folder: segments such as "..", hidden files and links that lead out are not there.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "server/request.h"

namespace footring::server {

// `app` empty or without index.html: a page that says how to build the app.
Answered app_file(const std::filesystem::path& app, const std::vector<std::string>& segments);

}  // namespace footring::server
