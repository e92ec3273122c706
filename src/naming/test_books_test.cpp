// The Books that the tests of this room use. Named _test so that it is built into the test program alone.
// SPDX-License-Identifier: Apache-2.0
#include "naming/test_books.h"

#include <gtest/gtest.h>

namespace footring::naming::testing {

using book::Place;
using book::Ref;

namespace {
template <class T>
Ref<T> add(std::vector<T>& table, T row) {
    row.origin.line = static_cast<std::uint32_t>(table.size() + 2);
    table.push_back(std::move(row));
    return Ref<T>{static_cast<std::uint32_t>(table.size() - 1)};
}
std::optional<edtf::Edtf> maybe(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(date(text));
}
}  // namespace

edtf::Edtf date(const std::string& text) {
    auto parsed = edtf::parse(text);
    if (!parsed) ADD_FAILURE() << to_line(parsed.error());
    return parsed ? *parsed : *edtf::parse("1900");
}

Draft::Draft() { book.packs.push_back({"test", "Test", "1", "", "", "", {}}); }

Ref<book::Maker> Draft::maker(std::string id, std::string years, double unmarked, double numbered) {
    book::Maker m;
    m.id = m.name = std::move(id);
    m.years = maybe(years);
    if (unmarked >= 0) m.unmarked_share = unmarked;
    if (numbered >= 0) m.numbered_share = numbered;
    return add(book.makers, std::move(m));
}
Ref<book::Shape> Draft::shape(std::string id, Ref<book::Maker> maker, std::string years) {
    book::Shape s;
    s.id = s.name = std::move(id);
    s.maker = maker;
    s.years = maybe(years);
    return add(book.shapes, std::move(s));
}
Ref<book::Form> Draft::form(std::string id, book::Ware ware) {
    book::Form f;
    f.id = f.name = std::move(id);
    f.ware = ware;
    return add(book.forms, std::move(f));
}
Ref<book::Glaze> Draft::glaze(std::string id, std::string years) {
    book::Glaze g;
    g.id = g.name = std::move(id);
    g.years = maybe(years);
    return add(book.glazes, std::move(g));
}
Ref<book::Ornament> Draft::ornament(std::string id, std::string finish, book::OrnamentKind kind) {
    book::Ornament o;
    o.id = o.name = std::move(id);
    o.finish = std::move(finish);
    o.kind = kind;
    return add(book.ornaments, std::move(o));
}
Ref<book::Treatment> Draft::treatment(std::string number, Ref<book::Shape> shape, Ref<book::Glaze> glaze,
                                      book::Grade grade, std::string years) {
    book::Treatment t{"t-" + std::to_string(book.treatments.size() + 1),
                      shape,
                      glaze,
                      std::move(number),
                      "",
                      grade,
                      maybe(years),
                      "",
                      "",
                      {},
                      {}};
    return add(book.treatments, std::move(t));
}
void Draft::carries(Ref<book::Treatment> t, Place place, Ref<book::Ornament> o, std::string on, double share) {
    book::On where;
    if (on == "flat") where.ware = book::Ware::kFlat;
    else if (on == "hollow") where.ware = book::Ware::kHollow;
    else if (on != "*")
        for (std::uint32_t f = 0; f < book.forms.size(); ++f)
            if (book.forms[f].id == on) where.form = Ref<book::Form>{f};
    add(book.treatment_ornaments, book::TreatmentOrnament{t, place, o, where, share, {}, {}});
}
Ref<book::Mark> Draft::mark(std::string id, Ref<book::Maker> maker, std::string years, bool second) {
    book::Mark m;
    m.id = std::move(id);
    m.maker = maker;
    m.years = maybe(years);
    m.second = second;
    return add(book.marks, std::move(m));
}
const book::Book& Draft::finish() {
    book.index();
    return book;
}

namespace {
int pick(std::mt19937& random, int first, int last) {
    return first + static_cast<int>(random() % static_cast<unsigned>(last - first + 1));
}
double share(std::mt19937& random) { return pick(random, 1, 99) / 100.0; }
std::string years(std::mt19937& random) {
    static const char* kSome[] = {"",        "1931/1940", "1928~/1936~", "1930?/1935", "193X",       "1925/..",
                                  "../1934", "1929",      "1930~",       "1920/1950",  "1927/1931?", "1933/"};
    return kSome[pick(random, 0, 11)];
}
}  // namespace

book::Book random_book(std::mt19937& random) {
    Draft d;
    std::vector<Ref<book::Maker>> makers;
    for (int i = 0; i < pick(random, 1, 3); ++i)
        makers.push_back(d.maker("maker-" + std::to_string(i), pick(random, 0, 1) ? "1910/1960" : "",
                                 pick(random, 0, 1) ? share(random) : -1, pick(random, 0, 1) ? share(random) : -1));
    std::vector<Ref<book::Shape>> shapes;
    for (int i = 0; i < pick(random, 1, 3); ++i) {
        shapes.push_back(d.shape("shape-" + std::to_string(i), makers[random() % makers.size()], years(random)));
        if (pick(random, 0, 4) == 0) d.book.shapes.back().maker.reset();
    }
    std::vector<Ref<book::Glaze>> glazes;
    for (int i = 0; i < pick(random, 1, 3); ++i)
        glazes.push_back(d.glaze("glaze-" + std::to_string(i), years(random)));
    d.form("plate", book::Ware::kFlat);
    d.form("cup", book::Ware::kHollow);
    d.form("sugar", book::Ware::kHollow);
    std::vector<Ref<book::Ornament>> ornaments;
    for (int i = 0; i < pick(random, 2, 5); ++i) {
        static const char* kFinishes[] = {"gold", "cobalt", "platinum", "rose"};
        ornaments.push_back(
            d.ornament("ornament-" + std::to_string(i), kFinishes[random() % 4],
                       pick(random, 0, 1) ? book::OrnamentKind::kStamp : book::OrnamentKind::kLine));
        if (pick(random, 0, 2) == 0) d.book.ornaments.back().second_share = share(random);
        if (pick(random, 0, 3) == 0) d.book.ornaments.back().years = date("1929~/1938~");
    }
    const int treatments = pick(random, 2, 7);
    for (int i = 0; i < treatments; ++i) {
        const auto t = d.treatment(pick(random, 0, 4) ? std::to_string(100 + pick(random, 0, 12)) : "",
                                   shapes[random() % shapes.size()], glazes[random() % glazes.size()],
                                   static_cast<book::Grade>(random() % 3), years(random));
        if (pick(random, 0, 6) == 0) d.book.treatments.back().glaze.reset();
        static const char* kOn[] = {"*", "*", "flat", "hollow", "sugar"};
        for (int k = 0; k < pick(random, 0, 4); ++k)
            d.carries(t, static_cast<Place>(std::array{0, 2, 3, 4, 8}[random() % 5]),
                      ornaments[random() % ornaments.size()], kOn[random() % 5],
                      pick(random, 0, 2) ? 1 : pick(random, 0, 4) / 4.0);
    }
    for (int i = 0; i < pick(random, 0, 4); ++i) {
        d.mark("mark-" + std::to_string(i), makers[random() % makers.size()], years(random),
               pick(random, 0, 2) == 0);
        if (pick(random, 0, 2) == 0) d.book.marks.back().shapes.push_back(shapes[random() % shapes.size()]);
    }
    d.finish();
    return d.book;
}

looks::Findings random_findings(const book::Book& b, std::mt19937& random) {
    looks::Findings f;
    static const double kSure[] = {0.98, 0.85, 0.6};
    if (pick(random, 0, 4)) f.form = Ref<book::Form>{static_cast<std::uint32_t>(random() % b.forms.size())};
    if (pick(random, 0, 2) == 0)
        f.shape = {Ref<book::Shape>{static_cast<std::uint32_t>(random() % b.shapes.size())}, kSure[random() % 3]};
    if (pick(random, 0, 2) == 0)
        f.glaze = {Ref<book::Glaze>{static_cast<std::uint32_t>(random() % b.glazes.size())}, kSure[random() % 3]};
    if (pick(random, 0, 2)) f.wear = static_cast<looks::Wear>(random() % 4);
    for (int k = 0; k < pick(random, 0, 4); ++k) {
        looks::OrnamentSighting look;
        look.place = static_cast<Place>(std::array{0, 2, 3, 4, 8}[random() % 5]);
        look.sure = kSure[random() % 3];
        look.look = static_cast<std::size_t>(k);
        const int what = pick(random, 0, 5);
        if (what == 0) look.value = looks::Absent{};
        else if (what == 1) look.value = looks::Present{};
        else look.value = Ref<book::Ornament>{static_cast<std::uint32_t>(random() % b.ornaments.size())};
        f.ornaments.push_back(look);
    }
    if (!b.marks.empty() && pick(random, 0, 1)) {
        f.mark.emplace();
        f.mark->sure = kSure[random() % 3];
        const int what = pick(random, 0, 3);
        if (what == 0) f.mark->value = looks::Absent{};
        else if (what == 1) f.mark->value = looks::Present{};
        else f.mark->value = Ref<book::Mark>{static_cast<std::uint32_t>(random() % b.marks.size())};
    }
    if (pick(random, 0, 2) == 0) {
        static const char* kNumbers[] = {"101", "1?5", "*", "10?", "999", "104"};
        f.number.emplace();
        f.number->sure = kSure[random() % 3];
        if (pick(random, 0, 3)) f.number->pattern = kNumbers[random() % 6];
    }
    if (pick(random, 0, 2) == 0) f.faults = static_cast<looks::Faults>(random() % 3);
    return f;
}

Answer examined(const book::Book& b, const looks::Findings& f, Settings s) {
    s.least_shown = 0;
    return examine(FormView(b, f.form, s), f);
}

double odds_of(const Answer& a, Ref<book::Treatment> treatment) {
    for (const Candidate& c : a.candidates)
        if (c.treatment == treatment) return c.probability;
    return 0;
}

}  // namespace footring::naming::testing
