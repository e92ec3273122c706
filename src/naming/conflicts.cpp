// Conflicts: every minimal set of looks and reference statements that cannot all hold, as plain sentences.
//   Dates are half-lines ("begins 1931", "ends 1930") and, for a date code, a set of years. Half-lines clash in
//   pairs; with a set of years a clash can need two half-lines and the set, never more (an interval either meets a
//   set or not).
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <climits>
#include <cmath>
#include <set>

#include "naming/parts.h"

namespace footring::naming {

namespace {

using book::Ref;

struct HalfLine {
    std::string sentence;
    std::string subject;
    std::int64_t year;  // first or last year that it allows, soft end included
};
struct YearSet {
    std::string sentence;
    std::vector<std::int64_t> years;
};

class Clashes {
  public:
    Clashes(const FormView::Tables& t, const looks::Findings& f) : t_(t), b_(*t.book), f_(f) {}

    std::vector<Conflict> all() {
        gather_dates();
        date_clashes();
        maker_clashes();
        place_clashes();
        number_clashes();
        mark_clashes();
        return std::move(out_);
    }

  private:
    void clash(std::vector<std::string> statements) {
        if (known_.insert(statements).second) out_.push_back({std::move(statements)});
    }

    std::int64_t margin(edtf::End end) const {
        const double years = end == edtf::End::kAbout       ? t_.settings.soft_about_years
                             : end == edtf::End::kUncertain ? t_.settings.soft_uncertain_years
                                                            : 0;
        return std::max<std::int64_t>(0,
                                      static_cast<std::int64_t>(std::ceil(years)) - 1);  // weight is 0 at `years`
    }

    template <class T>
    void date(std::string_view kind, Ref<T> ref) {
        const auto& years = b_[ref].years;
        if (!years) return;
        const std::string subject = fmt::format("{} {}", kind, book::id_of(b_, ref));
        const edtf::Span* first = nullptr;
        const edtf::Span* last = nullptr;
        for (const edtf::Span& span : years->spans()) {
            if (first == nullptr || !span.first || (first->first && *span.first < *first->first)) first = &span;
            if (last == nullptr || !span.last || (last->last && *span.last > *last->last)) last = &span;
        }
        const auto about = [](edtf::End end) { return end == edtf::End::kSharp ? "" : "about "; };
        if (first->first)
            begins_.push_back({fmt::format("{} begins {}{}", subject, about(first->first_end), *first->first),
                               subject, *first->first - margin(first->first_end)});
        if (last->last)
            ends_.push_back({fmt::format("{} ends {}{}", subject, about(last->last_end), *last->last), subject,
                             *last->last + margin(last->last_end)});
    }

    void gather_dates() {
        if (const auto mark = ref_of(f_.mark)) date("mark", *mark);
        if (const auto shape = ref_of(f_.shape)) date("shape", *shape);
        if (const auto glaze = ref_of(f_.glaze)) date("glaze", *glaze);
        std::set<std::uint32_t> seen;
        for (const auto& look : f_.ornaments)
            if (const auto* o = std::get_if<Ref<book::Ornament>>(&look.value))
                if (seen.insert(o->at).second) date("ornament", *o);
        const auto numbered = numbered_treatments();
        if (numbered.size() == 1) date("treatment", numbered.front());
        if (!f_.date_code.empty()) code_years();
    }

    // What the date code can mean to the makers that are still in question.
    void code_years() {
        std::set<std::int64_t> years;
        const auto shape = ref_of(f_.shape);
        const auto mark = ref_of(f_.mark);
        for (const MarkContext& c : t_.contexts) {
            if (shape && c.shape != shape->at) continue;
            if (mark && std::ranges::find(c.marks, mark->at) == c.marks.end()) continue;
            const std::vector<bool> decoded = decoded_years(t_, c, f_);
            for (std::size_t y = 0; y < decoded.size(); ++y)
                if (decoded[y]) years.insert(t_.first_year + static_cast<std::int64_t>(y));
        }
        if (years.empty()) return;
        std::string list;
        for (const std::int64_t year : years) list += fmt::format("{}{}", list.empty() ? "" : " or ", year);
        code_ = {fmt::format("date code {} says {}", f_.date_code, list), {years.begin(), years.end()}};
    }

    void date_clashes() {
        for (const HalfLine& end : ends_)
            for (const HalfLine& begin : begins_)
                if (begin.year > end.year && begin.subject != end.subject) clash({end.sentence, begin.sentence});
        if (code_.years.empty()) return;
        const auto keeps = [&](std::int64_t first, std::int64_t last) {
            return std::ranges::any_of(code_.years, [&](std::int64_t y) { return first <= y && y <= last; });
        };
        for (const HalfLine& begin : begins_)
            if (!keeps(begin.year, LLONG_MAX)) clash({code_.sentence, begin.sentence});
        for (const HalfLine& end : ends_)
            if (!keeps(LLONG_MIN, end.year)) clash({code_.sentence, end.sentence});
        for (const HalfLine& begin : begins_)
            for (const HalfLine& end : ends_)
                if (begin.year <= end.year && !keeps(begin.year, end.year) && keeps(begin.year, LLONG_MAX) &&
                    keeps(LLONG_MIN, end.year))
                    clash({code_.sentence, begin.sentence, end.sentence});
    }

    void maker_clashes() {
        struct Made {
            std::string sentence;
            Ref<book::Maker> maker;
        };
        std::vector<Made> made;
        const auto add = [&](std::string_view kind, const auto& ref) {
            if (ref && b_[*ref].maker)
                made.push_back(
                    {fmt::format("{} {} is by {}", kind, book::id_of(b_, *ref), book::id_of(b_, *b_[*ref].maker)),
                     *b_[*ref].maker});
        };
        add("shape", ref_of(f_.shape));
        add("glaze", ref_of(f_.glaze));
        add("mark", ref_of(f_.mark));
        for (std::size_t i = 0; i < made.size(); ++i)
            for (std::size_t j = i + 1; j < made.size(); ++j)
                if (made[i].maker != made[j].maker) clash({made[i].sentence, made[j].sentence});
    }

    // Two looks at one place that no treatment could show at once.
    void place_clashes() {
        const auto& looks = f_.ornaments;
        for (std::size_t i = 0; i < looks.size(); ++i)
            for (std::size_t j = i + 1; j < looks.size(); ++j) {
                if (looks[i].place != looks[j].place) continue;
                const bool bare_i = std::holds_alternative<looks::Absent>(looks[i].value);
                const bool bare_j = std::holds_alternative<looks::Absent>(looks[j].value);
                const auto* a = std::get_if<Ref<book::Ornament>>(&looks[i].value);
                const auto* b = std::get_if<Ref<book::Ornament>>(&looks[j].value);
                const bool differ =
                    bare_i != bare_j || (a != nullptr && b != nullptr && *a != *b && !together(*a, *b));
                if (differ) clash({sentence(looks[i]), sentence(looks[j])});
            }
    }

    std::string sentence(const looks::OrnamentSighting& look) const {
        const auto* ornament = std::get_if<Ref<book::Ornament>>(&look.value);
        const std::string value = ornament != nullptr                                 ? book::id_of(b_, *ornament)
                                  : std::holds_alternative<looks::Absent>(look.value) ? "none"
                                                                                      : "something";
        return fmt::format("{} shows {}", book::name_of(look.place), value);
    }

    bool together(Ref<book::Ornament> a, Ref<book::Ornament> b) const {
        for (const auto& place : t_.place) {
            const std::uint32_t x = place.index_of[a.at], y = place.index_of[b.at];
            if (x == kNone || y == kNone) continue;
            for (const Motif& motif : place.motifs) {
                const auto has = [&](std::uint32_t v) {
                    return std::ranges::any_of(place.carried_by(motif),
                                               [v](const auto& c) { return c.first == v; });
                };
                if (has(x) && has(y)) return true;
            }
        }
        return false;
    }

    std::vector<Ref<book::Treatment>> numbered_treatments() const {
        std::vector<Ref<book::Treatment>> out;
        if (!f_.number || !f_.number->pattern) return out;
        const NumberReading reading = read_number(t_, *f_.number);
        for (std::size_t r = 0; r < t_.rows(); ++r) {
            const std::uint32_t number = t_.number_classes[t_.number[r]].number;
            if (number == kNone || !reading.matched[number]) continue;
            const Ref<book::Treatment> ref{t_.treatment[r]};
            if (out.empty() || out.back() != ref) out.push_back(ref);
        }
        return out;
    }

    void number_clashes() {
        const auto numbered = numbered_treatments();
        const auto shape = ref_of(f_.shape);
        const auto glaze = ref_of(f_.glaze);
        if (numbered.empty()) return;
        const std::string& number = *f_.number->pattern;
        if (shape && std::ranges::none_of(numbered, [&](auto t) { return b_[t].shape == *shape; }))
            clash({fmt::format("number {} is recorded only on {}", number,
                               list(numbered, [&](auto t) { return "shape " + book::id_of(b_, b_[t].shape); })),
                   fmt::format("shape is {}", book::id_of(b_, *shape))});
        if (glaze && std::ranges::none_of(numbered, [&](auto t) { return !b_[t].glaze || *b_[t].glaze == *glaze; }))
            clash({fmt::format("number {} is recorded only in {}", number,
                               list(numbered, [&](auto t) { return "glaze " + book::id_of(b_, *b_[t].glaze); })),
                   fmt::format("glaze is {}", book::id_of(b_, *glaze))});
    }

    template <class Name>
    static std::string list(const std::vector<Ref<book::Treatment>>& treatments, Name&& name) {
        std::vector<std::string> names;
        for (const auto t : treatments)
            if (std::string n = name(t); std::ranges::find(names, n) == names.end()) names.push_back(std::move(n));
        return fmt::format("{}", fmt::join(names, " or "));
    }

    void mark_clashes() {
        const auto mark = ref_of(f_.mark);
        const auto shape = ref_of(f_.shape);
        if (!mark || !shape || b_[*mark].shapes.empty()) return;
        if (std::ranges::find(b_[*mark].shapes, *shape) != b_[*mark].shapes.end()) return;
        std::vector<std::string> names;
        for (const auto s : b_[*mark].shapes) names.push_back("shape " + book::id_of(b_, s));
        clash({fmt::format("mark {} is recorded only on {}", book::id_of(b_, *mark), fmt::join(names, " or ")),
               fmt::format("shape is {}", book::id_of(b_, *shape))});
    }

    template <class T>
    static std::optional<Ref<T>> ref_of(const std::optional<looks::Sighting<T>>& sighting) {
        if (!sighting) return std::nullopt;
        const auto* ref = std::get_if<Ref<T>>(&sighting->value);
        return ref == nullptr ? std::nullopt : std::optional(*ref);
    }

    const FormView::Tables& t_;
    const book::Book& b_;
    const looks::Findings& f_;
    std::vector<HalfLine> begins_, ends_;
    YearSet code_;
    std::vector<Conflict> out_;
    std::set<std::vector<std::string>> known_;
};

}  // namespace

std::vector<Conflict> conflicts(const FormView::Tables& t, const looks::Findings& f) { return Clashes(t, f).all(); }

}  // namespace footring::naming
