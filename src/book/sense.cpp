// SPDX-License-Identifier: Apache-2.0
// Whether the rows agree with each other. Only what cannot be true is a fault: where sources merely disagree, that
// is what statements are for, and the reasoning shows it as a conflict.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "base/text.h"
#include "book/code_scheme.h"
#include "book/reading.h"

namespace footring::book {

namespace {

using Years = std::optional<edtf::Edtf>;

// How many whole years beyond a soft end still count: the fall to 0 over n years leaves n - 1 of them.
std::int64_t softness(edtf::End end, const Settings& settings) {
    const double reach = end == edtf::End::kSharp   ? 0
                         : end == edtf::End::kAbout ? settings.soft_about_years
                                                    : settings.soft_uncertain_years;
    return std::max<std::int64_t>(0, static_cast<std::int64_t>(std::ceil(reach)) - 1);
}

constexpr std::int64_t kFar = 1'000'000'000;  // stands for "no limit"; years further off are taken as this far
std::int64_t near(std::int64_t year) { return std::clamp(year, -kFar, kFar); }

struct Reach {
    std::int64_t first, last;            // with soft ends counted in
    std::int64_t sure_first, sure_last;  // with soft ends counted out; an open end is at no limit
};
std::vector<Reach> reaches(const edtf::Edtf& years, const Settings& settings) {
    std::vector<Reach> out;
    for (const edtf::Span& span : years.spans()) {
        const std::int64_t before = softness(span.first_end, settings), after = softness(span.last_end, settings);
        const std::int64_t first = span.first ? near(*span.first) : -2 * kFar;
        const std::int64_t last = span.last ? near(*span.last) : 2 * kFar;
        out.push_back({first - before, last + after, first + before, last - after});
    }
    return out;
}

enum class Order { kTogether, kBefore, kAfter, kApart };

Order order_of(const edtf::Edtf& a, const edtf::Edtf& b, const Settings& settings) {
    bool before = true, after = true;
    for (const Reach& x : reaches(a, settings))
        for (const Reach& y : reaches(b, settings)) {
            if (x.first <= y.last && y.first <= x.last) return Order::kTogether;
            before = before && x.last < y.first;
            after = after && x.first > y.last;
        }
    return before ? Order::kBefore : after ? Order::kAfter : Order::kApart;
}

struct SenseChecker {
    Reading& reading;
    const Book& book = reading.book;
    Settings settings{};  // softness of ends as the program comes

    template <class T>
    const Sheet& sheet(const T& row) const {
        return reading.sheet_of(table_index<T>(), row.origin);
    }
    template <class T>
    std::size_t row_in_sheet(std::uint32_t at, const T& row) const {
        return at - reading.packs[row.origin.pack].offset[table_index<T>()];
    }
    template <class T>
    void fault(std::uint32_t at, std::string_view column, std::string what, std::string remedy) {
        const T& row = book.table<T>()[at];
        const Sheet& s = sheet(row);
        reading.faults.add(s.file, s.spot(row_in_sheet(at, row), column), std::move(what), std::move(remedy));
    }
    template <class T>
    bool sound(std::uint32_t at) const {  // its cells could be told apart
        const T& row = book.table<T>()[at];
        return !sheet(row).rows[row_in_sheet(at, row)].faulty;
    }
    template <class T>
    std::string file_and_line(const T& row) const {
        return fmt::format("{}:{}", sheet(row).file, row.origin.line);
    }
    template <class T>
    const T* get(std::optional<Ref<T>> ref) const {
        return ref && ref->at < book.table<T>().size() ? &book[*ref] : nullptr;
    }
    // Columns whose text says when; a blank or wrong date has been told already and says nothing here.
    static std::string_view text(const Years& years) { return years->text(); }

    void numbers_on_one_shape() {
        std::map<std::pair<std::uint32_t, std::string>, std::uint32_t> first;
        for (std::uint32_t at = 0; at < book.treatments.size(); ++at) {
            const Treatment& t = book.treatments[at];
            if (!sound<Treatment>(at) || t.number.empty() || t.shape.at == kNoRow) continue;
            // Numbers are compared as a reader of pieces does, who does not tell h-1020 from H-1020.
            const auto [other, fresh] = first.try_emplace({t.shape.at, lower(t.number)}, at);
            if (fresh) continue;
            const Treatment& o = book.treatments[other->second];
            fault<Treatment>(at, "number",
                             fmt::format("number '{}' on shape '{}' is already that of '{}' at {}", t.number,
                                         book[t.shape].id, o.id, file_and_line(o)),
                             fmt::format("give line {} or line {} another number", o.origin.line, t.origin.line));
        }
    }

    // A treatment and something it is made of: `thing` is "glaze 'oat'".
    void made_with(std::uint32_t treatment, const Years& years, std::string_view thing, const auto& report) {
        const Treatment& t = book.treatments[treatment];
        if (!t.years || !years) return;
        switch (order_of(*t.years, *years, settings)) {
            case Order::kTogether:
                return;
            case Order::kBefore:
                return report(fmt::format("treatment '{}' ({}) was made before its {} existed ({})", t.id,
                                          text(t.years), thing, text(years)));
            case Order::kAfter:
                return report(fmt::format("treatment '{}' ({}) was made after its {} had ended ({})", t.id,
                                          text(t.years), thing, text(years)));
            case Order::kApart:
                return report(fmt::format("treatment '{}' ({}) and its {} ({}) were never made in the same year",
                                          t.id, text(t.years), thing, text(years)));
        }
    }

    void treatments_in_time() {
        constexpr std::string_view kRemedy = "correct the years of one of the two";
        for (std::uint32_t at = 0; at < book.treatments.size(); ++at) {
            const Treatment& t = book.treatments[at];
            if (!sound<Treatment>(at)) continue;
            const auto report = [&](std::string what) {
                fault<Treatment>(at, "years", std::move(what), std::string(kRemedy));
            };
            const Shape* shape = get<Shape>(t.shape);
            const Glaze* glaze = get(t.glaze);
            if (shape) made_with(at, shape->years, fmt::format("shape '{}'", shape->id), report);
            if (glaze) made_with(at, glaze->years, fmt::format("glaze '{}'", glaze->id), report);
            if (!t.years && shape && glaze && shape->years && glaze->years &&
                order_of(*shape->years, *glaze->years, settings) != Order::kTogether)
                fault<Treatment>(
                    at, "glaze",
                    fmt::format("glaze '{}' ({}) and shape '{}' ({}) were never in use in the same year", glaze->id,
                                text(glaze->years), shape->id, text(shape->years)),
                    std::string(kRemedy));
        }
        for (std::uint32_t at = 0; at < book.treatment_ornaments.size(); ++at) {
            const TreatmentOrnament& row = book.treatment_ornaments[at];
            const Ornament* ornament = get<Ornament>(row.ornament);  // row 0 of an empty table in a row at fault
            if (!sound<TreatmentOrnament>(at) || !ornament || row.treatment.at == kNoRow || row.share == 0)
                continue;
            made_with(row.treatment.at, ornament->years, fmt::format("ornament '{}'", ornament->id),
                      [&](std::string what) {
                          fault<TreatmentOrnament>(at, "ornament", std::move(what), std::string(kRemedy));
                      });
        }
    }

    // A maker's own things lie within the maker's years: no sharp end may stand outside, and something of both must
    // meet. Soft ends may stand outside, because 193X is some year of the thirties and not all of them.
    template <class T>
    void within_maker(std::uint32_t at) {
        const T& row = book.table<T>()[at];
        const Maker* maker = get(row.maker);
        if (!sound<T>(at) || !maker || !row.years || !maker->years) return;
        std::string_view fault_in = "lie outside the years";
        for (const Reach& x : reaches(*row.years, settings))
            for (const Reach& y : reaches(*maker->years, settings)) {
                if (x.first > y.last || y.first > x.last) continue;
                const bool begins_inside = x.first != x.sure_first || x.first == -2 * kFar || x.first >= y.first;
                const bool ends_inside = x.last != x.sure_last || x.last == 2 * kFar || x.last <= y.last;
                if (begins_inside && ends_inside) return;
                fault_in = begins_inside ? "end after those" : "begin before those";
            }
        fault<T>(at, "years",
                 fmt::format("years '{}' of {} '{}' {} of its maker '{}' ({})", text(row.years),
                             Book::thing_name<T>(), row.id, fault_in, maker->id, text(maker->years)),
                 "correct the years of one of the two, or the maker");
    }

    void rows_once() {
        std::map<std::tuple<std::uint32_t, Place, std::uint32_t, int, std::uint32_t>, std::uint32_t> first;
        for (std::uint32_t at = 0; at < book.treatment_ornaments.size(); ++at) {
            const TreatmentOrnament& row = book.treatment_ornaments[at];
            if (!sound<TreatmentOrnament>(at) || row.treatment.at == kNoRow || row.ornament.at == kNoRow) continue;
            const Sheet& s = sheet(row);
            const std::string& place = s.text(row_in_sheet(at, row), s.index("place"));
            const std::string& on = s.text(row_in_sheet(at, row), s.index("on"));
            if (place != name_of(row.place) || (row.on.rank() == 0 && on != "*")) continue;  // at fault already
            const int ware = row.on.ware ? static_cast<int>(*row.on.ware) : -1;
            const auto [other, fresh] = first.try_emplace(
                {row.treatment.at, row.place, row.ornament.at, ware, row.on.form ? row.on.form->at : kNoRow}, at);
            if (fresh) continue;
            const TreatmentOrnament& o = book.treatment_ornaments[other->second];
            fault<TreatmentOrnament>(
                at, "treatment",
                fmt::format("treatment '{}' already carries ornament '{}' at {} on {}, at {}",
                            book[row.treatment].id, book[row.ornament].id, place, on, file_and_line(o)),
                fmt::format("take line {} or line {} out", o.origin.line, row.origin.line));
        }
    }

    void patterns_of_clues() {
        for (std::uint32_t at = 0; at < book.clues.size(); ++at) {
            const Clue& clue = book.clues[at];
            if (!sound<Clue>(at) || clue.pattern.empty()) continue;
            if (auto fine = check_pattern(clue.pattern); !fine)
                fault<Clue>(at, "pattern", std::move(fine.error().what), std::move(fine.error().remedy));
        }
    }

    // An office gives out later numbers later: a year stands once in a series, and numbers rise with the years.
    void numbers_of_series() {
        std::map<std::pair<std::uint32_t, int>, std::uint32_t> rows;
        for (std::uint32_t at = 0; at < book.series_numbers.size(); ++at) {
            const SeriesNumber& row = book.series_numbers[at];
            if (!sound<SeriesNumber>(at) || row.series.at == kNoRow || row.year == 0 || row.first_number == 0)
                continue;
            const auto [other, fresh] = rows.try_emplace({row.series.at, row.year}, at);
            if (!fresh)
                fault<SeriesNumber>(
                    at, "year",
                    fmt::format("the year {} of series '{}' stands at {} already", row.year, book[row.series].id,
                                file_and_line(book.series_numbers[other->second])),
                    "keep one of the two; the column other_number takes a differing figure");
        }
        for (auto row = rows.begin(); row != rows.end(); ++row) {
            const auto next = std::next(row);
            if (next == rows.end() || next->first.first != row->first.first) continue;
            const SeriesNumber &a = book.series_numbers[row->second], &b = book.series_numbers[next->second];
            if (b.first_number <= a.first_number)
                fault<SeriesNumber>(next->second, "first_number",
                                    fmt::format("first_number {} of {} is not over that of {} ({}) at {}",
                                                b.first_number, b.year, a.year, a.first_number, file_and_line(a)),
                                    "correct one of the two");
        }
    }

    void codes() {
        for (std::uint32_t at = 0; at < book.code_schemes.size(); ++at) {
            const CodeScheme& scheme = book.code_schemes[at];
            if (!sound<CodeScheme>(at) || scheme.pattern.empty()) continue;
            if (auto fine = check(scheme); !fine)
                fault<CodeScheme>(at, fine.error().where, std::move(fine.error().what),
                                  std::move(fine.error().remedy));
        }
    }
};

}  // namespace

void check_sense(Reading& reading) {
    SenseChecker checker{reading};
    checker.numbers_on_one_shape();
    checker.treatments_in_time();
    for (std::uint32_t at = 0; at < reading.book.shapes.size(); ++at) checker.within_maker<Shape>(at);
    for (std::uint32_t at = 0; at < reading.book.marks.size(); ++at) checker.within_maker<Mark>(at);
    checker.rows_once();
    checker.codes();
    checker.patterns_of_clues();
    checker.numbers_of_series();
}

}  // namespace footring::book
