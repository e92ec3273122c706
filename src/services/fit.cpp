// SPDX-License-Identifier: Apache-2.0
#include "services/fit.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/decoration.h"

namespace footring::services {

using book::Book;
using book::Form;
using book::Ref;
using book::Treatment;

namespace {

constexpr std::uint32_t kNoGlaze = 0xFFFFFFFF;
constexpr double kLongest = 1e9;               // sorts what nobody measured behind all others
constexpr std::uint32_t kNotYet = 0xFFFFFFFF;  // the size of a fit that measured neighbours will tell

std::pair<std::uint32_t, std::uint32_t> body_of(const Treatment& t) {
    return {t.shape.at, t.glaze ? t.glaze->at : kNoGlaze};
}

std::string size_key(std::string_view size) {
    std::string out;
    for (const char c : lower(size))
        if (c != ' ' && c != '.') out += c;
    return out;
}

std::string form_words(const Book& book, Ref<Form> form) {
    return lower(book[form].name.empty() ? book[form].id : book[form].name);
}

std::string mm(double length) { return fmt::format("{:.0f} mm", length); }

std::string chance(double p) {
    if (p > 0.995 && p < 1) return "over 99 %";
    if (p > 0 && p < 0.005) return "under 1 %";
    return fmt::format("{:.0f} %", 100 * p);
}

constexpr std::string_view kWearWords[] = {"no wear", "light wear", "moderate wear", "heavy wear"};
constexpr std::string_view kFaultsWords[] = {"no faults", "few faults", "many faults"};

// The most that fit: which of `pieces` has a place and which has none (augmenting paths; lines have many places).
struct Seating {
    const std::vector<std::vector<std::uint32_t>>& lines_of;  // by piece
    std::vector<int> free;                                    // by line
    std::vector<std::vector<std::size_t>> seated;             // by line

    bool seat(std::size_t piece, std::vector<bool>& tried) {
        for (const std::uint32_t line : lines_of[piece]) {
            if (tried[line]) continue;
            tried[line] = true;
            if (free[line] > 0) {
                --free[line];
                seated[line].push_back(piece);
                return true;
            }
            for (std::size_t& other : seated[line])
                if (seat(other, tried)) {
                    other = piece;
                    return true;
                }
        }
        return false;
    }
};

}  // namespace

std::string_view name_of(State state) {
    constexpr std::string_view kNames[] = {"filled", "interchangeable", "doubtful"};
    return kNames[static_cast<std::size_t>(state)];
}

Odds odds_of(const naming::Answer& answer) {
    Odds out;
    for (const naming::Candidate& candidate : answer.candidates)
        out.treatments.emplace_back(candidate.treatment, candidate.probability);
    out.second = answer.grade.second;
    return out;
}

Odds decided_odds(std::optional<Ref<Treatment>> treatment, std::string_view grade, const naming::Answer& answer) {
    Odds out;
    out.decided = true;
    if (treatment) out.treatments.emplace_back(*treatment, 1.0);
    out.second = grade == "first" ? 0 : grade == "second" ? 1 : answer.grade.second;
    return out;
}

Owned owned(std::string id, const looks::Piece& piece, const looks::Findings& findings, Odds odds) {
    return {std::move(id), findings.form, piece.wear, piece.faults, piece.length_mm, std::move(odds)};
}

bool look_alike(const Book& book, Ref<Treatment> a, Ref<Treatment> b, Ref<Form> form) {
    if (a == b) return true;
    if (body_of(book[a]) != body_of(book[b])) return false;
    const auto first = book::decoration(book, a, form), second = book::decoration(book, b, form);
    for (std::size_t p = 0; p < book::kPlaces; ++p) {
        std::map<std::uint32_t, double> one, other;
        for (const book::Carried& c : first.at[p]) one[c.ornament.at] += c.share;
        for (const book::Carried& c : second.at[p]) other[c.ornament.at] += c.share;
        if (one.size() != other.size()) return false;
        for (const auto& [ornament, share] : one) {
            const auto found = other.find(ornament);
            if (found == other.end() || std::abs(found->second - share) > 1e-9) return false;
        }
    }
    return true;
}

std::string called(const Book& book, Ref<Treatment> ref) {
    const Treatment& t = book[ref];
    if (t.number.empty()) return t.name.empty() ? book::id_of(book, ref) : t.name;
    return t.name.empty() ? t.number : t.number + " " + t.name;
}

Fitting::Fitting(const Book& book, const Plan& plan, std::span<const Owned> pieces, const Settings& settings)
    : book_(book), plan_(plan), pieces_(pieces), settings_(settings) {
    for (std::uint32_t t = 0; t < book.treatments.size(); ++t) by_body_[body_of(book.treatments[t])].push_back(t);
    for (std::size_t i = 0; i < pieces.size(); ++i) at_.emplace(pieces[i].id, i);
    for (const PlannedService& service : plan.services) {
        insist_.emplace_back(service.given.insist.begin(), service.given.insist.end());
        refuse_.emplace_back(service.given.refuse.begin(), service.given.refuse.end());
    }
    list_made_sizes();
    fit_all();
    sort_sizes();
    check_insistence();
}

std::string size_words(const LineSize& size) {
    if (!size.trade_size.empty()) return size.trade_size;
    return size.length_mm ? "about " + mm(*size.length_mm) : "";
}

const Owned* Fitting::piece(std::string_view id) const {
    const auto found = at_.find(id);
    return found == at_.end() ? nullptr : &pieces_[found->second];
}

std::size_t Fitting::sizes(std::uint32_t service, std::uint32_t line) const {
    return static_cast<std::size_t>(
        std::ranges::count_if(sizes_at(service, line), [](const LineSize& size) { return size.pieces > 0; }));
}

const std::vector<LineSize>& Fitting::sizes_at(std::uint32_t service, std::uint32_t line) const {
    static const std::vector<LineSize> kNone;
    const auto found = line_sizes_.find({service, line});
    return found == line_sizes_.end() ? kNone : found->second;
}

const std::vector<std::uint32_t>& Fitting::alike(std::uint32_t service, Ref<Form> form) const {
    const auto [slot, fresh] = alike_.try_emplace({service, form.at});
    if (!fresh) return slot->second;
    std::set<std::uint32_t> all;
    for (const auto treatment : plan_.services[service].treatments)
        for (const std::uint32_t other : by_body_.at(body_of(book_[treatment])))
            if (!all.contains(other) && look_alike(book_, treatment, {other}, form)) all.insert(other);
    slot->second.assign(all.begin(), all.end());
    return slot->second;
}

const Fitting::Sizes& Fitting::sizes_of(std::uint32_t treatment, Ref<Form> form) const {
    const std::uint32_t shape = book_.treatments[treatment].shape.at;
    const auto [slot, fresh] = sizes_.try_emplace({shape, form.at});
    if (!fresh) return slot->second;
    Sizes& out = slot->second;
    for (const book::ShapeForm& row : book_.shape_forms) {
        if (row.shape.at != shape || row.form != form) continue;
        ++out.rows;
        if (!row.length_mm) continue;
        // The same size recorded twice (other years, other source) is one size.
        const bool known = std::ranges::any_of(out.with_length, [&](const auto& other) {
            return size_key(other.first) == size_key(row.trade_size) &&
                   std::abs(other.second - *row.length_mm) <= settings_.service_size_tolerance * other.second;
        });
        if (!known) out.with_length.emplace_back(row.trade_size, *row.length_mm);
    }
    return out;
}

Fitting::Judged Fitting::judge(std::size_t at, std::uint32_t s, std::uint32_t l) const {
    const Owned& piece = pieces_[at];
    const PlannedService& service = plan_.services[s];
    const PlannedLine& line = service.lines[l];
    Judged out;
    const auto& alike_here = alike(s, *piece.form);
    out.best = service.treatments.front().at;
    double best = -1;
    bool other = false;
    for (const auto& [treatment, p] : piece.odds.treatments) {
        if (!std::ranges::binary_search(alike_here, treatment.at)) continue;
        out.odds += p;
        if (p > best) best = p, out.best = treatment.at;
    }
    for (const std::uint32_t t : alike_here)
        other = other || std::ranges::find(service.treatments, Ref<Treatment>{t}) == service.treatments.end();
    out.odds = std::min(out.odds, 1.0);
    out.state = out.odds < settings_.service_sure_odds ? State::kDoubtful
                : other                                ? State::kInterchangeable
                                                       : State::kFilled;
    const double grade = service.given.grades == Grades::kFirst    ? 1 - piece.odds.second
                         : service.given.grades == Grades::kSecond ? piece.odds.second
                                                                   : 1;
    if (grade < settings_.service_sure_odds) out.state = State::kDoubtful;
    const Sizes& sizes = sizes_of(out.best, *piece.form);
    const auto& recorded = sizes.with_length;
    out.recorded_size = !recorded.empty();
    if (out.recorded_size && piece.length_mm) {
        const auto off = [&](const auto& row) { return std::abs(row.second - *piece.length_mm) / row.second; };
        const auto nearest = std::ranges::min_element(recorded, {}, off);
        out.size = static_cast<std::uint32_t>(nearest - recorded.begin());
        const bool wanted = line.trade_size.empty() || size_key(nearest->first) == size_key(line.trade_size);
        if (off(*nearest) > settings_.service_size_tolerance || !wanted) out.bar = Bar::kSize;
    } else if (out.recorded_size && recorded.size() > 1) {
        out.bar = Bar::kUnmeasured;
    } else if (!line.trade_size.empty() && sizes.rows > 0 && !line.made) {
        out.bar = Bar::kNotMade;
    }
    // The gravest first: what a person would say first.
    if (piece.faults && service.given.worst_faults && *piece.faults > *service.given.worst_faults)
        out.bar = Bar::kFaults;
    if (piece.wear && service.given.worst_wear && *piece.wear > *service.given.worst_wear) out.bar = Bar::kWear;
    if (grade < service.least_odds) out.bar = Bar::kGrade;
    if (out.odds < service.least_odds) out.bar = Bar::kOdds;
    if (refuse_[s].contains(piece.id)) out.bar = Bar::kRefused;
    return out;
}

// The same trade size of two shapes is one; sizes without a name are told apart by their length.
std::uint32_t Fitting::size_number(At at, Ref<Form> form, const std::pair<std::string, double>& recorded) {
    std::vector<LineSize>& sizes = line_sizes_[at];
    for (std::uint32_t i = 0; i < sizes.size(); ++i)
        if (sizes[i].form == form && size_key(sizes[i].trade_size) == size_key(recorded.first) &&
            (!recorded.first.empty() || sizes[i].length_mm == recorded.second))
            return i;
    sizes.push_back({form, recorded.first, recorded.second, {}, 0});
    return static_cast<std::uint32_t>(sizes.size()) - 1;
}

void Fitting::list_made_sizes() {
    for (std::uint32_t s = 0; s < plan_.services.size(); ++s) {
        const PlannedService& service = plan_.services[s];
        for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
            const PlannedLine& line = service.lines[l];
            if (line.places == 0 || !line.made) continue;
            for (const auto form : line.forms)
                for (const auto treatment : service.treatments) {
                    const auto made = book::forms_of(book_, book_[treatment].shape);
                    if (std::ranges::find(made, form) == made.end()) continue;
                    bool sized = false;
                    for (const auto& recorded : sizes_of(treatment.at, form).with_length) {
                        if (!line.trade_size.empty() && size_key(recorded.first) != size_key(line.trade_size))
                            continue;
                        line_sizes_[{s, l}][size_number({s, l}, form, recorded)].treatments.push_back(treatment);
                        sized = true;
                    }
                    const bool other_size =
                        !line.trade_size.empty() && !sizes_of(treatment.at, form).with_length.empty();
                    if (!sized && !other_size) unsized_[{{s, l}, form.at}].push_back(treatment);
                }
        }
    }
}

void Fitting::fit_all() {
    fits_.resize(pieces_.size());
    std::map<std::uint32_t, std::vector<std::pair<std::uint32_t, std::uint32_t>>> by_form;
    for (std::uint32_t s = 0; s < plan_.services.size(); ++s)
        for (std::uint32_t l = 0; l < plan_.services[s].lines.size(); ++l) {
            const PlannedLine& line = plan_.services[s].lines[l];
            if (line.places == 0) continue;
            for (const auto form : line.forms) by_form[form.at].emplace_back(s, l);
        }
    std::map<std::string, std::uint32_t> insisted_in;
    for (std::uint32_t s = 0; s < insist_.size(); ++s)
        for (const std::string& id : insist_[s]) insisted_in.emplace(id, s);
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
        const Owned& piece = pieces_[i];
        if (!piece.form) continue;
        const auto here = by_form.find(piece.form->at);
        if (here == by_form.end()) continue;
        const auto insisted = insisted_in.find(piece.id);
        for (const auto& [s, l] : here->second) {
            if (insisted != insisted_in.end() && insisted->second != s) continue;
            const Judged judged = judge(i, s, l);
            const bool by_hand = insisted != insisted_in.end();
            if (judged.bar != Bar::kNone && !by_hand) continue;
            const bool free_size = by_hand && judged.bar != Bar::kNone;
            std::uint32_t size = kNotYet;
            if (judged.recorded_size && !free_size)
                size =
                    size_number({s, l}, *piece.form, sizes_of(judged.best, *piece.form).with_length[judged.size]);
            fits_[i].push_back({s, l, judged.odds < plan_.services[s].least_odds ? State::kDoubtful : judged.state,
                                size, by_hand, free_size, judged.odds});
        }
    }
}

// Where no length is on record, measured lengths part the pieces; pieces that nobody measured then stand with the
// others only when there is one size.
void Fitting::sort_sizes() {
    struct Entry {
        std::size_t piece, fit;
    };
    std::map<std::pair<At, std::uint32_t>, std::vector<Entry>> unrecorded;  // by form
    for (std::size_t i = 0; i < pieces_.size(); ++i)
        for (std::size_t f = 0; f < fits_[i].size(); ++f) {
            const Fit& fit = fits_[i][f];
            if (fit.size == kNotYet && !fit.free_size)
                unrecorded[{{fit.service, fit.line}, pieces_[i].form->at}].push_back({i, f});
        }
    std::set<std::pair<std::size_t, std::size_t>> gone;
    const auto made = [&](At at, std::uint32_t form) {
        const auto found = unsized_.find({at, form});
        return found == unsized_.end() ? std::vector<Ref<Treatment>>{} : found->second;
    };
    for (auto& [where, list] : unrecorded) {
        const auto& [at, form] = where;
        std::vector<LineSize>& sizes = line_sizes_[at];
        const std::size_t first = sizes.size();
        std::ranges::stable_sort(list, {},
                                 [&](const Entry& e) { return pieces_[e.piece].length_mm.value_or(kLongest); });
        std::vector<double> lengths;  // of the size at hand
        const auto add_size = [&] {
            const auto middle = lengths.empty() ? std::nullopt : std::optional(lengths[lengths.size() / 2]);
            sizes.push_back({{form}, "", middle, made(at, form), 0});
            lengths.clear();
        };
        for (const Entry& e : list) {
            const auto& length = pieces_[e.piece].length_mm;
            if (!length) break;
            if (!lengths.empty() && (*length - lengths.back()) / lengths.back() > settings_.service_size_tolerance)
                add_size();
            lengths.push_back(*length);
            fits_[e.piece][e.fit].size = static_cast<std::uint32_t>(sizes.size());
        }
        add_size();
        for (const Entry& e : list) {
            if (pieces_[e.piece].length_mm) continue;
            Fit& fit = fits_[e.piece][e.fit];
            fit.size = static_cast<std::uint32_t>(first);
            if (sizes.size() == first + 1) continue;
            if (fit.insisted) fit.free_size = true;  // the person looked; we cannot tell
            else gone.emplace(e.piece, e.fit);
        }
    }
    for (const auto& [where, treatments] : unsized_)
        if (!unrecorded.contains(where)) {
            const auto& line = plan_.services[where.first.first].lines[where.first.second];
            line_sizes_[where.first].push_back({{where.second}, line.trade_size, std::nullopt, treatments, 0});
        }
    for (auto it = gone.rbegin(); it != gone.rend(); ++it)  // from the back, so that indices hold
        fits_[it->first].erase(fits_[it->first].begin() + static_cast<std::ptrdiff_t>(it->second));
    for (const auto& fits : fits_)
        for (const Fit& fit : fits)
            if (!fit.free_size) ++line_sizes_[{fit.service, fit.line}][fit.size].pieces;
}

void Fitting::check_insistence() {
    std::map<std::string, std::uint32_t> in;
    for (std::uint32_t s = 0; s < plan_.services.size(); ++s) {
        const PlannedService& service = plan_.services[s];
        const std::string where =
            (service.given.id.empty() ? fmt::format("service {}", s + 1) : service.given.id) + ": insist";
        const auto fault = [&](std::string what, std::string remedy) {
            problems_.push_back({ProblemCode::kBadInput, where, std::move(what), std::move(remedy)});
        };
        std::vector<std::string> ids;
        std::vector<std::vector<std::uint32_t>> lines_of;
        for (const std::string& id : service.given.insist) {
            const auto found = at_.find(id);
            const auto [other, first] = in.emplace(id, s);
            if (found == at_.end()) {
                fault(fmt::format("there is no piece '{}'", id), "check its id, or take it off the list");
            } else if (!first) {
                fault(
                    fmt::format("'{}' is insisted on in {} as well", id, plan_.services[other->second].given.name),
                    "a piece stands at one place: keep one of the two");
            } else if (!pieces_[found->second].form) {
                fault(fmt::format("the form of '{}' is not known", id), "enter its form, or take it off the list");
            } else {
                std::vector<std::uint32_t> lines;
                for (const Fit& fit : fits_[found->second])
                    if (fit.service == s) lines.push_back(fit.line);
                if (lines.empty()) {
                    fault(fmt::format("'{}' is a {}, and the composition has no place for one", id,
                                      form_words(book_, *pieces_[found->second].form)),
                          "take it off the list, or add a line for its form");
                    continue;
                }
                ids.push_back(id);
                lines_of.push_back(std::move(lines));
            }
        }
        Seating seating{lines_of, {}, std::vector<std::vector<std::size_t>>(service.lines.size())};
        for (const PlannedLine& line : service.lines) seating.free.push_back(line.places);
        for (std::size_t i = 0; i < ids.size(); ++i) {
            std::vector<bool> tried(service.lines.size(), false);
            if (seating.seat(i, tried)) continue;
            // The lines that were tried are full of insisted pieces that can go nowhere else.
            std::vector<std::string> names, pieces{ids[i]};
            int places = 0;
            for (std::size_t l = 0; l < service.lines.size(); ++l) {
                if (!tried[l]) continue;
                names.push_back(lower(service.lines[l].name));
                places += service.lines[l].places;
                for (const std::size_t other : seating.seated[l]) pieces.push_back(ids[other]);
            }
            std::ranges::sort(pieces);
            fault(fmt::format("{} pieces are insisted on for {} place{} ({}): {}", pieces.size(), places,
                              places == 1 ? "" : "s", fmt::join(names, ", "), fmt::join(pieces, ", ")),
                  "take one of them off the list, or make the service larger");
            break;
        }
        for (const std::string& id : service.given.refuse)
            if (!at_.contains(id))
                problems_.push_back(
                    {ProblemCode::kBadInput,
                     (service.given.id.empty() ? fmt::format("service {}", s + 1) : service.given.id) + ": refuse",
                     fmt::format("there is no piece '{}'", id), "check its id, or take it off the list"});
    }
}

std::string Fitting::treatment_words(std::uint32_t t) const { return called(book_, Ref<Treatment>{t}); }

std::vector<Why> Fitting::why(std::size_t at, std::uint32_t s) const {
    const Owned& piece = pieces_[at];
    const PlannedService& service = plan_.services[s];
    if (!piece.form) return {{std::nullopt, false, State::kDoubtful, 0, "Its form is not known: enter it first."}};
    std::vector<Why> out;
    for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
        if (std::ranges::find(service.lines[l].forms, *piece.form) == service.lines[l].forms.end()) continue;
        const Judged judged = judge(at, s, l);
        const auto fit =
            std::ranges::find_if(fits_[at], [&](const Fit& f) { return f.service == s && f.line == l; });
        Why one{l, fit != fits_[at].end(), judged.state, judged.odds, sentence(at, s, l, judged)};
        if (fit != fits_[at].end()) {
            one.state = fit->state;
            if (fit->insisted && judged.bar != Bar::kNone)
                one.sentence = "You insist on it here. Otherwise it would not serve: " + one.sentence;
        } else if (judged.bar == Bar::kNone && service.lines[l].places > 0) {
            const bool elsewhere = std::ranges::any_of(plan_.services, [&](const PlannedService& other) {
                return std::ranges::find(other.given.insist, piece.id) != other.given.insist.end();
            });
            one.sentence = elsewhere ? "You insist on it in another service."
                                     : "It was not measured, and the others came in several sizes: measure it.";
        }
        out.push_back(std::move(one));
    }
    if (out.empty())
        out.push_back({std::nullopt, false, State::kDoubtful, 0,
                       fmt::format("The composition has no place for a {}.", form_words(book_, *piece.form))});
    return out;
}

std::string Fitting::sentence(std::size_t at, std::uint32_t s, std::uint32_t l, const Judged& judged) const {
    const Owned& piece = pieces_[at];
    const PlannedService& service = plan_.services[s];
    const std::string form = form_words(book_, *piece.form);
    std::vector<std::string> own;
    for (const auto t : service.treatments) own.push_back(treatment_words(t.at));
    const std::string wanted = fmt::format("{}", fmt::join(own, " or "));
    const auto size_words = [&](const std::pair<std::string, double>& row) {
        return row.first.empty() ? mm(row.second) : fmt::format("{} ({})", mm(row.second), row.first);
    };
    switch (judged.bar) {
        case Bar::kRefused:
            return "You refuse it here.";
        case Bar::kOdds:
            if (piece.odds.decided)
                return piece.odds.treatments.empty()
                           ? "You decided that it is of no listed treatment."
                           : fmt::format("You decided that it is {}, which does not look like {} on a {}.",
                                         treatment_words(piece.odds.treatments.front().first.at), wanted, form);
            return fmt::format("The odds that it is {} are {}; at least {} are asked for.", wanted,
                               chance(judged.odds), chance(service.least_odds));
        case Bar::kGrade:
            return fmt::format(
                "The service takes {} only, and it is that with odds of {}.",
                service.given.grades == Grades::kFirst ? "first-run pieces" : "seconds",
                chance(service.given.grades == Grades::kFirst ? 1 - piece.odds.second : piece.odds.second));
        case Bar::kWear:
            return fmt::format("It has {}; the service takes {} at most.",
                               kWearWords[static_cast<std::size_t>(*piece.wear)],
                               kWearWords[static_cast<std::size_t>(*service.given.worst_wear)]);
        case Bar::kFaults:
            return fmt::format("It has {}; the service takes {} at most.",
                               kFaultsWords[static_cast<std::size_t>(*piece.faults)],
                               kFaultsWords[static_cast<std::size_t>(*service.given.worst_faults)]);
        case Bar::kSize: {
            const auto& nearest = sizes_of(judged.best, *piece.form).with_length[judged.size];
            const std::string& asked = service.lines[l].trade_size;
            if (!asked.empty() && size_key(nearest.first) != size_key(asked))
                return fmt::format("It measures {}, which is the trade size {}; {} is asked for.",
                                   mm(*piece.length_mm), size_words(nearest), asked);
            return fmt::format("It measures {}; the nearest trade size of this {} is {}.", mm(*piece.length_mm),
                               form, size_words(nearest));
        }
        case Bar::kUnmeasured:
            return fmt::format("It was not measured, and this {} was made in {} sizes: measure it.", form,
                               sizes_of(judged.best, *piece.form).with_length.size());
        case Bar::kNotMade:
            return fmt::format("The trade size {} of this {} is not on record.", service.lines[l].trade_size, form);
        case Bar::kNone:
            break;
    }
    std::vector<std::string> twins;
    for (const std::uint32_t t : alike(s, *piece.form))
        if (std::ranges::find(service.treatments, Ref<Treatment>{t}) == service.treatments.end())
            twins.push_back(book_.treatments[t].number.empty() ? treatment_words(t) : book_.treatments[t].number);
    if (twins.size() > 6) {
        const std::size_t more = twins.size() - 5;
        twins.resize(5);
        twins.push_back(fmt::format("{} more", more));
    }
    std::string text;
    if (piece.odds.decided) {
        const std::uint32_t is = piece.odds.treatments.front().first.at;
        text = fmt::format("You decided that it is {}.", treatment_words(is));
    } else if (twins.empty()) {
        text = fmt::format("It is {} with odds of {}.", wanted, chance(judged.odds));
    } else {
        text = fmt::format("It is {} or a twin of it with odds of {}.", wanted, chance(judged.odds));
    }
    if (!twins.empty())
        text += fmt::format(" A {} of {} looks the same in {}, so it fits either.", form, own.front(),
                            fmt::join(twins, ", "));
    if (judged.state == State::kDoubtful && !piece.odds.decided)
        text += fmt::format(" Below {} it is called doubtful.", chance(settings_.service_sure_odds));
    if (judged.recorded_size && piece.length_mm)
        text += fmt::format(" Its {} agree with {}.", mm(*piece.length_mm),
                            size_words(sizes_of(judged.best, *piece.form).with_length[judged.size]));
    return text;
}

}  // namespace footring::services
