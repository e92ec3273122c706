// SPDX-License-Identifier: Apache-2.0
#include "services/allot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <tuple>

#include "book/decoration.h"

namespace footring::services {

using book::Form;
using book::Ref;

namespace {

// Where pieces of a class may stand. To the goals only that matters (coarse); which of them stand there, when the
// counts are settled, looks at state and condition as well (fine).
struct Slot {
    std::uint32_t service, line;
    std::uint32_t size;  // kAnySize: it does not matter here
    State state;
    friend auto operator<=>(const Slot&, const Slot&) = default;
};
constexpr std::uint32_t kAnySize = 0xFFFFFFFF;

struct PieceClass {
    std::vector<Slot> slots;
    int condition = 0;                // 0 best
    bool must = false;                // insisted on: has to stand somewhere
    std::vector<std::size_t> pieces;  // in the order of the cupboard
    std::vector<int> columns;         // one a slot
};

int condition_of(const Owned& piece) {
    return static_cast<int>(piece.wear.value_or(looks::Wear::kLight)) +
           2 * static_cast<int>(piece.faults.value_or(looks::Faults::kNone));
}
constexpr int kWorstCondition = 7;

class Builder {
  public:
    Builder(const Fitting& fitting, const AllotOptions& options, bool fine)
        : fitting_(fitting), options_(options), fine_(fine) {
        sort_classes();
        make_columns();
        make_rows();
        make_goals();
    }

    Program program;
    std::vector<PieceClass> classes;
    std::vector<int> complete, whole;                                      // column of each service; -1: has none
    using Size = std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>;  // service, line, size
    struct Buy {
        Offer offer;
        int column;
    };
    std::map<Size, Buy> buys;
    std::map<Size, int> chosen_sizes;  // columns
    std::size_t candidates = 0;

  private:
    const PlannedService& service(std::uint32_t s) const { return fitting_.plan().services[s]; }
    std::uint32_t services() const { return static_cast<std::uint32_t>(fitting_.plan().services.size()); }
    // Whether pieces of several forms and trade sizes could stand there, and so one has to be chosen.
    bool sized(std::uint32_t s, std::uint32_t l) const {
        return (options_.objective == Objective::kPurchase ? fitting_.sizes_at(s, l).size()
                                                           : fitting_.sizes(s, l)) > 1;
    }

    int column(std::string name, double low, double high, bool whole_numbers) {
        program.columns.push_back({std::move(name), low, high, whole_numbers});
        return static_cast<int>(program.columns.size()) - 1;
    }

    void sort_classes() {
        std::map<std::tuple<std::vector<Slot>, int, bool>, std::size_t> known;
        for (std::size_t i = 0; i < fitting_.pieces().size(); ++i) {
            std::vector<Slot> slots;
            bool must = options_.place_piece && options_.place_piece->first == i;
            const bool placed = must;
            for (const Fit& fit : fitting_.of(i)) {
                if (placed && fit.service != options_.place_piece->second) continue;
                const bool one_size = sized(fit.service, fit.line) && !fit.free_size;
                slots.push_back(
                    {fit.service, fit.line, one_size ? fit.size : kAnySize, fine_ ? fit.state : State::kFilled});
                must = must || fit.insisted;
            }
            if (slots.empty()) continue;
            ++candidates;
            const int condition = fine_ ? condition_of(fitting_.pieces()[i]) : 0;
            const auto [found, fresh] = known.try_emplace({slots, condition, must}, classes.size());
            if (fresh) classes.push_back({std::move(slots), condition, must, {}, {}});
            classes[found->second].pieces.push_back(i);
        }
    }

    void make_columns() {
        for (std::uint32_t s = 0; s < services(); ++s) {
            const bool settings = service(s).settings > 0;
            const int kept = s < options_.keep_settings.size() ? options_.keep_settings[s] : 0;
            complete.push_back(settings ? column(fmt::format("s{}", s), kept, service(s).settings, true) : -1);
        }
        whole.assign(services(), -1);
        if (options_.objective == Objective::kServices)
            for (std::uint32_t s = 0; s < services(); ++s) whole[s] = column(fmt::format("w{}", s), 0, 1, true);
        if (options_.objective == Objective::kPurchase)
            for (std::uint32_t s = 0; s < services(); ++s)
                for (std::uint32_t l = 0; l < service(s).lines.size(); ++l) {
                    const int places = service(s).lines[l].places;
                    if (places == 0) continue;
                    for (const Offer& one : offers(fitting_, options_.prices, s, l))
                        buys.emplace(Size(s, l, one.size),
                                     Buy{one, column(fmt::format("b{}_{}_{}", s, l, one.size), 0, places, true)});
                }
        for (std::size_t k = 0; k < classes.size(); ++k)
            for (const Slot& slot : classes[k].slots) {
                const double most = std::min<double>(static_cast<double>(classes[k].pieces.size()),
                                                     service(slot.service).lines[slot.line].places);
                classes[k].columns.push_back(
                    column(fmt::format("x{}_{}_{}", k, slot.service, slot.line), 0, most, false));
            }
    }

    void make_rows() {
        std::map<std::pair<std::uint32_t, std::uint32_t>, Terms> at_line;
        std::map<Size, Terms> at_size;
        for (std::size_t k = 0; k < classes.size(); ++k) {
            const PieceClass& one = classes[k];
            Terms terms;
            for (std::size_t i = 0; i < one.slots.size(); ++i) {
                const Slot& slot = one.slots[i];
                terms.emplace_back(one.columns[i], 1.0);
                at_line[{slot.service, slot.line}].emplace_back(one.columns[i], 1.0);
                if (slot.size != kAnySize)
                    at_size[{slot.service, slot.line, slot.size}].emplace_back(one.columns[i], 1.0);
            }
            const auto count = static_cast<double>(one.pieces.size());
            program.rows.push_back({fmt::format("class{}", k), std::move(terms), one.must ? count : 0, count});
        }
        for (const auto& [size, buy] : buys) {
            const auto& [s, l, number] = size;
            at_line[{s, l}].emplace_back(buy.column, 1.0);
            if (sized(s, l)) at_size[size].emplace_back(buy.column, 1.0);
        }
        for (std::uint32_t s = 0; s < services(); ++s)
            for (std::uint32_t l = 0; l < service(s).lines.size(); ++l) {
                const PlannedLine& line = service(s).lines[l];
                if (line.places == 0) continue;
                const Terms& filled = at_line[{s, l}];
                const std::string name = fmt::format("s{}_l{}", s, l);
                if (filled.empty() && (line.in_setting || whole[s] >= 0)) {
                    // Nothing can fill it: no setting can be complete.
                    if (line.in_setting) program.columns[static_cast<std::size_t>(complete[s])].high = 0;
                    if (whole[s] >= 0) program.columns[static_cast<std::size_t>(whole[s])].high = 0;
                    continue;
                }
                if (filled.empty()) continue;
                program.rows.push_back({name + "_places", filled, -kUnbounded, double(line.places)});
                if (line.in_setting) {
                    Terms enough = filled;
                    enough.emplace_back(complete[s], -double(line.count));
                    program.rows.push_back({name + "_set", std::move(enough), 0, kUnbounded});
                } else if (whole[s] >= 0) {
                    Terms enough = filled;
                    enough.emplace_back(whole[s], -double(line.places));
                    program.rows.push_back({name + "_whole", std::move(enough), 0, kUnbounded});
                }
            }
        for (std::uint32_t s = 0; s < services(); ++s)
            if (whole[s] >= 0 && complete[s] >= 0)
                program.rows.push_back({fmt::format("s{}_whole", s),
                                        {{complete[s], 1.0}, {whole[s], -double(service(s).settings)}},
                                        0,
                                        kUnbounded});
        add_sizes(at_size);
        if (options_.objective == Objective::kPurchase && options_.budget) {
            Terms spent;
            for (const auto& [size, buy] : buys) spent.emplace_back(buy.column, buy.offer.cost.amount);
            if (!spent.empty()) program.rows.push_back({"budget", std::move(spent), -kUnbounded, *options_.budget});
        }
    }

    // A line takes pieces of one form and trade size: one switch for each size that could be taken.
    void add_sizes(const std::map<Size, Terms>& at_size) {
        std::map<std::pair<std::uint32_t, std::uint32_t>, Terms> one_of;
        for (const auto& [where, terms] : at_size) {
            const auto& [s, l, size] = where;
            const int chosen = column(fmt::format("z{}_{}_{}", s, l, size), 0, 1, true);
            chosen_sizes.emplace(where, chosen);
            Terms row = terms;
            row.emplace_back(chosen, -double(service(s).lines[l].places));
            program.rows.push_back({fmt::format("s{}_l{}_size{}", s, l, size), std::move(row), -kUnbounded, 0});
            one_of[{s, l}].emplace_back(chosen, 1.0);
        }
        for (auto& [where, terms] : one_of)
            program.rows.push_back(
                {fmt::format("s{}_l{}_one_size", where.first, where.second), std::move(terms), -kUnbounded, 1});
    }

    Terms settings_terms() const {
        Terms terms;
        for (std::uint32_t s = 0; s < services(); ++s)
            if (complete[s] >= 0) terms.emplace_back(complete[s], service(s).given.weight);
        return terms;
    }
    static bool counts(const Terms& terms) {
        return std::ranges::all_of(terms, [](const auto& t) { return t.second == std::round(t.second); });
    }
    void goal(std::string name, bool most, Terms terms) {
        const bool whole_only = std::ranges::all_of(
            terms, [&](const auto& t) { return program.columns[static_cast<std::size_t>(t.first)].whole; });
        program.goals.push_back({std::move(name), most, terms, whole_only && counts(terms)});
    }

    // What stands at the places of lines, each worth `value(service, line)`.
    template <class Value>
    Terms filled_terms(bool serving_only, Value value) const {
        Terms terms;
        for (const PieceClass& one : classes)
            for (std::size_t i = 0; i < one.slots.size(); ++i) {
                const Slot& slot = one.slots[i];
                if (serving_only && service(slot.service).lines[slot.line].in_setting) continue;
                terms.emplace_back(one.columns[i], value(slot.service, slot.line));
            }
        for (const auto& [size, buy] : buys) {
            const auto& [s, l, number] = size;
            if (!serving_only || !service(s).lines[l].in_setting) terms.emplace_back(buy.column, value(s, l));
        }
        return terms;
    }
    double price(std::uint32_t s, std::uint32_t l) const {
        const auto found = offer(fitting_, options_.prices, s, l);
        return found ? found->cost.amount : 0;
    }

    void make_goals() {
        const auto one = [](std::uint32_t, std::uint32_t) { return 1.0; };
        switch (options_.objective) {
            case Objective::kSettings:
                goal("complete settings", true, settings_terms());
                break;
            case Objective::kServices: {
                Terms terms;
                for (std::uint32_t s = 0; s < services(); ++s)
                    terms.emplace_back(whole[s], service(s).given.weight);
                goal("whole services", true, std::move(terms));
                goal("complete settings", true, settings_terms());
                break;
            }
            case Objective::kValue: {
                Terms terms = filled_terms(
                    true, [&](std::uint32_t s, std::uint32_t l) { return service(s).given.weight * price(s, l); });
                for (std::uint32_t s = 0; s < services(); ++s) {
                    if (complete[s] < 0) continue;
                    double value = 0;
                    for (std::uint32_t l = 0; l < service(s).lines.size(); ++l)
                        if (service(s).lines[l].in_setting) value += service(s).lines[l].count * price(s, l);
                    terms.emplace_back(complete[s],
                                       service(s).given.weight * service(s).given.setting_value.value_or(value));
                }
                goal("value", true, std::move(terms));
                break;
            }
            case Objective::kPurchase: {
                goal("complete settings", true, settings_terms());
                goal("serving places", true, filled_terms(true, one));
                Terms count, money;
                for (const auto& [size, buy] : buys) {
                    count.emplace_back(buy.column, 1.0);
                    money.emplace_back(buy.column, buy.offer.cost.amount);
                }
                goal("pieces bought", false, std::move(count));
                goal("money spent", false, std::move(money));
                break;
            }
        }
    }

    const Fitting& fitting_;
    const AllotOptions& options_;
    bool fine_;
};

// The rest of the places, once settings are settled: most places filled, with the surest and best-kept pieces.
Program rest_program(const Builder& goals, const std::vector<double>& values, const Builder& fine, const Plan& plan,
                     Objective objective) {
    Program rest = fine.program;
    rest.goals.clear();
    const auto reached = [&](int column) { return std::round(values[static_cast<std::size_t>(column)]); };
    const auto fix = [&](int column, double value) {
        Column& c = rest.columns[static_cast<std::size_t>(column)];
        c.low = c.high = value;
    };
    for (std::size_t s = 0; s < fine.complete.size(); ++s) {
        if (fine.complete[s] >= 0) fix(fine.complete[s], reached(goals.complete[s]));
        if (fine.whole[s] >= 0) fix(fine.whole[s], reached(goals.whole[s]));
    }
    for (const auto& [size, buy] : fine.buys) fix(buy.column, reached(goals.buys.at(size).column));
    for (const auto& [at, column] : fine.chosen_sizes)
        if (reached(goals.chosen_sizes.at(at)) > 0) fix(column, 1);
    // What was reached at serving places is part of these goals; line by line it stays a transport problem.
    std::map<std::pair<std::uint32_t, std::uint32_t>, double> kept;
    const auto serving = [&](const Slot& slot) { return !plan.services[slot.service].lines[slot.line].in_setting; };
    if (objective == Objective::kValue || objective == Objective::kPurchase)
        for (const PieceClass& one : goals.classes)
            for (std::size_t i = 0; i < one.slots.size(); ++i)
                if (serving(one.slots[i]))
                    kept[{one.slots[i].service, one.slots[i].line}] += reached(one.columns[i]);
    std::map<std::pair<std::uint32_t, std::uint32_t>, Terms> stands;
    Terms terms;
    for (const PieceClass& one : fine.classes)
        for (std::size_t i = 0; i < one.slots.size(); ++i) {
            const Slot& slot = one.slots[i];
            const int sure = slot.state == State::kDoubtful ? 0 : 10;
            terms.emplace_back(one.columns[i], 100 + sure + (kWorstCondition - one.condition));
            if (kept.contains({slot.service, slot.line}))
                stands[{slot.service, slot.line}].emplace_back(one.columns[i], 1.0);
        }
    for (auto& [where, row] : stands)
        rest.rows.push_back(
            {fmt::format("s{}_l{}_kept", where.first, where.second), std::move(row), kept.at(where), kUnbounded});
    rest.goals.push_back({"places", true, std::move(terms), false});
    return rest;
}

class Seater {  // from counts to pieces at places
  public:
    Seater(const Fitting& fitting, const Builder& built, const std::vector<double>& values)
        : fitting_(fitting), built_(built), values_(values) {}

    std::vector<ServiceTable> tables() {
        struct Taken {
            std::size_t piece;
            const Fit* fit;
        };
        std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<Taken>> at_line;
        for (const PieceClass& one : built_.classes) {
            std::size_t next = 0;
            for (std::size_t i = 0; i < one.slots.size(); ++i) {
                const Slot& slot = one.slots[i];
                const auto count = static_cast<std::size_t>(std::llround(value(one.columns[i])));
                for (std::size_t n = 0; n < count && next < one.pieces.size(); ++n, ++next)
                    at_line[{slot.service, slot.line}].push_back(
                        {one.pieces[next], fit_of(one.pieces[next], slot.service, slot.line)});
            }
        }
        std::vector<ServiceTable> out;
        for (std::uint32_t s = 0; s < fitting_.plan().services.size(); ++s) {
            const PlannedService& service = fitting_.plan().services[s];
            ServiceTable table;
            table.settings = table.complete = service.settings;
            for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
                const PlannedLine& line = service.lines[l];
                auto& taken = at_line[{s, l}];
                std::ranges::stable_sort(taken, [&](const Taken& a, const Taken& b) {
                    return rank(a.piece, a.fit) < rank(b.piece, b.fit);
                });
                int bought = 0;
                for (auto buy = built_.buys.lower_bound({s, l, 0});
                     buy != built_.buys.end() && buy->first < Builder::Size(s, l + 1, 0); ++buy)
                    bought += static_cast<int>(std::llround(value(buy->second.column)));
                for (int n = 0; n < line.places; ++n) {
                    PlaceTaken place;
                    place.line = l;
                    place.setting = line.in_setting ? 1 + n / line.count : 0;
                    place.nth = line.in_setting ? n % line.count : n;
                    const auto at = static_cast<std::size_t>(n);
                    if (at < taken.size()) {
                        place.piece = taken[at].piece;
                        place.state = taken[at].fit->state;
                        place.odds = taken[at].fit->odds;
                        place.insisted = taken[at].fit->insisted;
                    } else {
                        place.bought = n < static_cast<int>(taken.size()) + bought;
                    }
                    table.filled += place.piece || place.bought ? 1 : 0;
                    ++table.places;
                    table.taken.push_back(place);
                }
                if (line.in_setting && line.places > 0)
                    table.complete =
                        std::min(table.complete, (static_cast<int>(taken.size()) + bought) / line.count);
            }
            std::ranges::stable_sort(table.taken, {}, [](const PlaceTaken& p) {
                return p.setting == 0 ? std::numeric_limits<int>::max() : p.setting;
            });
            table.whole = table.filled == table.places;
            out.push_back(std::move(table));
        }
        return out;
    }

  private:
    double value(int column) const { return values_[static_cast<std::size_t>(column)]; }
    const Fit* fit_of(std::size_t piece, std::uint32_t s, std::uint32_t l) const {
        return &*std::ranges::find_if(fitting_.of(piece),
                                      [&](const Fit& f) { return f.service == s && f.line == l; });
    }
    // Complete settings come first and get the surest and best-kept pieces.
    std::pair<int, int> rank(std::size_t piece, const Fit* fit) const {
        return {fit->state == State::kDoubtful ? 1 : 0, condition_of(fitting_.pieces()[piece])};
    }

    const Fitting& fitting_;
    const Builder& built_;
    const std::vector<double>& values_;
};

std::vector<Bought> bought_of(const Builder& built, const std::vector<double>& values) {
    std::vector<Bought> out;
    for (const auto& [size, buy] : built.buys) {
        const int count = static_cast<int>(std::llround(values[static_cast<std::size_t>(buy.column)]));
        if (count > 0) out.push_back({std::get<0>(size), std::get<1>(size), buy.offer, count});
    }
    return out;
}

}  // namespace

std::vector<Offer> offers(const Fitting& fitting, const Prices& prices, std::uint32_t s, std::uint32_t l) {
    const Grades grades = fitting.plan().services[s].given.grades;
    const std::vector<LineSize>& sizes = fitting.sizes_at(s, l);
    std::vector<Offer> out;
    for (std::uint32_t i = 0; i < sizes.size(); ++i) {
        std::optional<Offer> best;
        for (const auto treatment : sizes[i].treatments) {
            const Cost cost = prices.of(treatment, sizes[i].form, grades);
            if (!best || cost.amount < best->cost.amount) best = Offer{sizes[i].form, treatment, cost, i};
        }
        if (best) out.push_back(*best);
    }
    return out;
}

std::optional<Offer> offer(const Fitting& fitting, const Prices& prices, std::uint32_t s, std::uint32_t l) {
    const std::vector<Offer> all = offers(fitting, prices, s, l);
    const auto best = std::ranges::min_element(all, {}, [](const Offer& one) { return one.cost.amount; });
    return best == all.end() ? std::nullopt : std::optional(*best);
}

std::optional<Offer> agreeing_offer(const Fitting& fitting, const Allotment& allotment, const Prices& prices,
                                    std::uint32_t s, std::uint32_t l) {
    std::optional<std::uint32_t> stands;
    for (const PlaceTaken& place : allotment.services[s].taken) {
        if (place.line != l || !place.piece) continue;
        for (const Fit& fit : fitting.of(*place.piece))
            if (fit.service == s && fit.line == l && !fit.free_size) stands = fit.size;
    }
    for (const Bought& one : allotment.bought)
        if (one.service == s && one.line == l) stands = one.offer.size;
    if (!stands) return offer(fitting, prices, s, l);
    for (const Offer& one : offers(fitting, prices, s, l))
        if (one.size == *stands) return one;
    return std::nullopt;
}

int Allotment::complete() const {
    return std::accumulate(services.begin(), services.end(), 0,
                           [](int sum, const ServiceTable& table) { return sum + table.complete; });
}
int Allotment::whole() const { return static_cast<int>(std::ranges::count_if(services, &ServiceTable::whole)); }
bool Allotment::proved() const {
    return std::ranges::all_of(goals, [](const Reached& r) { return r.ending == Ending::kBest; });
}

Program program_of(const Fitting& fitting, const AllotOptions& options) {
    return Builder(fitting, options, false).program;
}

std::expected<Allotment, std::vector<Problem>> allot(const Fitting& fitting, const AllotOptions& options) {
    if (options.budget && !(*options.budget >= 0 && *options.budget <= 1e12))
        return std::unexpected(std::vector<Problem>{{ProblemCode::kBadInput, "budget",
                                                     fmt::format("{:g} is no budget", *options.budget),
                                                     "give an amount that is not negative, or none for no limit"}});
    if (!fitting.problems().empty()) return std::unexpected(fitting.problems());
    const Builder goals(fitting, options, false), fine(fitting, options, true);
    Allotment out;
    out.objective = options.objective;
    out.notes = fitting.plan().notes;
    out.pieces = fitting.pieces().size();
    out.candidates = goals.candidates;
    out.classes = goals.classes.size();
    out.columns = goals.program.columns.size();
    out.rows = goals.program.rows.size();
    std::vector<double> values(fine.program.columns.size(), 0.0);
    if (out.columns > 0) {
        auto solved = solve(goals.program, options.limits);
        if (!solved) return std::unexpected(std::vector{solved.error()});
        out.goals = std::move(solved->goals);
        out.bought = bought_of(goals, solved->values);
        Limits quick = options.limits;
        quick.stop = {};  // what was found is always laid out, stopped or not
        auto rest = solve(rest_program(goals, solved->values, fine, fitting.plan(), options.objective), quick);
        if (!rest) return std::unexpected(std::vector{rest.error()});
        values = std::move(rest->values);
    }
    out.services = Seater(fitting, fine, values).tables();
    for (const Bought& one : out.bought) out.spent += one.count * one.offer.cost.amount;
    for (const std::string& sentence : goal_sentences(out)) out.notes.push_back(sentence);
    return out;
}

std::vector<std::string> goal_sentences(const Allotment& allotment) {
    std::vector<std::string> out;
    for (const Reached& goal : allotment.goals) {
        const bool whole = goal.value == std::round(goal.value) && goal.bound == std::round(goal.bound);
        const std::string value = whole ? fmt::format("{:.0f}", goal.value) : fmt::format("{:.2f}", goal.value);
        const std::string bound = whole ? fmt::format("{:.0f}", goal.bound) : fmt::format("{:.2f}", goal.bound);
        std::string name = goal.goal;
        name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
        switch (goal.ending) {
            case Ending::kBest:
                out.push_back(fmt::format("{}: {}, and nothing better is possible.", name, value));
                break;
            case Ending::kWithinGap:
                out.push_back(
                    fmt::format("{}: {}; at best {} are possible, {:.1f} % away, as near as was asked for.", name,
                                value, bound, 100 * goal.gap()));
                break;
            case Ending::kLimit:
                out.push_back(fmt::format(
                    "{}: {}; at best {} are possible, {:.1f} % away: the limit of branches or seconds was reached.",
                    name, value, bound, 100 * goal.gap()));
                break;
            case Ending::kStopped:
                out.push_back(
                    fmt::format("{}: {} when it was stopped; at best {} are possible.", name, value, bound));
                break;
        }
    }
    return out;
}

}  // namespace footring::services
