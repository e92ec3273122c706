// book/book.h - the reference, as the program thinks of it: every open pack joined into one set of tables.
//   A Book that exists is valid: packs are read and checked at the door (book/pack.h). Rows refer to each other
//   by Ref, an index into the table of that type; nothing here owns a file or changes after reading.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/problem.h"
#include "edtf/edtf.h"

namespace footring::book {

template <class T>
struct Ref {
    std::uint32_t at;
    friend auto operator<=>(const Ref&, const Ref&) = default;
};

// Where on a piece. Stored in packs and pieces by name; the numbers are used in memory only.
enum class Place : std::uint8_t {
    kRim,
    kVerge,
    kCentre,
    kEdge,
    kHandle,
    kLid,
    kFinial,
    kBody,
    kInside,
    kFoot,
    kUnderside
};
inline constexpr std::size_t kPlaces = 11;
inline constexpr std::array<std::string_view, kPlaces> kPlaceNames = {
    "rim", "verge", "centre", "edge", "handle", "lid", "finial", "body", "inside", "foot", "underside"};
inline std::string_view name_of(Place p) { return kPlaceNames[static_cast<std::size_t>(p)]; }
std::optional<Place> place_named(std::string_view);

enum class Ware : std::uint8_t { kFlat, kHollow };
enum class Outline : std::uint8_t { kRound, kOval, kSquare, kOctagonal, kOther };
enum class Grade : std::uint8_t { kFirst, kSecond, kAny };
enum class Role : std::uint8_t { kPottery, kDecorator, kSupplier };
enum class OrnamentKind : std::uint8_t { kStamp, kDecal, kLine, kBand, kPrint, kSolid, kRelief };
enum class Uranium : std::uint8_t { kUnknown, kYes, kNo };
std::string_view name_of(Ware);
std::string_view name_of(Outline);
std::string_view name_of(Grade);
std::string_view name_of(Role);
std::string_view name_of(OrnamentKind);
std::string_view name_of(Uranium);
enum class Verified : std::uint8_t { kNo, kPartly, kYes };  // whether the row was compared with what it cites
std::string_view name_of(Verified);

std::optional<Ware> ware_named(std::string_view);

// Where a row stands, so that every answer can name what it leaned on.
struct Origin {
    std::uint32_t pack = 0;  // index into Book::packs
    std::uint32_t line = 0;  // 1-based line of the CSV file, the header is line 1
};

struct Pack {
    std::string id;  // the `name` of its datapackage.json
    std::string title, version, description;
    std::string folder;  // absolute
    std::string digest;  // of all its files: which state of the pack an answer was given from
    std::vector<std::string> contributors;
};
struct Source {
    std::string id, kind, creator, title, date, locator;
    std::optional<double> trust;  // 0..1
    Origin origin;
};
struct Maker {
    std::string id, name;
    Role role = Role::kPottery;
    std::string place;
    std::optional<edtf::Edtf> years;
    std::optional<double> unmarked_share, numbered_share;  // absent: the setting of that name
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct Shape {
    std::string id;
    std::optional<Ref<Maker>> maker;
    std::string name;
    std::optional<edtf::Edtf> years;
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct Form {
    std::string id, name;
    Ware ware = Ware::kFlat;
    Outline outline = Outline::kRound;
    std::string aat, note;
    Origin origin;
};
struct ShapeForm {
    Ref<Shape> shape;
    Ref<Form> form;
    std::string trade_size;
    std::optional<double> length_mm, width_mm, height_mm, capacity_ml;
    std::optional<edtf::Edtf> years;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct Glaze {
    std::string id;
    std::optional<Ref<Maker>> maker;
    std::string name;
    std::optional<std::array<double, 3>> lab;  // CIE L*a*b*, D50
    std::optional<edtf::Edtf> years;
    Uranium uranium = Uranium::kUnknown;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct Ornament {
    std::string id, name;
    OrnamentKind kind = OrnamentKind::kStamp;
    std::string finish;   // gold, platinum, silver, or a colour name
    std::string drawing;  // path inside the pack; empty: none
    std::optional<int> repeats;
    std::optional<Ref<Maker>> supplier;
    bool shared = false;                 // several potteries used it
    std::optional<double> second_share;  // share of its uses on second-grade ware
    std::optional<edtf::Edtf> years;
    std::vector<Ref<Source>> sources;
    Origin origin;
    std::string drawing_data;  // the drawing as a "data:" URI (book/drawings.h); empty: draw a schematic
};
struct Treatment {
    std::string id;
    Ref<Shape> shape;
    std::optional<Ref<Glaze>> glaze;
    std::string number, name;
    Grade grade = Grade::kAny;
    std::optional<edtf::Edtf> years;
    std::string outlet, note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
// Which pieces a decoration row speaks of; the most specific wins (form over ware over every).
struct On {
    std::optional<Ware> ware;
    std::optional<Ref<Form>> form;  // both absent: every form
    int rank() const { return form ? 2 : ware ? 1 : 0; }
};
struct TreatmentOrnament {
    Ref<Treatment> treatment;
    Place place;
    Ref<Ornament> ornament;
    On on;
    double share = 1;  // 0 states absence
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct CodeScheme {
    std::string id, pattern, tables;  // read by book/code_scheme.h
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct Mark {
    std::string id;
    std::optional<Ref<Maker>> maker;
    std::string wording, drawing;
    std::optional<edtf::Edtf> years;
    std::vector<Ref<Shape>> shapes;  // empty: every shape
    bool second = false;             // struck on second-grade ware only
    std::optional<Ref<CodeScheme>> code_scheme;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct DatedUse {
    std::string subject;  // full id of a treatment, ornament, shape, glaze or mark
    edtf::Edtf date;
    std::string kind;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct Statement {
    std::string id, subject, property, value;
    bool stance_for = true;
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};

// Words on an underside that tell when it was made: book rows for src/dating.
struct Clue {
    std::string id, name;
    std::vector<std::string> wording;  // phrases, any of which is the clue; case, spaces and signs do not count
    std::string pattern;               // RE2 for what no phrase can say (postal codes); empty: none
    std::vector<std::string> unlike;   // phrases that look like it and are not it ("new england")
    std::optional<edtf::Edtf> years;   // when ware so worded was made
    std::optional<edtf::Edtf> rarely;  // when it is met besides, seldom
    std::string kind;                  // law, practice or empty
    std::string jurisdiction, rule;    // where it holds; the law or habit in a sentence
    Verified verified = Verified::kNo;
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
// Numbers given out in order by an office: registered designs, patents.
struct NumberSeries {
    std::string id, name;
    std::vector<std::string> wording;  // phrases that stand before such a number
    std::vector<std::string> unlike;   // phrases that look like them and are not
    std::string letter;                // that may stand right before the number ("D" of D118,763)
    std::string jurisdiction, rule, note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
struct SeriesNumber {
    Ref<NumberSeries> series;
    int year = 0;
    std::int64_t first_number = 0;             // the first that was given out in that year
    std::optional<std::int64_t> other_number;  // as another published table has it
    Verified verified = Verified::kNo;
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};
// A potter's count ("36s"): a size by how many pieces made a dozen, not a measure.
struct TradeCount {
    std::string id, name;
    int count = 0;                           // pieces to the dozen
    std::optional<double> pints, height_mm;  // nominal
    Verified verified = Verified::kNo;
    std::string note;
    std::vector<Ref<Source>> sources;
    Origin origin;
};

// All open packs. Tables keep file order, pack after pack.
struct Book {
    std::vector<Pack> packs;
    std::vector<Source> sources;
    std::vector<Maker> makers;
    std::vector<Shape> shapes;
    std::vector<Form> forms;
    std::vector<ShapeForm> shape_forms;
    std::vector<Glaze> glazes;
    std::vector<Ornament> ornaments;
    std::vector<Treatment> treatments;
    std::vector<TreatmentOrnament> treatment_ornaments;
    std::vector<CodeScheme> code_schemes;
    std::vector<Mark> marks;
    std::vector<DatedUse> dated_uses;
    std::vector<Statement> statements;
    std::vector<Clue> clues;
    std::vector<NumberSeries> number_series;
    std::vector<SeriesNumber> series_numbers;
    std::vector<TradeCount> trade_counts;

    // treatment_ornaments of one treatment, as indices; filled by index()
    std::vector<std::vector<std::uint32_t>> decoration_rows;
    // "shapes/harrow" -> rows of that table which bear the id, one per pack at most; filled by index()
    std::unordered_map<std::string, std::vector<std::uint32_t>> ids;

    // Builds the two look-ups above. Called once, by whoever fills the tables (reader, test, generator).
    void index();

    template <class T>
    const std::vector<T>& table() const;
    template <class T>
    const T& operator[](Ref<T> ref) const {
        return table<T>()[ref.at];
    }
    template <class T>
    static std::string_view table_name();  // "shapes": the file without .csv
    template <class T>
    static std::string_view thing_name();  // "shape": as sentences call one row
};

// The place to add a table: a line here, its row type and vector above, its columns in book/tables.cpp.
// F is called with (type, member and table name, what one row is called).
#define FOOTRING_BOOK_TABLES(F)                             \
    F(Source, sources, "source")                            \
    F(Maker, makers, "maker")                               \
    F(Shape, shapes, "shape")                               \
    F(Form, forms, "form")                                  \
    F(ShapeForm, shape_forms, "form of a shape")            \
    F(Glaze, glazes, "glaze")                               \
    F(Ornament, ornaments, "ornament")                      \
    F(Treatment, treatments, "treatment")                   \
    F(TreatmentOrnament, treatment_ornaments, "decoration") \
    F(CodeScheme, code_schemes, "code scheme")              \
    F(Mark, marks, "mark")                                  \
    F(DatedUse, dated_uses, "dated use")                    \
    F(Statement, statements, "statement")                   \
    F(Clue, clues, "clue")                                  \
    F(NumberSeries, number_series, "number series")         \
    F(SeriesNumber, series_numbers, "number of a series")   \
    F(TradeCount, trade_counts, "trade count")

#define FOOTRING_BOOK_TABLE(Type, member, thing)                \
    template <>                                                 \
    inline const std::vector<Type>& Book::table<Type>() const { \
        return member;                                          \
    }                                                           \
    template <>                                                 \
    inline std::string_view Book::table_name<Type>() {          \
        return #member;                                         \
    }                                                           \
    template <>                                                 \
    inline std::string_view Book::thing_name<Type>() {          \
        return thing;                                           \
    }
FOOTRING_BOOK_TABLES(FOOTRING_BOOK_TABLE)
#undef FOOTRING_BOOK_TABLE

// The row of that id: "oat" when only one open pack has it, "pack:oat" always.
// kBadInput when several packs have the bare id (the remedy lists them) or none has it (with a suggestion).
// `where` names the place of the id for the person.
template <class T>
Expected<Ref<T>> find(const Book&, std::string_view id, std::string_view where);

// The shortest id that find() takes back: bare when unique among the open packs, else "pack:id".
template <class T>
std::string id_of(const Book&, Ref<T>);

std::optional<Ref<Maker>> maker_of(const Book&, Ref<Treatment>);
std::string source_ids(const Book&, const std::vector<Ref<Source>>&);  // joined by "; "

}  // namespace footring::book
