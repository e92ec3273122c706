// Next look: for every look not yet made, the expected fall of entropy over treatments, grade and year.
//   Exact while at most kMostItems rows hold the probability; beyond that, over as many drawn evenly from them.
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "naming/parts.h"

namespace footring::naming {

namespace {

constexpr std::size_t kMostItems = 4096;    // rows looked at; keeps the answer under 100 ms on a pack of 100,000
constexpr std::size_t kMostBodies = 512;    // shapes and glazes of the unlisted hypothesis, likewise
constexpr std::size_t kMostNumbers = 5000;  // numbers told apart one by one; beyond, those of no item are lumped
constexpr double kLeastBits = 1e-6;         // a look that tells less is not offered

double h(double p) { return p > 0 ? -p * std::log2(p) : 0; }

// A row, or an open hypothesis, with what is left of its probability.
struct Item {
    std::uint32_t row;         // kNone: open hypothesis
    std::uint32_t body;        // of the unlisted hypothesis; else kNone
    std::uint32_t hypothesis;  // treatment; treatments.size(): unlisted; + 1: elsewhere
    std::uint32_t slot;        // what it says of year and grade
    double mass;
    std::array<double, 4> wear;  // P(wear case | item)
};
// Year and grade given an item and everything seen; summed over contexts for the open hypotheses.
struct Slot {
    struct Part {
        std::uint32_t context;
        std::array<std::vector<double>, 2> post;  // by grade, by year
    };
    std::vector<Part> parts;  // the sum over parts, grades and years is 1
    std::vector<double> year;
    std::array<double, 2> grade{};
    double mass = 0;
};

struct Told {
    double treatment = 0, grade = 0, year = 0;
};

class Asker {
  public:
    explicit Asker(const Weighing& w) : w_(w), t_(w.t), s_(w.t.settings) {
        collect_items();
        hypothesis_.assign(t_.book->treatments.size() + 2, 0.0);
        for (const Item& i : items_) hypothesis_[i.hypothesis] += i.mass, slots_[i.slot].mass += i.mass;
        std::array<double, 2> grade{};
        std::vector<double> year(t_.years());
        for (const Slot& slot : slots_) {
            for (std::size_t g = 0; g < 2; ++g) grade[g] += slot.mass * slot.grade[g];
            for (std::size_t y = 0; y < year.size(); ++y) year[y] += slot.mass * slot.year[y];
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
        const std::size_t outcomes = place.values.size() + 1;
        // by wear case: by outcome, by motif; the last motif stands for the mean, which the open hypotheses draw
        // from
        std::vector<std::vector<std::vector<double>>> given(w_.wears.size());
        for (std::size_t k = 0; k < w_.wears.size(); ++k)
            for (std::size_t o = 0; o < outcomes; ++o) {
                std::vector<double> seen(outcomes, miss(s_.sure_sure, place.size()));
                seen[o] = hit(s_.sure_sure, place.size());
                auto by_motif = given_motif(place, seen, static_cast<book::Place>(p), w_.wears[k].wear, s_);
                double mean = 0;
                for (std::size_t m = 0; m < by_motif.size(); ++m) mean += place.motifs[m].frequency * by_motif[m];
                by_motif.push_back(mean);
                given[k].push_back(std::move(by_motif));
            }
        return by_item(outcomes, [&](const Item& i, std::size_t o) {
            const std::size_t m = i.row == kNone ? place.motifs.size() : t_.motif[p][i.row];
            double sum = 0;
            for (std::size_t k = 0; k < w_.wears.size(); ++k) sum += i.wear[k] * given[k][o][m];
            return sum;
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
        const std::array<std::array<double, 3>, 2> given{
            {{s_.faults_first_none, s_.faults_first_few, s_.faults_first_many},
             {s_.faults_second_none, s_.faults_second_few, s_.faults_second_many}}};
        return by_era(3, [&](std::size_t o, std::uint32_t, std::size_t, std::size_t g) { return given[g][o]; });
    }

    Told mark() const {
        const std::size_t marks = t_.book->marks.size();
        return by_era(marks + 2, [&](std::size_t o, std::uint32_t c, std::size_t y, std::size_t g) {
            return mark_outcome(o, t_.contexts[c], y, g);
        });
    }

    Told number() const {
        std::vector<double> mass;
        for (const Item& i : items_) mass.push_back(i.mass);
        const Numbers numbers(*this);
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
                at_year[k] = items_[k].mass * slots_[items_[k].slot].year[y];
            joint.year += numbers.outcome_bits(at_year);
        }
        return fall(numbers.outcome_bits(mass), joint);
    }

    // Mark and number at once: what turning the piece over tells.
    Told underside() const {
        const Numbers numbers(*this);
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
                        for (std::size_t y = 0; y < t_.years(); ++y) {
                            if (part.post[g][y] == 0) continue;
                            const double p = part.post[g][y] * mark_outcome(o, t_.contexts[part.context], y, g);
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
    // Numbers as outcomes: each listed one, none at all, and one that no pack lists.
    class Numbers {
      public:
        explicit Numbers(const Asker& a) : items_(a.items_) {
            const FormView::Tables& t = a.t_;
            const auto all = static_cast<double>(t.numbers.size());
            const double sure = a.s_.sure_sure;
            slot_of_.assign(t.numbers.size(), kNone);
            const auto tell = [&](std::uint32_t n) {
                if (slot_of_[n] == kNone) slot_of_[n] = listed_++;
            };
            if (t.numbers.size() <= kMostNumbers)
                for (std::uint32_t n = 0; n < t.numbers.size(); ++n) tell(n);
            for (const Item& i : items_)
                if (i.row != kNone && t.number_classes[t.number[i.row]].number != kNone)
                    tell(t.number_classes[t.number[i.row]].number);
            lumped_ = all - listed_;
            const double wrong = all > 1 ? (1 - sure) / (all - 1) : 0;
            const double wrong_unlisted = all > 1 ? wrong : all > 0 ? 1 - sure : 0;
            for (const Item& i : items_) {
                Per per;
                if (i.row != kNone) {
                    const NumberClass& c = t.number_classes[t.number[i.row]];
                    per.numbered = t.contexts[c.context].numbered;
                    per.each = per.numbered * (c.number == kNone ? wrong_unlisted : wrong);
                    if (c.number != kNone) per.own = slot_of_[c.number], per.extra = per.numbered * (sure - wrong);
                } else if (i.body != kNone) {
                    per.numbered = t.contexts[t.eras[t.bodies[i.body].era].context].numbered;
                    per.each = per.numbered * wrong_unlisted;
                } else {
                    per.elsewhere = true;
                    for (const NumberClass& c : t.number_classes) {
                        const double numbered = c.frequency * t.contexts[c.context].numbered;
                        per.numbered += numbered;
                        per.each += numbered * (c.number == kNone ? wrong_unlisted : wrong);
                        if (c.number == kNone) continue;
                        const std::uint32_t slot = slot_of_[c.number];
                        if (slot == kNone) {
                            per.lumped_extra += numbered * (sure - wrong);
                        } else {
                            if (elsewhere_.size() < listed_) elsewhere_.resize(listed_);
                            elsewhere_[slot] += numbered * (sure - wrong);
                        }
                    }
                }
                elsewhere_.resize(listed_);
                double listed_sum = per.each * all + per.extra + per.lumped_extra;
                if (per.elsewhere) listed_sum += std::accumulate(elsewhere_.begin(), elsewhere_.end(), 0.0);
                per.other = std::max(0.0, per.numbered - listed_sum);
                per_.push_back(per);
            }
            for (std::size_t k = 0; k < per_.size(); ++k) per_[k].bits = own_bits(k);
        }

        // Sum over the outcomes of h(sum over items of weight * P(outcome | item)).
        double outcome_bits(const std::vector<double>& weights) const {
            std::vector<double> listed(listed_, 0.0);
            double none = 0, other = 0, each = 0, lump = 0;
            for (std::size_t k = 0; k < per_.size(); ++k) {
                const Per& p = per_[k];
                const double w = weights[k];
                if (w == 0) continue;
                none += w * (1 - p.numbered);
                other += w * p.other;
                each += w * p.each;
                if (p.own != kNone) listed[p.own] += w * p.extra;
                if (p.elsewhere) {
                    for (std::size_t n = 0; n < listed.size(); ++n) listed[n] += w * elsewhere_[n];
                    lump += lumped_ > 0 ? w * p.lumped_extra / lumped_ : 0;
                }
            }
            double bits = h(none) + h(other) + lumped_ * h(each + lump);
            for (const double l : listed) bits += h(each + l);
            return bits;
        }
        // Entropy of the number of one item.
        double bits(std::size_t item) const { return per_[item].bits; }
        bool same(std::size_t a, std::size_t b) const { return per_[a].own == per_[b].own; }

      private:
        struct Per {
            double numbered = 0, each = 0, extra = 0, other = 0, lumped_extra = 0, bits = 0;
            std::uint32_t own = kNone;
            bool elsewhere = false;
        };
        double own_bits(std::size_t k) const {
            std::vector<double> one(per_.size(), 0.0);
            const Per& p = per_[k];
            if (p.elsewhere) {
                one[k] = 1;
                return outcome_bits(one);
            }
            const double rest = static_cast<double>(listed_) + lumped_ - (p.own == kNone ? 0 : 1);
            return h(1 - p.numbered) + h(p.other) + rest * h(p.each) + (p.own == kNone ? 0 : h(p.each + p.extra));
        }
        const std::vector<Item>& items_;
        std::vector<std::uint32_t> slot_of_;  // by number: place among the listed ones
        std::vector<double> elsewhere_;       // by listed number: extra under the hypothesis elsewhere
        std::vector<Per> per_;                // by item
        std::uint32_t listed_ = 0;
        double lumped_ = 0;
    };

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
            for (std::size_t y = 0; y < year.size(); ++y) year[y] += by_slot[slot] * slots_[slot].year[y];
        }
        joint.grade += h(grade[0]) + h(grade[1]);
        for (const double p : year) joint.year += h(p);
    }

    // given(outcome, context, year, grade), for looks that depend on the era alone.
    template <class Given>
    Told by_era(std::size_t outcomes, Given&& given) const {
        Told joint;
        double outcome_bits = 0;
        std::vector<double> by_slot(slots_.size()), by_hypothesis(hypothesis_.size());
        for (std::size_t o = 0; o < outcomes; ++o) {
            std::array<double, 2> grade{};
            std::vector<double> year(t_.years());
            double all = 0;
            for (std::size_t slot = 0; slot < slots_.size(); ++slot) {
                by_slot[slot] = 0;
                for (const Slot::Part& part : slots_[slot].parts)
                    for (std::size_t g = 0; g < 2; ++g)
                        for (std::size_t y = 0; y < year.size(); ++y) {
                            if (part.post[g][y] == 0) continue;
                            const double p = part.post[g][y] * given(o, part.context, y, g);
                            by_slot[slot] += p;
                            grade[g] += slots_[slot].mass * p;
                            year[y] += slots_[slot].mass * p;
                        }
                all += slots_[slot].mass * by_slot[slot];
            }
            outcome_bits += h(all);
            joint.grade += h(grade[0]) + h(grade[1]);
            for (const double p : year) joint.year += h(p);
            for (const std::uint32_t id : present_) by_hypothesis[id] = 0;
            for (const Item& i : items_) by_hypothesis[i.hypothesis] += i.mass * by_slot[i.slot];
            for (const std::uint32_t id : present_) joint.treatment += h(by_hypothesis[id]);
        }
        return fall(outcome_bits, joint);
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

    double body_mass(const Body& b) const {
        double mass = b.frequency * w_.era_given[b.era];
        if (!w_.shape.empty()) mass *= w_.shape[b.shape];
        if (!w_.glaze.empty()) mass *= b.glaze == kNone ? w_.glaze.back() : w_.glaze[b.glaze];
        if (w_.number) mass *= w_.number->given(kNone, t_.contexts[t_.eras[b.era].context].numbered);
        return mass;
    }

    Told fall(double outcome_bits, const Told& joint) const {
        return {std::max(0.0, now_.treatment + outcome_bits - joint.treatment),
                std::max(0.0, now_.grade + outcome_bits - joint.grade),
                std::max(0.0, now_.year + outcome_bits - joint.year)};
    }

    Slot slot_of_eras(const std::vector<std::pair<std::uint32_t, double>>& eras) const {
        std::map<std::uint32_t, Slot::Part> parts;
        for (const auto& [era, weight] : eras) {
            auto [part, fresh] = parts.try_emplace(t_.eras[era].context);
            if (fresh) {
                part->second.context = t_.eras[era].context;
                for (auto& grade : part->second.post) grade.assign(t_.years(), 0.0);
            }
            w_.era_evidence.spread(era, weight, part->second.post);
        }
        Slot slot;
        slot.year.assign(t_.years(), 0.0);
        double total = 0;
        for (const auto& [context, part] : parts)
            for (const auto& grade : part.post) total += std::accumulate(grade.begin(), grade.end(), 0.0);
        for (auto& [context, part] : parts) {
            for (std::size_t g = 0; g < 2; ++g)
                for (std::size_t y = 0; y < t_.years(); ++y) {
                    double& p = part.post[g][y];
                    p = total > 0 ? p / total : 0;
                    slot.year[y] += p;
                    slot.grade[g] += p;
                }
            slot.parts.push_back(std::move(part));
        }
        return slot;
    }

    void collect_items() {
        std::vector<std::uint32_t> kept;
        for (std::uint32_t r = 0; r < t_.rows(); ++r)
            if (w_.rows[r] > 0) kept.push_back(r);
        std::vector<double> mass(kept.size());
        for (std::size_t k = 0; k < kept.size(); ++k) mass[k] = w_.rows[kept[k]];
        draw_evenly(kept, mass, kMostItems);
        std::map<std::uint32_t, std::uint32_t> slots;
        const auto slot_of = [&](std::uint32_t era) {
            const auto [slot, fresh] = slots.try_emplace(era, static_cast<std::uint32_t>(slots_.size()));
            if (fresh) slots_.push_back(slot_of_eras({{era, 1.0}}));
            return slot->second;
        };
        for (std::size_t k = 0; k < kept.size(); ++k) {
            const std::uint32_t r = kept[k];
            Item item{r, kNone, t_.treatment[r], slot_of(t_.era[r]), mass[k], {}};
            for (std::size_t c = 0; c < w_.wears.size(); ++c) item.wear[c] = w_.wears[c].rows[r] / w_.rows[r];
            items_.push_back(item);
        }
        std::array<double, 4> open_wear{};
        double open = 0;
        for (const WearCase& c : w_.wears) open += c.prior * c.open;
        for (std::size_t c = 0; c < w_.wears.size(); ++c)
            open_wear[c] = open > 0 ? w_.wears[c].prior * w_.wears[c].open / open : 0;
        const auto treatments = static_cast<std::uint32_t>(t_.book->treatments.size());
        add_unlisted(treatments, open_wear, slot_of);
        if (w_.elsewhere > 0) {
            std::vector<std::pair<std::uint32_t, double>> eras;
            for (std::uint32_t e = 0; e < t_.eras.size(); ++e)
                if (t_.eras[e].frequency > 0) eras.emplace_back(e, t_.eras[e].frequency);
            items_.push_back(
                {kNone, kNone, treatments + 1, static_cast<std::uint32_t>(slots_.size()), w_.elsewhere, open_wear});
            slots_.push_back(slot_of_eras(eras));
        }
        for (const Item& i : items_) present_.push_back(i.hypothesis);
        std::ranges::sort(present_);
        present_.erase(std::ranges::unique(present_).begin(), present_.end());
    }

    template <class SlotOf>
    void add_unlisted(std::uint32_t hypothesis, const std::array<double, 4>& wear, SlotOf&& slot_of) {
        std::vector<std::uint32_t> bodies;
        std::vector<double> mass;
        double total = 0;
        for (std::uint32_t i = 0; i < t_.bodies.size(); ++i)
            if (const double m = body_mass(t_.bodies[i]); m > 0) bodies.push_back(i), mass.push_back(m), total += m;
        draw_evenly(bodies, mass, kMostBodies);
        for (std::size_t k = 0; k < bodies.size() && w_.unlisted > 0; ++k)
            items_.push_back({kNone, bodies[k], hypothesis, slot_of(t_.bodies[bodies[k]].era),
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
    if (marks && numbers) offer("underside", s.effort_turn_over_min, ask.underside());
    std::ranges::stable_sort(
        out, [](const NextLook& a, const NextLook& b) { return a.bits_per_minute > b.bits_per_minute; });
    return out;
}

}  // namespace footring::naming
