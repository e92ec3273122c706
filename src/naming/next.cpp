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
constexpr std::size_t kMostTurned = 8'000'000;  // marks x years x rows of turning over; beyond, fewer rows
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

    // given(item, outcome): P(outcome | item), for outcomes 0 .. count - 1, complete.
    template <class Given>
    Told by_item(std::size_t outcomes, Given&& given) const {
        Told joint;
        double outcome_bits = 0;
        std::vector<double> by_hypothesis(hypothesis_.size()), by_slot(slots_.size());
        for (std::size_t o = 0; o < outcomes; ++o) {
            std::ranges::fill(by_slot, 0.0);
            for (const Item& i : items_) by_hypothesis[i.hypothesis] = 0;
            double all = 0;
            for (const Item& i : items_) {
                const double p = i.mass * given(i, o);
                by_hypothesis[i.hypothesis] += p;
                by_slot[i.slot] += p;
                all += p;
            }
            outcome_bits += h(all);
            for (const std::uint32_t id : present_) joint.treatment += h(by_hypothesis[id]);
            add_years(by_slot, joint);
        }
        return fall(outcome_bits, joint);
    }

    Told place(std::size_t p) const {
        const PlaceTable& place = t_.place[p];
        const std::size_t outcomes = place.values.size() + 1, none = place.values.size();
        const double right = hit(s_.sure_sure, place.size()), wrong = miss(s_.sure_sure, place.size());
        // What is visible of the motifs that items have, and (in front) of the mean, which the open hypotheses draw
        // from: by wear case, by motif, by visible value.
        std::vector<std::uint32_t> asked, index(place.motifs.size(), kNone);
        for (const Item& i : items_)
            if (i.row != kNone && index[t_.motif[p][i.row]] == kNone) {
                asked.push_back(t_.motif[p][i.row]);
                index[asked.back()] = static_cast<std::uint32_t>(asked.size());
            }
        std::vector<std::vector<std::vector<double>>> visible(w_.wears.size());
        for (std::size_t k = 0; k < w_.wears.size(); ++k) {
            const double lost = loss(w_.wears[k].wear, static_cast<book::Place>(p), s_);
            const auto show = [&](std::vector<double>& to, std::size_t value, double mass) {
                const double gone = place.wears_off[value] ? lost : 0;
                to[value] += mass * (1 - gone);
                to[none] += mass * gone;
            };
            std::vector<double> bare(outcomes, 0.0);
            bare[none] = place.recorded() ? s_.bare_share : 1;
            for (std::size_t v = 0; v < none; ++v) show(bare, v, (1 - s_.bare_share) / static_cast<double>(none));
            const auto add = [&](std::vector<double>& to, const Motif& motif, double weight) {
                for (const auto& [value, share] : place.carried_by(motif)) show(to, value, weight * share);
            };
            std::vector<double> mean(outcomes, 0.0);
            double mean_bare = 0;
            for (const Motif& motif : place.motifs) {
                add(mean, motif, motif.frequency);
                mean_bare += motif.frequency * motif.bare;
            }
            for (std::size_t o = 0; o < outcomes; ++o) mean[o] += mean_bare * bare[o];
            visible[k].push_back(std::move(mean));
            for (const std::uint32_t m : asked) {
                std::vector<double> one(outcomes);
                for (std::size_t o = 0; o < outcomes; ++o) one[o] = place.motifs[m].bare * bare[o];
                add(one, place.motifs[m], 1);
                visible[k].push_back(std::move(one));
            }
        }
        return by_item(outcomes, [&](const Item& i, std::size_t o) {
            const std::size_t m = i.row == kNone ? 0 : index[t_.motif[p][i.row]];
            double seen = 0;
            for (std::size_t k = 0; k < w_.wears.size(); ++k) seen += i.wear[k] * visible[k][m][o];
            return wrong + (right - wrong) * seen;
        });
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
        std::vector<double> by_hypothesis(hypothesis_.size());
        for (std::size_t o = 0; o < 3; ++o) {
            std::array<double, 2> grade{};
            std::vector<double> year(t_.years()), by_slot(slots_.size());
            for (std::size_t slot = 0; slot < slots_.size(); ++slot)
                for (const Slot::Part& part : slots_[slot].parts)
                    for (std::size_t g = 0; g < 2; ++g)
                        for (std::size_t k = 0; k < part.post[g].size(); ++k) {
                            const double p = part.post[g][k] * given[g][o];
                            by_slot[slot] += p;
                            grade[g] += slots_[slot].mass * p;
                            year[part.first + k] += slots_[slot].mass * p;
                        }
            outcome_bits += h(grade[0] + grade[1]);
            joint.grade += h(grade[0]) + h(grade[1]);
            for (const double p : year) joint.year += h(p);
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

    void add_years(const std::vector<double>& by_slot, Told& joint) const {
        std::array<double, 2> grade{};
        std::vector<double> year(t_.years());
        for (std::size_t slot = 0; slot < slots_.size(); ++slot) {
            if (by_slot[slot] == 0) continue;
            for (std::size_t g = 0; g < 2; ++g) grade[g] += by_slot[slot] * slots_[slot].grade[g];
            for (std::size_t k = 0; k < slots_[slot].year.size(); ++k)
                year[slots_[slot].first + k] += by_slot[slot] * slots_[slot].year[k];
        }
        joint.grade += h(grade[0]) + h(grade[1]);
        for (const double p : year) joint.year += h(p);
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
        const auto given = [&](std::size_t cls, std::size_t o) {
            return cls >= count ? 1 / values : cls == o ? right : wrong;
        };
        std::vector<double> mean(count);
        for (std::size_t o = 0; o < count; ++o)
            for (std::size_t c = 0; c < frequency.size(); ++c) mean[o] += frequency[c] * given(c, o);
        return by_item(count, [&](const Item& i, std::size_t o) {
            if (i.row != kNone) return given(column[i.row], o);
            return i.body != kNone ? given(of_body(t_.bodies[i.body]), o) : mean[o];
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
        for (Slot::Part& part : parts)
            for (std::size_t g = 0; g < 2; ++g)
                for (std::size_t k = 0; k < part.post[g].size(); ++k) {
                    double& p = part.post[g][k];
                    p = total > 0 ? p / total : 0;
                    slot.year[part.first + k - slot.first] += p;
                    slot.grade[g] += p;
                }
        slot.parts = std::move(parts);
        return slot;
    }

    Slot slot_of_era(std::uint32_t era) const {
        const Era& e = t_.eras[era];
        const Period& period = t_.periods[e.period];
        const std::span<const double> shares = t_.shares(period);
        Slot::Part part{e.context, period.first, {}};
        for (std::size_t g = 0; g < 2; ++g)
            for (std::size_t k = 0; k < shares.size(); ++k)
                part.post[g].push_back((g == 0 ? 1 - e.second : e.second) * shares[k] *
                                       w_.era_evidence.likelihood(e.context, period.first + k, g));
        return slot_of({std::move(part)});
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
        std::array<double, 4> open_wear{};
        double open = 0;
        for (const WearCase& c : w_.wears) open += c.prior * c.open;
        for (std::size_t c = 0; c < w_.wears.size(); ++c)
            open_wear[c] = open > 0 ? w_.wears[c].prior * w_.wears[c].open / open : 0;
        const auto treatments = static_cast<std::uint32_t>(t_.book->treatments.size());
        add_unlisted(treatments, open_wear, slot_at);
        if (w_.elsewhere > 0) {
            items_.push_back(
                {kNone, kNone, treatments + 1, static_cast<std::uint32_t>(slots_.size()), w_.elsewhere, open_wear});
            slots_.push_back(slot_of_elsewhere());
        }
        for (const Item& i : items_) present_.push_back(i.hypothesis);
        std::ranges::sort(present_);
        present_.erase(std::ranges::unique(present_).begin(), present_.end());
    }

    template <class SlotAt>
    void add_unlisted(std::uint32_t hypothesis, const std::array<double, 4>& wear, SlotAt&& slot_at) {
        std::vector<std::uint32_t> bodies;
        std::vector<double> mass;
        double total = 0;
        for (std::uint32_t i = 0; i < t_.bodies.size(); ++i)
            if (const double m = w_.bodies[i] * w_.era_given[t_.bodies[i].era]; m > 0)
                bodies.push_back(i), mass.push_back(m), total += m;
        draw_evenly(bodies, mass, kMostBodies);
        for (std::size_t k = 0; k < bodies.size() && w_.unlisted > 0; ++k)
            items_.push_back({kNone, bodies[k], hypothesis, slot_at(t_.bodies[bodies[k]].era),
                              w_.unlisted * mass[k] / total, wear});
    }

    // Keeps at most `most`: each with a chance in proportion to its mass, at even steps, so without chance at all.
    static void draw_evenly(std::vector<std::uint32_t>& ids, std::vector<double>& mass, std::size_t most) {
        if (ids.size() <= most) return;
        const double step = std::accumulate(mass.begin(), mass.end(), 0.0) / static_cast<double>(most);
        std::vector<std::uint32_t> drawn;
        std::vector<double> drawn_mass;
        double next = step / 2, sum = 0;
        for (std::size_t k = 0; k < ids.size(); ++k) {
            sum += mass[k];
            double hits = 0;
            while (next < sum) next += step, hits += 1;
            if (hits == 0) continue;
            drawn.push_back(ids[k]);
            drawn_mass.push_back(hits * step);
        }
        ids = std::move(drawn);
        mass = std::move(drawn_mass);
    }

    const Weighing& w_;
    const FormView::Tables& t_;
    const Settings& s_;
    std::vector<Item> items_;
    std::vector<Slot> slots_;
    std::vector<std::uint32_t> present_;  // hypotheses that have an item
    std::vector<double> hypothesis_;      // probability by hypothesis
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
