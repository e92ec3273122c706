// SPDX-License-Identifier: Apache-2.0
#include "dating/chronology.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "dating/assemblage.h"
#include "dating/sequence.h"
#include "naming/date_answer.h"

namespace footring::dating {

namespace {

using book::Ref;

constexpr double kLikelier = 0.5;  // a candidate stands for a piece when it is likelier than all others together
constexpr std::int64_t kFarthest = 9999;

template <class T>
Expected<ChronologyOf> row_named(const book::Book& book, std::string_view id, std::string_view where) {
    auto found = book::find<T>(book, id, where);
    if (found) return ChronologyOf(*found);
    Problem problem = found.error();
    // An id that several packs have is there; it only has to be written out.
    if (!book.ids.contains(fmt::format("{}/{}", book::Book::table_name<T>(), id)))
        problem.code = ProblemCode::kNotFound;
    return std::unexpected(std::move(problem));
}

std::string full_id(const book::Book& book, const std::string& id, const book::Origin& origin) {
    return origin.pack < book.packs.size() ? book.packs[origin.pack].id + ":" + id : id;
}
std::string name_or(const std::string& name, std::string otherwise) { return name.empty() ? otherwise : name; }

std::string treatment_name(const book::Book& book, Ref<book::Treatment> ref) {
    const book::Treatment& t = book[ref];
    if (t.number.empty()) return name_or(t.name, book::id_of(book, ref));
    return t.name.empty() ? t.number : t.number + " " + t.name;
}

class Drafting {
  public:
    Drafting(const book::Book& book, ChronologyOf of, const Settings& settings)
        : b_(book), s_(settings), all_{static_cast<int>(s_.first_year), static_cast<int>(s_.last_year)} {
        out_.of = std::move(of);
    }

    Chronology all(std::vector<ChronologyPiece> pieces) {
        std::visit([&](const auto& of) { head(of); }, out_.of);
        gather(pieces);
        make_lanes();
        make_ticks();
        make_glazes();
        make_numbers();
        keep_pieces(std::move(pieces));
        bound();
        return std::move(out_);
    }

  private:
    // ---- what open ends are clipped to

    std::pair<int, int> of_maker(const std::optional<Ref<book::Maker>>& maker) const {
        if (!maker || !b_[*maker].years) return all_;
        const SoftSpan span = soft_span(*b_[*maker].years, all_, s_);
        return {span.first, span.last};
    }
    std::pair<int, int> of_shape(Ref<book::Shape> shape) const { return of_maker(b_[shape].maker); }

    // ---- what was asked for

    template <class T>
    void head_of(std::string_view table, Ref<T> ref, std::string name, std::string_view title,
                 const std::optional<edtf::Edtf>& years, std::pair<int, int> within) {
        out_.table = table;
        out_.id = book::id_of(b_, ref);
        out_.name = name_or(name, out_.id);
        out_.title = fmt::format(fmt::runtime(title), out_.name);
        out_.sources = b_[ref].sources;
        if (!years) return;
        out_.span = soft_span(*years, within, s_);
        out_.words = edtf::in_words(*years);
    }
    void head(Ref<book::Ornament> ref) {
        head_of("ornament", ref, b_[ref].name, "{} across shapes", b_[ref].years, all_);
    }
    void head(Ref<book::Shape> ref) {
        head_of("shape", ref, b_[ref].name, "{} and its treatments", b_[ref].years, of_shape(ref));
    }
    void head(Ref<book::Maker> ref) {
        head_of("maker", ref, b_[ref].name, "{} and its shapes", b_[ref].years, all_);
    }
    void head(Ref<book::Glaze> ref) {
        head_of("glaze", ref, b_[ref].name, "{} glaze across shapes", b_[ref].years, of_maker(b_[ref].maker));
    }
    void head(Ref<book::Treatment> ref) {
        head_of("treatment", ref, treatment_name(b_, ref), "{}", b_[ref].years, of_shape(b_[ref].shape));
    }
    void head(const OwnPieces& own) {
        out_.table = own.lot.empty() ? "cupboard" : "lot";
        out_.id = own.lot;
        out_.name = own.lot.empty() ? "The cupboard" : name_or(own.name, own.lot);
        out_.title = own.lot.empty() ? "The pieces of the cupboard" : "The pieces of " + out_.name;
    }

    // ---- which treatments, and where the ornament sits on them

    void gather(const std::vector<ChronologyPiece>& pieces) {
        const auto where = [&](auto belongs) {
            for (std::uint32_t at = 0; at < b_.treatments.size(); ++at)
                if (belongs(b_.treatments[at])) treatments_[at];
        };
        if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&out_.of)) {
            for (const book::TreatmentOrnament& row : b_.treatment_ornaments)
                if (row.ornament == *ornament && row.share > 0) treatments_[row.treatment.at].insert(row.place);
        } else if (const auto* shape = std::get_if<Ref<book::Shape>>(&out_.of)) {
            lanes_.insert(*shape);
            where([&](const book::Treatment& t) { return t.shape == *shape; });
        } else if (const auto* maker = std::get_if<Ref<book::Maker>>(&out_.of)) {
            for (std::uint32_t at = 0; at < b_.shapes.size(); ++at)
                if (b_.shapes[at].maker == *maker) lanes_.insert({at});
            where([&](const book::Treatment& t) { return b_[t.shape].maker == *maker; });
        } else if (const auto* glaze = std::get_if<Ref<book::Glaze>>(&out_.of)) {
            where([&](const book::Treatment& t) { return t.glaze == *glaze; });
        } else if (const auto* treatment = std::get_if<Ref<book::Treatment>>(&out_.of)) {
            treatments_[treatment->at];
        } else {
            for (const ChronologyPiece& piece : pieces) {
                if (piece.treatment) treatments_[piece.treatment->at];
                if (piece.lane) lanes_.insert(*piece.lane);
            }
        }
        for (const auto& [at, places] : treatments_) lanes_.insert(b_.treatments[at].shape);
    }

    // ---- lanes and bars

    // A treatment without years was made when its shape, its glaze and all that it surely carries were in use.
    void work_out(Bar& bar) {
        const book::Treatment& t = b_[bar.treatment];
        SoftSpan span{all_.first, all_.first, all_.second, all_.second};
        bool any = false;
        const auto narrow = [&](const std::optional<edtf::Edtf>& years, std::pair<int, int> within,
                                const std::vector<Ref<book::Source>>& sources) {
            if (!years) return;
            const SoftSpan one = soft_span(*years, within, s_);
            span = any ? SoftSpan{std::max(span.soft_first, one.soft_first), std::max(span.first, one.first),
                                  std::min(span.last, one.last), std::min(span.soft_last, one.soft_last)}
                       : one;
            any = true;
            for (const auto source : sources)
                if (std::ranges::find(bar.sources, source) == bar.sources.end()) bar.sources.push_back(source);
        };
        const book::Shape& shape = b_[t.shape];
        if (shape.maker) narrow(b_[*shape.maker].years, all_, b_[*shape.maker].sources);
        narrow(shape.years, of_shape(t.shape), shape.sources);
        if (t.glaze) narrow(b_[*t.glaze].years, of_maker(b_[*t.glaze].maker), b_[*t.glaze].sources);
        for (const std::uint32_t at : b_.decoration_rows[bar.treatment.at]) {
            const book::TreatmentOrnament& row = b_.treatment_ornaments[at];
            if (row.share >= 1 && row.on.rank() == 0)
                narrow(b_[row.ornament].years, all_, b_[row.ornament].sources);
        }
        bar.stated = false;
        if (!any || span.first > span.last) {
            // Nothing is recorded, or it leaves no year: the years of the shape are the least wrong picture.
            const auto [first, last] = of_shape(t.shape);
            span = shape.years ? soft_span(*shape.years, {first, last}, s_) : SoftSpan{first, first, last, last};
        }
        span.soft_first = std::min(span.soft_first, span.first);
        span.soft_last = std::max(span.soft_last, span.last);
        bar.span = span;
        bar.edtf = edtf::from_years(span.first, span.last);
        if (const auto date = edtf::parse(bar.edtf)) bar.words = edtf::in_words(*date);
    }

    void make_lanes() {
        std::map<Ref<book::Shape>, std::vector<Bar>> bars;
        for (const auto& [at, places] : treatments_) {
            const book::Treatment& t = b_.treatments[at];
            Bar bar;
            bar.treatment = {at};
            bar.places.assign(places.begin(), places.end());
            bar.sources = t.sources;
            if (t.years) {
                bar.span = soft_span(*t.years, of_shape(t.shape), s_);
                bar.edtf = t.years->text();
                bar.words = edtf::in_words(*t.years);
            } else {
                work_out(bar);
            }
            bars[t.shape].push_back(std::move(bar));
        }
        for (const auto shape : lanes_) {
            Lane lane{.shape = shape, .span = {}, .bars = std::move(bars[shape])};
            if (b_[shape].years) lane.span = soft_span(*b_[shape].years, of_shape(shape), s_);
            sort(lane.bars);
            out_.lanes.push_back(std::move(lane));
        }
        std::ranges::stable_sort(out_.lanes, [&](const Lane& a, const Lane& b) {
            const int begins[] = {a.span ? a.span->first : all_.first, b.span ? b.span->first : all_.first};
            return begins[0] != begins[1] ? begins[0] < begins[1] : b_[a.shape].name < b_[b.shape].name;
        });
    }
    void sort(std::vector<Bar>& bars) const {
        struct Key {
            std::string sequence;
            std::int64_t number;
            std::size_t at;
        };
        std::vector<Key> keys;
        for (std::size_t i = 0; i < bars.size(); ++i) {
            const auto number = sequence_number(b_[bars[i].treatment].number);
            keys.push_back(number ? Key{number->sequence, number->number, i}
                                  : Key{"\x7f" + b_[bars[i].treatment].number, 0, i});
        }
        std::ranges::stable_sort(keys, [](const Key& a, const Key& b) {
            return a.sequence != b.sequence ? a.sequence < b.sequence : a.number < b.number;
        });
        std::vector<Bar> sorted;
        sorted.reserve(bars.size());
        for (const Key& key : keys) sorted.push_back(std::move(bars[key.at]));
        bars = std::move(sorted);
    }

    // ---- dated uses

    struct Subject {
        std::optional<Ref<book::Shape>> lane;
        std::optional<Ref<book::Treatment>> treatment;
        std::pair<int, int> within;
    };
    void make_ticks() {
        std::map<std::string, Subject> subjects;
        const auto add = [&]<class T>(Ref<T> ref, Subject subject) {
            subjects.try_emplace(full_id(b_, b_[ref].id, b_[ref].origin), std::move(subject));
        };
        for (const auto& [at, places] : treatments_)
            add(Ref<book::Treatment>{at},
                {b_.treatments[at].shape, Ref<book::Treatment>{at}, of_shape(b_.treatments[at].shape)});
        if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&out_.of))
            add(*ornament, {std::nullopt, std::nullopt, all_});
        if (const auto* glaze = std::get_if<Ref<book::Glaze>>(&out_.of))
            add(*glaze, {std::nullopt, std::nullopt, of_maker(b_[*glaze].maker)});
        const auto* shape = std::get_if<Ref<book::Shape>>(&out_.of);
        const auto* maker = std::get_if<Ref<book::Maker>>(&out_.of);
        if (shape != nullptr || maker != nullptr) {
            for (const auto lane : lanes_) add(lane, {lane, std::nullopt, of_shape(lane)});
            for (std::uint32_t at = 0; at < b_.marks.size(); ++at) {
                const book::Mark& mark = b_.marks[at];
                const bool ours = maker != nullptr ? mark.maker == *maker
                                                   : std::ranges::find(mark.shapes, *shape) != mark.shapes.end();
                if (!ours) continue;
                const auto lane = mark.shapes.size() == 1 ? std::optional(mark.shapes.front())
                                                          : std::optional<Ref<book::Shape>>{};
                add(Ref<book::Mark>{at}, {lane, std::nullopt, of_maker(mark.maker)});
            }
            if (maker != nullptr)
                for (std::uint32_t at = 0; at < b_.glazes.size(); ++at)
                    if (b_.glazes[at].maker == *maker)
                        add(Ref<book::Glaze>{at}, {std::nullopt, std::nullopt, of_maker(*maker)});
        }
        for (std::uint32_t at = 0; at < b_.dated_uses.size(); ++at) {
            const auto subject = subjects.find(b_.dated_uses[at].subject);
            if (subject == subjects.end()) continue;
            out_.ticks.push_back({at, soft_span(b_.dated_uses[at].date, subject->second.within, s_),
                                  subject->second.lane, subject->second.treatment});
        }
        std::ranges::stable_sort(out_.ticks, {}, [](const Tick& t) { return t.span.first; });
    }

    void make_glazes() {
        std::set<Ref<book::Glaze>> glazes;
        for (const auto& [at, places] : treatments_)
            if (b_.treatments[at].glaze) glazes.insert(*b_.treatments[at].glaze);
        if (const auto* glaze = std::get_if<Ref<book::Glaze>>(&out_.of)) glazes.insert(*glaze);
        for (const auto glaze : glazes) {
            ShownGlaze one{glaze, {}};
            if (b_[glaze].years) one.span = soft_span(*b_[glaze].years, of_maker(b_[glaze].maker), s_);
            out_.glazes.push_back(one);
        }
        std::ranges::stable_sort(out_.glazes, {},
                                 [&](const ShownGlaze& g) { return g.span ? g.span->first : all_.second; });
    }

    // ---- numbers: each shape's sequences, fitted over all of the shape's dated treatments

    void make_numbers() {
        std::map<std::tuple<std::uint32_t, std::string, bool>, std::vector<NumberPoint>> sequences;
        for (const Lane& lane : out_.lanes)
            for (const Bar& bar : lane.bars) {
                const book::Treatment& t = b_[bar.treatment];
                const auto number = sequence_number(t.number);
                if (!number) continue;
                const bool seconds = t.grade == book::Grade::kSecond;
                sequences[{lane.shape.at, number->sequence, seconds}].push_back({.shape = lane.shape,
                                                                                 .sequence = number->sequence,
                                                                                 .seconds = seconds,
                                                                                 .number = number->number,
                                                                                 .treatment = bar.treatment});
            }
        for (auto& [key, points] : sequences) {
            const auto& [shape, prefix, seconds] = key;
            const SequenceOf sequence{Ref<book::Shape>{shape}, std::nullopt, prefix, seconds};
            const auto fit = fit_sequence(dated_numbers(b_, sequence, s_), s_);
            if (!fit) continue;  // fewer than three are dated: no line
            std::map<std::uint32_t, std::size_t> dated;
            for (std::size_t i = 0; i < fit->dated.size(); ++i) dated.emplace(fit->dated[i].treatment->at, i);
            std::vector<std::int64_t> undated;
            for (const NumberPoint& point : points)
                if (!dated.contains(point.treatment.at)) undated.push_back(point.number);
            const auto years = years_of_numbers(*fit, undated, s_);
            std::size_t next = 0;
            for (NumberPoint& point : points) {
                const auto its = dated.find(point.treatment.at);
                if (its == dated.end()) {
                    const NumberYear& year = years[next++];
                    point.year = point.line = year.year;
                    point.low = year.low;
                    point.high = year.high;
                } else {
                    const DatedNumber& one = fit->dated[its->second];
                    point.dated = true;
                    point.outlier =
                        std::ranges::find(fit->outliers, its->second, &Outlier::at) != fit->outliers.end();
                    point.year = one.middle();
                    point.low = one.first;
                    point.high = one.last;
                    point.line = fit->line[its->second];
                }
                out_.numbers.push_back(point);
            }
        }
    }

    // ---- pieces

    bool concerns(const ChronologyPiece& piece) const {
        if (std::holds_alternative<OwnPieces>(out_.of)) return true;
        if (piece.treatment && treatments_.contains(piece.treatment->at)) return true;
        if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&out_.of))
            return std::ranges::find(piece.ornaments, *ornament) != piece.ornaments.end();
        if (const auto* shape = std::get_if<Ref<book::Shape>>(&out_.of)) return piece.lane == *shape;
        if (const auto* maker = std::get_if<Ref<book::Maker>>(&out_.of))
            return piece.lane && b_[*piece.lane].maker == *maker;
        if (const auto* glaze = std::get_if<Ref<book::Glaze>>(&out_.of)) return piece.glaze == *glaze;
        return false;
    }
    void keep_pieces(std::vector<ChronologyPiece> pieces) {
        std::size_t more = 0;
        for (ChronologyPiece& piece : pieces) {
            if (!concerns(piece)) continue;
            if (piece.lane && !lanes_.contains(*piece.lane)) piece.lane.reset();
            if (piece.treatment && !treatments_.contains(piece.treatment->at)) piece.treatment.reset();
            if (out_.pieces.size() < kMostPieces) out_.pieces.push_back(std::move(piece));
            else ++more;
        }
        if (more > 0)
            out_.notes.push_back(fmt::format("{} more piece{} belong here and {} not shown.", more,
                                             more == 1 ? "" : "s", more == 1 ? "is" : "are"));
        if (treatments_.empty())
            out_.notes.push_back(std::holds_alternative<OwnPieces>(out_.of)
                                     ? "No piece here is decided, or likelier than not of one treatment."
                                     : "No treatment of the open packs belongs to it.");
        std::size_t worked_out = 0;
        for (const Lane& lane : out_.lanes) worked_out += std::ranges::count(lane.bars, false, &Bar::stated);
        if (worked_out > 0)
            out_.notes.push_back(
                fmt::format("{} treatment{} no years of {} own: the bar shows when shape, glaze and "
                            "ornaments were in use.",
                            worked_out, worked_out == 1 ? " has" : "s have", worked_out == 1 ? "its" : "their"));
    }

    // ---- the years that hold all of it

    void bound() {
        std::optional<std::pair<int, int>> held;
        const auto hold = [&](int first, int last) {
            held = held ? std::pair(std::min(held->first, first), std::max(held->second, last))
                        : std::pair(first, last);
        };
        const auto hold_span = [&](const SoftSpan& span) { hold(span.soft_first, span.soft_last); };
        if (out_.span) hold_span(*out_.span);
        for (const Lane& lane : out_.lanes) {
            if (lane.span) hold_span(*lane.span);
            for (const Bar& bar : lane.bars) hold_span(bar.span);
        }
        for (const Tick& tick : out_.ticks) hold_span(tick.span);
        for (const ChronologyPiece& piece : out_.pieces) hold(piece.hpd68.first, piece.hpd68.second);
        std::tie(out_.first, out_.last) = held.value_or(all_);
    }

    const book::Book& b_;
    const Settings& s_;
    std::pair<int, int> all_;
    Chronology out_;
    std::map<std::uint32_t, std::set<book::Place>> treatments_;  // by index
    std::set<Ref<book::Shape>> lanes_;
};

template <class T>
std::optional<Ref<T>> seen(const std::optional<looks::Sighting<T>>& sighting) {
    if (!sighting) return std::nullopt;
    const auto* ref = std::get_if<Ref<T>>(&sighting->value);
    return ref == nullptr ? std::nullopt : std::optional(*ref);
}

// The one value of the candidates that holds more than half of the odds.
template <class Key, class Of>
std::optional<Key> likelier_than_not(const std::vector<naming::Candidate>& candidates, const Of& of) {
    std::map<Key, double> odds;
    for (const naming::Candidate& c : candidates)
        if (const std::optional<Key> key = of(c.treatment)) odds[*key] += c.probability;
    for (const auto& [key, chance] : odds)
        if (chance > kLikelier) return key;
    return std::nullopt;
}

}  // namespace

Expected<ChronologyOf> chronology_of(const book::Book& book, std::string_view text, std::string_view where) {
    const std::size_t colon = text.find(':');
    const std::string_view table = text.substr(0, colon),
                           id = colon == text.npos ? std::string_view() : text.substr(colon + 1);
    if (table == "cupboard" && colon == text.npos) return ChronologyOf(OwnPieces{});
    if (!id.empty()) {
        if (table == "ornament") return row_named<book::Ornament>(book, id, where);
        if (table == "shape") return row_named<book::Shape>(book, id, where);
        if (table == "maker") return row_named<book::Maker>(book, id, where);
        if (table == "glaze") return row_named<book::Glaze>(book, id, where);
        if (table == "treatment") return row_named<book::Treatment>(book, id, where);
        if (table == "lot") return ChronologyOf(OwnPieces{std::string(id), ""});
    }
    return fail(ProblemCode::kBadInput, std::string(where), fmt::format("'{}' names nothing that has years", text),
                "write ornament:ID, shape:ID, maker:ID, glaze:ID, treatment:ID, lot:ID or cupboard");
}

SoftSpan soft_span(const edtf::Edtf& date, std::pair<int, int> within, const Settings& settings) {
    const auto reach = [&](edtf::End end) {
        const double years = end == edtf::End::kSharp   ? 0
                             : end == edtf::End::kAbout ? settings.soft_about_years
                                                        : settings.soft_uncertain_years;
        return static_cast<int>(years);
    };
    const auto year = [](std::int64_t y) { return static_cast<int>(std::clamp(y, -kFarthest, kFarthest)); };
    std::optional<SoftSpan> out;
    for (const edtf::Span& span : date.spans()) {
        // An open end is clipped, but never to before the end that is known.
        SoftSpan one;
        one.first =
            span.first ? year(*span.first) : std::min(within.first, span.last ? year(*span.last) : within.first);
        one.last = span.last ? year(*span.last) : std::max(within.second, one.first);
        one.soft_first = one.first - (span.first ? reach(span.first_end) : 0);
        one.soft_last = one.last + (span.last ? reach(span.last_end) : 0);
        if (!out) out = one;
        else
            out = SoftSpan{std::min(out->soft_first, one.soft_first), std::min(out->first, one.first),
                           std::max(out->last, one.last), std::max(out->soft_last, one.soft_last)};
    }
    return *out;
}

ChronologyPiece place_piece(const book::Book& book, std::string id, const looks::Findings& findings,
                            const naming::Answer& answer, const std::optional<DecidedAs>& decided,
                            const Settings& settings) {
    ChronologyPiece out;
    out.id = std::move(id);
    out.form = findings.form;
    out.decided = decided && decided->treatment;
    if (out.decided) {
        out.treatment = decided->treatment;
        out.lane = book[*out.treatment].shape;
        out.glaze = book[*out.treatment].glaze;
    } else {
        const auto& candidates = answer.candidates;
        out.treatment =
            likelier_than_not<Ref<book::Treatment>>(candidates, [](auto t) { return std::optional(t); });
        out.lane = seen(findings.shape);
        if (!out.lane)
            out.lane = likelier_than_not<Ref<book::Shape>>(candidates,
                                                           [&](auto t) { return std::optional(book[t].shape); });
        out.glaze = seen(findings.glaze);
        if (!out.glaze)
            out.glaze = likelier_than_not<Ref<book::Glaze>>(candidates, [&](auto t) { return book[t].glaze; });
    }
    for (const looks::OrnamentSighting& sighting : findings.ornaments)
        if (const auto* ornament = std::get_if<Ref<book::Ornament>>(&sighting.value))
            out.ornaments.push_back(*ornament);
    naming::DateAnswer date = answer.date;
    if (decided && !decided->date.empty())
        if (auto shares = shares_of_date(decided->date, settings))
            date = naming::date_answer(std::move(shares->share), shares->first);
    out.median = date.median;
    out.hpd68 = date.hpd68;
    out.hpd95 = date.hpd95;
    return out;
}

Chronology chronology(const book::Book& book, const ChronologyOf& of, std::vector<ChronologyPiece> pieces,
                      const Settings& settings) {
    return Drafting(book, of, settings).all(std::move(pieces));
}

}  // namespace footring::dating
