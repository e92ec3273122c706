// SPDX-License-Identifier: Apache-2.0
#include "naming/form_view.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <unordered_map>

#include "naming/tables.h"
#include "naming/years_given.h"

namespace footring::naming {

namespace {

using book::Book;
using book::Decoration;
using book::Grade;
using book::Place;
using book::Ref;
using Tables = FormView::Tables;

// Periods are considered this far beyond first_year and last_year of the settings; a date beyond is a slip.
constexpr int kFarthestBack = 1000, kFarthestOn = 200;

void widen(int& first, int& last, const std::optional<edtf::Edtf>& date, const Settings& s) {
    if (!date) return;
    const int margin = static_cast<int>(std::ceil(std::max(s.soft_about_years, s.soft_uncertain_years)));
    const auto clip = [&](std::int64_t year) {
        return static_cast<int>(std::clamp<std::int64_t>(year, static_cast<int>(s.first_year) - kFarthestBack,
                                                         static_cast<int>(s.last_year) + kFarthestOn));
    };
    for (const edtf::Span& span : date->spans()) {
        if (span.first)
            first = std::min(first, clip(*span.first - margin)), last = std::max(last, clip(*span.first));
        if (span.last) last = std::max(last, clip(*span.last + margin)), first = std::min(first, clip(*span.last));
    }
}

// The years in which all of some periods were in use, as the product of their weights.
class InUse {
  public:
    InUse(int first, int last, const Settings& s)
        : first_(first), last_(last), settings_(s), weights_(static_cast<std::size_t>(last - first + 1), 1.0) {}

    void both(const std::optional<edtf::Edtf>& date) {
        if (!date) return;
        const auto& spans = date->spans();
        bounded_first_ |= std::ranges::all_of(spans, [](const edtf::Span& s) { return s.first.has_value(); });
        bounded_last_ |= std::ranges::all_of(spans, [](const edtf::Span& s) { return s.last.has_value(); });
        for (int y = first_; y <= last_; ++y) weights_[at(y)] *= edtf::weight(spans, y, settings_);
    }

    // Normalised. A side that nothing bounds is bounded by the maker, or else by the settings.
    std::vector<double> share(const std::optional<edtf::Edtf>& maker) {
        if ((!bounded_first_ || !bounded_last_) && maker) {
            InUse with_maker = *this;
            with_maker.both(maker);
            if (with_maker.total() > 0) *this = with_maker;
        }
        std::vector<double> limited = weights_;
        for (int y = first_; y <= last_; ++y) {
            if (!bounded_first_ && y < settings_.first_year) limited[at(y)] = 0;
            if (!bounded_last_ && y > settings_.last_year) limited[at(y)] = 0;
        }
        double sum = 0;
        for (const double w : limited) sum += w;
        if (sum <= 0) limited = weights_, sum = total();
        if (sum <= 0) return {};
        for (double& w : limited) w /= sum;
        return limited;
    }

  private:
    std::size_t at(int year) const { return static_cast<std::size_t>(year - first_); }
    double total() const {
        double sum = 0;
        for (const double w : weights_) sum += w;
        return sum;
    }
    int first_, last_;
    Settings settings_;
    std::vector<double> weights_;
    bool bounded_first_ = false, bounded_last_ = false;
};

// Fills Tables from a Book; thrown away afterwards, with the look-ups that only filling needs.
class Builder {
  public:
    Builder(const Book& book, std::optional<Ref<book::Form>> form, const Settings& settings,
            std::span<const double> counts)
        : book_(book), counts_(counts), t_(std::make_unique<Tables>()) {
        t_->book = &book;
        t_->form = form;
        t_->settings = settings;
        forms_alike_.resize(book.forms.size());
        for (const Ref<book::Form> first : book::shown_alike(book)) forms_alike_[first.at] += 1;
    }

    std::unique_ptr<const Tables> build() {
        find_years();
        find_values();
        find_marks();
        find_numbers();
        t_->unlisted_prior = s().open_prior * s().open_unlisted_share;
        t_->elsewhere_prior = s().open_prior * (1 - s().open_unlisted_share);
        t_->shape_prior.resize(book_.shapes.size());
        t_->shape_frequency.resize(book_.shapes.size());
        t_->glaze_prior.resize(book_.glazes.size() + 1);
        t_->glaze_frequency.resize(book_.glazes.size() + 1);
        double total_count = 0;
        for (std::size_t i = 0; i < book_.treatments.size(); ++i) total_count += weight_of(i);
        for (std::uint32_t i = 0; i < book_.treatments.size(); ++i)
            add_treatment(i, (1 - s().open_prior) * weight_of(i) / total_count);
        for (Body& body : t_->bodies) body.frequency /= static_cast<double>(book_.treatments.size());
        lay_out_periods();
        sum_up_contexts();
        return std::move(t_);
    }

  private:
    const Settings& s() const { return t_->settings; }
    double weight_of(std::size_t treatment) const {
        return counts_.empty() ? 1.0 : s().prior_pseudo_count + counts_[treatment];
    }

    void sum_up_contexts() {
        for (MarkContext& c : t_->contexts)
            for (auto* sums : {&c.prior, &c.frequency})
                for (auto& grade : *sums) grade.assign(t_->years(), 0.0);
        for (const Era& e : t_->eras) {
            const Period& period = t_->periods[e.period];
            const std::span<const double> shares = t_->shares(period);
            MarkContext& c = t_->contexts[e.context];
            for (std::size_t g = 0; g < 2; ++g) {
                const double grade = g == 0 ? 1 - e.second : e.second;
                for (std::size_t k = 0; k < shares.size(); ++k) {
                    c.prior[g][period.first + k] += e.prior * grade * shares[k];
                    c.frequency[g][period.first + k] += e.frequency * grade * shares[k];
                }
            }
        }
    }

    void find_years() {
        int first = static_cast<int>(s().first_year), last = std::max(first, static_cast<int>(s().last_year));
        for (const auto& m : book_.makers) widen(first, last, m.years, s());
        for (const auto& x : book_.shapes) widen(first, last, x.years, s());
        for (const auto& x : book_.glazes) widen(first, last, x.years, s());
        for (const auto& x : book_.ornaments) widen(first, last, x.years, s());
        for (const auto& x : book_.treatments) widen(first, last, x.years, s());
        for (const auto& x : book_.marks) widen(first, last, x.years, s());
        t_->first_year = first;
        t_->last_year = last;
    }

    void find_values() {
        for (PlaceTable& place : t_->place) place.index_of.assign(book_.ornaments.size(), kNone);
        for (const book::TreatmentOrnament& row : book_.treatment_ornaments) {
            PlaceTable& place = t_->place[static_cast<std::size_t>(row.place)];
            std::uint32_t& index = place.index_of[row.ornament.at];
            if (index != kNone) continue;
            index = static_cast<std::uint32_t>(place.values.size());
            place.values.push_back(row.ornament);
            place.wears_off.push_back(wears_off(book_[row.ornament]));
        }
    }

    void find_marks() {
        for (const book::Mark& mark : book_.marks) {
            std::vector<bool> in_use(t_->years(), true);
            if (mark.years)
                for (std::size_t y = 0; y < in_use.size(); ++y)
                    in_use[y] = edtf::weight(mark.years->spans(), t_->first_year + static_cast<int>(y), s()) > 0;
            t_->mark_years.push_back(std::move(in_use));
        }
    }

    void find_numbers() {
        for (const book::Treatment& t : book_.treatments)
            if (!t.number.empty() && number_index_.try_emplace(t.number, t_->numbers.size()).second)
                t_->numbers.push_back(t.number);
    }

    std::uint32_t context_of(std::uint32_t shape) {
        if (const auto found = context_index_.find(shape); found != context_index_.end()) return found->second;
        const auto maker = book_.shapes[shape].maker;
        MarkContext c{
            maker ? maker->at : kNone, shape, s().unmarked_share, s().numbered_share, {}, {}, {}, 0, 0, {}, {}};
        std::optional<edtf::Edtf> years;
        if (maker) {
            const book::Maker& m = book_[*maker];
            c.unmarked = m.unmarked_share.value_or(s().unmarked_share);
            c.numbered = m.numbered_share.value_or(s().numbered_share);
            years = m.years;
        }
        for (auto& valid : c.valid) valid.assign(t_->years(), 0);
        for (std::uint32_t i = 0; i < book_.marks.size(); ++i) {
            const book::Mark& mark = book_.marks[i];
            if (mark.maker && (!maker || *mark.maker != *maker)) continue;
            if (mark.code_scheme && std::ranges::find(c.schemes, mark.code_scheme->at) == c.schemes.end())
                c.schemes.push_back(mark.code_scheme->at);
            if (!mark.shapes.empty() &&
                std::ranges::find(mark.shapes, Ref<book::Shape>{shape}) == mark.shapes.end())
                continue;
            c.marks.push_back(i);
            for (std::size_t y = 0; y < t_->years(); ++y) {
                if (!t_->mark_years[i][y]) continue;
                if (!mark.second) ++c.valid[0][y];
                ++c.valid[1][y];
            }
        }
        InUse maker_years(t_->first_year, t_->last_year, s());
        maker_years.both(years);
        const auto shares = maker_years.share(std::nullopt);
        c.first_year = t_->last_year, c.last_year = t_->first_year;
        for (std::size_t y = 0; y < shares.size(); ++y)
            if (shares[y] > 0) {
                c.first_year = std::min(c.first_year, t_->first_year + static_cast<int>(y));
                c.last_year = std::max(c.last_year, t_->first_year + static_cast<int>(y));
            }
        const auto index = static_cast<std::uint32_t>(t_->contexts.size());
        t_->contexts.push_back(std::move(c));
        context_index_.emplace(shape, index);
        return index;
    }

    std::uint32_t period_of(std::uint32_t context, const std::vector<double>& all) {
        const auto possible = [](double p) { return p > 0; };
        const auto first = std::ranges::find_if(all, possible);
        const auto last = std::find_if(all.rbegin(), all.rend(), possible).base();
        return period_index_
            .try_emplace(std::tuple(context, static_cast<std::uint32_t>(first - all.begin()),
                                    std::vector<double>(first, last)),
                         static_cast<std::uint32_t>(period_index_.size()))
            .first->second;
    }

    // Lays the periods out in the order of their contexts (that of the index) and renumbers them in the eras.
    void lay_out_periods() {
        std::vector<std::uint32_t> now(period_index_.size());
        for (const auto& [key, before] : period_index_) {
            const auto& [context, first, shares] = key;
            now[before] = static_cast<std::uint32_t>(t_->periods.size());
            t_->periods.push_back({context, first, static_cast<std::uint32_t>(t_->year_shares.size()),
                                   static_cast<std::uint32_t>(shares.size())});
            t_->year_shares.insert(t_->year_shares.end(), shares.begin(), shares.end());
        }
        for (Era& e : t_->eras) e.period = now[e.period];
    }

    std::uint32_t era_of(std::uint32_t context, const std::vector<double>& years, double second) {
        const std::uint32_t period = period_of(context, years);
        const auto [found, fresh] =
            era_index_.try_emplace(std::pair(period, second), static_cast<std::uint32_t>(t_->eras.size()));
        if (fresh) t_->eras.push_back(Era{context, period, second});
        return found->second;
    }

    // The period of a treatment as this form shows it; without a decoration, that of its shape and glaze alone.
    // When its parts were never in use together (which `check` reports), the treatment's own years stand, then its
    // shape's, then anything.
    std::vector<double> years_of_row(const book::Treatment& t, const Decoration* decoration) {
        const book::Shape& shape = book_[t.shape];
        const std::optional<edtf::Edtf> maker = shape.maker ? book_[*shape.maker].years : std::nullopt;
        InUse all(t_->first_year, t_->last_year, s());
        if (decoration != nullptr) all.both(t.years);
        all.both(shape.years);
        if (t.glaze) all.both(book_[*t.glaze].years);
        if (decoration != nullptr)
            for (const auto ornament : ornaments_of(*decoration)) all.both(book_[ornament].years);
        if (auto shares = all.share(maker); !shares.empty()) return shares;
        const std::optional<edtf::Edtf> own = decoration != nullptr ? t.years : shape.years;
        for (const auto& alone : {own, shape.years, std::optional<edtf::Edtf>{}}) {
            InUse one(t_->first_year, t_->last_year, s());
            one.both(alone);
            if (auto shares = one.share(maker); !shares.empty()) return shares;
        }
        return std::vector<double>(t_->years(), 1.0 / static_cast<double>(t_->years()));
    }

    std::uint32_t motif_of(std::size_t place, const std::vector<book::Carried>& carried) {
        PlaceTable& table = t_->place[place];
        std::vector<std::pair<std::uint32_t, double>> carries;
        double sum = 0;
        for (const book::Carried& c : carried) sum += c.share;
        for (const book::Carried& c : carried)
            carries.emplace_back(table.index_of[c.ornament.at], sum > 1 ? c.share / sum : c.share);
        std::ranges::sort(carries);
        const auto [found, fresh] =
            motif_index_[place].try_emplace(carries, static_cast<std::uint32_t>(table.motifs.size()));
        if (fresh) {
            table.motifs.push_back({static_cast<std::uint32_t>(table.carried.size()),
                                    static_cast<std::uint32_t>(carries.size()), std::max(0.0, 1 - sum), 0, 0});
            table.carried.insert(table.carried.end(), carries.begin(), carries.end());
        }
        return found->second;
    }

    void add_treatment(std::uint32_t index, double prior) {
        const book::Treatment& t = book_.treatments[index];
        const double one = 1.0 / static_cast<double>(book_.treatments.size());
        const std::uint32_t glaze = t.glaze ? t.glaze->at : kNone;
        const std::size_t glaze_slot = t.glaze ? t.glaze->at : book_.glazes.size();
        const std::uint32_t context = context_of(t.shape.at);
        t_->shape_prior[t.shape.at] += prior;
        t_->shape_frequency[t.shape.at] += one;
        t_->glaze_prior[glaze_slot] += prior;
        t_->glaze_frequency[glaze_slot] += one;

        const auto [body, fresh] = body_index_.try_emplace(std::pair(t.shape.at, glaze), t_->bodies.size());
        if (fresh) {
            const auto era = era_of(context, years_of_row(t, nullptr), s().second_of_any);
            t_->bodies.push_back(Body{t.shape.at, glaze, era, 0});
        }
        t_->bodies[body->second].frequency += 1;

        const std::uint32_t number =
            t.number.empty() ? kNone : static_cast<std::uint32_t>(number_index_.at(t.number));
        const auto [number_class, first_of_class] = number_class_index_.try_emplace(
            std::pair(number, context), static_cast<std::uint32_t>(t_->number_classes.size()));
        if (first_of_class) t_->number_classes.push_back(NumberClass{number, context});
        t_->number_classes[number_class->second].prior += prior;
        t_->number_classes[number_class->second].frequency += one;

        // The ways in which the forms would show it, each once, with the number of forms.
        std::vector<std::pair<Decoration, double>> ways;
        std::vector<std::array<std::uint32_t, book::kPlaces>> motifs;
        const auto add_way = [&](Decoration d, double forms_so = 1) {
            std::array<std::uint32_t, book::kPlaces> m{};
            for (std::size_t p = 0; p < book::kPlaces; ++p) m[p] = motif_of(p, d.at[p]);
            if (const auto same = std::ranges::find(motifs, m); same != motifs.end()) {
                ways[static_cast<std::size_t>(same - motifs.begin())].second += forms_so;
            } else {
                motifs.push_back(m);
                ways.emplace_back(std::move(d), forms_so);
            }
        };
        double forms = 1;
        if (t_->form || book_.forms.empty()) {
            add_way(book::decoration(book_, Ref<book::Treatment>{index}, t_->form));
        } else {
            for (std::uint32_t f = 0; f < book_.forms.size(); ++f)
                if (forms_alike_[f] > 0)
                    add_way(book::decoration(book_, Ref<book::Treatment>{index}, Ref<book::Form>{f}),
                            forms_alike_[f]);
            forms = static_cast<double>(book_.forms.size());
        }
        join_twins(index, glaze_slot, motifs, ways);
        for (std::size_t w = 0; w < ways.size(); ++w) {
            const double share = ways[w].second / forms;
            const double second = second_before_looks(book_, t.grade, ways[w].first, s());
            const std::uint32_t era = era_of(context, years_of_row(t, &ways[w].first), second);
            t_->treatment.push_back(index);
            t_->shape.push_back(t.shape.at);
            t_->glaze.push_back(t.glaze ? glaze : static_cast<std::uint32_t>(book_.glazes.size()));
            t_->number.push_back(number_class->second);
            t_->era.push_back(era);
            t_->prior.push_back(prior * share);
            t_->eras[era].prior += prior * share;
            t_->eras[era].frequency += one * share;
            for (std::size_t p = 0; p < book::kPlaces; ++p) {
                t_->motif[p].push_back(motifs[w][p]);
                t_->place[p].motifs[motifs[w][p]].prior += prior * share;
                t_->place[p].motifs[motifs[w][p]].frequency += one * share;
            }
        }
    }

    // Twins look alike in every way in which a form of the Book could show them.
    void join_twins(std::uint32_t treatment, std::size_t glaze,
                    const std::vector<std::array<std::uint32_t, book::kPlaces>>& motifs,
                    const std::vector<std::pair<Decoration, double>>& ways) {
        std::vector<std::vector<std::uint32_t>> seen;
        for (std::size_t w = 0; w < ways.size(); ++w) {
            std::vector<std::uint32_t> way(motifs[w].begin(), motifs[w].end());
            way.push_back(static_cast<std::uint32_t>(ways[w].second));
            seen.push_back(std::move(way));
        }
        std::ranges::sort(seen);
        std::vector<std::uint32_t> look{book_.treatments[treatment].shape.at, static_cast<std::uint32_t>(glaze)};
        for (const auto& way : seen) look.insert(look.end(), way.begin(), way.end());
        const auto [group, fresh] =
            twin_index_.try_emplace(std::move(look), static_cast<std::uint32_t>(t_->twin_groups.size()));
        if (fresh) t_->twin_groups.emplace_back();
        t_->twin_groups[group->second].push_back(treatment);
        t_->twin_group.push_back(group->second);
    }

    const Book& book_;
    std::span<const double> counts_;
    std::unique_ptr<Tables> t_;
    std::vector<double> forms_alike_;  // by form: how many there are of its kind, at the first of them
    std::unordered_map<std::string, std::size_t> number_index_;
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> number_class_index_;
    std::map<std::vector<std::uint32_t>, std::uint32_t> twin_index_;
    std::unordered_map<std::uint32_t, std::uint32_t> context_index_;
    std::map<std::tuple<std::uint32_t, std::uint32_t, std::vector<double>>, std::uint32_t> period_index_;
    std::map<std::pair<std::uint32_t, double>, std::uint32_t> era_index_;
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> body_index_;
    std::array<std::map<std::vector<std::pair<std::uint32_t, double>>, std::uint32_t>, book::kPlaces> motif_index_;
};

}  // namespace

double loss(looks::Wear wear, Place place, const Settings& s) {
    const double base = wear == looks::Wear::kNone       ? s.loss_none
                        : wear == looks::Wear::kLight    ? s.loss_light
                        : wear == looks::Wear::kModerate ? s.loss_moderate
                                                         : s.loss_heavy;
    double at = s.loss_at_other;
    switch (place) {
        case Place::kEdge:
        case Place::kHandle:
        case Place::kFinial:
            at = s.loss_at_edge;
            break;
        case Place::kRim:
        case Place::kVerge:
        case Place::kLid:
        case Place::kBody:
            at = s.loss_at_rim;
            break;
        case Place::kCentre:
        case Place::kInside:
            at = s.loss_at_centre;
            break;
        case Place::kFoot:
        case Place::kUnderside:
            break;
    }
    return std::min(base * at, s.loss_most);
}

bool wears_off(const book::Ornament& ornament) {
    return ornament.finish == "gold" || ornament.finish == "platinum" || ornament.finish == "silver" ||
           ornament.kind == book::OrnamentKind::kLine;
}

double second_before_looks(const Book& book, Grade grade, const Decoration& decoration, const Settings& s) {
    double second = grade == Grade::kFirst    ? s.second_of_first
                    : grade == Grade::kSecond ? s.second_of_second
                                              : s.second_of_any;
    double first = 1 - second;
    for (const auto& carried : decoration.at)
        for (const book::Carried& c : carried)
            if (const auto share = book[c.ornament].second_share) second *= *share, first *= 1 - *share;
    return first + second > 0 ? second / (first + second) : 0.5;
}

FormView::FormView(const Book& book, std::optional<Ref<book::Form>> form, const Settings& settings,
                   std::span<const double> counts)
    : tables_(Builder(book, form, settings, counts).build()), form_(form) {}
FormView::FormView(const FormView& alike, Ref<book::Form> form) : tables_(alike.tables_), form_(form) {}
FormView::~FormView() = default;
FormView::FormView(FormView&&) noexcept = default;

const Book& FormView::book() const { return *tables_->book; }
std::optional<Ref<book::Form>> FormView::form() const { return form_; }
const Settings& FormView::settings() const { return tables_->settings; }

}  // namespace footring::naming
