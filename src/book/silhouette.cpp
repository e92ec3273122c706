// The hollow forms. To add one: a Silhouette in shapes(), a line of words in kRules; the test walks both.
// SPDX-License-Identifier: Apache-2.0
#include "book/silhouette.h"

#include <algorithm>
#include <string>

#include "base/text.h"

namespace footring::book {

namespace {
// Words that name a form, most particular first; words joined by + must all be there. Words are matched as parts,
// so that "teacup", "tea-cup" and "cups" are cups.
struct Rule {
    std::string_view words, silhouette;
};
constexpr Rule kRules[] = {
    {"egg+cup", "egg cup"},
    {"bouillon|cream soup|soup cup|broth", "two-handled cup"},
    {"chocolate pot|cocoa pot|chocolatepot", "chocolate pot"},
    {"coffee pot|coffeepot|coffee server", "coffee pot"},
    {"teapot|tea pot|tea+pot", "teapot"},
    {"after dinner+cup|a d cup|ad cup|demitasse+cup|demi tasse|espresso|coffee can|chocolate cup|demitasse",
     "small cup"},
    {"candle", "candlestick"},
    {"mustard|marmalade|honey|jam |jam jar|jampot|preserve", "small jar"},
    {"salt shaker|pepper|shaker|salt and", "shaker"},
    {"open sugar|uncovered sugar|sugar open", "open sugar"},
    {"sugar", "sugar"},
    {"sauce+boat|gravy|sauceboat", "sauce boat"},
    {"tureen", "tureen"},
    {"butter+cover|butter dish|butterdish|butter dome|covered butter|cheese+cover|cheese dish|cheese dome|muffin",
     "butter dish"},
    {"biscuit|cracker|cookie|ginger jar|tobacco|canister|tea caddy|jar", "jar"},
    {"creamer|cream jug|cream pitcher|milk jug|cream|individual jug", "creamer"},
    {"jug|pitcher|ewer|syrup", "jug"},
    {"ramekin|custard|pot de creme|souffle", "ramekin"},
    {"sherbet|ice cream|grapefruit|sundae", "sherbet"},
    {"compote|comport|tazza|footed|pedestal", "compote"},
    {"tumbler|beaker", "tumbler"},
    {"mug|tankard|stein", "mug"},
    {"cup", "cup"},
    {"casserole|cover|lidded|with lid", "covered dish"},
    {"vase|bud holder", "vase"},
    {"planter|jardiniere|flower pot|flowerpot|cachepot", "flower pot"},
    {"baker|pickle|relish|celery|oblong|boat|oval", "baker"},
    {"nappy|nappie|oatmeal|cereal|coupe|soup|fruit|dish|ashtray", "nappy"},
    {"bowl|slop|waste|salad|basin|punch", "bowl"},
};

std::vector<Silhouette> make_shapes() {
    std::vector<Silhouette> all;
    const auto add = [&](Silhouette s) { all.push_back(std::move(s)); };
    const auto both = Handles::kBoth, right = Handles::kRight;
    add({.name = "bowl",
         .body = {{0, 68}, {3, 67}, {14, 62}, {28, 50}, {38, 37}, {44, 29}, {48, 28}, {52, 30}},
         .rim = 17});
    add({.name = "covered dish",
         .body = {{0, 68}, {3, 70}, {14, 70}, {28, 60}, {38, 47}, {42, 43}, {46, 45}},
         .lid = {{-28, 7}, {-26, 18}, {-20, 37}, {-11, 54}, {-4, 65}, {0, 69}},
         .tilt = 0.11,
         .rim = 15,
         .handles = both,
         .handle_top = 2,
         .handle_bottom = 22,
         .handle_out = 15});
    add({.name = "cup",
         .body = {{0, 45}, {3, 44}, {16, 41}, {30, 34}, {42, 24}, {48, 19}, {52, 18}, {55, 20}},
         .rim = 17,
         .handles = right,
         .handle_top = 6,
         .handle_bottom = 36,
         .handle_out = 24});
    add({.name = "small cup",
         .body = {{0, 30}, {4, 29}, {28, 28}, {42, 24}, {49, 18}, {53, 17}, {56, 19}},
         .rim = 15,
         .handles = right,
         .handle_top = 9,
         .handle_bottom = 38,
         .handle_out = 19});
    add({.name = "two-handled cup",
         .body = {{0, 48}, {3, 47}, {14, 45}, {26, 38}, {36, 26}, {41, 21}, {44, 20}, {47, 22}},
         .rim = 15,
         .handles = both,
         .handle_top = 5,
         .handle_bottom = 28,
         .handle_out = 18});
    add({.name = "mug",
         .body = {{0, 31}, {3, 30}, {30, 29}, {60, 29}, {69, 27}, {72, 27}},
         .rim = 18,
         .handles = right,
         .handle_top = 12,
         .handle_bottom = 54,
         .handle_out = 24});
    add({.name = "tumbler", .body = {{0, 30}, {4, 29}, {40, 26}, {68, 23}, {74, 23}}, .rim = 17});
    add({.name = "egg cup",
         .body = {{0, 25}, {3, 25}, {16, 24}, {28, 18}, {35, 9}, {41, 6}, {47, 8}, {54, 18}, {57, 19}},
         .rim = 14});
    add({.name = "nappy",
         .body = {{0, 78}, {3, 76}, {10, 69}, {20, 58}, {28, 47}, {32, 43}, {36, 44}},
         .tilt = 0.22,
         .rim = 14});
    add({.name = "baker",
         .body = {{0, 84}, {3, 82}, {10, 75}, {22, 65}, {30, 57}, {34, 58}},
         .tilt = 0.16,
         .rim = 14});
    add({.name = "sugar",
         .body = {{0, 34}, {3, 36}, {14, 44}, {28, 47}, {42, 40}, {52, 28}, {57, 24}, {61, 27}},
         .lid = {{-22, 5}, {-20, 12}, {-14, 22}, {-6, 31}, {0, 35}},
         .tilt = 0.13,
         .rim = 16,
         .handles = both,
         .handle_top = 9,
         .handle_bottom = 40,
         .handle_out = 21});
    add({.name = "open sugar",
         .body = {{0, 38}, {3, 38}, {14, 42}, {28, 44}, {42, 37}, {50, 27}, {54, 24}, {58, 27}},
         .rim = 16,
         .handles = both,
         .handle_top = 9,
         .handle_bottom = 38,
         .handle_out = 20});
    add({.name = "creamer",
         .body = {{0, 27}, {4, 27}, {14, 28}, {30, 33}, {44, 31}, {54, 23}, {59, 20}, {63, 23}},
         .rim = 17,
         .handles = right,
         .handle_top = 4,
         .handle_bottom = 43,
         .handle_out = 26,
         .beak = 14,
         .beak_rise = 6});
    add({.name = "jug",
         .body = {{0, 28}, {4, 27}, {16, 26}, {36, 32}, {62, 40}, {82, 38}, {98, 29}, {104, 26}, {109, 29}},
         .tilt = 0.18,
         .rim = 22,
         .handles = right,
         .handle_top = 4,
         .handle_bottom = 66,
         .handle_out = 32,
         .beak = 15,
         .beak_rise = 8,
         .beak_depth = 34});
    add({.name = "sauce boat",
         .body = {{0, 52}, {3, 52}, {12, 49}, {26, 39}, {35, 27}, {40, 22}, {45, 28}, {48, 31}},
         .tilt = 0.17,
         .rim = 16,
         .handles = right,
         .handle_top = -1,
         .handle_bottom = 30,
         .handle_out = 24,
         .beak = 24,
         .beak_rise = 13,
         .beak_depth = 32,
         .back_rise = 5});
    add({.name = "tureen",
         .body = {{0, 66}, {3, 68}, {16, 70}, {34, 60}, {46, 41}, {52, 29}, {58, 30}, {62, 37}},
         .lid = {{-34, 7}, {-32, 18}, {-25, 36}, {-14, 53}, {-5, 63}, {0, 67}},
         .tilt = 0.11,
         .rim = 17,
         .handles = both,
         .handle_top = 4,
         .handle_bottom = 30,
         .handle_out = 18});
    add({.name = "butter dish",
         .body = {{0, 78}, {2, 77}, {9, 66}, {14, 53}, {17, 54}},
         .lid = {{-42, 6}, {-40, 17}, {-31, 36}, {-16, 46}, {-4, 49}, {0, 50}},
         .tilt = 0.16,
         .rim = 8});
    add({.name = "teapot",
         .body = {{0, 27}, {4, 32}, {16, 48}, {32, 56}, {48, 53}, {62, 40}, {72, 30}, {76, 29}, {80, 31}},
         .lid = {{-20, 4}, {-18, 10}, {-12, 18}, {-5, 25}, {0, 28}},
         .tilt = 0.12,
         .rim = 17,
         .handles = right,
         .handle_top = 8,
         .handle_bottom = 58,
         .handle_out = 34,
         .spout = Spout::kTea});
    add({.name = "coffee pot",
         .body = {{0, 23}, {4, 25}, {24, 30}, {54, 38}, {80, 44}, {98, 40}, {110, 30}, {115, 28}, {120, 31}},
         .lid = {{-26, 3}, {-23, 8}, {-14, 15}, {-6, 21}, {0, 24}},
         .tilt = 0.12,
         .rim = 21,
         .handles = right,
         .handle_top = 10,
         .handle_bottom = 88,
         .handle_out = 34,
         .spout = Spout::kCoffee});
    add({.name = "chocolate pot",
         .body = {{0, 27}, {4, 27}, {40, 32}, {80, 37}, {104, 33}, {110, 30}, {115, 32}},
         .lid = {{-24, 3}, {-21, 9}, {-13, 17}, {-5, 22}, {0, 24}},
         .tilt = 0.13,
         .rim = 20,
         .handles = right,
         .handle_top = 14,
         .handle_bottom = 82,
         .handle_out = 32,
         .beak = 13,
         .beak_rise = 5});
    add({.name = "jar",
         .body = {{0, 32}, {4, 36}, {16, 44}, {44, 46}, {66, 38}, {74, 34}, {79, 36}},
         .lid = {{-20, 5}, {-18, 13}, {-12, 23}, {-5, 30}, {0, 33}},
         .tilt = 0.13,
         .rim = 18});
    add({.name = "small jar",
         .body = {{0, 25}, {3, 27}, {14, 32}, {32, 32}, {46, 26}, {50, 25}, {54, 27}},
         .lid = {{-16, 4}, {-14, 10}, {-8, 19}, {0, 26}},
         .tilt = 0.14,
         .rim = 15});
    add({.name = "shaker",
         .body = {{0, 9}, {2, 13}, {8, 18}, {36, 22}, {58, 26}, {65, 25}, {68, 26}},
         .tilt = 0.16,
         .rim = 15});
    add({.name = "ramekin", .body = {{0, 40}, {3, 40}, {30, 38}, {36, 37}, {39, 37}}, .rim = 14});
    add({.name = "sherbet",
         .body = {{0, 38}, {3, 38}, {16, 35}, {28, 22}, {34, 9}, {42, 7}, {50, 13}, {57, 25}, {60, 26}},
         .rim = 14});
    add({.name = "compote",
         .body = {{0, 68},
                  {3, 67},
                  {10, 60},
                  {20, 44},
                  {28, 22},
                  {34, 10},
                  {42, 8},
                  {50, 10},
                  {58, 21},
                  {64, 32},
                  {67, 33}},
         .tilt = 0.17,
         .rim = 12});
    add({.name = "vase",
         .body = {{0, 27}, {3, 26}, {16, 19}, {30, 22}, {56, 38}, {78, 38}, {98, 26}, {106, 22}, {111, 25}},
         .rim = 18});
    add({.name = "flower pot", .body = {{0, 46}, {4, 45}, {40, 38}, {60, 31}, {65, 31}}, .rim = 18});
    add({.name = "candlestick",
         .body = {{0, 15}, {3, 15}, {12, 9}, {34, 6}, {54, 7}, {64, 16}, {74, 40}, {78, 42}},
         .rim = 12});
    return all;
}

const std::vector<Silhouette>& shapes() {
    static const std::vector<Silhouette> all = make_shapes();
    return all;
}

const Silhouette& named(std::string_view name) {
    const auto found = std::ranges::find(shapes(), name, &Silhouette::name);
    return found != shapes().end() ? *found : shapes().front();
}

bool fits(std::string_view rule, std::string_view text) {
    for (const std::string& choice : split(rule, '|')) {
        const auto parts = split(choice, '+');
        if (std::ranges::all_of(parts,
                                [&](const std::string& p) { return text.find(p) != std::string_view::npos; }))
            return true;
    }
    return false;
}

const Rule* rule_for(std::string_view id, std::string_view name) {
    if (const auto colon = id.rfind(':'); colon != std::string_view::npos) id.remove_prefix(colon + 1);
    std::string text = lower(id) + " " + lower(name);
    for (char& c : text)
        if (std::string_view("-_,/()").find(c) != std::string_view::npos) c = ' ';
    for (const Rule& rule : kRules)
        if (fits(rule.words, text)) return &rule;
    return nullptr;
}
}  // namespace

const Silhouette& silhouette_of(std::string_view id, std::string_view name, bool lidded) {
    if (const Rule* rule = rule_for(id, name)) return named(rule->silhouette);
    return named(lidded ? "covered dish" : "bowl");
}

bool is_known_form(std::string_view id, std::string_view name) { return rule_for(id, name) != nullptr; }

}  // namespace footring::book
