// SPDX-License-Identifier: Apache-2.0
#include "book/tables.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace footring::book {

namespace {

using enum CellType;

constexpr std::string_view kSubjects = "treatments|ornaments|shapes|glazes|marks";
// Statements cannot be made about statements, so no chain of references can run in a circle.
constexpr std::string_view kEverySubject =
    "makers|shapes|forms|glazes|ornaments|treatments|marks|code_schemes|sources";

Column id() { return {.name = "id", .type = kId, .required = true, .sentence = "its name in this pack"}; }
Column text(std::string_view name, std::string_view sentence) { return {.name = name, .sentence = sentence}; }
Column needed(Column column) {
    column.required = true;
    return column;
}
Column ref(std::string_view name, std::string_view table, std::string_view sentence) {
    return {.name = name, .type = kRef, .refers = table, .sentence = sentence};
}
Column word(std::string_view name, std::string_view words, std::string_view sentence) {
    return {.name = name, .type = kWord, .words = words, .sentence = sentence};
}
Column number(std::string_view name, double lowest, double highest, std::string_view sentence) {
    return {.name = name, .type = kNumber, .lowest = lowest, .highest = highest, .sentence = sentence};
}
Column of_type(CellType type, std::string_view name, std::string_view sentence) {
    return {.name = name, .type = type, .sentence = sentence};
}
Column years(std::string_view sentence) { return of_type(kEdtf, "years", sentence); }
Column source() {
    return {.name = "source",
            .type = kRefs,
            .refers = "sources",
            .sentence = "where this is recorded; several are joined by `;`"};
}
Column note() { return text("note", "anything else"); }
Column verified() {
    return word("verified", "yes|partly|no", "whether the row was compared with what it cites; blank: no");
}
Column whole(std::string_view name, double lowest, double highest, std::string_view sentence) {
    return {.name = name, .type = kWhole, .lowest = lowest, .highest = highest, .sentence = sentence};
}

// Bounds of lengths: under 1 mm or over 2 m, and over 100 l, a unit or a decimal point has slipped.
std::vector<Table> make_tables() {
    std::vector<Table> tables = {
        {"sources",
         "what was read, seen or heard",
         {id(), text("kind", "book, catalogue, letter, visit ..."), text("creator", "who made it"),
          text("title", "what it is called"), of_type(kEdtf, "date", "when it was made"),
          text("locator", "page, shelf mark or address"), number("trust", 0, 1, "how far it is believed")},
         {}},
        {"makers",
         "a pottery, decorator or supplier",
         {id(), text("name", "as people call it; blank: the id"),
          word("role", "pottery|decorator|supplier", "what it did; blank: pottery"), text("place", "town"),
          years("when it worked"),
          number("unmarked_share", 0, 1, "share of its pieces without a mark; blank: the setting (0.25)"),
          number("numbered_share", 0, 1, "share of its pieces that bear their number; blank: the setting (0.30)"),
          note(), source()},
         {}},
        {"shapes",
         "a maker's line of shapes",
         {id(), ref("maker", "makers", "who made it"), text("name", "as people call it; blank: the id"),
          years("when it was made"), note(), source()},
         {}},
        {"forms",
         "a kind of piece: plate, sugar, sauce boat",
         {id(), text("name", "as people call it; blank: the id"),
          needed(word("ware", "flat|hollow", "flat or hollow ware")),
          word("outline", "round|oval|square|octagonal|other", "seen from above; blank: round"),
          text("aat", "URI of the term in the Getty Art & Architecture Thesaurus"), note()},
         {}},
        {"shape_forms",
         "a form that a shape was made in, with its sizes",
         {needed(ref("shape", "shapes", "the line")), needed(ref("form", "forms", "the form")),
          text("trade_size", "catalogue inches or a potter's count; not the measured size"),
          number("length_mm", 1, 2000, "longest measure of the outline"),
          number("width_mm", 1, 2000, "shortest measure of the outline"),
          number("height_mm", 1, 2000, "height without the lid"), number("capacity_ml", 1, 100000, "to the brim"),
          years("when this form was made"), source()},
         {}},
        {"glazes",
         "a glaze",
         {id(), ref("maker", "makers", "who used it"), text("name", "as people call it; blank: the id"),
          number("lab_l", 0, 100, "CIE L* of its colour (D50); with lab_a and lab_b or not at all"),
          number("lab_a", -128, 128, "CIE a*"), number("lab_b", -128, 128, "CIE b*"), years("when it was used"),
          word("uranium", "yes|no|unknown", "whether it bears uranium; blank: unknown"), source()},
         {}},
        {"ornaments",
         "a stamp, decal, line or other decoration",
         {id(),
          text("name", "as people call it; blank: the id"),
          needed(word("kind", "stamp|decal|line|band|print|solid|relief", "how it was put on")),
          needed(of_type(kFinish, "finish", "`gold`, `platinum`, `silver`, or a colour name in lower case")),
          of_type(kDrawing, "drawing", "path of an SVG or PNG tile in the pack"),
          {.name = "repeats",
           .type = kWhole,
           .lowest = 1,
           .highest = 1000,
           .sentence = "how often it stands round a rim"},
          ref("supplier", "makers", "who sold it to potteries"),
          word("shared", "yes|no", "`yes`: several potteries used it; blank: no"),
          number("second_share", 0, 1, "share of its uses on second-grade ware; blank: unknown"),
          years("when it was used"),
          source()},
         {}},
        {"treatments",
         "shape, glaze and decoration under one catalogue number",
         {id(), needed(ref("shape", "shapes", "the line it is on")), ref("glaze", "glazes", "its glaze"),
          text("number", "the catalogue number; one treatment of a shape has it"),
          text("name", "as people call it"),
          word("grade", "first|second|any", "the grade that the number stands for; blank: any"),
          years("when it was made"), text("outlet", "who sold it"), note(), source()},
         {}},
        {"treatment_ornaments",
         "what a treatment carries at a place",
         {needed(ref("treatment", "treatments", "the treatment")),
          needed(word("place", "rim|verge|centre|edge|handle|lid|finial|body|inside|foot|underside",
                      "where on the piece")),
          needed(ref("ornament", "ornaments", "what is there")),
          {.name = "on",
           .type = kOn,
           .required = true,
           .refers = "forms",
           .sentence = "the pieces it speaks of: `*`, `flat`, `hollow`, or a form"},
          number("share", 0, 1, "share of those pieces that carry it; 0 states absence; blank: 1"),
          source()},
         {"treatment", "place", "ornament", "on"}},
        {"code_schemes",
         "how date codes of a maker are read",
         {id(), needed(of_type(kPattern, "pattern", "regular expression (RE2) with named groups")),
          of_type(kJson, "tables", "what the groups' letters and digits mean"), note(), source()},
         {}},
        {"marks",
         "a mark on the underside",
         {id(),
          ref("maker", "makers", "whose mark it is"),
          text("wording", "what it says"),
          of_type(kDrawing, "drawing", "path of an SVG or PNG picture in the pack"),
          years("when it was struck"),
          {.name = "shapes",
           .type = kShapes,
           .refers = "shapes",
           .sentence = "the lines it was struck on, joined by `;`; `*` or blank: every one"},
          word("grade", "second", "`second`: struck on second-grade ware only; blank: on any"),
          ref("code_scheme", "code_schemes", "how the date code beside it is read"),
          source()},
         {}},
        {"dated_uses",
         "a dated piece of evidence",
         {{.name = "subject",
           .type = kSubject,
           .required = true,
           .refers = kSubjects,
           .sentence = "id of a treatment, ornament, shape, glaze or mark"},
          needed(of_type(kEdtf, "date", "when it was in use")),
          word("kind", "advertisement|order form|catalogue|dated mark|letter|find", "what the evidence is"),
          source()},
         {}},
        {"statements",
         "one thing that a source says of something",
         {id(),
          {.name = "subject",
           .type = kSubject,
           .required = true,
           .refers = kEverySubject,
           .sentence = "id of what it speaks of: any row but another statement"},
          needed(text("property", "what about it, such as `years`")),
          needed(text("value", "what is said")),
          source(),
          word("stance", "for|against", "whether the source says so or denies it; blank: for"),
          note()},
         {}},
        {"clues",
         "wording on an underside that tells when a piece was made, by any maker",
         {id(), text("name", "as people call it; blank: the id"),
          text("wording", "phrases joined by `;`, any of which is the clue; case, spaces and signs do not count"),
          of_type(kPattern, "pattern",
                  "regular expression (RE2) for what no phrase can say, such as a postal code"),
          text("unlike", "phrases joined by `;` that look like it and are not it"),
          years("when ware so worded was made"), of_type(kEdtf, "rarely", "when it is met besides, seldom"),
          word("kind", "law|practice", "whether a law asked for it or a habit made it"),
          text("jurisdiction", "where it holds"), text("rule", "the law or habit, in a sentence"), verified(),
          note(), source()},
         {}},
        {"number_series",
         "a series of numbers that an office gave out in order: registered designs, patents",
         {id(), text("name", "as people call it; blank: the id"),
          text("wording", "phrases joined by `;` that stand before such a number"),
          text("unlike", "phrases joined by `;` that look like them and are not"),
          text("letter", "letter that may stand right before the number"), text("jurisdiction", "where it holds"),
          text("rule", "what a number tells, in a sentence"), note(), source()},
         {}},
        {"series_numbers",
         "the first number of a series in a year",
         {needed(ref("series", "number_series", "the series")), needed(whole("year", 1600, 2100, "the year")),
          needed(whole("first_number", 1, 1'000'000'000, "the first number that was given out in it")),
          whole("other_number", 1, 1'000'000'000,
                "the same as another published table has it; blank: none differs"),
          verified(), note(), source()},
         {"series", "year"}},
        {"trade_counts",
         "a potter's count: a size named by how many pieces made a dozen",
         {id(), text("name", "as people call it; blank: the id"),
          needed(whole("count", 1, 1000, "pieces to the dozen")),
          number("pints", 0, 1000, "nominal capacity, imperial pints"),
          number("height_mm", 1, 2000, "nominal height"), verified(), note(), source()},
         {}},
    };
    for (Table& table : tables)
        if (table.has_id()) table.key = {"id"};
    return tables;
}

constexpr std::string_view kKebab = "[a-z0-9]+(-[a-z0-9]+)*";
constexpr std::string_view kPackPart = "([a-z0-9._-]+:)?";

std::string type_in_words(const Column& column) {
    switch (column.type) {
        case kId:
            return "id";
        case kText:
            return "text";
        case kRef:
            return fmt::format("id in {}", column.refers);
        case kRefs:
            return fmt::format("ids in {}", column.refers);
        case kShapes:
            return fmt::format("`*` or ids in {}", column.refers);
        case kOn:
            return "`*`, `flat`, `hollow` or an id in forms";
        case kSubject:
            return "id";
        case kWord:
            return fmt::format("`{}`", fmt::join(words_of(column), "`, `"));
        case kFinish:
            return "colour name";
        case kNumber:
            return fmt::format("number, {} to {}", column.lowest, column.highest);
        case kWhole:
            return fmt::format("whole number, {} to {}", column.lowest, column.highest);
        case kEdtf:
            return "EDTF";
        case kDrawing:
            return "path";
        case kPattern:
            return "pattern";
        case kJson:
            return "JSON object";
    }
    return "";
}

// A Table Schema's own words for a column. What it cannot say (EDTF, ids of several tables) `footring check` holds.
nlohmann::ordered_json field_of(const Column& column) {
    nlohmann::ordered_json field = {{"name", column.name}, {"type", "string"}};
    nlohmann::ordered_json constraints = nlohmann::ordered_json::object();
    if (column.required) constraints["required"] = true;
    switch (column.type) {
        case kId:
            constraints["unique"] = true;
            constraints["pattern"] = fmt::format("^{}$", kKebab);
            break;
        case kRef:
        case kSubject:
            constraints["pattern"] = fmt::format("^{}{}$", kPackPart, kKebab);
            break;
        case kOn:
            constraints["pattern"] = fmt::format("^(\\*|{}{})$", kPackPart, kKebab);
            break;
        case kWord:
            constraints["enum"] = words_of(column);
            break;
        case kNumber:
        case kWhole:
            field["type"] = column.type == kNumber ? "number" : "integer";
            constraints["minimum"] = static_cast<int>(column.lowest);
            constraints["maximum"] = static_cast<int>(column.highest);
            break;
        case kEdtf:
            field["rdfType"] = "http://id.loc.gov/datatypes/edtf/EDTF";
            break;
        default:
            break;
    }
    std::string plain(column.sentence);
    std::erase(plain, '`');
    field["description"] = plain;
    if (!constraints.empty()) field["constraints"] = std::move(constraints);
    return field;
}

template <class Range>
bool has(const Range& range, std::string_view value) {
    return std::ranges::find(range, value) != std::ranges::end(range);
}

}  // namespace

const Column* Table::column(std::string_view column_name) const {
    const auto found = std::ranges::find(columns, column_name, &Column::name);
    return found == columns.end() ? nullptr : &*found;
}

std::span<const Table> all_tables() {
    static const std::vector<Table> tables = make_tables();
    return tables;
}

const Table* table_named(std::string_view name) {
    const auto tables = all_tables();
    const auto found = std::ranges::find(tables, name, &Table::name);
    return found == tables.end() ? nullptr : &*found;
}

std::vector<std::string> words_of(const Column& column) { return split(column.words, '|'); }

nlohmann::ordered_json table_schema(const Table& table, const PackAbout& about) {
    nlohmann::ordered_json schema;
    schema["fields"] = nlohmann::ordered_json::array();
    for (const Column& column : table.columns) schema["fields"].push_back(field_of(column));
    schema["missingValues"] = {""};
    if (table.key.size() == 1) schema["primaryKey"] = table.key.front();
    if (table.key.size() > 1) schema["primaryKey"] = table.key;
    auto foreign = nlohmann::ordered_json::array();
    for (const Column& column : table.columns) {
        if (column.type != kRef || has(about.outward, fmt::format("{}.{}", table.name, column.name))) continue;
        if (!about.tables.empty() && !has(about.tables, column.refers)) continue;
        foreign.push_back(
            {{"fields", column.name}, {"reference", {{"resource", column.refers}, {"fields", "id"}}}});
    }
    if (!foreign.empty()) schema["foreignKeys"] = std::move(foreign);
    return schema;
}

nlohmann::ordered_json table_dialect() { return {{"delimiter", ","}}; }

std::string data_package_json(const PackAbout& about) {
    nlohmann::ordered_json package = {{"profile", "tabular-data-package"},
                                      {"name", about.name},
                                      {"title", about.title},
                                      {"description", about.description},
                                      {"version", about.version}};
    package["licenses"] = nlohmann::ordered_json::array();
    package["licenses"].push_back({{"name", about.licence}});
    if (!about.contributors.empty()) {
        package["contributors"] = nlohmann::ordered_json::array();
        for (const std::string& name : about.contributors) package["contributors"].push_back({{"title", name}});
    }
    package["resources"] = nlohmann::ordered_json::array();
    for (const Table& table : all_tables()) {
        if (!about.tables.empty() && !has(about.tables, table.name)) continue;
        package["resources"].push_back({{"profile", "tabular-data-resource"},
                                        {"name", table.name},
                                        {"path", fmt::format("{}.csv", table.name)},
                                        {"mediatype", "text/csv"},
                                        {"encoding", "utf-8"},
                                        {"dialect", table_dialect()},
                                        {"description", table.sentence},
                                        {"schema", table_schema(table, about)}});
    }
    return package.dump(2) + "\n";
}

std::string data_package_json(std::string name, std::string title, std::string description) {
    PackAbout about;
    about.name = std::move(name);
    about.title = std::move(title);
    about.description = std::move(description);
    return data_package_json(about);
}

std::string tables_markdown() {
    std::string out;
    for (const Table& table : all_tables()) {
        out += fmt::format(
            "### {}.csv\n\nOne row is {}.\n\n| column | written as | must be filled | says |\n"
            "| --- | --- | --- | --- |\n",
            table.name, table.sentence);
        for (const Column& column : table.columns)
            out += fmt::format("| `{}` | {} | {} | {} |\n", column.name, type_in_words(column),
                               column.required ? "yes" : "", column.sentence);
        out += "\n";
    }
    return out;
}

}  // namespace footring::book
