// SPDX-License-Identifier: Apache-2.0
#include "dating/piece_years.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <unordered_map>

#include "book/code_scheme.h"
#include "book/decoration.h"
#include "dating/sequence.h"
#include "dating/unseen.h"
#include "naming/date_answer.h"

namespace footring::dating {

namespace {

using book::Ref;

class Gatherer {
  public:
    Gatherer(const book::Book& book, const looks::Findings& findings, YearRange range, const Settings& settings)
        : b_(book), f_(findings), range_(range), s_(settings) {
        for (const book::DatedUse& use : b_.dated_uses)
            if (use.date.earliest() && use.date.latest()) uses_of_[use.subject].push_back(&use);
    }

    const std::vector<YearStatement>& all(std::optional<Ref<book::Treatment>> treatment) {
        out_.clear();
        std::optional<Ref<book::Shape>> shape = seen(f_.shape);
        std::optional<Ref<book::Glaze>> glaze = seen(f_.glaze);
        std::set<Ref<book::Ornament>> ornaments;
        if (treatment) {
            shape = b_[*treatment].shape;
            if (b_[*treatment].glaze) glaze = b_[*treatment].glaze;
            const book::Decoration decoration = book::decoration(b_, *treatment, f_.form);
            for (const auto& carried : decoration.at)
                if (carried.size() == 1 && carried.front().share == 1) ornaments.insert(carried.front().ornament);
        }
        for (const auto& look : f_.ornaments)
            if (const auto* o = std::get_if<Ref<book::Ornament>>(&look.value)) ornaments.insert(*o);
        if (shape && b_[*shape].maker) period("maker", *b_[*shape].maker);
        if (shape) period_or_uses("shape", *shape);
        if (glaze) period_or_uses("glaze", *glaze);
        for (const auto ornament : ornaments) period_or_uses("ornament", ornament);
        if (treatment) {
            period("treatment", *treatment);
            uses("treatment", *treatment);
        }
        number(treatment, shape);
        const auto mark = seen(f_.mark);
        if (mark) period_or_uses("mark", *mark);
        if (!f_.date_code.empty()) code(mark, shape);
        return out_;
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
    void period(std::string_view kind, Ref<T> ref) {
        const T& row = b_[ref];
        if (!row.years) return;
        add({.subject = fmt::format("{} {}", kind, book::id_of(b_, ref)),
             .what = "in use " + edtf::in_words(*row.years),
             .agrees = agrees_with(*row.years, range_.first, range_.last, s_),
             .trust = trust_of(b_, row.sources, s_.source_trust),
             .sources = row.sources,
             .row = fmt::format("{}.csv:{}", book::Book::table_name<T>(), row.origin.line)});
    }

    // A period that is written down has been made from the dated uses: they would be counted twice.
    template <class T>
    void period_or_uses(std::string_view kind, Ref<T> ref) {
        if (b_[ref].years) period(kind, ref);
        else uses(kind, ref);
    }

    template <class T>
    void uses(std::string_view kind, Ref<T> ref) {
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
        statement.trust = 1 - doubt;
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

    // By the schemes of the mark that was seen, else of every mark of the shape's maker, else of all.
    void code(std::optional<Ref<book::Mark>> mark, std::optional<Ref<book::Shape>> shape) {
        std::set<Ref<book::CodeScheme>> schemes;
        const book::Maker* maker = shape && b_[*shape].maker ? &b_[*b_[*shape].maker] : nullptr;
        for (std::uint32_t i = 0; i < b_.marks.size(); ++i) {
            const book::Mark& m = b_.marks[i];
            if (!m.code_scheme || (mark && mark->at != i)) continue;
            if (!mark && maker != nullptr && (!m.maker || &b_[*m.maker] != maker)) continue;
            schemes.insert(*m.code_scheme);
        }
        std::set<int> years;
        std::vector<Ref<book::Source>> sources;
        for (const auto scheme : schemes) {
            const auto decoded = book::decode(b_[scheme], f_.date_code, range_.first, range_.last);
            if (!decoded) continue;
            years.insert(decoded->begin(), decoded->end());
            sources.insert(sources.end(), b_[scheme].sources.begin(), b_[scheme].sources.end());
        }
        if (years.empty()) return;
        add({.subject = "date code " + f_.date_code,
             .what = fmt::format("says {}", fmt::join(years, " or ")),
             .agrees = agrees_with_years({years.begin(), years.end()}, range_.first, range_.last),
             .trust = s_.sure_sure * trust_of(b_, sources, s_.source_trust),
             .sources = sources,
             .row = ""});
    }

    // A statement that no year of the range agrees with is about another time; it is kept, and contradicts.
    void add(YearStatement statement) { out_.push_back(std::move(statement)); }

    const book::Book& b_;
    const looks::Findings& f_;
    YearRange range_;
    const Settings& s_;
    std::vector<YearStatement> out_;
    std::unordered_map<std::string, std::vector<const book::DatedUse*>> uses_of_;  // by subject
    std::map<std::tuple<std::uint32_t, std::string, bool, std::int64_t>, Sequenced> sequenced_;
};

struct Hypothesis {
    std::optional<Ref<book::Treatment>> treatment;
    double probability;
};
std::vector<Hypothesis> hypotheses_of(const naming::Answer& answer) {
    std::vector<Hypothesis> out;
    double listed = 0, kept = 0;
    for (const naming::Candidate& c : answer.candidates) {
        listed += c.probability;
        if (out.size() < kMostHypotheses) {
            out.push_back({c.treatment, c.probability});
            kept += c.probability;
        }
    }
    for (Hypothesis& h : out) h.probability *= listed / kept;
    const double open = answer.open.unlisted + answer.open.elsewhere;
    if (open > 0 || out.empty()) out.push_back({std::nullopt, out.empty() ? 1 : open});
    return out;
}

std::string quarrel(const std::vector<YearStatement>& statements, const Contradictions& contradictions) {
    if (contradictions.smallest.empty()) return "the statements leave no year";
    std::string words;
    for (const std::size_t i : contradictions.smallest.front())
        words += fmt::format("{}{} {}", words.empty() ? "" : ", and ", statements[i].subject, statements[i].what);
    return words + " cannot all hold";
}

}  // namespace

YearRange range_of(const naming::Answer& answer) {
    return {answer.date.first_year, answer.date.first_year + static_cast<int>(answer.date.by_year.size()) - 1};
}

std::vector<YearStatement> statements_of(const book::Book& book, const looks::Findings& findings,
                                         std::optional<Ref<book::Treatment>> treatment, YearRange range,
                                         const Settings& settings) {
    return Gatherer(book, findings, range, settings).all(treatment);
}

Expected<PieceYears> date_piece(const book::Book& book, const looks::Findings& findings,
                                const naming::Answer& answer, const std::vector<YearStatement>& further,
                                const Settings& settings) {
    const YearRange range = range_of(answer);
    const std::size_t years = range.size();
    std::vector<double> extra(years, 1);
    for (const YearStatement& s : further)
        for (std::size_t y = 0; y < years; ++y) extra[y] *= s.trust * s.agrees[y] + 1 - s.trust;

    PieceYears out;
    std::vector<double> mixed(years, 0);
    double sum = 0;
    Gatherer gatherer(book, findings, range, settings);
    for (const Hypothesis& h : hypotheses_of(answer)) {
        const std::vector<double> own = years_of(gatherer.all(h.treatment), years);
        double agree = 0, expected = 0;
        for (std::size_t y = 0; y < years; ++y) agree += own[y] * extra[y];
        if (agree <= 0) continue;
        std::size_t median = 0;
        for (std::size_t y = 0; y < years; ++y) {
            const double share = own[y] * extra[y] / agree;
            if (expected < 0.5) median = y;
            expected += share;
            mixed[y] += h.probability * own[y] * extra[y];
        }
        sum += h.probability * agree;
        out.hypotheses.push_back({h.treatment, h.probability * agree, range.first + static_cast<int>(median)});
    }
    std::ranges::stable_sort(out.hypotheses, std::greater{}, &HypothesisYears::probability);
    const auto best = out.hypotheses.empty() ? std::nullopt : out.hypotheses.front().treatment;
    out.statements = gatherer.all(best);
    out.statements.insert(out.statements.end(), further.begin(), further.end());
    out.together = combine(out.statements, years);
    if (sum <= 0)
        return fail(ProblemCode::kBadInput, "date", quarrel(out.statements, out.together.contradictions),
                    "trust one of them less, or mend the Book");
    for (double& share : mixed) share /= sum;
    for (HypothesisYears& h : out.hypotheses) h.probability /= sum;
    out.date = naming::date_answer(std::move(mixed), range.first);
    return out;
}

}  // namespace footring::dating
