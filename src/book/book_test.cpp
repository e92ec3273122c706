// SPDX-License-Identifier: Apache-2.0
#include "book/book.h"

#include <gtest/gtest.h>

#include "book/decoration.h"

namespace footring::book {
namespace {

template <class T>
T row(std::string id, std::uint32_t pack = 0) {
    T out{};
    out.id = std::move(id);
    if constexpr (requires { out.origin; }) out.origin.pack = pack;
    return out;
}

// Two invented packs; both have a glaze "oat".
Book two_packs() {
    Book book;
    book.packs = {row<Pack>("reed"), row<Pack>("sedge")};
    book.sources = {row<Source>("s-1"), row<Source>("s-2")};
    book.makers = {row<Maker>("mill")};
    book.shapes = {row<Shape>("harrow"), row<Shape>("plough")};
    book.shapes[0].maker = Ref<Maker>{0};
    book.forms = {row<Form>("plate"), row<Form>("platter"), row<Form>("sugar")};
    book.forms[2].ware = Ware::kHollow;
    book.glazes = {row<Glaze>("oat"), row<Glaze>("oat", 1), row<Glaze>("ivory", 1)};
    book.ornaments = {row<Ornament>("fern"), row<Ornament>("reeding"), row<Ornament>("rosette")};
    book.treatments = {row<Treatment>("t-1"), row<Treatment>("t-2")};
    book.treatments[0].shape = {0};
    book.treatments[1].shape = {1};
    return book;
}

TEST(Book, FindsABareIdThatOnlyOnePackHas) {
    Book book = two_packs();
    book.index();
    EXPECT_EQ(find<Glaze>(book, "ivory", "x")->at, 2u);
    EXPECT_EQ(find<Glaze>(book, "sedge:ivory", "x")->at, 2u);
    EXPECT_EQ(find<Glaze>(book, "sedge:oat", "x")->at, 1u);
    EXPECT_EQ(find<Glaze>(book, "reed:oat", "x")->at, 0u);
}

TEST(Book, SaysWhatToWriteWhenAnIdIsNotClear) {
    Book book = two_packs();
    book.index();
    const auto line = [&](std::string_view id) { return to_line(find<Glaze>(book, id, "p.json: /glaze").error()); };
    EXPECT_EQ(line("oat"), "p.json: /glaze: several open packs have a glaze 'oat': write reed:oat or sedge:oat");
    EXPECT_EQ(line("ivry"), "p.json: /glaze: there is no glaze 'ivry': did you mean 'ivory'?");
    EXPECT_EQ(line("cobalt"), "p.json: /glaze: there is no glaze 'cobalt': use one of reed:oat, sedge:oat, ivory");
    EXPECT_EQ(line("reed:ivory"),
              "p.json: /glaze: there is no glaze 'reed:ivory': use one of reed:oat, sedge:oat, ivory");
    EXPECT_EQ(line("sege:oat"), "p.json: /glaze: the pack 'sege' of 'sege:oat' is not open: did you mean 'sedge'?");
    EXPECT_EQ(line("moss:oat"),
              "p.json: /glaze: the pack 'moss' of 'moss:oat' is not open: "
              "open that pack as well, or correct its name");
    EXPECT_EQ(to_line(find<Mark>(book, "m-1", "x").error()),
              "x: there is no mark 'm-1': no open pack has a row in marks.csv");
    EXPECT_EQ(find<Mark>(book, "m-1", "x").error().code, ProblemCode::kBadInput);
}

TEST(Book, GivesTheShortestIdThatFindsTheRowAgain) {
    Book book = two_packs();
    book.index();
    for (std::uint32_t at = 0; at < book.glazes.size(); ++at) {
        const std::string id = id_of(book, Ref<Glaze>{at});
        EXPECT_EQ(find<Glaze>(book, id, "x")->at, at);
        EXPECT_EQ(id, (std::vector<std::string>{"reed:oat", "sedge:oat", "ivory"})[at]);
    }
    EXPECT_EQ(source_ids(book, {{1}, {0}}), "s-2; s-1");
    EXPECT_EQ(source_ids(book, {}), "");
}

TEST(Book, KnowsTheMakerOfATreatmentByItsShape) {
    Book book = two_packs();
    book.index();
    EXPECT_EQ(maker_of(book, {0}), Ref<Maker>{0});
    EXPECT_EQ(maker_of(book, {1}), std::nullopt);
}

TEST(Book, NamesPlacesAndWordsBothWays) {
    for (std::size_t at = 0; at < kPlaces; ++at)
        EXPECT_EQ(place_named(kPlaceNames[at]), static_cast<Place>(at)) << kPlaceNames[at];
    EXPECT_EQ(place_named("Rim"), std::nullopt);
    EXPECT_EQ(ware_named("hollow"), Ware::kHollow);
    EXPECT_EQ(ware_named("*"), std::nullopt);
    EXPECT_EQ(name_of(Outline::kOctagonal), "octagonal");
    EXPECT_EQ(name_of(Grade::kSecond), "second");
    EXPECT_EQ(name_of(Role::kSupplier), "supplier");
    EXPECT_EQ(name_of(OrnamentKind::kRelief), "relief");
    EXPECT_EQ(name_of(Uranium::kNo), "no");
    EXPECT_EQ(Book::table_name<TreatmentOrnament>(), "treatment_ornaments");
    EXPECT_EQ(Book::thing_name<CodeScheme>(), "code scheme");
}

TreatmentOrnament carries(std::uint32_t treatment, Place place, std::uint32_t ornament, On on, double share = 1) {
    TreatmentOrnament out{};
    out.treatment = {treatment};
    out.place = place;
    out.ornament = {ornament};
    out.on = on;
    out.share = share;
    return out;
}

// t-1 wears fern on every rim, reeding instead on flat ware, nothing on the platter; a rosette inside hollow ware.
Book decorated() {
    const On every{}, flat{Ware::kFlat, {}}, hollow{Ware::kHollow, {}}, platter{{}, Ref<Form>{1}};
    Book book = two_packs();
    book.treatment_ornaments = {
        carries(0, Place::kRim, 0, every),      carries(1, Place::kRim, 2, every),
        carries(0, Place::kRim, 1, flat, 0.75), carries(0, Place::kRim, 2, flat, 0.25),
        carries(0, Place::kRim, 0, platter, 0), carries(0, Place::kInside, 2, hollow),
    };
    book.index();
    return book;
}

std::vector<std::uint32_t> rows(const std::vector<Carried>& carried) {
    std::vector<std::uint32_t> out;
    for (const Carried& c : carried) out.push_back(c.row);
    return out;
}

TEST(Decoration, TheMostSpecificRowsAloneCount) {
    const Book book = decorated();
    const Decoration plate = decoration(book, {0}, Ref<Form>{0});
    EXPECT_EQ(rows(plate[Place::kRim]), (std::vector<std::uint32_t>{2, 3}));
    EXPECT_EQ(plate[Place::kRim][0].share, 0.75);
    EXPECT_EQ(plate[Place::kRim][0].ornament, Ref<Ornament>{1});
    EXPECT_TRUE(plate[Place::kInside].empty());
    const Decoration sugar = decoration(book, {0}, Ref<Form>{2});
    EXPECT_EQ(rows(sugar[Place::kRim]), (std::vector<std::uint32_t>{0}));
    EXPECT_EQ(rows(sugar[Place::kInside]), (std::vector<std::uint32_t>{5}));
}

TEST(Decoration, ShareZeroOnAFormStatesAbsenceThere) {
    EXPECT_TRUE(decoration(decorated(), {0}, Ref<Form>{1})[Place::kRim].empty());
}

TEST(Decoration, WithoutAFormOnlyRowsOnEveryFormCount) {
    const Decoration any = decoration(decorated(), {0}, std::nullopt);
    EXPECT_EQ(rows(any[Place::kRim]), (std::vector<std::uint32_t>{0}));
    EXPECT_TRUE(any[Place::kInside].empty());
}

TEST(Decoration, IsAlikeAtFormsOfOneWareThatNoRowNames) {
    Book book = decorated();  // a plate, the platter that a row names, a hollow sugar
    EXPECT_EQ(shown_alike(book), (std::vector<Ref<Form>>{{0}, {1}, {2}}));
    book.forms.push_back(book.forms[0]);  // one more that is flat
    book.forms.push_back(book.forms[2]);
    EXPECT_EQ(shown_alike(book), (std::vector<Ref<Form>>{{0}, {1}, {2}, {0}, {2}}));
    book.treatment_ornaments.clear();
    EXPECT_EQ(shown_alike(book), (std::vector<Ref<Form>>(5, {0})));
}

TEST(Decoration, FormsOfAShapeAreItsOwnOrAll) {
    Book book = two_packs();
    EXPECT_EQ(forms_of(book, {0}).size(), 3u);
    const auto made_as = [&](std::uint32_t shape, std::uint32_t form) {
        book.shape_forms.emplace_back();
        book.shape_forms.back().shape = {shape};
        book.shape_forms.back().form = {form};
    };
    made_as(0, 2), made_as(1, 0), made_as(0, 2);
    EXPECT_EQ(forms_of(book, {0}), (std::vector<Ref<Form>>{{2}}));
    EXPECT_EQ(forms_of(book, {1}), (std::vector<Ref<Form>>{{0}}));
}

}  // namespace
}  // namespace footring::book
