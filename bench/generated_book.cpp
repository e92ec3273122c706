// SPDX-License-Identifier: Apache-2.0
#include "generated_book.h"

#include <cstdio>
#include <cstdlib>
#include <random>

#include "book/decoration.h"

namespace footring::bench {

using book::Place;
using book::Ref;

namespace {

edtf::Edtf date(const std::string& text) {
    auto parsed = edtf::parse(text);
    if (!parsed) std::fprintf(stderr, "%s\n", to_line(parsed.error()).c_str()), std::exit(1);
    return *parsed;
}
std::string years(int first, int last) { return std::to_string(first) + "/" + std::to_string(last); }

template <class T>
Ref<T> random_ref(const std::vector<T>& table, std::mt19937& random) {
    return Ref<T>{static_cast<std::uint32_t>(random() % table.size())};
}

}  // namespace

book::Book generated_book(std::size_t treatments) {
    std::mt19937 random(1);
    const auto upto = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    book::Book b;
    b.packs.push_back({"generated", "Generated", "1", "", "", "", {}});
    for (const char* id : {"plate", "platter", "cup", "sugar", "covered-dish"}) {
        book::Form f;
        f.id = f.name = id;
        f.ware = id[0] == 'p' ? book::Ware::kFlat : book::Ware::kHollow;
        b.forms.push_back(std::move(f));
    }
    for (int i = 0; i < 40; ++i) {
        book::Maker m;
        m.id = m.name = "maker-" + std::to_string(i);
        const int first = 1875 + upto(40);
        m.years = date(years(first, first + 30 + upto(50)));
        b.makers.push_back(std::move(m));
    }
    for (int i = 0; i < 200; ++i) {
        book::Shape s;
        s.id = s.name = "shape-" + std::to_string(i);
        s.maker = random_ref(b.makers, random);
        const int first = 1890 + upto(60);
        s.years = date(years(first, first + 15 + upto(20)));
        b.shapes.push_back(std::move(s));
    }
    for (int i = 0; i < 60; ++i) {
        book::Glaze g;
        g.id = g.name = "glaze-" + std::to_string(i);
        g.years = date(std::to_string(1890 + upto(50)) + "/..");
        b.glazes.push_back(std::move(g));
    }
    static const char* kFinishes[] = {"gold", "gold", "platinum", "cobalt", "rose"};
    for (int i = 0; i < 400; ++i) {
        book::Ornament o;
        o.id = o.name = "ornament-" + std::to_string(i);
        o.finish = kFinishes[upto(5)];
        o.kind = static_cast<book::OrnamentKind>(upto(7));
        if (upto(8) == 0) o.second_share = 0.05 * (1 + upto(18));
        b.ornaments.push_back(std::move(o));
    }
    for (int i = 0; i < 300; ++i) {
        book::Mark m;
        m.id = "mark-" + std::to_string(i);
        m.maker = random_ref(b.makers, random);
        const int first = 1885 + upto(60);
        m.years = date(years(first, first + 10 + upto(20)));
        m.second = upto(6) == 0;
        b.marks.push_back(std::move(m));
    }
    static const Place kPlaces[] = {Place::kRim,    Place::kRim,  Place::kVerge,
                                    Place::kCentre, Place::kEdge, Place::kHandle};
    for (std::size_t i = 0; i < treatments; ++i) {
        const auto id = static_cast<std::uint32_t>(i);
        const int first = 1900 + upto(50);
        b.treatments.push_back({"t-" + std::to_string(i),
                                random_ref(b.shapes, random),
                                random_ref(b.glazes, random),
                                std::to_string(1000 + i),
                                "",
                                static_cast<book::Grade>(upto(3)),
                                upto(2) ? std::optional(date(years(first, first + 5 + upto(10)))) : std::nullopt,
                                "",
                                "",
                                {},
                                {}});
        for (int k = 0; k <= upto(4); ++k)
            b.treatment_ornaments.push_back({Ref<book::Treatment>{id},
                                             kPlaces[upto(6)],
                                             random_ref(b.ornaments, random),
                                             {},
                                             upto(5) ? 1.0 : 0.5,
                                             {},
                                             {}});
    }
    b.index();
    return b;
}

looks::Findings described_plate(const book::Book& b, std::uint32_t t) {
    const book::Treatment& row = b.treatments[t];
    looks::Findings f;
    f.form = Ref<book::Form>{0};
    f.shape = {row.shape, .85};
    if (row.glaze) f.glaze = {*row.glaze, .98};
    f.wear = looks::Wear::kModerate;
    const book::Decoration d = book::decoration(b, Ref<book::Treatment>{t}, f.form);
    for (const auto place : {Place::kRim, Place::kCentre, Place::kEdge}) {
        looks::OrnamentSighting look;
        look.place = place;
        look.sure = place == Place::kEdge ? .60 : .98;
        look.look = f.ornaments.size();
        if (d[place].empty()) look.value = looks::Absent{};
        else look.value = d[place].front().ornament;
        f.ornaments.push_back(look);
    }
    std::string number = row.number;
    number[1] = '?';
    f.number = looks::NumberSighting{number, .85};
    const auto maker = b[row.shape].maker;
    for (std::uint32_t m = 0; m < b.marks.size() && !f.mark; ++m)
        if (b.marks[m].maker == maker) f.mark = {Ref<book::Mark>{m}, .85};
    f.faults = looks::Faults::kFew;
    return f;
}

}  // namespace footring::bench
