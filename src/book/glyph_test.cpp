// Set FOOTRING_LOOK to a folder to have every drawing of these tests written there, to be looked at.
// SPDX-License-Identifier: Apache-2.0
#include "book/glyph.h"

#include <expat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "book/glyph_test_book.h"

namespace footring::book {
namespace {

using State = GlyphPlace::State;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::one_of_each;
using testing::ornament_named;

// What an XML parser sees of a drawing: ids, references, places and element names. `fault` is empty when it is
// sound.
struct Seen {
    std::string fault;
    std::multiset<std::string> ids, elements;
    std::set<std::string> references;
    std::map<std::string, std::string> places;  // place -> state
    std::vector<std::string> titles, labels;
    std::vector<std::string> hrefs, attributes;
    bool in_title = false, in_text = false;
};

Seen seen(const std::string& svg) {
    Seen out;
    XML_Parser parser = XML_ParserCreate("UTF-8");
    XML_SetUserData(parser, &out);
    XML_SetElementHandler(
        parser,
        [](void* data, const XML_Char* name, const XML_Char** attribute) {
            auto& s = *static_cast<Seen*>(data);
            s.elements.insert(name);
            s.in_title = std::string_view(name) == "title";
            if (s.in_title) s.titles.emplace_back();
            s.in_text = std::string_view(name) == "text";
            if (s.in_text) s.labels.emplace_back();
            std::string place, state;
            for (; *attribute != nullptr; attribute += 2) {
                const std::string key = attribute[0], value = attribute[1];
                s.attributes.push_back(key);
                if (key == "id") s.ids.insert(value);
                if (key == "data-place") place = value;
                if (key == "data-state") state = value;
                if (key == "href") s.hrefs.push_back(value);
                if (key == "href" && value.starts_with('#')) s.references.insert(value.substr(1));
                if (value.starts_with("url(#")) s.references.insert(value.substr(5, value.find(')') - 5));
                if (value.find("nan") != std::string::npos || value.find("inf") == 0) s.fault = key + "=" + value;
            }
            if (!place.empty() && !s.places.emplace(place, state).second) s.fault = "two groups of " + place;
        },
        [](void* data, const XML_Char*) {
            static_cast<Seen*>(data)->in_title = static_cast<Seen*>(data)->in_text = false;
        });
    XML_SetCharacterDataHandler(parser, [](void* data, const XML_Char* text, int size) {
        auto& s = *static_cast<Seen*>(data);
        if (s.in_title) s.titles.back().append(text, static_cast<std::size_t>(size));
        if (s.in_text) s.labels.back().append(text, static_cast<std::size_t>(size));
    });
    if (XML_Parse(parser, svg.data(), static_cast<int>(svg.size()), 1) != XML_STATUS_OK)
        out.fault = XML_ErrorString(XML_GetErrorCode(parser));
    XML_ParserFree(parser);
    return out;
}

void look_at(const std::string& name, const std::string& svg) {
    if (const char* folder = std::getenv("FOOTRING_LOOK")) {
        std::filesystem::create_directories(folder);
        std::ofstream(std::filesystem::path(folder) / (name + ".svg")) << svg;
    }
}

Glyph blank(const Book& book, std::string_view form_id, State state) {
    Glyph glyph;
    for (const Form& form : book.forms)
        if (form.id == form_id) glyph.form_id = form.id, glyph.ware = form.ware, glyph.outline = form.outline;
    glyph.lab = {92, 1, 10};
    glyph.title = std::string(form_id);
    for (GlyphPlace& at : glyph.at) at.state = state;
    return glyph;
}
GlyphPlace& at(Glyph& glyph, Place place) { return glyph.at[static_cast<std::size_t>(place)]; }
void put(const Book& book, Glyph& glyph, Place place, std::string_view ornament) {
    at(glyph, place).state = State::kDecorated;
    at(glyph, place).ornaments.push_back(ornament_named(book, ornament));
}
Book indexed() {
    Book book = one_of_each();
    book.index();
    return book;
}

void dressed(const Book& book, Glyph& glyph) {
    put(book, glyph, Place::kRim, "vine");
    put(book, glyph, Place::kEdge, "gold-line");
    if (glyph.ware == Ware::kFlat) {
        put(book, glyph, Place::kVerge, "gold-line");
        put(book, glyph, Place::kCentre, "rosette");
        return;
    }
    put(book, glyph, Place::kHandle, "gold-line");
    put(book, glyph, Place::kLid, "vine");
    put(book, glyph, Place::kFinial, "gold-solid");
    put(book, glyph, Place::kFoot, "gold-line");
    put(book, glyph, Place::kBody, "rosette");
}

void expect_sound(const std::string& name, const std::string& svg) {
    const Seen s = seen(svg);
    EXPECT_EQ(s.fault, "") << name;
    for (const auto& id : s.ids) EXPECT_EQ(s.ids.count(id), 1u) << name << ": the id " << id << " is given twice";
    for (const auto& reference : s.references)
        EXPECT_EQ(s.ids.count(reference), 1u) << name << ": nothing has the id " << reference;
    for (const auto& id : s.ids)
        EXPECT_TRUE(s.references.contains(id) || id.ends_with("title")) << name << ": " << id;
    EXPECT_THAT(s.attributes, Not(::testing::Contains("style"))) << name;
    EXPECT_LT(svg.size(), 60000u) << name;
}

TEST(Glyph, OfEveryFormIsSoundAndShowsEveryRecordedPlace) {
    const Book book = indexed();
    for (const Form& form : book.forms) {
        Glyph glyph = blank(book, form.id, State::kBare);
        dressed(book, glyph);
        const std::string svg = draw(book, glyph);
        look_at("form-" + form.id, svg);
        expect_sound(form.id, svg);
        const Seen s = seen(svg);
        for (std::size_t i = 0; i < kPlaces; ++i) {
            if (glyph.at[i].state != State::kDecorated) continue;
            const std::string place(kPlaceNames[i]);
            ASSERT_TRUE(s.places.contains(place)) << form.id << " hides the " << place;
            EXPECT_EQ(s.places.at(place), "decorated");
        }
    }
}

TEST(Glyph, OfEveryKindOfOrnamentIsSound) {
    const Book book = indexed();
    for (const Ornament& ornament : book.ornaments)
        for (const std::string_view form : {"plate", "platter", "square-plate", "cup", "sugar"}) {
            Glyph glyph = blank(book, form, State::kBare);
            for (std::size_t i = 0; i < kPlaces; ++i) put(book, glyph, static_cast<Place>(i), ornament.id);
            const std::string svg = draw(book, glyph), name = "kind-" + ornament.id + "-" + std::string(form);
            look_at(name, svg);
            expect_sound(name, svg);
            EXPECT_EQ(seen(svg).places.size(), kPlaces) << name << " hides a place";
        }
}

TEST(Glyph, OfEveryStateIsSound) {
    const Book book = indexed();
    const std::pair<std::string, State> kStates[] = {{"unknown", State::kUnknown},
                                                     {"bare", State::kBare},
                                                     {"something", State::kSomething},
                                                     {"worn", State::kWorn},
                                                     {"decorated", State::kDecorated}};
    for (const auto& [name, state] : kStates)
        for (const std::string_view form : {"plate", "platter", "octagonal-plate", "sugar", "cup", "sauce-boat"})
            for (const int mark : {0, 1, 2}) {
                Glyph glyph = blank(book, form, State::kBare);
                if (state == State::kDecorated || state == State::kWorn) dressed(book, glyph);
                for (GlyphPlace& place : glyph.at) {
                    if (state != State::kDecorated && (place.state != State::kBare || state != State::kWorn))
                        place.state = state;
                    if (state == State::kWorn && place.state == State::kDecorated) place.state = state;
                    place.picked_out =
                        mark == 1 && (&place == &at(glyph, Place::kRim) || &place == &at(glyph, Place::kHandle) ||
                                      &place == &at(glyph, Place::kCentre));
                    place.doubtful = mark == 2;
                }
                const std::string svg = draw(book, glyph);
                const std::string file = "state-" + name +
                                         (mark == 1   ? "-picked-"
                                          : mark == 2 ? "-guess-"
                                                      : "-") +
                                         std::string(form);
                look_at(file, svg);
                expect_sound(file, svg);
            }
}

TEST(Glyph, IsTheSameEachTimeAndSharesNoIdWithAnother) {
    const Book book = indexed();
    Glyph plate = blank(book, "plate", State::kBare), other = plate;
    dressed(book, plate);
    EXPECT_EQ(draw(book, plate), draw(book, plate));
    dressed(book, other);
    other.lab = {40, 2, -20};
    const Seen a = seen(draw(book, plate)), b = seen(draw(book, other));
    for (const auto& id : a.ids) EXPECT_EQ(b.ids.count(id), 0u) << id;
}

TEST(Glyph, ComesInLayersThatHoldAllOfItAndAreEqualWhereTwoTreatmentsAre) {
    const Book book = indexed();
    for (const char* form : {"plate", "platter", "sugar", "cake-plate"}) {
        Glyph glyph = blank(book, form, State::kBare);
        dressed(book, glyph);
        std::map<std::string, std::string> places;
        std::size_t images = 0;
        for (const std::string& layer : draw_layers(book, glyph)) {
            const Seen s = seen(layer);
            EXPECT_EQ(s.fault, "") << form;
            for (const std::string& reference : s.references)
                EXPECT_EQ(s.ids.count(reference), 1u) << form << ": " << reference;
            for (const auto& place : s.places)
                EXPECT_TRUE(places.insert(place).second) << form << ": " << place.first;
            images += s.elements.count("image");
        }
        EXPECT_EQ(places, seen(draw(book, glyph)).places) << form;
        EXPECT_GE(images, 2u) << form;
    }
    Glyph one = blank(book, "plate", State::kBare), other = one;
    put(book, one, Place::kRim, "vine");
    put(book, one, Place::kCentre, "rosette");
    put(book, other, Place::kRim, "vine");
    put(book, other, Place::kEdge, "cobalt-line");
    const auto a = draw_layers(book, one), b = draw_layers(book, other);
    const auto rim = [](const std::vector<std::string>& layers) {
        return *std::ranges::find_if(layers,
                                     [](const std::string& l) { return l.find("data-place='rim'") != l.npos; });
    };
    EXPECT_EQ(rim(a), rim(b));
}

TEST(Glyph, EscapesEveryTextAndDropsWhatXmlCannotHold) {
    Book book = indexed();
    book.ornaments[0].name = "<script>alert('1')</script> & \"x\" \x01\xff ]]>";
    book.ornaments[0].finish = "gold\" onload=\"x";
    Glyph glyph = blank(book, "plate", State::kBare);
    put(book, glyph, Place::kRim, "vine");
    glyph.title = "a < b & \x02 \xC3";
    glyph.form_id = "'/><script>";
    const std::string svg = draw(book, glyph);
    const Seen s = seen(svg);
    EXPECT_EQ(s.fault, "");
    EXPECT_EQ(s.elements.count("script"), 0u);
    EXPECT_EQ(s.titles.at(0), "a < b & \xEF\xBF\xBD \xEF\xBF\xBD");
    EXPECT_EQ(s.titles.at(1),
              "rim: <script>alert('1')</script> & \"x\" \xEF\xBF\xBD\xEF\xBF\xBD ]]> (stamp, gold\" onload=\"x, 16 "
              "repeats)");
    EXPECT_THAT(s.attributes, Not(::testing::Contains("onload")));
}

TEST(Glyph, ShowsADrawingAsAnImageAndNeverAsMarkup) {
    Book book = indexed();
    Glyph glyph = blank(book, "plate", State::kBare);
    put(book, glyph, Place::kRim, "hostile");
    const std::string svg = draw(book, glyph);
    EXPECT_THAT(svg, HasSubstr("href='data:image/svg+xml;base64,"));
    EXPECT_THAT(svg, Not(HasSubstr("alert")));
    EXPECT_THAT(svg, Not(HasSubstr("example.org")));
    EXPECT_EQ(seen(svg).elements.count("image"), 1u) << "defined once, used often";

    // Whatever got into the table some other way is no drawing, and a schematic stands in for it.
    for (const char* data : {"https://example.org/x.svg", "javascript:alert(1)", "data:text/html;base64,PHN2Zy8+",
                             "data:image/svg+xml;base64,PHN2Zy8+'/><script>alert(1)</script>"}) {
        book.ornaments[2].drawing_data = data;
        const Seen s = seen(draw(book, glyph));
        EXPECT_EQ(s.fault, "") << data;
        EXPECT_EQ(s.elements.count("image"), 0u) << data;
        EXPECT_EQ(s.elements.count("script"), 0u) << data;
        for (const auto& href : s.hrefs) EXPECT_EQ(href[0], '#') << href;
    }
}

TEST(Glyph, RepeatsABorderAsOftenAsRecordedButNotEndlessly) {
    Book book = indexed();
    Glyph glyph = blank(book, "plate", State::kBare);
    put(book, glyph, Place::kRim, "sprig");  // schematic: one slice a repeat, or a few
    const auto uses = [&](int repeats) {
        book.ornaments[glyph.at[0].ornaments[0].at].repeats = repeats;
        const Seen s = seen(draw(book, glyph));
        std::map<std::string, int> count;
        for (const auto& href : s.hrefs) ++count[href.substr(href.find('-'))];
        int most = 0;
        for (const auto& [slice, times] : count)
            if (slice.find('s') != std::string::npos) most = std::max(most, times);
        return most;
    };
    EXPECT_EQ(uses(8), 8);
    EXPECT_EQ(uses(23), 23);
    EXPECT_EQ(uses(100000), 120);
    EXPECT_GT(uses(-4), 3) << "a count that makes no sense is left to the tile's shape";
}

TEST(Glyph, DrawsPlainLinesAndBandsAsRingsAndNotAsPictures) {
    Book book = indexed();
    Ornament& band = book.ornaments[ornament_named(book, "maroon-band").at];
    band.drawing_data = data_uri(
        "<svg viewBox='0 0 10 10'><rect width='10' height='4' fill='#6d2530'/><rect y='6' "
        "width='10' height='2' fill='#e7c878'/></svg>");
    ASSERT_NE(band.drawing_data, "");
    Glyph glyph = blank(book, "plate", State::kBare);
    put(book, glyph, Place::kRim, "maroon-band");
    const std::string svg = draw(book, glyph);
    EXPECT_EQ(seen(svg).elements.count("image"), 0u);
    EXPECT_THAT(svg, HasSubstr("#6d2530"));
    EXPECT_THAT(svg, HasSubstr("#e7c878"));
}

TEST(Glyph, DrawsADoubleLineAsTwo) {
    Book book = indexed();
    Glyph glyph = blank(book, "plate", State::kBare);
    put(book, glyph, Place::kEdge, "cobalt-line");
    const auto strokes = [&](std::string name) {
        book.ornaments[ornament_named(book, "cobalt-line").at].name = std::move(name);
        const std::string svg = draw(book, glyph), ink = "stroke='" + std::string("#1f3f8f") + "'";
        std::size_t count = 0;
        for (std::size_t i = svg.find(ink); i != std::string::npos; i = svg.find(ink, i + 1)) ++count;
        return count;
    };
    EXPECT_EQ(strokes("Cobalt line"), 1u);
    EXPECT_EQ(strokes("Cobalt double line"), 2u);
    EXPECT_EQ(strokes("Triple line"), 3u);
}

TEST(Glyph, GivesADrawingInOneInkTheColourOfItsFinish) {
    Book book = indexed();
    Glyph glyph = blank(book, "plate", State::kBare);
    put(book, glyph, Place::kCentre, "rosette");
    EXPECT_THAT(draw(book, glyph), HasSubstr("flood-color='#a5781d'"));
    book.ornaments[ornament_named(book, "rosette").at].finish = "cobalt";
    EXPECT_THAT(draw(book, glyph), HasSubstr("flood-color='#1f3f8f'"));
    Glyph vine = blank(book, "plate", State::kBare);
    put(book, vine, Place::kRim, "vine");
    EXPECT_THAT(draw(book, vine), Not(HasSubstr("flood-color"))) << "it has colours of its own";
}

TEST(Glyph, DrawsAFlatPiecesLugsWhenItsNameTellsOfThem) {
    const Book book = indexed();
    EXPECT_EQ(seen(draw(book, blank(book, "cake-plate", State::kUnknown))).places.count("handle"), 1u);
    EXPECT_EQ(seen(draw(book, blank(book, "plate", State::kUnknown))).places.count("handle"), 0u);
}

TEST(Glyph, SaysInWordsWhatIsAtEachPlace) {
    const Book book = indexed();
    Glyph glyph = blank(book, "plate", State::kUnknown);
    put(book, glyph, Place::kRim, "vine");
    put(book, glyph, Place::kRim, "gold-line");
    at(glyph, Place::kRim).picked_out = true;
    at(glyph, Place::kCentre).state = State::kSomething;
    at(glyph, Place::kVerge).state = State::kBare;
    at(glyph, Place::kFoot) = {State::kWorn, {ornament_named(book, "cobalt-line")}, false, true};
    const Seen s = seen(draw(book, glyph));
    EXPECT_THAT(s.titles,
                ::testing::ElementsAre(
                    "plate",
                    "rim: vine & <b>co</b> (stamp, gold, 16 repeats) or gold-line & <b>co</b> (line, gold); "
                    "candidates differ here",
                    "centre: something, not recognised", "verge: nothing there", "edge: not looked at",
                    "foot: traces of cobalt-line & <b>co</b> (line, cobalt); a guess"));
}

TEST(Glyph, LeavesOutOnlyPlacesThatTheFormHasNotAndNobodyRecorded) {
    const Book book = indexed();
    const auto places = [&](std::string_view form, State state) {
        std::set<std::string> names;
        for (const auto& [place, s] : seen(draw(book, blank(book, form, state))).places) names.insert(place);
        return names;
    };
    EXPECT_EQ(places("plate", State::kUnknown), (std::set<std::string>{"rim", "verge", "centre", "edge"}));
    EXPECT_EQ(places("cup", State::kBare),
              (std::set<std::string>{"rim", "edge", "handle", "body", "inside", "foot"}));
    EXPECT_EQ(places("sugar", State::kUnknown),
              (std::set<std::string>{"rim", "edge", "handle", "body", "foot", "lid", "finial"}));
    EXPECT_EQ(places("plate", State::kWorn).size(), kPlaces);
    EXPECT_EQ(places("sauce-boat", State::kSomething).size(), kPlaces);
    EXPECT_THAT(seen(draw(book, blank(book, "plate", State::kWorn))).labels,
                ::testing::ElementsAre("handle", "underside", "foot", "body", "inside", "lid", "finial"));
    EXPECT_THAT(seen(draw(book, blank(book, "sugar", State::kWorn))).labels,
                ::testing::ElementsAre("inside", "centre", "verge", "underside"));
    EXPECT_THAT(seen(draw(book, blank(book, "cup", State::kBare))).labels, ::testing::IsEmpty());
}

TEST(Glyph, OfAnOvalDishIsWideAndOfAllElseSquare) {
    const Book book = indexed();
    EXPECT_THAT(draw(book, blank(book, "platter", State::kBare)), HasSubstr("viewBox='0 0 200 150'"));
    for (const char* form : {"plate", "square-plate", "octagonal-plate", "cup", "baker"})
        EXPECT_THAT(draw(book, blank(book, form, State::kBare)), HasSubstr("viewBox='0 0 200 200'")) << form;
}

TEST(GlyphOf, TakesWhatTheTreatmentCarriesOnThatForm) {
    Book book = one_of_each();
    Shape shape;
    shape.id = shape.name = "harrow";
    book.shapes.push_back(shape);
    Glaze glaze;
    glaze.id = "oat";
    glaze.lab = {90, 1, 9};
    book.glazes.push_back(glaze);
    Treatment treatment;
    treatment.id = "t-117", treatment.number = "117", treatment.name = "Vine", treatment.shape = {0};
    treatment.glaze = Ref<Glaze>{0};
    book.treatments.push_back(treatment);
    const auto row = [&](Place place, std::string_view ornament, double share, On on = {}) {
        TreatmentOrnament r{{0}, place, ornament_named(book, ornament), on, share, {}, {}};
        book.treatment_ornaments.push_back(r);
    };
    row(Place::kRim, "sprig", 0.3);
    row(Place::kRim, "vine", 0.7);
    row(Place::kEdge, "gold-line", 0.4);
    row(Place::kHandle, "gold-line", 1);
    row(Place::kLid, "vine", 1);
    row(Place::kUnderside, "view", 1, On{Ware::kFlat, {}});
    book.index();

    const Glyph plate = glyph_of(book, {0}, Ref<Form>{0});
    EXPECT_EQ(plate.title, "117 Vine, Dinner plate");
    EXPECT_EQ(plate.lab, (std::array<double, 3>{90, 1, 9}));
    const auto state = [](const Glyph& g, Place p) { return g.at[static_cast<std::size_t>(p)].state; };
    EXPECT_EQ(plate.at[0].ornaments, (std::vector{ornament_named(book, "vine"), ornament_named(book, "sprig")}));
    EXPECT_FALSE(plate.at[0].doubtful);
    EXPECT_TRUE(plate.at[static_cast<std::size_t>(Place::kEdge)].doubtful) << "oftener bare than not";
    EXPECT_EQ(state(plate, Place::kCentre), State::kBare);
    EXPECT_EQ(state(plate, Place::kHandle), State::kBare) << "a row on every form gives a plate no handle";
    EXPECT_EQ(state(plate, Place::kLid), State::kBare);
    EXPECT_EQ(state(plate, Place::kUnderside), State::kDecorated);

    const auto form_at = [&](std::string_view id) {
        for (std::uint32_t i = 0; i < book.forms.size(); ++i)
            if (book.forms[i].id == id) return Ref<Form>{i};
        return Ref<Form>{0};
    };
    const Glyph cup = glyph_of(book, {0}, form_at("cup")), sugar = glyph_of(book, {0}, form_at("sugar"));
    EXPECT_EQ(state(cup, Place::kHandle), State::kDecorated);
    EXPECT_EQ(state(cup, Place::kLid), State::kBare);
    EXPECT_EQ(state(sugar, Place::kLid), State::kDecorated);
    EXPECT_EQ(state(cup, Place::kUnderside), State::kBare);

    book.treatment_ornaments[3].on = On{Ware::kHollow, {}};
    book.index();
    EXPECT_EQ(state(glyph_of(book, {0}, form_at("bowl-9")), Place::kHandle), State::kBare);
    EXPECT_EQ(state(glyph_of(book, {0}, form_at("whatsit")), Place::kHandle), State::kDecorated)
        << "of a form that nobody knows, nothing is left out";
    EXPECT_EQ(state(glyph_of(book, {0}, form_at("cup")), Place::kHandle), State::kDecorated);

    const Glyph any = glyph_of(book, {0}, std::nullopt);
    EXPECT_EQ(any.title, "117 Vine");
    EXPECT_EQ(state(any, Place::kLid), State::kDecorated) << "nothing is known of the form, so nothing is left out";
}

TEST(Glyph, ShowsEveryAlternativeOfAPlace) {
    const Book book = indexed();
    for (const std::string_view form : {"plate", "platter", "octagonal-plate", "sugar", "bowl-9"}) {
        Glyph glyph = blank(book, form, State::kBare);
        glyph.lab = {38, 4, -28};  // a dark ground
        for (const Place place :
             {Place::kRim, Place::kEdge, Place::kVerge, Place::kCentre, Place::kBody, Place::kInside})
            for (const std::string_view ornament : {"vine", "maroon-band", "rosette"})
                put(book, glyph, place, ornament);
        const std::string svg = draw(book, glyph);
        look_at("alternatives-" + std::string(form), svg);
        const Seen s = seen(svg);
        EXPECT_EQ(s.fault, "") << form;
        EXPECT_EQ(s.elements.count("image"), 2u) << form << " leaves out a drawing";
        EXPECT_THAT(svg, HasSubstr("#6d2530")) << form << " leaves out the band";
    }
}

TEST(RimStrip, IsSoundForEveryOrnament) {
    const Book book = indexed();
    for (std::uint32_t i = 0; i < book.ornaments.size(); ++i) {
        const std::string svg = rim_strip(book, {i});
        look_at("strip-" + book.ornaments[i].id, svg);
        expect_sound(book.ornaments[i].id, svg);
    }
}

}  // namespace
}  // namespace footring::book
