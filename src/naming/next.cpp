// Next look: for every look not yet made, the expected fall of entropy over treatments, grade and year.
//   Exact while at most kMostItems rows hold the probability (turning over: while kMostTurned is not passed);
//   beyond that, over as many rows drawn evenly from them.
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "naming/numbers.h"
#include "naming/parts.h"

namespace footring::naming {

namespace {

constexpr std::size_t kMostItems = 1024;        // rows looked at; keeps the answer quick on a pack of 100,000
constexpr std::size_t kMostBodies = 128;        // shapes and glazes of the unlisted hypothesis, likewise
constexpr std::size_t kMostTurned = 3'000'000;  // marks x years x rows of turning over; beyond, fewer rows
constexpr double kLeastBits = 1e-6;             // a look that tells less is not offered

struct Told {
    double treatment = 0, grade = 0, year = 0;
};

class Asker {
  public:
    explicit Asker(const Weighing& w, std::size_t most_items = kMostItems) : w_(w), t_(w.t), s_(w.t.settings) {
        collect_items(most_items);
        hypothesis_.assign(t_.book->treatments.size() + 2, 0.0);
        for (const Item& i : items_) hypothesis_[i.hypothesis] += i.mass, slots_[i.slot].mass += i.mass;
        std::array<double, 2> grade{};
        std::vector<double> year(t_.years());
        for (const Slot& slot : slots_) {
            for (std::size_t g = 0; g < 2; ++g) grade[g] += slot.mass * slot.grade[g];
            for (std::size_t k = 0; k < slot.year.size(); ++k) year[slot.first + k] += slot.mass * slot.year[k];
        }
        now_ = {entropy_bits(hypothesis_), entropy_bits(grade), entropy_bits(year)};
    }

    // P(outcome | item) where it is not that of the outcome's kind.
    struct Touch {
        std::uint32_t item;
        double given;
    };
    // For outcomes that are alike but for few items. Outcome o is of kind kind_of(o) < kinds, and then has the
    // chance given(item, kind); but all of `even` (the open hypotheses, as a rule) have the chance even_given(o),
    // and those of touched[o] the one that stands there. A hypothesis is even as a whole or not at all. Complete:
    // over all outcomes the chances of each item sum to 1.
    template <class KindOf, class Given, class Even, class EvenGiven>
    Told by_kind(const std::vector<std::vector<Touch>>& touched, std::size_t kinds, KindOf&& kind_of, Given&& given,
                 Even&& even, EvenGiven&& even_given) const {
        struct Sums {
            double all = 0, treatment = 0;  // treatment: sum of h over the hypotheses that are not even
            std::array<double, 2> grade{};
            std::vector<double> year, hypothesis;  // hypothesis: by place in present_
            void add(double p, const Slot& slot) {
                all += p;
                for (std::size_t g = 0; g < 2; ++g) grade[g] += p * slot.grade[g];
                for (std::size_t k = 0; k < slot.year.size(); ++k) year[slot.first + k] += p * slot.year[k];
            }
        };
        const Sums none{0, 0, {}, std::vector<double>(t_.years()), std::vector<double>(present_.size())};
        Sums evenly = none;
        std::vector<Sums> of_kind(kinds, none);
        std::vector<std::uint32_t> even_at;  // places in present_
        for (std::size_t k = 0; k < items_.size(); ++k) {
            const Item& i = items_[k];
            if (even(i)) {
                if (evenly.hypothesis[at_[k]] == 0) even_at.push_back(at_[k]);
                evenly.add(i.mass, slots_[i.slot]);
                evenly.hypothesis[at_[k]] += i.mass;
                continue;
            }
            for (std::size_t kind = 0; kind < kinds; ++kind) {
                const double p = i.mass * given(i, kind);
                of_kind[kind].add(p, slots_[i.slot]);
                of_kind[kind].hypothesis[at_[k]] += p;
            }
        }
        for (Sums& sums : of_kind)
            for (const double p : sums.hypothesis) sums.treatment += h(p);
        Told joint;
        double outcome_bits = 0;
        Sums now = none;
        std::vector<std::uint32_t> moved;
        for (std::size_t o = 0; o < touched.size(); ++o) {
            const std::size_t kind = kind_of(o);
            const Sums& base = of_kind[kind];
            const double e = even_given(o);
            now.all = base.all + e * evenly.all;
            for (std::size_t g = 0; g < 2; ++g) now.grade[g] = base.grade[g] + e * evenly.grade[g];
            for (std::size_t y = 0; y < now.year.size(); ++y) now.year[y] = base.year[y] + e * evenly.year[y];
            double treatment = base.treatment;
            for (const std::uint32_t at : even_at) treatment += h(e * evenly.hypothesis[at]);
            for (const Touch& touch : touched[o]) {
                const Item& i = items_[touch.item];
                const double more = i.mass * (touch.given - given(i, kind));
                now.add(more, slots_[i.slot]);
                now.hypothesis[at_[touch.item]] += more;
                moved.push_back(at_[touch.item]);
            }
            for (const std::uint32_t at : moved) {
                if (now.hypothesis[at] == 0) continue;  // seen to already, or nothing
                treatment += h(base.hypothesis[at] + now.hypothesis[at]) - h(base.hypothesis[at]);
                now.hypothesis[at] = 0;
            }
            moved.clear();
            outcome_bits += h(now.all);
            joint.treatment += treatment;
            for (const double p : now.grade) joint.grade += h(p);
            for (const double p : now.year) joint.year += h(p);
        }
        return fall(outcome_bits, joint);
    }

    // Outcomes: each ornament recorded there, and none.
    Told place(std::size_t p) const {
        const PlaceTable& place = t_.place[p];
        const std::size_t none = place.values.size();
        const double right = hit(s_.sure_sure, place.size()), wrong = miss(s_.sure_sure, place.size());
        // What shows of a bare place of which nothing is recorded, by wear case: each value that stays, each that
        // wears off, and none.
        enum Kind : std::size_t { kStays, kWearsOff, kNothing };
        const auto fading = static_cast<double>(std::ranges::count(place.wears_off, true));
        std::vector<double> lost;
        std::vector<std::array<double, 3>> bare;
        for (const WearCase& c : w_.wears) {
            const double gone = loss(c.wear, static_cast<book::Place>(p), s_);
            const double each = (1 - s_.bare_share) / static_cast<double>(none);
            lost.push_back(gone);
            bare.push_back(
                {each, each * (1 - gone), (place.recorded() ? s_.bare_share : 1) + each * fading * gone});
        }
        const auto kind_of = [&](std::size_t o) {
            return o == none ? kNothing : place.wears_off[o] ? kWearsOff : kStays;
        };
        const auto shown = [&](double seen) { return wrong + (right - wrong) * seen; };
        const auto given = [&](const Item& i, std::size_t kind) {
            double seen = 0;
            for (std::size_t k = 0; k < bare.size(); ++k) seen += i.wear[k] * bare[k][kind];
            return shown(seen * place.motifs[t_.motif[p][i.row]].bare);
        };
        std::vector<std::vector<Touch>> touched(none + 1);
        std::vector<double> mean(none + 1);  // what the open hypotheses show
        const auto show = [&](const Motif& motif, const std::array<double, 4>& wear, double weight, auto&& at) {
            double worn = 0;  // share of what the motif carries that is gone
            for (const auto& [value, share] : place.carried_by(motif)) {
                double left = 0;
                for (std::size_t k = 0; k < lost.size(); ++k)
                    left += wear[k] * (place.wears_off[value] ? 1 - lost[k] : 1);
                at(value, weight * share * left);
                for (std::size_t k = 0; k < lost.size(); ++k)
                    worn += wear[k] * (place.wears_off[value] ? lost[k] : 0) * share;
            }
            if (worn > 0) at(static_cast<std::uint32_t>(none), weight * worn);
        };
        for (std::uint32_t k = 0; k < items_.size(); ++k) {
            const Item& i = items_[k];
            if (i.row == kNone) continue;
            show(place.motifs[t_.motif[p][i.row]], i.wear, 1, [&](std::uint32_t value, double seen) {
                auto& here = touched[value];
                if (here.empty() || here.back().item != k) here.push_back({k, given(i, kind_of(value))});
                here.back().given += (right - wrong) * seen;
            });
        }
        double mean_bare = 0;
        for (const Motif& motif : place.motifs) {
            show(motif, open_wear_, motif.frequency,
                 [&](std::uint32_t value, double seen) { mean[value] += seen; });
            mean_bare += motif.frequency * motif.bare;
        }
        for (std::size_t o = 0; o <= none; ++o)
            for (std::size_t k = 0; k < bare.size(); ++k)
                mean[o] += mean_bare * open_wear_[k] * bare[k][kind_of(o)];
        return by_kind(
            touched, 3, kind_of, given, [](const Item& i) { return i.row == kNone; },
            [&](std::size_t o) { return shown(mean[o]); });
    }

    Told shape() const {
        const std::size_t count = t_.book->shapes.size();
        return column(count, t_.shape, t_.shape_frequency, [](const Body& b) { return b.shape; });
    }
    Told glaze() const {
        const std::size_t count = t_.book->glazes.size();
        return column(count, t_.glaze, t_.glaze_frequency, [count](const Body& b) {
            return b.glaze == kNone ? static_cast<std::uint32_t>(count) : b.glaze;
        });
    }

    Told faults() const {
        const auto given = faults_given_grade(s_);
        Told joint;
        double outcome_bits = 0;
        // Faults depend on the grade alone: years are summed once for each grade, not for each outcome.
        std::array<std::vector<double>, 2> year_of_grade{std::vector<double>(t_.years()),
                                                         std::vector<double>(t_.years())};
        std::array<double, 2> all_of_grade{};
        for (const Slot& slot : slots_) {
            const double mass = slot.mass;
            for (std::size_t g = 0; g < 2; ++g) {
                all_of_grade[g] += mass * slot.grade[g];
                for (const Slot::Part& part : slot.parts) {
                    double* const year = year_of_grade[g].data() + part.first;
                    for (std::size_t k = 0; k < part.post[g].size(); ++k) year[k] += mass * part.post[g][k];
                }
            }
        }
        std::vector<double> by_hypothesis(hypothesis_.size()), by_slot(slots_.size());
        for (std::size_t o = 0; o < 3; ++o) {
            const std::array<double, 2> grade{all_of_grade[0] * given[0][o], all_of_grade[1] * given[1][o]};
            for (std::size_t slot = 0; slot < slots_.size(); ++slot)
                by_slot[slot] = slots_[slot].grade[0] * given[0][o] + slots_[slot].grade[1] * given[1][o];
            outcome_bits += h(grade[0] + grade[1]);
            joint.grade += h(grade[0]) + h(grade[1]);
            for (std::size_t y = 0; y < t_.years(); ++y)
                joint.year += h(year_of_grade[0][y] * given[0][o] + year_of_grade[1][y] * given[1][o]);
            for (const std::uint32_t id : present_) by_hypothesis[id] = 0;
            for (const Item& i : items_) by_hypothesis[i.hypothesis] += i.mass * by_slot[i.slot];
            for (const std::uint32_t id : present_) joint.treatment += h(by_hypothesis[id]);
        }
        return fall(outcome_bits, joint);
    }

    // Outcomes: each mark of the Book, none, and a mark that no pack lists. A context's own marks are few; all
    // others are read with one and the same chance, so they are counted together.
    Told mark() const {
        struct Sum {
            double base = 0;                // each mark that is not one's own
            double none = 0, unlisted = 0;  // no mark; a mark that no pack lists
            void add(const Sum& x, double weight) {
                base += weight * x.base;
                none += weight * x.none;
                unlisted += weight * x.unlisted;
            }
        };
        struct Own {
            std::uint32_t mark;
            double more;  // over base
        };
        const auto marks = static_cast<double>(t_.book->marks.size());
        const double right = hit(s_.sure_sure, marks), wrong = miss(s_.sure_sure, marks);
        std::vector<Sum> slot_sum(slots_.size()), by_year(t_.years());
        std::array<Sum, 2> by_grade;
        std::vector<std::vector<Own>> slot_own(slots_.size());
        std::vector<double> more(t_.book->marks.size());  // by mark, over all slots
        std::vector<std::array<double, 2>> more_grade(more.size());
        std::vector<std::vector<double>> more_year(more.size());  // empty: nowhere one's own
        for (std::size_t slot = 0; slot < slots_.size(); ++slot) {
            const double mass = slots_[slot].mass;
            for (const Slot::Part& part : slots_[slot].parts) {
                const MarkContext& c = t_.contexts[part.context];
                const std::size_t own_begin = slot_own[slot].size();
                for (const std::uint32_t m : c.marks) {
                    slot_own[slot].push_back({m, 0});
                    if (more_year[m].empty()) more_year[m].assign(t_.years(), 0.0);
                }
                for (std::size_t g = 0; g < 2; ++g)
                    for (std::size_t k = 0; k < part.post[g].size(); ++k) {
                        const double p = part.post[g][k];
                        if (p == 0) continue;
                        const std::size_t y = part.first + k;
                        const double valid = c.valid[g][y];
                        const Sum here{p * (1 - c.unmarked) * (valid > 0 ? wrong : (1 - s_.sure_sure) / marks),
                                       p * c.unmarked, valid > 0 ? 0 : p * (1 - c.unmarked) * s_.sure_sure};
                        slot_sum[slot].add(here, 1);
                        by_grade[g].add(here, mass);
                        by_year[y].add(here, mass);
                        if (valid == 0) continue;
                        const double each = p * (1 - c.unmarked) * (right - wrong) / valid;
                        for (std::size_t i = 0; i < c.marks.size(); ++i) {
                            const std::uint32_t m = c.marks[i];
                            if (!t_.mark_years[m][y] || (g == 0 && t_.book->marks[m].second)) continue;
                            slot_own[slot][own_begin + i].more += each;
                            more[m] += mass * each;
                            more_grade[m][g] += mass * each;
                            more_year[m][y] += mass * each;
                        }
                    }
            }
        }
        Told joint;
        Sum all;
        std::map<std::uint32_t, std::pair<Sum, std::map<std::uint32_t, double>>> by_hypothesis;
        for (const Item& i : items_) {
            auto& [sum, own] = by_hypothesis[i.hypothesis];
            sum.add(slot_sum[i.slot], i.mass);
            for (const Own& o : slot_own[i.slot])
                if (o.more > 0) own[o.mark] += i.mass * o.more;
        }
        for (const auto& [id, entry] : by_hypothesis) {
            const auto& [sum, own] = entry;
            all.add(sum, 1);
            joint.treatment +=
                (marks - static_cast<double>(own.size())) * h(sum.base) + h(sum.none) + h(sum.unlisted);
            for (const auto& [mark, extra] : own) joint.treatment += h(sum.base + extra);
        }
        double outcome_bits = h(all.none) + h(all.unlisted);
        for (const double m : more) outcome_bits += h(all.base + m);
        for (std::size_t g = 0; g < 2; ++g) {
            joint.grade += h(by_grade[g].none) + h(by_grade[g].unlisted);
            for (const auto& m : more_grade) joint.grade += h(by_grade[g].base + m[g]);
        }
        const auto nowhere =
            static_cast<double>(std::ranges::count_if(more_year, [](const auto& m) { return m.empty(); }));
        for (std::size_t y = 0; y < t_.years(); ++y) {
            joint.year += h(by_year[y].none) + h(by_year[y].unlisted) + nowhere * h(by_year[y].base);
            for (const auto& m : more_year)
                if (!m.empty()) joint.year += h(by_year[y].base + m[y]);
        }
        return fall(outcome_bits, joint);
    }

    Told number() const {
        std::vector<double> mass;
        for (const Item& i : items_) mass.push_back(i.mass);
        const Numbers numbers(t_, items_);
        Told joint;
        add_numbers(numbers, mass, joint);
        std::array<std::vector<double>, 2> by_grade;
        for (std::size_t g = 0; g < 2; ++g) {
            for (const Item& i : items_) by_grade[g].push_back(i.mass * slots_[i.slot].grade[g]);
            joint.grade += numbers.outcome_bits(by_grade[g]);
        }
        std::vector<double> at_year(items_.size());
        for (std::size_t y = 0; y < t_.years(); ++y) {
            for (std::size_t k = 0; k < items_.size(); ++k)
                at_year[k] = items_[k].mass * year_of(items_[k].slot, y);
            joint.year += numbers.outcome_bits(at_year);
        }
        return fall(numbers.outcome_bits(mass), joint);
    }

    // Mark and number at once: what turning the piece over tells.
    Told underside() const {
        const Numbers numbers(t_, items_);
        const std::size_t marks = t_.book->marks.size();
        Told joint;
        double outcome_bits = 0;
        std::vector<double> mass(items_.size());
        const auto weigh = [&](const std::vector<double>& by_slot) {
            for (std::size_t k = 0; k < items_.size(); ++k) mass[k] = items_[k].mass * by_slot[items_[k].slot];
        };
        for (std::size_t o = 0; o < marks + 2; ++o) {
            // P(mark, year, grade | slot)
            std::vector<double> any(slots_.size());
            std::vector<std::array<double, 2>> grade(slots_.size());
            std::vector<std::vector<double>> year(t_.years(), std::vector<double>(slots_.size()));
            for (std::size_t slot = 0; slot < slots_.size(); ++slot)
                for (const Slot::Part& part : slots_[slot].parts)
                    for (std::size_t g = 0; g < 2; ++g)
                        for (std::size_t k = 0; k < part.post[g].size(); ++k) {
                            if (part.post[g][k] == 0) continue;
                            const std::size_t y = part.first + k;
                            const double p = part.post[g][k] * mark_outcome(o, t_.contexts[part.context], y, g);
                            any[slot] += p;
                            grade[slot][g] += p;
                            year[y][slot] += p;
                        }
            weigh(any);
            outcome_bits += numbers.outcome_bits(mass);
            add_numbers(numbers, mass, joint);
            for (std::size_t g = 0; g < 2; ++g) {
                std::vector<double> at_grade(slots_.size());
                for (std::size_t slot = 0; slot < slots_.size(); ++slot) at_grade[slot] = grade[slot][g];
                weigh(at_grade);
                joint.grade += numbers.outcome_bits(mass);
            }
            for (std::size_t y = 0; y < t_.years(); ++y) {
                weigh(year[y]);
                joint.year += numbers.outcome_bits(mass);
            }
        }
        return fall(outcome_bits, joint);
    }

  private:
    // Outcomes of looking for a mark: each mark of the Book, none, and a mark that no pack lists.
    double mark_outcome(std::size_t o, const MarkContext& c, std::size_t year, std::size_t grade) const {
        const std::size_t marks = t_.book->marks.size();
        if (o <= marks)
            return mark_given(t_, c, o == marks ? kNone : static_cast<std::uint32_t>(o), s_.sure_sure, year, grade);
        return c.valid[grade][year] == 0 ? (1 - c.unmarked) * s_.sure_sure : 0;
    }

    // H(treatment, number) of items with these weights. All rows of a treatment bear the same number; the bodies of
    // the unlisted hypothesis may differ in how often they are numbered.
    void add_numbers(const Numbers& numbers, const std::vector<double>& weights, Told& joint) const {
        std::map<std::uint32_t, std::pair<double, double>> by_treatment;  // weight, entropy of its number
        std::vector<double> unlisted(items_.size(), 0.0);
        for (std::size_t k = 0; k < items_.size(); ++k) {
            if (items_[k].body != kNone) {
                unlisted[k] = weights[k];
                continue;
            }
            auto& [weight, bits] = by_treatment[items_[k].hypothesis];
            weight += weights[k];
            bits = numbers.bits(k);
        }
        for (const auto& [id, entry] : by_treatment) joint.treatment += h(entry.first) + entry.first * entry.second;
        joint.treatment += numbers.outcome_bits(unlisted);
    }

    double year_of(std::uint32_t slot, std::size_t year) const {
        const Slot& s = slots_[slot];
        return year >= s.first && year - s.first < s.year.size() ? s.year[year - s.first] : 0;
    }

    // A categorical column (shape, glaze); a class beyond `count` has no value and could be any.
    template <class OfBody>
    Told column(std::size_t count, const std::vector<std::uint32_t>& column, const std::vector<double>& frequency,
                OfBody&& of_body) const {
        const auto values = static_cast<double>(count);
        const double right = hit(s_.sure_sure, values), wrong = miss(s_.sure_sure, values);
        const auto class_of = [&](const Item& i) {
            return i.row != kNone ? column[i.row] : of_body(t_.bodies[i.body]);
        };
        const auto elsewhere = [](const Item& i) { return i.row == kNone && i.body == kNone; };
        std::vector<std::vector<Touch>> touched(count);
        for (std::uint32_t k = 0; k < items_.size(); ++k)
            if (!elsewhere(items_[k]))
                if (const std::size_t own = class_of(items_[k]); own < count) touched[own].push_back({k, right});
        double without = 0, with = 0;  // of the mean
        for (std::size_t c = 0; c < frequency.size(); ++c) (c < count ? with : without) += frequency[c];
        return by_kind(
            touched, 1, [](std::size_t) { return 0; },
            [&](const Item& i, std::size_t) { return class_of(i) >= count ? 1 / values : wrong; }, elsewhere,
            [&](std::size_t o) {
                return with * wrong + (o < frequency.size() ? frequency[o] * (right - wrong) : 0) +
                       without / values;
            });
    }

    Told fall(double outcome_bits, const Told& joint) const {
        return {std::max(0.0, now_.treatment + outcome_bits - joint.treatment),
                std::max(0.0, now_.grade + outcome_bits - joint.grade),
                std::max(0.0, now_.year + outcome_bits - joint.year)};
    }

    // Scales the parts to sum 1 and adds them up.
    Slot slot_of(std::vector<Slot::Part> parts) const {
        Slot slot;
        double total = 0;
        std::size_t end = 0;
        slot.first = t_.years();
        for (const Slot::Part& part : parts) {
            for (const auto& grade : part.post) total += std::accumulate(grade.begin(), grade.end(), 0.0);
            slot.first = std::min(slot.first, part.first);
            end = std::max(end, part.first + part.post[0].size());
        }
        slot.year.assign(end - std::min(slot.first, end), 0.0);
        const double scale = total > 0 ? 1 / total : 0;
        for (Slot::Part& part : parts) {
            double* const year = slot.year.data() + (part.first - slot.first);
            for (std::size_t g = 0; g < 2; ++g) {
                double sum = 0;
                for (std::size_t k = 0; k < part.post[g].size(); ++k) {
                    const double p = part.post[g][k] *= scale;
                    year[k] += p;
                    sum += p;
                }
                slot.grade[g] += sum;
            }
        }
        slot.parts = std::move(parts);
        return slot;
    }

    Slot slot_of_era(std::uint32_t era) const {
        const Era& e = t_.eras[era];
        const Period& period = t_.periods[e.period];
        const std::span<const double> shares = t_.shares(period);
        Slot::Part part{e.context, period.first, {}};
        for (std::size_t g = 0; g < 2; ++g) {
            part.post[g].reserve(shares.size());
            for (std::size_t k = 0; k < shares.size(); ++k)
                part.post[g].push_back((g == 0 ? 1 - e.second : e.second) * shares[k] *
                                       w_.era_evidence.likelihood(e.context, period.first + k, g));
        }
        std::vector<Slot::Part> alone;  // (a list in braces would copy it)
        alone.push_back(std::move(part));
        return slot_of(std::move(alone));
    }

    // A listed treatment taken at random.
    Slot slot_of_elsewhere() const {
        std::vector<Slot::Part> parts;
        for (std::uint32_t c = 0; c < t_.contexts.size(); ++c) {
            Slot::Part part{c, 0, t_.contexts[c].frequency};
            for (std::size_t g = 0; g < 2; ++g)
                for (std::size_t y = 0; y < t_.years(); ++y) part.post[g][y] *= w_.era_evidence.likelihood(c, y, g);
            parts.push_back(std::move(part));
        }
        return slot_of(std::move(parts));
    }

    void collect_items(std::size_t most) {
        std::vector<std::uint32_t> kept;
        for (std::uint32_t r = 0; r < t_.rows(); ++r)
            if (w_.rows[r] > 0) kept.push_back(r);
        std::vector<double> mass(kept.size());
        for (std::size_t k = 0; k < kept.size(); ++k) mass[k] = w_.rows[kept[k]];
        draw_evenly(kept, mass, most);
        std::map<std::uint32_t, std::uint32_t> slots;
        const auto slot_at = [&](std::uint32_t era) {
            const auto [slot, fresh] = slots.try_emplace(era, static_cast<std::uint32_t>(slots_.size()));
            if (fresh) slots_.push_back(slot_of_era(era));
            return slot->second;
        };
        for (std::size_t k = 0; k < kept.size(); ++k) {
            const std::uint32_t r = kept[k];
            Item item{r, kNone, t_.treatment[r], slot_at(t_.era[r]), mass[k], {}};
            for (std::size_t c = 0; c < w_.wears.size(); ++c) item.wear[c] = w_.wears[c].rows[r] / w_.rows[r];
            items_.push_back(item);
        }
        double open = 0;
        for (const WearCase& c : w_.wears) open += c.prior * c.open;
        for (std::size_t c = 0; c < w_.wears.size(); ++c)
            open_wear_[c] = open > 0 ? w_.wears[c].prior * w_.wears[c].open / open : 0;
        const auto treatments = static_cast<std::uint32_t>(t_.book->treatments.size());
        add_unlisted(treatments, slot_at);
        if (w_.elsewhere > 0) {
            items_.push_back({kNone, kNone, treatments + 1, static_cast<std::uint32_t>(slots_.size()), w_.elsewhere,
                              open_wear_});
            slots_.push_back(slot_of_elsewhere());
        }
        for (const Item& i : items_) present_.push_back(i.hypothesis);
        std::ranges::sort(present_);
        present_.erase(std::ranges::unique(present_).begin(), present_.end());
        for (const Item& i : items_)
            at_.push_back(
                static_cast<std::uint32_t>(std::ranges::lower_bound(present_, i.hypothesis) - present_.begin()));
    }

    template <class SlotAt>
    void add_unlisted(std::uint32_t hypothesis, SlotAt&& slot_at) {
        std::vector<std::uint32_t> bodies;
        std::vector<double> mass;
        double total = 0;
        for (std::uint32_t i = 0; i < t_.bodies.size(); ++i)
            if (const double m = w_.bodies[i] * w_.era_given[t_.bodies[i].era]; m > 0)
                bodies.push_back(i), mass.push_back(m), total += m;
        draw_evenly(bodies, mass, kMostBodies);
        for (std::size_t k = 0; k < bodies.size() && w_.unlisted > 0; ++k)
            items_.push_back({kNone, bodies[k], hypothesis, slot_at(t_.bodies[bodies[k]].era),
                              w_.unlisted * mass[k] / total, open_wear_});
    }

    const Weighing& w_;
    const FormView::Tables& t_;
    const Settings& s_;
    std::vector<Item> items_;
    std::vector<Slot> slots_;
    std::array<double, 4> open_wear_{};  // P(wear case | open hypothesis)
    std::vector<std::uint32_t> present_,
        at_;                          // hypotheses that have an item, in order; of each item, its place there
    std::vector<double> hypothesis_;  // probability by hypothesis
    Told now_;
};

}  // namespace

std::vector<NextLook> next_looks(const Weighing& w) {
    const FormView::Tables& t = w.t;
    const looks::Findings& f = w.findings;
    const Settings& s = t.settings;
    const Asker ask(w);
    std::vector<NextLook> out;
    const auto offer = [&](std::string look, double minutes, const Told& told) {
        if (std::max({told.treatment, told.grade, told.year}) < kLeastBits) return;
        out.push_back({std::move(look), Bits{told.treatment}, Bits{told.grade}, Bits{told.year}, Minutes{minutes},
                       told.treatment / minutes});
    };
    for (std::size_t p = 0; p < book::kPlaces; ++p) {
        if (!t.place[p].recorded() || !w.seen[p].empty()) continue;
        const auto place = static_cast<book::Place>(p);
        const bool below = place == book::Place::kFoot || place == book::Place::kUnderside;
        // The look "underside" is mark and number; an ornament there is asked for by its own name.
        offer(place == book::Place::kUnderside ? "underside ornament" : std::string(book::name_of(place)),
              below ? s.effort_turn_over_min : s.effort_glance_min, ask.place(p));
    }
    if (!f.shape && !t.book->shapes.empty()) offer("shape", s.effort_glance_min, ask.shape());
    if (!f.glaze && !t.book->glazes.empty()) offer("glaze", s.effort_glance_min, ask.glaze());
    if (!f.faults) offer("faults", s.effort_loupe_min, ask.faults());
    const bool marks = !f.mark && !t.book->marks.empty(), numbers = !f.number && !t.numbers.empty();
    if (marks) offer("mark", s.effort_turn_over_min, ask.mark());
    if (numbers) offer("number", s.effort_turn_over_min, ask.number());
    if (marks && numbers) {
        const std::size_t most =
            std::clamp(kMostTurned / (t.book->marks.size() * t.years()), kMostBodies, kMostItems);
        offer("underside", s.effort_turn_over_min,
              most < kMostItems ? Asker(w, most).underside() : ask.underside());
    }
    std::ranges::stable_sort(
        out, [](const NextLook& a, const NextLook& b) { return a.bits_per_minute > b.bits_per_minute; });
    return out;
}

}  // namespace footring::naming
