// A shared house: TLS, signing in, roles, and what is written down. SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <openssl/ssl.h>

#include <algorithm>
#include <set>

#include "server/guard.h"
#include "server/routes.h"
#include "server/test_shared.h"
#include "server/tls.h"

namespace footring::server {
namespace {

using namespace testing;
using ::testing::HasSubstr;

TEST(Sharing, NeedsAKeeper) {
    Scratch scratch;
    const auto refused = Server::start(shared_options(scratch.path() / "data"));
    ASSERT_FALSE(refused.has_value());
    EXPECT_EQ(
        to_line(refused.error().front()),
        "--share: there is no account of a keeper, so that nobody could sign in: make one with `footring account "
        "add NAME --role keeper`");
}

TEST(Sharing, SpeaksTlsAndNothingElse) {
    const SharedHouse house;
    EXPECT_TRUE(house.server->address().starts_with("https://"));
    httplib::Client plain("127.0.0.1", house.server->port());
    EXPECT_FALSE(plain.Get("/api/alive"));
    EXPECT_EQ(house.visit().get("/api/alive").status, 200);
    // Nothing older than TLS 1.2.
    SSL_CTX* context = ::SSL_CTX_new(::TLS_client_method());
    ::SSL_CTX_set_max_proto_version(context, TLS1_1_VERSION);
    SSL* ssl = ::SSL_new(context);
    BIO* bio = ::BIO_new_connect(("127.0.0.1:" + std::to_string(house.server->port())).c_str());
    ASSERT_EQ(BIO_do_connect(bio), 1);
    ::SSL_set_bio(ssl, bio, bio);
    EXPECT_NE(::SSL_connect(ssl), 1);
    ::SSL_free(ssl);
    ::SSL_CTX_free(context);
}

TEST(Sharing, IsTheSameHouseWithItsOwnCertificateAtTheNextStart) {
    Scratch scratch;
    const std::vector<std::string> names = {"localhost", "127.0.0.1", "cupboard.local"};
    const auto made = own_certificate(scratch.path() / "tls", names, "2026-03-01T09:30:00Z");
    ASSERT_TRUE(made.has_value());
    EXPECT_TRUE(made->made_now && made->own);
    EXPECT_EQ(made->fingerprint.size(), 95u);
    EXPECT_EQ(made->until.substr(0, 10), "2028-06-03");  // 825 days
    EXPECT_EQ(fs::status(made->key).permissions() & fs::perms::all, fs::perms::owner_read | fs::perms::owner_write);
    const auto again = own_certificate(scratch.path() / "tls", {"localhost"}, "2026-04-01T09:30:00Z");
    EXPECT_EQ(again->fingerprint, made->fingerprint);
    EXPECT_FALSE(again->made_now);
    const auto renamed = own_certificate(scratch.path() / "tls", {"other.example"}, "2026-04-01T09:30:00Z");
    EXPECT_NE(renamed->fingerprint, made->fingerprint);
    const auto late = own_certificate(scratch.path() / "tls", {"other.example"}, "2028-06-15T09:30:00Z");
    EXPECT_NE(late->fingerprint, renamed->fingerprint);  // a month before it ends
}

TEST(Sharing, IsStillKnownWhereItWasBefore) {
    Scratch scratch;
    const fs::path folder = scratch.path() / "tls";
    const std::string now = "2026-03-01T09:30:00Z";
    ASSERT_TRUE(own_certificate(folder, {"localhost", "192.168.0.7", "fe80::1"}, now).has_value());
    const auto away = own_certificate(folder, {"localhost", "10.1.2.3"}, now);
    ASSERT_TRUE(away.has_value() && away->made_now);
    for (const std::string name : {"localhost", "192.168.0.7", "fe80::1", "10.1.2.3"}) {
        const auto back = own_certificate(folder, {name}, now);
        EXPECT_EQ(back->fingerprint, away->fingerprint) << name;
    }
}

TEST(Sharing, NamesOnlyTheAddressesAtWhichItIsReached) {
    const auto has = [](const std::vector<std::string>& names, const std::string& name) {
        return std::ranges::find(names, name) != names.end();
    };
    const auto one = names_of_this_machine("192.0.2.9");  // RFC 5737: nobody's
    EXPECT_TRUE(has(one, "192.0.2.9") && has(one, "localhost") && has(one, "127.0.0.1"));
    EXPECT_EQ(
        std::ranges::count_if(one, [](const std::string& name) { return name.find(':') != std::string::npos; }), 1);
    for (const std::string& name : names_of_this_machine("0.0.0.0"))
        EXPECT_TRUE(name == "::1" || name.find(':') == std::string::npos) << name;
    const auto both = names_of_this_machine("::");
    for (const std::string& name : names_of_this_machine("0.0.0.0")) EXPECT_TRUE(has(both, name)) << name;
    EXPECT_FALSE(has(both, "::"));
}

TEST(Sharing, TakesAGivenCertificateOrSaysWhatIsWrongWithIt) {
    Scratch scratch;
    const std::string now = "2026-03-01T09:30:00Z";
    const auto own = own_certificate(scratch.path() / "a", {"a.example"}, now),
               other = own_certificate(scratch.path() / "b", {"b.example"}, now);
    const auto given = given_certificate(own->certificate, own->key, now);
    ASSERT_TRUE(given.has_value());
    EXPECT_EQ(given->fingerprint, own->fingerprint);
    EXPECT_EQ(given_certificate(own->certificate, other->key, now).error().what,
              "this key is not that of the certificate");
    EXPECT_EQ(given_certificate(own->certificate, own->key, "2030-01-01T00:00:00Z").error().what,
              "this certificate ended 2028-06-03T09:30:00Z");
    EXPECT_EQ(given_certificate(own->certificate, own->key, "2020-01-01T00:00:00Z").error().code,
              ProblemCode::kBadInput);
    write(scratch.path() / "junk.pem", "no PEM");
    EXPECT_EQ(given_certificate(scratch.path() / "junk.pem", own->key, now).error().what,
              "there is no certificate in it");
    EXPECT_EQ(given_certificate(own->certificate, scratch.path() / "junk.pem", now).error().what,
              "there is no private key in it that can be read");
    EXPECT_EQ(given_certificate(scratch.path() / "none.pem", own->key, now).error().code, ProblemCode::kNotFound);
}

TEST(Sharing, GivesACookieThatOnlyThisHouseCanRead) {
    const SharedHouse house;
    Visit ada = house.visit();
    EXPECT_EQ(ada.get("/api/door").value(), (json{{"shared", true}, {"account", nullptr}, {"role", nullptr}}));
    const Answer in = ada.sign_in("ada");
    EXPECT_EQ(in.status, 200);
    EXPECT_EQ(in.value(), (json{{"shared", true}, {"account", "ada"}, {"role", "keeper"}}));
    EXPECT_THAT(
        in.header("Set-Cookie"),
        ::testing::MatchesRegex("__Host-footring=[A-Za-z0-9_-]{43}; Path=/; Max-Age=604800; Secure; HttpOnly; "
                                "SameSite=Strict"));
    EXPECT_EQ(ada.get("/api/pieces").status, 200);
    EXPECT_EQ(in.body.find("horse"), std::string::npos);
}

TEST(Sharing, KeepsNoTokenAndNoPasswordInItsFolder) {
    const SharedHouse house;
    Visit ada = house.as(Role::kKeeper);
    const std::string token = ada.cookie.substr(ada.cookie.find('=') + 1);
    house.server->stop();
    std::string all;
    for (const auto& each : fs::recursive_directory_iterator(house.data()))
        if (each.is_regular_file()) {
            std::ifstream file(each.path(), std::ios::binary);
            all.append(std::istreambuf_iterator<char>(file), {});
        }
    EXPECT_GT(all.size(), 10'000u);
    EXPECT_EQ(all.find(token), std::string::npos);
    EXPECT_EQ(all.find(kPassword), std::string::npos);
}

TEST(Sharing, TellsAWrongNameAndAWrongPasswordAlike) {
    const SharedHouse house;
    Visit visit = house.visit();
    const Answer name = visit.sign_in("nobody-here"), password = visit.sign_in("ada", "wrong horse battery");
    EXPECT_EQ(name.status, 401);
    EXPECT_EQ(password.status, 401);
    EXPECT_EQ(name.body, password.body);
    EXPECT_EQ(
        name.problem(),
        "not-known: sign-in: there is no account of this name with this password: check both; a keeper can give "
        "you a new password");
    EXPECT_EQ(visit.sign_in("ada", std::string(2000, 'x')).body, name.body);
    EXPECT_EQ(visit.sign_in(std::string(5000, 'n')).body, name.body);
}

TEST(Sharing, TakesNoLongBodyFromStrangers) {
    const SharedHouse house;
    const Answer refused = house.visit().post("/api/door/sign-in", {{"name", std::string(70'000, 'n')}});
    EXPECT_EQ(refused.status, 413);
    EXPECT_EQ(refused.problem(), "too-large: body: it is larger than 64 kB: send it in several parts");
}

// The same work is done for both, so that the time tells nothing either.
TEST(Door, ComparesADigestForANameThatNobodyHasToo) {
    struct Counting final : Passwords {
        int compared = 0;
        Expected<std::string> digest(std::string_view) override { return "digest"; }
        bool matches(const std::string&, std::string_view) override {
            ++compared;
            return false;
        }
        bool is_outdated(const std::string&) override { return false; }
    };
    Scratch scratch;
    auto store = store::open_sqlite(scratch.path(), [] { return "2026-03-01T09:30:00Z"; });
    ASSERT_TRUE((*store)->people().add({"ada", Role::kKeeper, "digest", "", ""}).has_value());
    const Settings settings;
    auto owned = std::make_unique<Counting>();
    Counting& counting = *owned;
    Door door(
        **store, settings, [] { return "2026-03-01T09:30:00Z"; }, true, std::move(owned));
    EXPECT_FALSE(door.sign_in("ada", "x", "10.0.0.1").has_value());
    EXPECT_EQ(counting.compared, 1);
    EXPECT_FALSE(door.sign_in("nobody", "x", "10.0.0.1").has_value());
    EXPECT_EQ(counting.compared, 2);
}

TEST(Door, WaitsAfterTooManyTriesToOneAccountAndFromOneAddress) {
    Scratch scratch;
    auto store = store::open_sqlite(scratch.path(), [] { return "2026-03-01T09:30:00Z"; });
    add_people(**store);
    Settings settings;
    settings.share_tries = 3;
    settings.share_tries_from_one_place = 5;
    double seconds = 0;
    Door door(
        **store, settings, [] { return "2026-03-01T09:30:00Z"; }, true, quick_passwords(), [&] { return seconds; });
    for (int i = 0; i < 3; ++i)
        EXPECT_EQ(door.sign_in("ada", "x", "10.0.0.1").error().code, ProblemCode::kNotKnown);
    // The right password does not help now, from wherever it comes.
    const auto waits = door.sign_in("ada", kPassword, "10.0.0.2");
    EXPECT_EQ(waits.error(), (Problem{ProblemCode::kTooMany, "sign-in", "there were too many tries that failed",
                                      "wait 15 minutes and try again"}));
    EXPECT_TRUE(door.sign_in("ben", kPassword, "10.0.0.1").has_value());
    for (int i = 0; i < 2; ++i)
        EXPECT_EQ(door.sign_in("cleo", "x", "10.0.0.1").error().code, ProblemCode::kNotKnown);
    EXPECT_EQ(door.sign_in("ben", kPassword, "10.0.0.1").error().code, ProblemCode::kTooMany);  // the address
    EXPECT_TRUE(door.sign_in("ben", kPassword, "10.0.0.3").has_value());
    seconds += 15 * 60 + 1;
    EXPECT_TRUE(door.sign_in("ada", kPassword, "10.0.0.1").has_value());
}

TEST(Door, EndsSessionsThatAreOldOrIdle) {
    Scratch scratch;
    std::string now = "2026-03-01T09:30:00Z";
    auto store = store::open_sqlite(scratch.path(), [&] { return now; });
    add_people(**store);
    Settings settings;
    settings.share_session_hours = 48;
    settings.share_idle_hours = 24;
    Door door(
        **store, settings, [&] { return now; }, true, quick_passwords());
    const auto in = door.sign_in("ada", kPassword, "10.0.0.1");
    const std::vector<std::string> cookies = {in->cookie.substr(0, in->cookie.find(';'))};
    const auto here = [&](const char* when) {
        now = when;
        return door.visitor(cookies, "10.0.0.1")->account;
    };
    EXPECT_EQ(here("2026-03-02T09:29:00Z"), "ada");  // which keeps it alive
    EXPECT_EQ(here("2026-03-03T09:00:00Z"), "ada");
    EXPECT_EQ(here("2026-03-03T09:31:00Z"), "");  // 48 hours are over, however busy it was
    now = "2026-04-01T00:00:00Z";
    const auto again = door.sign_in("ada", kPassword, "10.0.0.1");
    const std::vector<std::string> others = {again->cookie.substr(0, again->cookie.find(';'))};
    now = "2026-04-02T00:01:00Z";
    EXPECT_EQ(door.visitor(others, "10.0.0.1")->account, "");  // idle for a day
    EXPECT_EQ(door.visitor({"__Host-footring=made-up"}, "10.0.0.1")->role, Role::kNobody);
}

TEST(Sharing, LetsThroughWhatIsAskedForAtAHumanPaceAndNotAFlood) {
    const SharedHouse house({}, [](Options& options) {
        options.settings.share_requests_at_once = 20;
        options.settings.share_requests_per_second = 0.01;  // however slow this machine is
    });
    Visit visit = house.visit();
    int served = 0;
    Answer last;
    for (int i = 0; i < 40; ++i) {
        last = visit.get("/api/alive");
        served += last.status == 200 ? 1 : 0;
    }
    EXPECT_GE(served, 20);
    EXPECT_LT(served, 40);
    EXPECT_EQ(last.status, 429);
    EXPECT_THAT(last.header("Retry-After"), ::testing::MatchesRegex("[1-9][0-9]?|100"));
    EXPECT_EQ(last.problem(),
              "too-many: requests: there are too many from this address: wait a moment and try again");
}

TEST(Sharing, EndsASessionWhenAskedHereOrEverywhere) {
    const SharedHouse house;
    Visit here = house.as(Role::kReader), there = house.as(Role::kReader), elsewhere = house.as(Role::kReader);
    EXPECT_EQ(here.get("/api/door/sessions").value().size(), 3u);
    const Answer out = here.post("/api/door/sign-out", json::object());
    EXPECT_EQ(out.status, 200);
    EXPECT_THAT(out.header("Set-Cookie"), HasSubstr("__Host-footring=; Path=/; Max-Age=0; Secure"));
    EXPECT_EQ(out.header("Clear-Site-Data"), "\"cache\"");
    EXPECT_EQ(here.get("/api/pieces").status, 401);
    EXPECT_EQ(there.get("/api/pieces").status, 200);
    EXPECT_EQ(there.post("/api/door/sign-out-everywhere", json::object()).value()["ended"], 2);
    EXPECT_EQ(there.get("/api/pieces").status, 401);
    EXPECT_EQ(elsewhere.get("/api/pieces").problem(),
              "not-known: account: you are not signed in: sign in and try again");
}

TEST(Sharing, ChangesAPasswordOnlyWithTheOldOneAndSignsOutElsewhere) {
    const SharedHouse house;
    Visit here = house.as(Role::kContributor), there = house.as(Role::kContributor);
    const auto change = [&](const char* before, const char* after) {
        return here.send("PUT", "/api/door/password", json{{"before", before}, {"after", after}}.dump());
    };
    EXPECT_EQ(change("wrong horse battery", "another long password").status, 401);
    EXPECT_EQ(change(kPassword, "short").status, 400);
    EXPECT_EQ(change(kPassword, "another long password").status, 200);
    EXPECT_EQ(here.get("/api/pieces").status, 200);
    EXPECT_EQ(there.get("/api/pieces").status, 401);
    EXPECT_EQ(there.sign_in("ben").status, 401);
    EXPECT_EQ(there.sign_in("ben", "another long password").status, 200);
}

TEST(Sharing, AppliesANewRoleAndARemovalAtOnce) {
    const SharedHouse house;
    Visit ada = house.as(Role::kKeeper), cleo = house.as(Role::kReader);
    EXPECT_EQ(cleo.get("/api/letters").problem(),
              "not-allowed: account: a reader may not do this: ask a keeper to make you a contributor");
    EXPECT_EQ(ada.send("PUT", "/api/people/cleo", R"({"role": "contributor"})").status, 200);
    EXPECT_EQ(cleo.get("/api/letters").status, 200);
    EXPECT_EQ(ada.send("DELETE", "/api/people/cleo").status, 200);
    EXPECT_EQ(cleo.get("/api/pieces").status, 401);
    EXPECT_EQ(ada.send("DELETE", "/api/people/ada").status, 409);
    EXPECT_EQ(ada.send("PUT", "/api/people/ada", R"({"role": "reader"})").problem(),
              "conflict: account ada: this is the only keeper: make somebody else a keeper first");
}

TEST(Sharing, WritesDownWhoDidWhatToWhichPiece) {
    const SharedHouse house;
    Visit ada = house.as(Role::kKeeper), ben = house.as(Role::kContributor);
    EXPECT_EQ(ben.post("/api/pieces", record("p-1", {{"form", "sugar"}})).status, 201);
    Visit stranger = house.visit();
    stranger.sign_in("ben", "wrong horse battery");
    EXPECT_EQ(
        ada.post("/api/people", {{"name", "dora"}, {"role", "reader"}, {"password", "ten plates high"}}).status,
        201);
    const json trail = ada.get("/api/audit?limit=4").value();
    ASSERT_EQ(trail.size(), 4u);
    EXPECT_EQ(trail[0]["who"], "ada");
    EXPECT_EQ(trail[0]["what"], "Account added, as reader.");
    EXPECT_EQ(trail[0]["subject"], "account dora");
    EXPECT_EQ(trail[1]["who"], "");
    EXPECT_EQ(trail[1]["what"], "A sign-in failed.");
    EXPECT_EQ(trail[1]["origin"], "127.0.0.1");
    EXPECT_EQ(trail[2]["who"], "ben");
    EXPECT_EQ(trail[2]["subject"], "piece p-1");
    EXPECT_THAT(trail[2]["what"].get<std::string>(), HasSubstr("Added."));
    EXPECT_EQ(trail[2]["batch"], 1);
    EXPECT_EQ(ada.get("/api/audit?subject=piece%20p-1").value().size(), 1u);
    EXPECT_EQ(ben.get("/api/pieces/p-1/history").value()[0]["who"], "ben");
    EXPECT_EQ(ada.get("/api/audit").body.find("horse"), std::string::npos);
}

// --- roles, from the table of routes
// --------------------------------------------------------------------------------

std::string filled(std::string_view pattern) {
    std::string out(pattern);
    for (std::size_t open; (open = out.find('{')) != std::string::npos;)
        out.replace(open, out.find('}') - open + 1,
                    out.substr(open, 7) == "{sha256" ? std::string(64, '0') : "none");
    return out;
}

class RolesWalk : public ::testing::TestWithParam<Role> {};

TEST_P(RolesWalk, FindsEveryRouteShutOrOpenAsItsTableSays) {
    const SharedHouse house;
    int walked = 0, shut = 0;
    for (const Route& route : routes()) {
        // A visit of its own: some routes end the session that calls them.
        Visit visit = house.as(GetParam());
        const std::string body = route.takes == Takes::kJson ? "{}" : route.takes == Takes::kPhoto ? "x" : "";
        const Answer answer = visit.send(std::string(route.method), filled(route.pattern), body,
                                         route.takes == Takes::kPhoto ? "image/jpeg" : "application/json");
        SCOPED_TRACE(std::string(route.method) + " " + std::string(route.pattern) + " -> " +
                     answer.body.substr(0, 300));
        ++walked;
        const bool refused = answer.status == 401 || answer.status == 403;
        // A sign-in without a name is refused for another reason.
        if (route.pattern == "/api/door/sign-in") continue;
        EXPECT_EQ(refused, GetParam() < route.needs);
        if (GetParam() < route.needs) {
            ++shut;
            EXPECT_EQ(answer.status, GetParam() == Role::kNobody ? 401 : 403);
            EXPECT_EQ(answer.value()["problems"][0]["where"], "account");
        } else {
            EXPECT_NE(answer.status, -1);
            EXPECT_LT(answer.status, 500);
        }
    }
    EXPECT_GT(walked, 110);
    EXPECT_EQ(shut == 0, GetParam() == Role::kKeeper);
}

INSTANTIATE_TEST_SUITE_P(Each, RolesWalk,
                         ::testing::Values(Role::kNobody, Role::kReader, Role::kContributor, Role::kKeeper),
                         [](const auto& each) { return std::string(store::name_of(each.param)); });

TEST(Roles, StandInTheDocumentAsTheyStandInTheTable) {
    const json document = json::parse(openapi_document());
    for (const Route& route : routes()) {
        std::string method(route.method);
        std::ranges::transform(method, method.begin(), [](char c) { return static_cast<char>(std::tolower(c)); });
        EXPECT_EQ(document["paths"][std::string(route.pattern)][method]["x-needs"], store::name_of(route.needs))
            << route.method << " " << route.pattern;
    }
}

TEST(Roles, AreOfNoMatterWhereNobodySignsIn) {
    Scratch scratch;
    const Running alone(demo_options(scratch.path()));
    EXPECT_EQ(alone.get("/api/door").value(), (json{{"shared", false}, {"account", nullptr}, {"role", "keeper"}}));
    EXPECT_EQ(alone.get("/api/audit").status, 200);
    EXPECT_EQ(
        alone.post("/api/door/sign-in", {{"name", "ada"}, {"password", kPassword}}).problem(),
        "bad-input: sign-in: nobody signs in here: this house is not shared: start footring with --share to let "
        "others in");
    // Accounts can be made beforehand; they bear the name of no account.
    EXPECT_EQ(alone.post("/api/people", {{"name", "ada"}, {"role", "keeper"}, {"password", kPassword}}).status,
              201);
    EXPECT_EQ(alone.get("/api/audit").value()[0]["who"], "(this machine)");
}

TEST(Sharing, LetsNobodyLearnWhatThereIsAndWhatNot) {
    const SharedHouse house;
    Visit nobody = house.visit();
    EXPECT_EQ(nobody.get("/api/no-such-path").status, 401);
    EXPECT_EQ(nobody.send("PATCH", "/api/pieces", "{}").status, 401);
    EXPECT_EQ(nobody.get("/api/pieces/p-none").status, 401);
    EXPECT_EQ(nobody.get("/").status, 200);  // the page that asks for a name
}

TEST(Sharing, AnswersOnlyUnderItsNamesAndForItsOwnPages) {
    const SharedHouse house({}, [](Options& options) { options.share->names = {"cupboard.example"}; });
    const std::string port = std::to_string(house.server->port());
    const auto asked = [&](httplib::Headers headers) {
        return house.visit().send("GET", "/api/alive", "", "", std::move(headers)).status;
    };
    EXPECT_EQ(asked({{"Host", "cupboard.example:" + port}}), 200);
    EXPECT_EQ(asked({{"Host", "127.0.0.1:" + port}, {"Origin", "https://127.0.0.1:" + port}}), 200);
    EXPECT_EQ(asked({{"Host", "evil.example:" + port}}), 403);
    EXPECT_EQ(asked({{"Host", "127.0.0.1:" + port}, {"Origin", "http://127.0.0.1:" + port}}), 403);
    EXPECT_EQ(asked({{"Host", "127.0.0.1:" + port}, {"Origin", "https://evil.example"}}), 403);
    EXPECT_EQ(asked({{"Host", "127.0.0.1:" + port}, {"Sec-Fetch-Site", "cross-site"}}), 403);
    EXPECT_TRUE(house.server->address().starts_with("https://cupboard.example:")) << house.server->address();
}

TEST(Sharing, AsksBrowsersToStayWithTlsOnlyUnderACertificateThatTheyKnow) {
    Scratch scratch;
    const auto pair = own_certificate(scratch.path(), {"127.0.0.1"}, "2026-03-01T09:30:00Z");
    const SharedHouse own, given({}, [&](Options&options) {
        options.now = [] { return "2026-03-01T09:30:00Z"; };
        options.share->certificate = pair->certificate;
        options.share->key = pair->key;
    });
    EXPECT_EQ(own.visit().get("/api/alive").header("Strict-Transport-Security"), "");
    EXPECT_EQ(given.visit().get("/api/alive").header("Strict-Transport-Security"), "max-age=31536000");
    EXPECT_EQ(given.server->certificate()->fingerprint, pair->fingerprint);
}

}  // namespace
}  // namespace footring::server
