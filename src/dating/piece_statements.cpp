// SPDX-License-Identifier: Apache-2.0
#include "dating/piece_statements.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <unordered_map>

#include "book/decoration.h"
#include "dating/sequence.h"
#include "dating/unseen.h"
#include "naming/years_given.h"

namespace footring::dating {

namespace {

using book::Ref;

// `sure`: the chance that what a statement is about was seen right; 1 for what a treatment brings with it.
class Gatherer {
  public:
    Gatherer(const naming::FormView& view, const looks::Findings& findings)
        : view_(view), b_(view.book()), f_(findings), range_(range_of(view)), s_(view.settings()) {
        for (const book::DatedUse& use : b_.dated_uses)
            if (use.date.earliest() && use.date.latest()) uses_of_[use.subject].push_back(&use);
    }

    PieceStatements all(std::optional<Ref<book::Treatment>> treatment) {
        out_ = {};
        std::optional<Ref<book::Shape>> shape = seen(f_.shape);
        std::optional<Ref<book::Glaze>> glaze = seen(f_.glaze);
        double shape_sure = f_.shape ? f_.shape->sure : 1, glaze_sure = f_.glaze ? f_.glaze->sure : 1;
        std::vector<std::pair<Ref<book::Ornament>, double>> ornaments;
        if (treatment) {
            shape = b_[*treatment].shape, shape_sure = 1;
            if (b_[*treatment].glaze) glaze = b_[*treatment].glaze, glaze_sure = 1;
            for (const auto one : naming::ornaments_of(book::decoration(b_, *treatment, f_.form)))
                ornaments.emplace_back(one, 1);
        } else {
            for (const auto& look : f_.ornaments)
                if (const auto* o = std::get_if<Ref<book::Ornament>>(&look.value)) {
                    const auto known =
                        std::ranges::find(ornaments, *o, &std::pair<Ref<book::Ornament>, double>::first);
                    if (known == ornaments.end()) ornaments.emplace_back(*o, look.sure);
                    else known->second = std::max(known->second, look.sure);
                }
        }
        if (shape && b_[*shape].maker) period("maker", *b_[*shape].maker, shape_sure);
        if (shape) period_or_uses("shape", *shape, shape_sure);
        if (glaze) period_or_uses("glaze", *glaze, glaze_sure);
        for (const auto& [ornament, sure] : ornaments) period_or_uses("ornament", ornament, sure);
        if (treatment) {
            period("treatment", *treatment);
            uses("treatment", *treatment);
        }
        number(treatment, shape);
        // Without years of its own a mark stands for the uses of it that are dated.
        if (const auto mark = seen(f_.mark); mark && !b_[*mark].years) uses("mark", *mark, f_.mark->sure);
        out_.looks_from = out_.statements.size();
        looks(naming::years_given(view_, f_, treatment));
        return std::move(out_);
    }

  private:
    template <class T>
    static std::optional<Ref<T>> seen(const std::optional<looks::Sighting<T>>& sighting) {
        if (!sighting) return std::nullopt;
        const auto* ref = std::get_if<Ref<T>>(&sighting->value);
        return ref == nullptr ? std::nullopt : std::optional(*ref);
    }

    template <class T>
    std::string full_id(const T& row) const {
        return row.origin.pack < b_.packs.size() ? b_.packs[row.origin.pack].id + ":" + row.id : row.id;
    }

    template <class T>
    void period(std::string_view kind, Ref<T> ref, double sure = 1) {
        const T& row = b_[ref];
        if (!row.years) return;
        // Treatments share shape, glaze and ornaments: a period is put in words and years once.
        const auto [kept, fresh] = periods_.try_emplace({kind, ref.at});
        if (fresh)
            kept->second = {.subject = fmt::format("{} {}", kind, book::id_of(b_, ref)),
                            .what = "in use " + edtf::in_words(*row.years),
                            .agrees = agrees_with(*row.years, range_.first, range_.last, s_),
                            .trust = trust_of(b_, row.sources, s_.source_trust),
                            .sources = row.sources,
                            .row = fmt::format("{}.csv:{}", book::Book::table_name<T>(), row.origin.line)};
        YearStatement statement = kept->second;
        statement.trust *= sure;
        add(std::move(statement));
    }

    // A period that is written down has been made from the dated uses: they would be counted twice.
    template <class T>
    void period_or_uses(std::string_view kind, Ref<T> ref, double sure) {
        if (b_[ref].years) period(kind, ref, sure);
        else uses(kind, ref, sure);
    }

    template <class T>
    void uses(std::string_view kind, Ref<T> ref, double sure = 1) {
        const T& subject = b_[ref];
        const std::string full = full_id(subject);
        std::vector<int> years;
        YearStatement statement;
        double doubt = 1;
        const auto add_uses = [&](const std::string& id) {
            const auto found = uses_of_.find(id);
            if (found == uses_of_.end()) return;
            for (const book::DatedUse* use : found->second) {
                years.push_back(static_cast<int>((use->date.earliest()->year + use->date.latest()->year) / 2));
                statement.sources.insert(statement.sources.end(), use->sources.begin(), use->sources.end());
                doubt *= 1 - trust_of(b_, use->sources, s_.source_trust);
                if (statement.row.empty()) statement.row = fmt::format("dated_uses.csv:{}", use->origin.line);
            }
        };
        add_uses(full);
        if (full != subject.id) add_uses(subject.id);
        if (years.empty()) return;
        const auto [first, last] = std::ranges::minmax(years);
        statement.subject = fmt::format("{} {}", kind, book::id_of(b_, ref));
        statement.what = years.size() == 1
                             ? fmt::format("seen in use in {}", first)
                             : fmt::format("seen in use {} times, {} to {}", years.size(), first, last);
        statement.agrees = agrees_with_uses(years, s_.dated_use_reach_years, range_.first, range_.last);
        statement.trust = (1 - doubt) * sure;
        add(std::move(statement));
    }

    // A number without a date of its own, read off the dated numbers of its shape, else of its maker. It tells when
    // the number was given out: the piece was made then or later. Of a treatment that is dated itself it would be
    // heard twice.
    void number(std::optional<Ref<book::Treatment>> treatment, std::optional<Ref<book::Shape>> shape) {
        if (!shape) return;
        std::optional<SequenceNumber> which;
        double sure = 1;
        bool seconds = false;
        if (treatment) {
            const book::Treatment& t = b_[*treatment];
            const std::string full = full_id(t);
            if (t.years || uses_of_.contains(full) || (full != t.id && uses_of_.contains(t.id))) return;
            which = sequence_number(t.number);
            seconds = t.grade == book::Grade::kSecond;
        } else if (f_.number && f_.number->pattern) {
            which = sequence_number(*f_.number->pattern);
            sure = f_.number->sure;
            if (which)
                seconds = is_number_of_seconds(b_, {*shape, std::nullopt, which->sequence, false}, which->number);
        }
        if (!which) return;
        const Sequenced& found = sequenced(*which, *shape, seconds);
        if (!found.year || found.year->where == NumberYear::Where::kBefore) return;
        const NumberYear& year = *found.year;
        // The interval is sequence_interval wide; a normal distribution has it within that many deviations.
        const double sigma = std::max(0.5, (year.high - year.low) / (2 * normal_reach(s_.sequence_interval)));
        add({.subject = fmt::format("number {}{}", which->sequence, which->number),
             .what = fmt::format("given out about {:.0f}, {:.0f} to {:.0f}, by the order of {}: made then or later",
                                 year.year, std::floor(year.low), std::ceil(year.high), found.among),
             .agrees = agrees_after_estimate(year.year, sigma, range_.first, range_.last),
             .trust = s_.sequence_trust * sure,
             .sources = found.sources,
             .row = ""});
    }
    struct Sequenced {
        std::optional<NumberYear> year;  // absent: too few of its sequence are dated
        std::string among;               // "31 dated numbers of shape harrow"
        std::vector<Ref<book::Source>> sources;
    };
    const Sequenced& sequenced(const SequenceNumber& which, Ref<book::Shape> shape, bool seconds) {
        const auto [kept, fresh] = sequenced_.try_emplace({shape.at, which.sequence, seconds, which.number});
        if (!fresh) return kept->second;
        std::vector<std::pair<SequenceOf, std::string>> tries = {
            {{shape, std::nullopt, which.sequence, seconds}, "shape " + book::id_of(b_, shape)}};
        if (const auto maker = b_[shape].maker)
            tries.push_back({{std::nullopt, *maker, which.sequence, seconds}, "maker " + book::id_of(b_, *maker)});
        for (const auto& [of, name] : tries) {
            const auto fit = fit_sequence(dated_numbers(b_, of, s_), s_);
            if (!fit) continue;
            kept->second.year = year_of_number(*fit, which.number, s_);
            kept->second.among = fmt::format("{} dated numbers of {}", fit->dated.size(), name);
            for (const DatedNumber& one : fit->dated)
                for (const auto source : one.sources)
                    if (std::ranges::find(kept->second.sources, source) == kept->second.sources.end())
                        kept->second.sources.push_back(source);
            break;
        }
        return kept->second;
    }

    // The mark and the date code, as naming hears them, softened by how far the Book is trusted about them.
    void looks(const naming::TreatmentYears& given) {
        out_.looks.assign(range_.size(), 1);
        const auto mark = seen(f_.mark);
        if (f_.mark) {
            YearStatement statement;
            if (mark) {
                const book::Mark& m = b_[*mark];
                statement.subject = "mark " + book::id_of(b_, *mark);
                if (m.years) statement.what = "in use " + edtf::in_words(*m.years);
                statement.trust = trust_of(b_, m.sources, s_.source_trust);
                statement.sources = m.sources;
                statement.row = fmt::format("marks.csv:{}", m.origin.line);
            }
            look(given.mark, std::move(statement));
        }
        if (!f_.date_code.empty()) {
            YearStatement statement;
            statement.subject = "date code " + f_.date_code;
            std::vector<int> years;
            for (std::size_t y = 0; y < given.code.right.size(); ++y)
                if (given.code.right[y]) years.push_back(range_.first + static_cast<int>(y));
            if (!years.empty()) statement.what = fmt::format("says {}", fmt::join(years, " or "));
            for (const auto scheme : given.code.schemes)
                statement.sources.insert(statement.sources.end(), b_[scheme].sources.begin(),
                                         b_[scheme].sources.end());
            statement.trust = trust_of(b_, statement.sources, s_.source_trust);
            look(given.code, std::move(statement));
        }
        double strict = 0;
        for (std::size_t y = 0; y < given.in_use.size(); ++y)
            strict += given.in_use[y] * (given.mark.given.empty() ? 1 : given.mark.given[y]) *
                      (given.code.given.empty() ? 1 : given.code.given[y]);
        if (strict > 0)
            for (double& l : out_.looks) l /= strict;
    }
    // P(look | year) is a floor, where it was misread, and what stands above it, where it can be right. So the look
    // is right with the chance 1 - floor / mean, and then the Book is, with its trust.
    void look(const naming::LookYears& look, YearStatement statement) {
        double mean = 0, most = 0, floor = 0, wrong = 0;
        for (std::size_t y = 0; y < look.given.size(); ++y) {
            mean += look.given[y] / static_cast<double>(look.given.size());
            most = std::max(most, look.given[y]);
            if (!look.right[y]) floor += look.given[y], ++wrong;
        }
        if (mean <= 0) return;
        if (wrong > 0) floor /= wrong;
        const bool tells =
            !statement.what.empty() && wrong < static_cast<double>(look.given.size()) && most > floor;
        for (std::size_t y = 0; y < look.given.size(); ++y)
            out_.looks[y] *= tells ? statement.trust * look.given[y] + (1 - statement.trust) * mean : look.given[y];
        if (!tells) return;
        statement.agrees.assign(look.given.size(), 0);
        for (std::size_t y = 0; y < look.given.size(); ++y)
            if (look.right[y]) statement.agrees[y] = std::max(0.0, (look.given[y] - floor) / (most - floor));
        statement.trust *= 1 - floor / mean;
        add(std::move(statement));
    }

    // A statement that no year of the range agrees with is about another time; it is kept, and contradicts.
    void add(YearStatement statement) { out_.statements.push_back(std::move(statement)); }

    const naming::FormView& view_;
    const book::Book& b_;
    const looks::Findings& f_;
    YearRange range_;
    const Settings& s_;
    PieceStatements out_;
    std::unordered_map<std::string, std::vector<const book::DatedUse*>> uses_of_;  // by subject
    std::map<std::pair<std::string_view, std::uint32_t>, YearStatement> periods_;  // by kind, a literal, and row
    std::map<std::tuple<std::uint32_t, std::string, bool, std::int64_t>, Sequenced> sequenced_;
};

}  // namespace

YearRange range_of(const naming::FormView& view) {
    const auto [first, last] = naming::years_of(view);
    return {first, last};
}

struct PieceGatherer::Inside : Gatherer {
    using Gatherer::Gatherer;
};
PieceGatherer::PieceGatherer(const naming::FormView& view, const looks::Findings& findings)
    : inside_(std::make_unique<Inside>(view, findings)) {}
PieceGatherer::~PieceGatherer() = default;
PieceStatements PieceGatherer::of(std::optional<Ref<book::Treatment>> treatment) { return inside_->all(treatment); }

}  // namespace footring::dating
