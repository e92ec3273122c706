// The compositions that come with the program. What a set consisted of is the trade's common practice; potteries
// and shops differed, and no published source is claimed. Each line names forms by the ids and names that packs
// usually give them; where several are named, any will do. SPDX-License-Identifier: Apache-2.0
#include "services/composition.h"

namespace footring::services {

namespace {

// One line each, so that compositions read as lists of words.
Line dinner() { return {"Dinner plate", {"dinner-plate"}, 1, ""}; }
Line middle_plate() {
    return {"Luncheon, salad or pie plate",
            {"luncheon-plate", "salad-plate", "breakfast-plate", "dessert-plate", "pie-plate"},
            1,
            ""};
}
Line bread_plate() {
    return {"Bread and butter plate",
            {"bread-plate", "bread-and-butter-plate", "tea-plate", "side-plate", "aat:300230292"},
            1,
            ""};
}
Line tea_plate() {
    return {"Tea plate",
            {"tea-plate", "bread-plate", "bread-and-butter-plate", "pie-plate", "breakfast-plate", "aat:300230292"},
            1,
            ""};
}
Line cup() { return {"Cup", {"cup", "tea-cup", "aat:300043202"}, 1, ""}; }
Line saucer() { return {"Saucer", {"saucer", "tea-saucer", "aat:300195535"}, 1, ""}; }
Line fruit() { return {"Fruit dish", {"fruit-dish", "sauce-dish", "berry-bowl", "dessert-bowl"}, 1, ""}; }
Line soup() { return {"Soup plate", {"rim-soup", "coupe-soup", "soup-plate", "soup-bowl"}, 1, ""}; }
Line platter() { return {"Platter", {"large-platter", "small-platter", "platter", "aat:300043053"}, 1, ""}; }
Line large_platter() { return {"Large platter", {"large-platter", "platter"}, 1, ""}; }
Line small_platter() { return {"Small platter", {"small-platter", "platter"}, 1, ""}; }
Line vegetable() {
    return {"Vegetable dish",
            {"nappy", "baker", "round-vegetable", "oval-vegetable", "vegetable-dish", "vegetable-bowl"},
            1,
            ""};
}
Line nappy() { return {"Nappy", {"nappy", "round-vegetable"}, 1, ""}; }
Line baker() { return {"Baker", {"baker", "oval-vegetable"}, 1, ""}; }
Line covered() { return {"Covered dish", {"covered-dish", "covered-vegetable", "casserole"}, 1, ""}; }
Line sugar() { return {"Sugar", {"sugar", "sugar-bowl", "aat:300042971"}, 1, ""}; }
Line creamer() { return {"Creamer", {"creamer", "cream-jug", "milk-jug", "aat:300220996"}, 1, ""}; }
Line sauce_boat() { return {"Sauce boat", {"sauce-boat", "gravy-boat", "aat:300218762"}, 1, ""}; }
Line stand() { return {"Stand of the sauce boat", {"gravy-stand", "sauce-boat-stand", "pickle-dish"}, 1, ""}; }
Line teapot() { return {"Teapot", {"teapot", "aat:300043022"}, 1, ""}; }

constexpr const char* kPractice = "Common practice of the trade; no published source.";

std::vector<Composition> made() {
    const std::vector<Line> five = {dinner(), middle_plate(), bread_plate(), cup(), saucer()};
    const std::vector<Line> serving = {platter(), vegetable(), sugar(), creamer()};
    std::vector<Composition> all;
    all.push_back({"setting-of-five", "Place setting of five", kPractice, 1, five, {}, true});
    for (const int persons : {4, 6, 8, 12})
        all.push_back({"service-for-" + std::to_string(persons), "Service for " + std::to_string(persons),
                       kPractice, persons, five, serving, true});
    all.push_back({"tea-for-6",
                   "Tea service for 6",
                   kPractice,
                   6,
                   {tea_plate(), cup(), saucer()},
                   {teapot(), sugar(), creamer()},
                   true});
    all.push_back({"set-of-52",
                   "Set of 52 pieces",
                   std::string(kPractice) + " Eight persons; the lid of the sugar is not counted.",
                   8,
                   {dinner(), tea_plate(), cup(), saucer(), fruit(), soup()},
                   serving,
                   true});
    all.push_back(
        {"set-of-95",
         "Set of 95 pieces",
         std::string(kPractice) +
             " Twelve persons; the trade counted the lids of the sugar and of the covered dish, so that 95 "
             "pieces stand in 93 places.",
         12,
         {dinner(), middle_plate(), bread_plate(), cup(), saucer(), fruit(), soup()},
         {large_platter(), small_platter(), nappy(), baker(), covered(), sugar(), creamer(), sauce_boat(), stand()},
         true});
    return all;
}

}  // namespace

const std::vector<Composition>& supplied_compositions() {
    static const std::vector<Composition> kAll = made();
    return kAll;
}

}  // namespace footring::services
