// SPDX-License-Identifier: Apache-2.0
#include "server/guard.h"

#include <gtest/gtest.h>

#include "server/files.h"
#include "server/router.h"
#include "server/routes.h"
#include "server/test_server.h"
#include "server/view_cache.h"

namespace footring::server {
namespace {

constexpr int kPort = 8377;

std::string where_refused(const Caller& caller) {
    const auto problem = foreign(caller, Ours{.port = kPort});
    return problem ? problem->where : "";
}

TEST(Guard, LetsInItsOwnThreeNames) {
    for (const char* host : {"127.0.0.1:8377", "localhost:8377", "LOCALHOST:8377", "[::1]:8377"})
        EXPECT_EQ(where_refused({"POST", {host}, {std::string("http://") + host}, "same-origin", true}), "")
            << host;
    EXPECT_EQ(where_refused({"POST", {"localhost:8377"}, {}, "", true}), "");  // a program without an Origin
}

TEST(Guard, RefusesEveryOtherHost) {
    for (const char* host : {"evil.example:8377", "127.0.0.1", "127.0.0.1:80", "localhost.evil.example:8377",
                             "127.0.0.1:8377.evil.example", "127.0.0.1:8377@evil.example", "", "192.168.0.2:8377"})
        EXPECT_EQ(where_refused({"GET", {host}, {}, "", true}), "Host header") << host;
    EXPECT_EQ(where_refused({"GET", {}, {}, "", true}), "Host header");
    EXPECT_EQ(where_refused({"GET", {"localhost:8377", "evil.example"}, {}, "", true}), "Host header");
}

TEST(Guard, RefusesEveryOtherOrigin) {
    for (const char* origin : {"http://evil.example", "null", "https://127.0.0.1:8377", "http://127.0.0.1:8378",
                               "http://127.0.0.1", "http://127.0.0.1:8377.evil.example", ""})
        EXPECT_EQ(where_refused({"POST", {"127.0.0.1:8377"}, {origin}, "", true}), "Origin header") << origin;
}

TEST(Guard, LetsALinkOfAnotherSiteOpenAPageButNotTheApi) {
    EXPECT_EQ(where_refused({"GET", {"127.0.0.1:8377"}, {}, "cross-site", false}), "");
    EXPECT_EQ(where_refused({"GET", {"127.0.0.1:8377"}, {}, "cross-site", true}), "Sec-Fetch-Site header");
    EXPECT_EQ(where_refused({"GET", {"127.0.0.1:8377"}, {}, "same-site", true}), "Sec-Fetch-Site header");
    EXPECT_EQ(where_refused({"POST", {"127.0.0.1:8377"}, {}, "cross-site", false}), "Sec-Fetch-Site header");
    EXPECT_EQ(where_refused({"GET", {"127.0.0.1:8377"}, {}, "none", true}), "");
}

using Segments = std::vector<std::string>;

TEST(Path, IsDecodedSegmentBySegment) {
    EXPECT_EQ(path_segments("/").value(), Segments{});
    EXPECT_EQ(path_segments("/api/pieces/a%2Fb%20c?x=%zz").value(), (Segments{"api", "pieces", "a/b c"}));
    EXPECT_EQ(path_segments("/book/").value(), (Segments{"book", ""}));
    EXPECT_EQ(path_segments("/%2e%2e/x").value(), (Segments{"..", "x"}));
}

TEST(Path, RefusesWhatIsNoText) {
    for (const char* target : {"api", "", "http://x/", "/%", "/%4", "/%g0", "/%00", "/%ff", "/%c0%af"})
        EXPECT_FALSE(path_segments(target).has_value()) << target;
}

std::string route_of(std::string_view method, const Segments& segments) {
    static const std::vector<Route> all = routes();
    const Matched matched = match(all, method, segments);
    if (matched.route == nullptr) return matched.allowed.empty() ? "none" : "other method";
    std::string out(matched.route->pattern);
    for (const std::string& value : matched.values) out += " " + value;
    return out;
}

TEST(Router, PrefersFixedPartsAndFillsTheOthers) {
    EXPECT_EQ(route_of("GET", {"api", "pieces", "facets"}), "/api/pieces/facets");
    EXPECT_EQ(route_of("PUT", {"api", "pieces", "facets"}), "/api/pieces/{id} facets");
    EXPECT_EQ(route_of("GET", {"api", "book", "vocabulary"}), "/api/book/vocabulary");
    EXPECT_EQ(route_of("GET", {"api", "book", "glazes", "demo:oat"}), "/api/book/{table}/{id} glazes demo:oat");
    EXPECT_EQ(route_of("HEAD", {"api", "health"}), "/api/health");
    EXPECT_EQ(route_of("POST", {"api", "changes", "undo"}), "/api/changes/undo");
    EXPECT_EQ(route_of("DELETE", {"api", "health"}), "other method");
    EXPECT_EQ(route_of("GET", {"api", "pieces", ""}), "none");
    EXPECT_EQ(route_of("GET", {"api"}), "none");
}

TEST(ViewCache, KeepsTheMostRecentlyAskedForAndMakesEachOnce) {
    const book::Book book;
    std::vector<std::uint32_t> made;
    ViewCache cache(
        [&](ViewCache::Form form) -> Expected<ViewCache::View> {
            made.push_back(form ? form->at : 99);
            if (form && form->at == 7) return fail(ProblemCode::kStore, "store", "it is away", "wait");
            return std::make_shared<const naming::FormView>(book, std::nullopt, Settings{});
        },
        2);
    const auto form = [](std::uint32_t at) { return ViewCache::Form(book::Ref<book::Form>{at}); };
    ASSERT_TRUE(cache.at(form(1)).has_value());
    ASSERT_TRUE(cache.at(form(2)).has_value());
    ASSERT_TRUE(cache.at(form(1)).has_value());
    ASSERT_TRUE(cache.at(std::nullopt).has_value());  // forgets 2
    ASSERT_TRUE(cache.at(form(1)).has_value());
    ASSERT_TRUE(cache.at(form(2)).has_value());
    EXPECT_EQ(made, (std::vector<std::uint32_t>{1, 2, 99, 2}));
    EXPECT_EQ(cache.at(form(7)).error().what, "it is away");
    EXPECT_EQ(cache.at(form(7)).error().what, "it is away");  // a failure is not kept
    EXPECT_EQ(made.size(), 6u);
    EXPECT_LE(cache.size(), 2u);
    cache.forget();
    EXPECT_EQ(cache.size(), 0u);
}

TEST(ViewCache, LaysOutTheBookOnceForFormsThatShowItAlike) {
    book::Book book;
    book.forms.resize(3);
    int made = 0;
    ViewCache cache(
        [&](ViewCache::Form form) -> Expected<ViewCache::View> {
            ++made;
            return std::make_shared<const naming::FormView>(book, form, Settings{});
        },
        2, {{0}, {0}, {2}});
    for (std::uint32_t at : {0U, 1U, 2U, 1U, 0U, 2U}) {
        const auto view = cache.at(book::Ref<book::Form>{at});
        ASSERT_TRUE(view);
        EXPECT_EQ((*view)->form(), book::Ref<book::Form>{at});
    }
    EXPECT_EQ(made, 2);
}

struct Pages : ::testing::Test {
    testing::Scratch scratch;
    const std::filesystem::path app = scratch.path() / "dist";
    void SetUp() override {
        testing::write(app / "index.html", "<p>home");
        testing::write(app / "assets" / "a-1f.js", "1");
        testing::write(app / ".secret", "s");
        testing::write(scratch.path() / "outside.txt", "o");
        std::filesystem::create_symlink(scratch.path() / "outside.txt", app / "link.txt");
    }
    std::string body(const std::vector<std::string>& segments) const {
        const auto answer = app_file(app, segments);
        return answer ? answer->body : "(" + answer.error().front().what + ")";
    }
};

TEST_F(Pages, GiveFilesAndDrawEveryOtherPageWithTheApp) {
    EXPECT_EQ(body({}), "<p>home");
    EXPECT_EQ(body({"assets", "a-1f.js"}), "1");
    EXPECT_EQ(body({"book", "treatments", "t-117"}), "<p>home");
    EXPECT_EQ(body({"assets", "gone.js"}), "(there is no such page)");
    EXPECT_EQ(app_file(app, {"assets", "a-1f.js"})->type, "text/javascript; charset=utf-8");
    EXPECT_EQ(app_file(app, {"assets", "a-1f.js"})->headers.at(0).second, "public, max-age=31536000, immutable");
    EXPECT_EQ(app_file(app, {})->headers.at(0).second, "no-cache");
}

TEST_F(Pages, NeverLeaveTheirFolder) {
    for (const std::vector<std::string>& path :
         std::vector<std::vector<std::string>>{{"..", "outside.txt"},
                                               {"../outside.txt"},
                                               {"assets", "..", "..", "outside.txt"},
                                               {"link.txt"},
                                               {".secret"},
                                               {"", "etc", "passwd"},
                                               {"/etc/passwd"},
                                               {"..\\outside.txt"},
                                               {"."}})
        EXPECT_EQ(body(path), "(there is no such page)") << path.front();
}

TEST(PagesOfNoApp, SayHowToBuildIt) {
    const auto answer = app_file({}, {});
    ASSERT_TRUE(answer.has_value());
    EXPECT_EQ(answer->status, 200);
    EXPECT_NE(answer->body.find("The web app is not built"), std::string::npos);
    EXPECT_EQ(app_file("/nowhere", {"book"})->status, 404);
}

}  // namespace
}  // namespace footring::server
