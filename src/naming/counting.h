// naming/counting.h - the slow and obvious twin of this room, for its tests: every combination counted.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/text.h"
#include "book/book.h"
#include "looks/resolve.h"

namespace footring::naming::testing {

using book::Book;
using book::Place;
using book::Ref;

// Written from docs/model.md alone, with nothing of the room's own code: every hypothesis, wear, form, grade, year
// and visible value is a loop.
class Counting {
  public:
    Counting(const Book& b, const looks::Findings& f, const Settings& s) : b_(b), f_(f), s_(s) { count(); }

    std::vector<double> treatment;
    double unlisted = 0, elsewhere = 0, second = 0;
    std::map<int, double> year;
    double evidence = 0;  // P(everything seen)

  private:
    static constexpr int kFirst = 1860, kLast = 2000;  // beyond every date of the random Books

    std::vector<std::optional<Ref<book::Form>>> forms() const {
        if (f_.form) return {f_.form};
        std::vector<std::optional<Ref<book::Form>>> all;
        for (std::uint32_t i = 0; i < b_.forms.size(); ++i) all.emplace_back(Ref<book::Form>{i});
        return all;
    }
    std::vector<looks::Wear> wears() const {
        if (f_.wear) return {*f_.wear};
        return {looks::Wear::kNone, looks::Wear::kLight, looks::Wear::kModerate, looks::Wear::kHeavy};
    }
    std::vector<std::uint32_t> values(Place p) const {
        std::vector<std::uint32_t> v;
        for (const auto& row : b_.treatment_ornaments)
            if (row.place == p && std::ranges::find(v, row.ornament.at) == v.end()) v.push_back(row.ornament.at);
        return v;
    }
    std::vector<std::pair<std::uint32_t, double>> carried(std::uint32_t t, Place p,
                                                          std::optional<Ref<book::Form>> form) const {
        int best = -1;
        std::vector<std::pair<std::uint32_t, double>> rows;
        for (const auto& row : b_.treatment_ornaments) {
            if (row.treatment.at != t || row.place != p) continue;
            if (row.on.form && (!form || *row.on.form != *form)) continue;
            if (row.on.ware && (!form || *row.on.ware != b_[*form].ware)) continue;
            const int rank = row.on.form ? 2 : row.on.ware ? 1 : 0;
            if (rank < best) continue;
            if (rank > best) rows.clear(), best = rank;
            if (row.share > 0) rows.emplace_back(row.ornament.at, row.share);
        }
        return rows;
    }
    double lost(std::uint32_t ornament, Place p, looks::Wear wear) const {
        const auto& o = b_.ornaments[ornament];
        const bool over_glaze = o.finish == "gold" || o.finish == "platinum" || o.finish == "silver" ||
                                o.kind == book::OrnamentKind::kLine;
        const double base[] = {0, .05, .2, .5};
        const double at = p == Place::kEdge || p == Place::kHandle || p == Place::kFinial ? 1
                          : p == Place::kCentre || p == Place::kInside                    ? .3
                                                                                          : .5;
        return over_glaze ? std::min(.9, base[static_cast<int>(wear)] * at) : 0;
    }
    // P(all looks at p | treatment), by summing over true and visible values.
    double place(std::uint32_t t, Place p, std::optional<Ref<book::Form>> form, looks::Wear wear) const {
        const auto v = values(p);
        if (v.empty()) return 1;
        const auto count = static_cast<double>(v.size() + 1);
        const auto seen = [&](int visible) {  // -1: none
            double product = 1;
            for (const auto& look : f_.ornaments) {
                if (look.place != p) continue;
                if (std::holds_alternative<looks::Present>(look.value))
                    product *= visible >= 0 ? look.sure : 1 - look.sure;
                else {
                    int o = -1;
                    if (const auto* ref = std::get_if<Ref<book::Ornament>>(&look.value))
                        o = static_cast<int>(ref->at);
                    product *= o == visible ? look.sure : (1 - look.sure) / (count - 1);
                }
            }
            return product;
        };
        auto rows = carried(t, p, form);
        double sum = 0;
        for (const auto& [o, q] : rows) sum += q;
        if (sum > 1)
            for (auto& [o, q] : rows) q /= sum;
        const double bare = std::max(0.0, 1 - sum);
        std::map<int, double> truth;
        for (const auto& [o, q] : rows) truth[static_cast<int>(o)] += q;
        truth[-1] += bare * s_.bare_share;
        for (const auto o : v) truth[static_cast<int>(o)] += bare * (1 - s_.bare_share) / (count - 1);
        double p_looks = 0;
        for (const auto& [value, p_true] : truth) {
            const double gone = value < 0 ? 0 : lost(static_cast<std::uint32_t>(value), p, wear);
            p_looks += p_true * ((1 - gone) * seen(value) + gone * seen(-1));
        }
        return p_looks;
    }
    std::map<int, double> years(const std::vector<std::optional<edtf::Edtf>>& periods,
                                std::optional<edtf::Edtf> maker) const {
        const auto total = [](const std::map<int, double>& w) {
            double sum = 0;
            for (const auto& [y, p] : w) sum += p;
            return sum;
        };
        bool first = false, last = false;
        std::map<int, double> weight;
        for (int y = kFirst; y <= kLast; ++y) weight[y] = 1;
        const auto apply = [&](const std::optional<edtf::Edtf>& period) {
            if (!period) return;
            bool has_first = true, has_last = true;
            for (const auto& span : period->spans())
                has_first &= span.first.has_value(), has_last &= span.last.has_value();
            first |= has_first, last |= has_last;
            for (auto& [y, w] : weight) w *= edtf::weight(period->spans(), y, s_);
        };
        for (const auto& period : periods) apply(period);
        if (total(weight) == 0) return {};
        if (!first || !last) {
            const auto before = weight;
            const bool f = first, l = last;
            apply(maker);
            if (total(weight) == 0) weight = before, first = f, last = l;
        }
        const auto before = weight;
        for (auto& [y, w] : weight)
            if ((!first && y < 1870) || (!last && y > 1990)) w = 0;
        if (total(weight) == 0) weight = before;
        const double sum = total(weight);
        for (auto& [y, w] : weight) w /= sum;
        return weight;
    }
    std::optional<edtf::Edtf> maker_years(std::uint32_t shape) const {
        const auto m = b_.shapes[shape].maker;
        return m ? b_[*m].years : std::nullopt;
    }
    std::map<int, double> years_of(std::uint32_t t, std::optional<Ref<book::Form>> form) const {
        const auto& row = b_.treatments[t];
        const auto& shape = b_[row.shape];
        std::vector<std::optional<edtf::Edtf>> all{row.years, shape.years};
        if (row.glaze) all.push_back(b_[*row.glaze].years);
        std::set<std::uint32_t> ornaments;  // one that stands at two places has one period
        for (std::size_t p = 0; p < book::kPlaces; ++p)
            for (const auto& [o, q] : carried(t, static_cast<Place>(p), form)) ornaments.insert(o);
        for (const auto o : ornaments) all.push_back(b_.ornaments[o].years);
        for (const auto& periods : {all, {row.years}, {shape.years}, {}})
            if (auto found = years(periods, maker_years(row.shape.at)); !found.empty()) return found;
        return {};
    }
    double second_of(std::uint32_t t, std::optional<Ref<book::Form>> form) const {
        const auto grade = b_.treatments[t].grade;
        double two = grade == book::Grade::kFirst ? .02 : grade == book::Grade::kSecond ? .98 : .25, one = 1 - two;
        for (std::size_t p = 0; p < book::kPlaces; ++p)
            for (const auto& [o, q] : carried(t, static_cast<Place>(p), form))
                if (const auto h = b_.ornaments[o].second_share) two *= *h, one *= 1 - *h;
        return two / (one + two);
    }
    double unmarked(std::uint32_t shape) const {
        const auto m = b_.shapes[shape].maker;
        return m ? b_[*m].unmarked_share.value_or(.25) : .25;
    }
    double numbered(std::uint32_t shape) const {
        const auto m = b_.shapes[shape].maker;
        return m ? b_[*m].numbered_share.value_or(.3) : .3;
    }
    double mark(std::uint32_t shape, int y, int grade) const {
        if (!f_.mark) return 1;
        const double u = unmarked(shape), s = f_.mark->sure;
        if (std::holds_alternative<looks::Absent>(f_.mark->value)) return u;
        if (std::holds_alternative<looks::Present>(f_.mark->value)) return s * (1 - u) + (1 - s) * u;
        const auto seen = std::get<Ref<book::Mark>>(f_.mark->value).at;
        const auto all = static_cast<double>(b_.marks.size());
        std::vector<std::uint32_t> valid;
        for (std::uint32_t m = 0; m < b_.marks.size(); ++m) {
            const auto& row = b_.marks[m];
            if (row.maker && (!b_.shapes[shape].maker || *row.maker != *b_.shapes[shape].maker)) continue;
            if (row.years && edtf::weight(row.years->spans(), y, s_) <= 0) continue;
            if (!row.shapes.empty() && std::ranges::find(row.shapes, Ref<book::Shape>{shape}) == row.shapes.end())
                continue;
            if (row.second && grade == 0) continue;
            valid.push_back(m);
        }
        if (valid.empty()) return (1 - u) * (1 - s) / all;
        double p = 0;
        for (const auto m : valid)
            p += (m == seen ? (all > 1 ? s : 1) : (1 - s) / (all - 1)) / static_cast<double>(valid.size());
        return (1 - u) * p;
    }
    double number(std::optional<std::string> own, std::uint32_t shape) const {
        if (!f_.number) return 1;
        const double n = numbered(shape), s = f_.number->sure;
        if (!f_.number->pattern) return 1 - n;
        std::vector<std::string> fit, misfit;
        for (const auto& t : b_.treatments) {
            if (t.number.empty()) continue;
            auto& list = matches_pattern(*f_.number->pattern, t.number) ? fit : misfit;
            if (std::ranges::find(list, t.number) == list.end()) list.push_back(t.number);
        }
        const bool anything = f_.number->pattern->find_first_not_of("?*") == std::string::npos;
        const bool fits = own ? std::ranges::find(fit, *own) != fit.end() : fit.empty() || anything;
        return n * (fits ? s : (1 - s) / std::max(1.0, static_cast<double>(misfit.size())));
    }
    double faults(int grade) const {
        if (!f_.faults) return 1;
        const double p[2][3] = {{.8, .18, .02}, {.1, .4, .5}};
        return p[grade][static_cast<int>(*f_.faults)];
    }
    double category(std::size_t own, std::size_t seen, double s, std::size_t count) const {
        return own == seen ? (count > 1 ? s : 1) : (1 - s) / static_cast<double>(count - 1);
    }
    double shape_look(std::uint32_t shape) const {
        return f_.shape ? category(shape, std::get<Ref<book::Shape>>(f_.shape->value).at, f_.shape->sure,
                                   b_.shapes.size())
                        : 1;
    }
    double glaze_look(std::optional<Ref<book::Glaze>> glaze) const {
        if (!f_.glaze) return 1;
        if (!glaze) return 1.0 / static_cast<double>(b_.glazes.size());
        return category(glaze->at, std::get<Ref<book::Glaze>>(f_.glaze->value).at, f_.glaze->sure,
                        b_.glazes.size());
    }
    std::optional<std::string> number_of(std::uint32_t t) const {
        return b_.treatments[t].number.empty() ? std::nullopt : std::optional(b_.treatments[t].number);
    }
    bool looked_at(Place p) const {
        return std::ranges::any_of(f_.ornaments, [p](const auto& look) { return look.place == p; });
    }

    void count() {
        const auto n = static_cast<double>(b_.treatments.size());
        treatment.assign(b_.treatments.size(), 0);
        const auto fs = forms();
        const auto ws = wears();
        const double per_form = 1.0 / static_cast<double>(fs.size()),
                     per_wear = 1.0 / static_cast<double>(ws.size());
        const auto spread = [&](double mass, std::uint32_t shape, const std::map<int, double>& ys, double two,
                                double& sum) {
            for (const auto& [y, p_year] : ys)
                for (int g = 0; g < 2; ++g) {
                    const double p = mass * p_year * (g ? two : 1 - two) * faults(g) * mark(shape, y, g);
                    sum += p;
                    year[y] += p;
                    if (g) second += p;
                }
        };
        // Means over treatments (and forms), for the open hypotheses.
        double mean_shape = 0, mean_glaze = 0, mean_number = 0, places = 0;
        for (std::uint32_t t = 0; t < b_.treatments.size(); ++t) {
            const auto& row = b_.treatments[t];
            mean_shape += shape_look(row.shape.at) / n;
            mean_glaze += glaze_look(row.glaze) / n;
            mean_number += number(number_of(t), row.shape.at) / n;
        }
        for (const auto wear : ws) {
            double product = per_wear;
            for (std::size_t p = 0; p < book::kPlaces; ++p) {
                double mean = 0;
                for (std::uint32_t t = 0; t < b_.treatments.size(); ++t)
                    for (const auto& form : fs) mean += per_form / n * place(t, static_cast<Place>(p), form, wear);
                if (looked_at(static_cast<Place>(p))) product *= mean;
            }
            places += product;
        }
        for (std::uint32_t t = 0; t < b_.treatments.size(); ++t) {
            const auto& row = b_.treatments[t];
            for (const auto& form : fs) {
                const auto ys = years_of(t, form);
                for (const auto wear : ws) {
                    double mass = (1 - s_.open_prior) / n * per_form * per_wear * shape_look(row.shape.at) *
                                  glaze_look(row.glaze) * number(number_of(t), row.shape.at);
                    for (std::size_t p = 0; p < book::kPlaces; ++p)
                        if (looked_at(static_cast<Place>(p))) mass *= place(t, static_cast<Place>(p), form, wear);
                    spread(mass, row.shape.at, ys, second_of(t, form), treatment[t]);
                }
                spread(s_.open_prior / 2 * mean_shape * mean_glaze * mean_number * places / n * per_form,
                       row.shape.at, ys, second_of(t, form), elsewhere);
            }
            std::vector<std::optional<edtf::Edtf>> body{b_[row.shape].years};
            if (row.glaze) body.push_back(b_[*row.glaze].years);
            auto ys = years(body, maker_years(row.shape.at));
            for (const auto& periods :
                 std::vector<std::vector<std::optional<edtf::Edtf>>>{{b_[row.shape].years}, {}})
                if (ys.empty()) ys = years(periods, maker_years(row.shape.at));
            spread(s_.open_prior / 2 / n * shape_look(row.shape.at) * glaze_look(row.glaze) *
                       number(std::nullopt, row.shape.at) * places,
                   row.shape.at, ys, .25, unlisted);
        }
        double total = unlisted + elsewhere;
        for (const double p : treatment) total += p;
        evidence = total;
        for (double& p : treatment) p /= total;
        unlisted /= total, elsewhere /= total, second /= total;
        for (auto& [y, p] : year) p /= total;
    }

    const Book& b_;
    const looks::Findings& f_;
    const Settings& s_;
};

}  // namespace footring::naming::testing
