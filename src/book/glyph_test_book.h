// book/glyph_test_book.h - an invented pack in memory that has one of each: forms, kinds of ornament, drawings good
// and bad. For tests only. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <utility>

#include "book/book.h"
#include "book/drawings.h"

namespace footring::book::testing {

inline constexpr std::string_view kVineTile =
    R"svg(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 24"><path d="M0 12Q15-4 30 12T60 12" fill="none" stroke="#a8791c" stroke-width="2"/><g fill="#c79a3b"><path d="M15 4q6-6 10-1-3 6-10 1zM45 20q6 6 10 1-3-6-10-1z"/><circle cx="30" cy="12" r="3"/><circle cx="8" cy="18" r="2"/><circle cx="38" cy="5" r="2"/></g><path d="M0 23H60" stroke="#a8791c" stroke-width="1.2"/></svg>)svg";
inline constexpr std::string_view kRosetteTile =
    R"svg(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><g fill="black"><circle cx="50" cy="50" r="10"/><g id="p"><path d="M50 36Q40 18 50 4 60 18 50 36zM50 64Q40 82 50 96 60 82 50 64zM36 50Q18 40 4 50 18 60 36 50zM64 50Q82 40 96 50 82 60 64 50z"/></g></g></svg>)svg";
inline constexpr std::string_view kHostileTile =
    R"svg(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 20" onload="alert(1)"><script>alert(2)</script><image href="https://example.org/x.png"/><rect width="30" height="20" fill="red"/></svg>)svg";

inline Book one_of_each() {
    Book book;
    book.packs.resize(1);
    book.packs[0].id = "reed";
    const auto form = [&](std::string id, std::string name, Ware ware, Outline outline) {
        Form f;
        f.id = std::move(id), f.name = std::move(name), f.ware = ware, f.outline = outline;
        book.forms.push_back(std::move(f));
    };
    form("plate", "Dinner plate", Ware::kFlat, Outline::kRound);
    form("platter", "Platter", Ware::kFlat, Outline::kOval);
    form("square-plate", "Square plate", Ware::kFlat, Outline::kSquare);
    form("octagonal-plate", "Octagonal plate", Ware::kFlat, Outline::kOctagonal);
    form("saucer", "Saucer", Ware::kFlat, Outline::kRound);
    form("cake-plate", "Cake plate, two lugs", Ware::kFlat, Outline::kRound);
    form("oval-nappy", "Oval nappy", Ware::kFlat, Outline::kOval);
    form("fancy-plate", "Shaped plate", Ware::kFlat, Outline::kOther);
    for (const auto& [id, name] : {std::pair{"cup", "Teacup"},
                                   {"after-dinner-cup", "After-dinner cup"},
                                   {"bouillon", "Bouillon cup"},
                                   {"mug", "Mug"},
                                   {"egg-cup", "Egg cup"},
                                   {"bowl-9", "Salad bowl"},
                                   {"nappy", "Nappy"},
                                   {"baker", "Baker"},
                                   {"sugar", "Sugar bowl"},
                                   {"open-sugar", "Open sugar"},
                                   {"creamer", "Cream jug"},
                                   {"jug", "Pitcher, 36s"},
                                   {"sauce-boat", "Sauce boat"},
                                   {"covered-dish", "Covered dish"},
                                   {"tureen", "Tureen"},
                                   {"butter", "Butter dish"},
                                   {"teapot", "Teapot"},
                                   {"coffee-pot", "Coffee pot"},
                                   {"chocolate-pot", "Chocolate pot"},
                                   {"biscuit-jar", "Biscuit jar"},
                                   {"mustard", "Mustard pot"},
                                   {"shaker", "Shaker"},
                                   {"ramekin", "Ramekin"},
                                   {"sherbet", "Sherbet"},
                                   {"comport", "Comport"},
                                   {"vase", "Vase"},
                                   {"flower-pot", "Flower pot"},
                                   {"candlestick", "Candlestick"},
                                   {"tumbler", "Beaker"},
                                   {"whatsit", "Whatsit"}})
        form(id, name, Ware::kHollow, Outline::kRound);
    form("octagonal-cup", "Octagonal cup", Ware::kHollow, Outline::kOctagonal);

    const auto ornament = [&](std::string id, OrnamentKind kind, std::string finish, std::optional<int> repeats,
                              std::string_view svg) {
        Ornament o;
        o.name = id + " & <b>co</b>";
        o.id = std::move(id), o.kind = kind, o.finish = std::move(finish), o.repeats = repeats;
        if (!svg.empty()) o.drawing = "x.svg", o.drawing_data = data_uri(svg);
        book.ornaments.push_back(std::move(o));
    };
    ornament("vine", OrnamentKind::kStamp, "gold", 16, kVineTile);
    ornament("rosette", OrnamentKind::kStamp, "gold", std::nullopt, kRosetteTile);
    ornament("hostile", OrnamentKind::kDecal, "red", 24, kHostileTile);
    ornament("gold-line", OrnamentKind::kLine, "gold", std::nullopt, "");
    ornament("cobalt-line", OrnamentKind::kLine, "cobalt", std::nullopt, "");
    ornament("maroon-band", OrnamentKind::kBand, "maroon", std::nullopt, "");
    ornament("gold-solid", OrnamentKind::kSolid, "gold", std::nullopt, "");
    ornament("gadroon", OrnamentKind::kRelief, "self colour", std::nullopt, "");
    ornament("sprig", OrnamentKind::kStamp, "platinum", 8, "");
    ornament("posy", OrnamentKind::kDecal, "polychrome", std::nullopt, "");
    ornament("view", OrnamentKind::kPrint, "blue", std::nullopt, "");
    ornament("white-line", OrnamentKind::kLine, "white", std::nullopt, "");
    return book;
}

inline Ref<Ornament> ornament_named(const Book& book, std::string_view id) {
    for (std::uint32_t i = 0; i < book.ornaments.size(); ++i)
        if (book.ornaments[i].id == id) return {i};
    return {static_cast<std::uint32_t>(book.ornaments.size())};  // at() by the caller's index would fail loudly
}

}  // namespace footring::book::testing
