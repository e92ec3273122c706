// SPDX-License-Identifier: Apache-2.0
#include "server/limits.h"

#include <gtest/gtest.h>

#include <string>

#include "server/guard.h"
#include "server/password.h"

namespace footring::server {
namespace {

struct Clock {
    double now = 1000;
    Seconds seconds() {
        return [this] { return now; };
    }
};

TEST(Tries, WaitOnceThereWereTooManyAndGoOnWhenTheyArePast) {
    Clock clock;
    Tries tries(3, 60, clock.seconds());
    for (int i = 0; i < 3; ++i) {
        EXPECT_FALSE(tries.begin("ada"));
        clock.now += 10;
    }
    EXPECT_EQ(tries.begin("ada"), 30);  // the first was 30 seconds ago
    EXPECT_FALSE(tries.begin("ben"));
    clock.now += 31;
    EXPECT_FALSE(tries.begin("ada"));
    EXPECT_TRUE(tries.begin("ada"));
}

TEST(Tries, CountFromTheirBeginningSoThatManyAtOnceAreNoWayAround) {
    Clock clock;
    Tries tries(2, 60, clock.seconds());
    EXPECT_FALSE(tries.begin("10.0.0.1"));
    EXPECT_FALSE(tries.begin("10.0.0.1"));
    EXPECT_TRUE(tries.begin("10.0.0.1"));
    tries.succeeded("10.0.0.1");
    EXPECT_FALSE(tries.begin("10.0.0.1"));
    EXPECT_TRUE(tries.begin("10.0.0.1"));
    tries.forgive("10.0.0.1");
    EXPECT_FALSE(tries.begin("10.0.0.1"));
}

TEST(Tries, HoldNoMoreKeysThanTheyMay) {
    Clock clock;
    Tries tries(1, 60, clock.seconds());
    EXPECT_FALSE(tries.begin("the first"));
    for (std::size_t i = 0; i < kMostKeys + 10; ++i) {
        clock.now += 1e-4;
        EXPECT_FALSE(tries.begin(std::to_string(i)));
    }
    EXPECT_FALSE(tries.begin("the first"));  // forgotten for the others
    EXPECT_TRUE(tries.begin(std::to_string(kMostKeys + 9)));
}

TEST(Flow, LetsABurstThroughAndThenItsRate) {
    Clock clock;
    Flow flow(2, 4, clock.seconds());
    for (int i = 0; i < 4; ++i) EXPECT_FALSE(flow.take("a")) << i;
    EXPECT_EQ(flow.take("a"), 0.5);
    EXPECT_FALSE(flow.take("b"));
    clock.now += 0.5;
    EXPECT_FALSE(flow.take("a"));
    EXPECT_TRUE(flow.take("a"));
    clock.now += 3600;
    for (int i = 0; i < 4; ++i) EXPECT_FALSE(flow.take("a")) << i;
    EXPECT_TRUE(flow.take("a"));
}

TEST(Addresses, OfOneNetworkCountAsOne) {
    EXPECT_EQ(address_key("192.168.0.7"), "192.168.0.7");
    EXPECT_EQ(address_key("::ffff:192.168.0.7"), "192.168.0.7");
    EXPECT_EQ(address_key("2001:db8:1:2::3"), address_key("2001:db8:1:2:ffff::9"));
    EXPECT_NE(address_key("2001:db8:1:2::3"), address_key("2001:db8:1:3::3"));
    EXPECT_EQ(address_key(""), "");
}

TEST(Cookies, AreFoundByTheirWholeName) {
    const std::vector<std::string> headers = {"a=1; __Host-footring=token", "x__Host-footring=other"};
    EXPECT_EQ(cookie_value(headers, "__Host-footring"), "token");
    EXPECT_EQ(cookie_value(headers, "a"), "1");
    EXPECT_EQ(cookie_value(headers, "footring"), "");
    EXPECT_EQ(cookie_value({"__Host-footring"}, "__Host-footring"), "");
    EXPECT_EQ(cookie_value({}, "a"), "");
}

TEST(Passwords, AreArgon2idWithASaltOfTheirOwn) {
    const auto passwords = argon2id({1, 8192});
    const std::string one = passwords->digest("correct horse battery").value(),
                      two = passwords->digest("correct horse battery").value();
    EXPECT_TRUE(one.starts_with("$argon2id$v=19$m=8,t=1,p=1$")) << one;
    EXPECT_NE(one, two);
    EXPECT_TRUE(passwords->matches(one, "correct horse battery"));
    EXPECT_FALSE(passwords->matches(one, "correct horse batterz"));
    EXPECT_FALSE(passwords->matches("", "correct horse battery"));
    EXPECT_FALSE(passwords->matches(std::string(500, '$'), ""));
}

TEST(Passwords, AreMadeAnewWhenTheCostGrows) {
    const auto cheap = argon2id({1, 8192}), dear = argon2id({2, 16384});
    const std::string digest = cheap->digest("correct horse battery").value();
    EXPECT_FALSE(cheap->is_outdated(digest));
    EXPECT_TRUE(dear->is_outdated(digest));
    EXPECT_TRUE(dear->matches(digest, "correct horse battery"));
}

// The digest that another program made of a published example: `echo -n password | argon2 somesalt -id -t 2 -m 16
// -p 1` of the reference implementation (P-H-C/phc-winner-argon2, test.c, Argon2id v=19).
TEST(Passwords, AgreeWithTheReferenceImplementation) {
    EXPECT_TRUE(argon2id()->matches(
        "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc", "password"));
    EXPECT_FALSE(argon2id()->matches(
        "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc", "Password"));
}

TEST(Passwords, HaveToBeLongAndNotTheFirstOnesTried) {
    for (const char* weak : {"", "short", "aaaaaaaaaaaaaa", "Password1234", "qwertyuiop1", "1234567890",
                             "ada-ada-ada1!", "\xff\xfe\xff\xfe\xff\xfe\xff\xfe\xff\xfe"})
        EXPECT_FALSE(check_password("adaadaada", weak).has_value()) << weak;
    for (const char* good : {"correct horse battery", "Zw\xC3\xB6lf Teller im Schrank", "7 plates, 3 cups"})
        EXPECT_TRUE(check_password("ada", good).has_value()) << good;
    EXPECT_FALSE(check_password("ada", std::string(1001, 'x') + "y").has_value());
}

}  // namespace
}  // namespace footring::server
