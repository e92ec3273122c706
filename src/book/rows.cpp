// SPDX-License-Identifier: Apache-2.0
// Cells become the rows of the Book. What a column may hold stands in tables.cpp; here each is read as its type.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "base/text.h"
#include "book/drawings.h"
#include "book/reading.h"
#include "book/tables.h"

namespace footring::book {

namespace {

struct RowReader {
    Reading& reading;
    std::size_t pack;
    const Sheet& sheet;
    std::size_t row;

    void fault(int column, std::string what, std::string remedy) {
        reading.faults.add(sheet.file, sheet.spot(row, column), std::move(what), std::move(remedy));
    }
    const Column& column(int at) const { return sheet.table->columns[static_cast<std::size_t>(at)]; }

    // The text of a cell. A blank one where something is required is told here, once.
    std::string_view filled(int at) {
        const std::string_view text = trim(sheet.text(row, at));
        const Column& c = column(at);
        if (text.empty() && c.required && sheet.cell_of[static_cast<std::size_t>(at)] >= 0)
            fault(at, fmt::format("{} is blank", c.name), fmt::format("fill it in: {}", plain(c.sentence)));
        return text;
    }
    static std::string plain(std::string_view sentence) {
        std::string out(sentence);
        std::erase(out, '`');
        return out;
    }

    std::string text(std::string_view name) { return std::string(filled(sheet.index(name))); }
    // Phrases joined by ; whose letters and figures are what counts.
    std::vector<std::string> phrases(std::string_view name) {
        const int at = sheet.index(name);
        std::vector<std::string> out = split(filled(at), ';');
        for (const std::string& phrase : out)
            if (std::ranges::none_of(phrase, [](unsigned char c) { return c >= 0x80 || std::isalnum(c); }))
                fault(at, fmt::format("{} {} has neither letter nor figure", column(at).name, in_quotes(phrase)),
                      "write words, or use the column pattern");
        return out;
    }
    std::string name_or_id(const std::string& id) {
        std::string name = text("name");
        return name.empty() ? id : name;
    }

    template <class T>
    std::optional<Ref<T>> resolve(int at, std::string_view id) {
        const auto found = reading.find_row(pack, table_index<T>(), id);
        if (found.row != kNoRow) return Ref<T>{found.row};
        if (!found.what.empty())
            fault(at, fmt::format("{} {} {}", column(at).name, in_quotes(id), found.what), found.remedy);
        return std::nullopt;
    }
    template <class T>
    std::optional<Ref<T>> ref(std::string_view name) {
        const int at = sheet.index(name);
        const std::string_view id = filled(at);
        return id.empty() ? std::nullopt : resolve<T>(at, id);
    }
    template <class T>
    Ref<T> required_ref(std::string_view name) {
        return ref<T>(name).value_or(Ref<T>{kNoRow});
    }
    template <class T>
    std::vector<Ref<T>> refs(std::string_view name) {
        std::vector<Ref<T>> out;
        const int at = sheet.index(name);
        const std::string_view cell = filled(at);
        if (column(at).type == CellType::kShapes && cell == "*") return out;
        for (const std::string& id : split(cell, ';'))
            if (const auto one = resolve<T>(at, id); one && std::ranges::find(out, *one) == out.end())
                out.push_back(*one);
        return out;
    }
    std::vector<Ref<Source>> sources() { return refs<Source>("source"); }

    // The full id of a row of any of the tables that the column allows.
    std::string subject() {
        const int at = sheet.index("subject");
        const std::string_view id = filled(at);
        if (id.empty()) return "";
        Reading::Found found;
        std::string hint;
        bool certain = true;  // every table could be read, so that an unknown id is a fault
        for (const std::string& table : split(column(at).refers, '|')) {
            found = reading.find_row(pack, table_index(table), id);
            if (found.row != kNoRow)
                return fmt::format("{}:{}", reading.packs[found.pack].name(), id.substr(id.find(':') + 1));
            certain = certain && !found.what.empty();
            if (found.remedy.starts_with("did you mean") || found.remedy.starts_with("write")) hint = found.remedy;
        }
        if (certain) {
            std::string tables(column(at).refers);
            for (std::size_t bar = tables.find('|'); bar != tables.npos; bar = tables.find('|'))
                tables.replace(bar, 1, ", ");
            const bool closed = found.what.ends_with("not open");
            fault(at,
                  fmt::format("subject {} {}", in_quotes(id), closed ? found.what : "is not an id in " + tables),
                  !hint.empty() ? hint
                  : closed      ? found.remedy
                                : "add it there, or correct the id");
        }
        return "";
    }

    bool one_of_words(int at, std::string_view word) {
        const auto words = words_of(column(at));
        if (word.empty() || std::ranges::find(words, word) != words.end()) return true;
        fault(at, fmt::format("{} {} is not one of {}", column(at).name, in_quotes(word), fmt::join(words, ", ")),
              did_you_mean(
                  word, words,
                  words.size() == 1 ? fmt::format("write {} or leave it blank", words[0]) : "write one of them"));
        return false;
    }
    template <class Enum>
    Enum word(std::string_view name, Enum otherwise) {
        const int at = sheet.index(name);
        const std::string_view text = filled(at);
        if (text.empty() || !one_of_words(at, text)) return otherwise;
        for (int value = 0; value < 16; ++value)
            if (name_of(static_cast<Enum>(value)) == text) return static_cast<Enum>(value);
        return otherwise;
    }
    bool says(std::string_view name, std::string_view word) {
        const int at = sheet.index(name);
        const std::string_view text = filled(at);
        return one_of_words(at, text) && text == word;
    }
    std::string listed_word(std::string_view name) {
        const int at = sheet.index(name);
        const std::string_view text = filled(at);
        return one_of_words(at, text) ? std::string(text) : "";
    }

    std::optional<double> number(std::string_view name) {
        const int at = sheet.index(name);
        const Column& c = column(at);
        const std::string_view text = filled(at);
        if (text.empty()) return std::nullopt;
        const auto value = to_number(text);
        const std::string_view kind = c.type == CellType::kWhole ? "whole number" : "number";
        if (!value) {
            std::string point(text);
            if (const auto comma = point.find(','); comma != point.npos) point[comma] = '.';
            const bool decimal_comma = point != text && to_number(point);
            fault(at, fmt::format("{} {} is text where a number belongs", c.name, in_quotes(text)),
                  decimal_comma
                      ? fmt::format("write the decimal point as in {}", point)
                      : fmt::format("write a {} from {} to {}, without its unit", kind, c.lowest, c.highest));
        } else if (*value < c.lowest || *value > c.highest) {
            fault(at, fmt::format("{} {} is outside {} to {}", c.name, in_quotes(text), c.lowest, c.highest),
                  fmt::format("write a {} from {} to {}", kind, c.lowest, c.highest));
        } else if (c.type == CellType::kWhole && !to_int(text)) {
            fault(at, fmt::format("{} {} is not a whole number", c.name, in_quotes(text)),
                  fmt::format("write a whole number from {} to {}", c.lowest, c.highest));
        } else {
            return value;
        }
        return std::nullopt;
    }

    std::optional<edtf::Edtf> date(std::string_view name) {
        const int at = sheet.index(name);
        const std::string_view text = filled(at);
        if (text.empty()) return std::nullopt;
        auto parsed = edtf::parse(text);
        if (parsed) return std::move(*parsed);
        fault(at, fmt::format("{} {}: {}", column(at).name, in_quotes(text), parsed.error().what),
              std::move(parsed.error().remedy));
        return std::nullopt;
    }

    std::string finish() {
        const int at = sheet.index("finish");
        const std::string_view text = filled(at);
        const auto fits = [](std::string_view word) {
            return std::ranges::all_of(word, [](char c) {
                return (c >= 'a' && c <= 'z') || c == ' ' || c == '-' || static_cast<unsigned char>(c) >= 0x80;
            });
        };
        if (fits(text)) return std::string(text);
        fault(at, fmt::format("finish {} is not a colour name in lower case", in_quotes(text)),
              fits(lower(text)) ? fmt::format("write {}", in_quotes(lower(text)))
                                : "write gold, platinum, silver, or a colour name such as 'grass green'");
        return "";
    }

    // The bytes of a drawing; empty when there is none, or it is at fault.
    std::string drawing_bytes(const std::string& path) {
        if (path.empty()) return "";
        const int at = sheet.index("drawing");
        auto bytes = reading.packs[pack].files->read(path);
        if (!bytes) {
            const bool missing = bytes.error().code == ProblemCode::kNotFound;
            fault(
                at,
                missing ? fmt::format("drawing {} is missing", in_quotes(path)) : "drawing: " + bytes.error().what,
                std::move(bytes.error().remedy));
            return "";
        }
        const bool png = bytes->starts_with("\x89PNG\r\n\x1a\n");
        if (!png && !(is_utf8(*bytes) && bytes->find("<svg") != bytes->npos)) {
            fault(at, fmt::format("drawing {} is neither SVG nor PNG", in_quotes(path)),
                  "save it as one of the two");
            return "";
        }
        reading.packs[pack].note_digest(path, *bytes);
        return std::move(*bytes);
    }

    On on() {
        const int at = sheet.index("on");
        const std::string_view text = filled(at);
        On out;
        if (text.empty() || text == "*") return out;
        out.ware = ware_named(text);
        if (out.ware) return out;
        const auto found = reading.find_row(pack, table_index<Form>(), text);
        if (found.row != kNoRow) {
            out.form = Ref<Form>{found.row};
        } else if (!found.what.empty()) {
            const std::vector<std::string> words = {"flat", "hollow"};
            fault(at, fmt::format("on {} is neither *, flat, hollow nor a form", in_quotes(text)),
                  did_you_mean(text, words, found.remedy));
        }
        return out;
    }
};

void read(RowReader& r, Source& s) {
    s.kind = r.text("kind");
    s.creator = r.text("creator");
    s.title = r.text("title");
    s.date = r.date("date") ? r.text("date") : "";
    s.locator = r.text("locator");
    s.trust = r.number("trust");
}
void read(RowReader& r, Maker& m) {
    m.name = r.name_or_id(m.id);
    m.role = r.word("role", Role::kPottery);
    m.place = r.text("place");
    m.years = r.date("years");
    m.unmarked_share = r.number("unmarked_share");
    m.numbered_share = r.number("numbered_share");
    m.note = r.text("note");
    m.sources = r.sources();
}
void read(RowReader& r, Shape& s) {
    s.maker = r.ref<Maker>("maker");
    s.name = r.name_or_id(s.id);
    s.years = r.date("years");
    s.note = r.text("note");
    s.sources = r.sources();
}
void read(RowReader& r, Form& f) {
    f.name = r.name_or_id(f.id);
    f.ware = r.word("ware", Ware::kFlat);
    f.outline = r.word("outline", Outline::kRound);
    f.aat = r.text("aat");
    f.note = r.text("note");
}
void read(RowReader& r, ShapeForm& f) {
    f.shape = r.required_ref<Shape>("shape");
    f.form = r.required_ref<Form>("form");
    f.trade_size = r.text("trade_size");
    f.length_mm = r.number("length_mm");
    f.width_mm = r.number("width_mm");
    f.height_mm = r.number("height_mm");
    f.capacity_ml = r.number("capacity_ml");
    f.years = r.date("years");
    f.sources = r.sources();
}
void read(RowReader& r, Glaze& g) {
    g.maker = r.ref<Maker>("maker");
    g.name = r.name_or_id(g.id);
    constexpr std::string_view kLab[] = {"lab_l", "lab_a", "lab_b"};
    std::array<double, 3> lab{};
    int given = 0, written = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        written += !r.text(kLab[i]).empty();
        if (const auto value = r.number(kLab[i])) lab[i] = *value, ++given;
    }
    if (given == 3) g.lab = lab;
    for (std::size_t i = 0; i < 3 && written > 0 && written < 3; ++i)
        if (r.text(kLab[i]).empty())
            r.fault(r.sheet.index(kLab[i]),
                    fmt::format("{} is blank, but the colour's other parts are given", kLab[i]),
                    "give lab_l, lab_a and lab_b, or none of them");
    g.years = r.date("years");
    g.uranium = r.word("uranium", Uranium::kUnknown);
    g.sources = r.sources();
}
void read(RowReader& r, Ornament& o) {
    o.name = r.name_or_id(o.id);
    o.kind = r.word("kind", OrnamentKind::kStamp);
    o.finish = r.finish();
    o.drawing = r.text("drawing");
    o.drawing_data = data_uri(r.drawing_bytes(o.drawing));
    if (const auto repeats = r.number("repeats")) o.repeats = static_cast<int>(*repeats);
    o.supplier = r.ref<Maker>("supplier");
    o.shared = r.says("shared", "yes");
    o.second_share = r.number("second_share");
    o.years = r.date("years");
    o.sources = r.sources();
}
void read(RowReader& r, Treatment& t) {
    t.shape = r.required_ref<Shape>("shape");
    t.glaze = r.ref<Glaze>("glaze");
    t.number = r.text("number");
    t.name = r.text("name");
    t.grade = r.word("grade", Grade::kAny);
    t.years = r.date("years");
    t.outlet = r.text("outlet");
    t.note = r.text("note");
    t.sources = r.sources();
}
void read(RowReader& r, TreatmentOrnament& t) {
    t.treatment = r.required_ref<Treatment>("treatment");
    t.place = r.word("place", Place::kRim);
    t.ornament = r.required_ref<Ornament>("ornament");
    t.on = r.on();
    t.share = r.number("share").value_or(1);
    t.sources = r.sources();
}
void read(RowReader& r, CodeScheme& c) {
    c.pattern = r.text("pattern");
    c.tables = r.text("tables");
    c.note = r.text("note");
    c.sources = r.sources();
}
void read(RowReader& r, Mark& m) {
    m.maker = r.ref<Maker>("maker");
    m.wording = r.text("wording");
    m.drawing = r.text("drawing");
    r.drawing_bytes(m.drawing);
    m.years = r.date("years");
    m.shapes = r.refs<Shape>("shapes");
    m.second = r.says("grade", "second");
    m.code_scheme = r.ref<CodeScheme>("code_scheme");
    m.sources = r.sources();
}
void read(RowReader& r, DatedUse& d) {
    d.subject = r.subject();
    if (auto date = r.date("date")) d.date = std::move(*date);
    d.kind = r.listed_word("kind");
    d.sources = r.sources();
}
void read(RowReader& r, Statement& s) {
    s.subject = r.subject();
    s.property = r.text("property");
    s.value = r.text("value");
    s.stance_for = !r.says("stance", "against");
    s.note = r.text("note");
    s.sources = r.sources();
}
// What a clue and a series of numbers have in common: the words by which they are found, and the rule.
template <class T>
void read_rule(RowReader& r, T& row) {
    row.name = r.name_or_id(row.id);
    row.wording = r.phrases("wording");
    row.unlike = r.phrases("unlike");
    row.jurisdiction = r.text("jurisdiction");
    row.rule = r.text("rule");
    row.note = r.text("note");
    row.sources = r.sources();
}
void read(RowReader& r, Clue& c) {
    read_rule(r, c);
    c.pattern = r.text("pattern");
    c.years = r.date("years");
    c.rarely = r.date("rarely");
    c.kind = r.listed_word("kind");
    c.verified = r.word("verified", Verified::kNo);
}
void read(RowReader& r, NumberSeries& s) {
    read_rule(r, s);
    s.letter = r.text("letter");
}
void read(RowReader& r, SeriesNumber& n) {
    n.series = r.required_ref<NumberSeries>("series");
    n.year = static_cast<int>(r.number("year").value_or(0));
    n.first_number = static_cast<std::int64_t>(r.number("first_number").value_or(0));
    if (const auto other = r.number("other_number")) n.other_number = static_cast<std::int64_t>(*other);
    n.verified = r.word("verified", Verified::kNo);
    n.note = r.text("note");
    n.sources = r.sources();
}
void read(RowReader& r, TradeCount& c) {
    c.name = r.name_or_id(c.id);
    c.count = static_cast<int>(r.number("count").value_or(0));
    c.pints = r.number("pints");
    c.height_mm = r.number("height_mm");
    c.verified = r.word("verified", Verified::kNo);
    c.note = r.text("note");
    c.sources = r.sources();
}

template <class T>
void read_table(Reading& reading, std::vector<T>& rows) {
    for (std::size_t pack = 0; pack < reading.packs.size(); ++pack) {
        const Sheet& sheet = reading.packs[pack].sheets[table_index<T>()];
        for (std::size_t row = 0; row < sheet.rows.size(); ++row) {
            T& out = rows.emplace_back();
            out.origin = {static_cast<std::uint32_t>(pack), sheet.line(row)};
            if constexpr (requires { out.id; }) out.id = trim(sheet.text(row, 0));
            if (sheet.rows[row].faulty) continue;  // its cells may have slipped into other columns
            RowReader reader{reading, pack, sheet, row};
            read(reader, out);
        }
    }
}

}  // namespace

void read_rows(Reading& reading) {
    Book& book = reading.book;
#define FOOTRING_READ(Type, member, thing) read_table<Type>(reading, book.member);
    FOOTRING_BOOK_TABLES(FOOTRING_READ)
#undef FOOTRING_READ
}

}  // namespace footring::book
