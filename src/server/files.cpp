// SPDX-License-Identifier: Apache-2.0
#include "server/files.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <optional>
#include <string_view>

#include "base/text.h"

namespace footring::server {

namespace {

namespace fs = std::filesystem;

struct Ending {
    std::string_view ending, type;
};
constexpr Ending kEndings[] = {
    {".html", "text/html; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".mjs", "text/javascript; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".json", "application/json"},
    {".webmanifest", "application/manifest+json"},
    {".map", "application/json"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".jpg", "image/jpeg"},
    {".webp", "image/webp"},
    {".ico", "image/vnd.microsoft.icon"},
    {".woff2", "font/woff2"},
    {".woff", "font/woff"},
    {".txt", "text/plain; charset=utf-8"},
};

constexpr std::string_view kNotBuilt = R"(<!doctype html>
<html lang="en"><meta charset="utf-8"><title>Footring</title>
<h1>The web app is not built</h1>
<p>The program runs, but its pages are missing. Start it with <code>./run</code>, which builds them, or build them with
<code>npm --prefix ui ci</code> and <code>npm --prefix ui run build</code>, and name the folder with
<code>--app ui/dist</code>.</p>
<p>The interface for programs is described in <a href="/api/openapi.json">/api/openapi.json</a>.</p>
</html>
)";

bool may_be_a_file(const std::string& segment) {
    return !segment.empty() && segment.front() != '.' && segment.find_first_of("\\/:") == std::string::npos;
}

std::optional<std::string> bytes_of(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::string bytes(std::istreambuf_iterator<char>(file), {});
    if (!file) return std::nullopt;
    return bytes;
}

Answered page(const fs::path& path) {
    auto bytes = bytes_of(path);
    if (!bytes)
        return refuse(ProblemCode::kNotFound, "page", "this file of the web app cannot be read",
                      "build the app again");
    Reply reply;
    reply.type = "application/octet-stream";
    for (const Ending& known : kEndings)
        if (lower(path.extension().string()) == known.ending) reply.type = known.type;
    reply.body = std::move(*bytes);
    // Files below assets/ carry a hash of their content in their name; all others are asked for again.
    const bool named_by_content = path.parent_path().filename() == "assets";
    reply.headers.emplace_back("Cache-Control",
                               named_by_content ? "public, max-age=31536000, immutable" : "no-cache");
    return reply;
}

}  // namespace

Answered app_file(const fs::path& app, const std::vector<std::string>& segments) {
    std::error_code error;
    const fs::path root = app.empty() ? fs::path{} : fs::canonical(app, error);
    if (app.empty() || error || !fs::is_regular_file(root / "index.html", error)) {
        Reply reply;
        reply.status = segments.empty() ? 200 : 404;
        reply.type = "text/html; charset=utf-8";
        reply.body = kNotBuilt;
        return reply;
    }
    const auto not_there =
        refuse(ProblemCode::kNotFound, "page", "there is no such page", "begin at the first page");
    if (segments.empty()) return page(root / "index.html");
    if (!std::ranges::all_of(segments, may_be_a_file)) return not_there;
    fs::path path = root;
    for (const std::string& segment : segments) path /= segment;
    const fs::path real = fs::canonical(path, error);
    if (!error && fs::is_regular_file(real, error)) {
        const fs::path inside = real.lexically_relative(root);
        if (inside.empty() || *inside.begin() == "..") return not_there;
        return page(real);
    }
    // A page such as /book/treatments/t-117 has no file; a missing script or picture is missing.
    return path.extension().empty() ? page(root / "index.html") : Answered(not_there);
}

}  // namespace footring::server
