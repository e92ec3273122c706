// SPDX-License-Identifier: Apache-2.0
#include "care/leaching.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "base/json.h"
#include "base/text.h"
#include "book/csv.h"
#include "book/faults.h"

namespace footring::care {

namespace {

constexpr std::array<std::pair<std::string_view, Use>, 5> kUses = {{{"table", Use::kTable},
                                                                    {"cup", Use::kCup},
                                                                    {"pitcher", Use::kPitcher},
                                                                    {"storage", Use::kStorage},
                                                                    {"cooking", Use::kCooking}}};
constexpr double kMostAmount = 1'000'000;  // mg/L: the solution would be solid
constexpr std::size_t kSix = 6, kThree = 3;
constexpr double kHalfOver = 1.5;

struct ResultColumn {
    std::string_view name;
    Substance substance;
    Measure measure;
};
constexpr std::array<ResultColumn, 6> kColumns = {
    {{"lead_mg_per_l", Substance::kLead, Measure::kPerVolume},
     {"cadmium_mg_per_l", Substance::kCadmium, Measure::kPerVolume},
     {"lead_mg_per_dm2", Substance::kLead, Measure::kPerArea},
     {"cadmium_mg_per_dm2", Substance::kCadmium, Measure::kPerArea},
     {"lead_ug_per_ml", Substance::kLead, Measure::kPerVolume},
     {"cadmium_ug_per_ml", Substance::kCadmium, Measure::kPerVolume}}};

// A number, or "<0.02" for less than could be measured; absent when it is neither.
std::optional<Amount> amount_of(std::string_view value) {
    value = trim(value);
    const bool below = value.starts_with('<');
    if (below) value = trim(value.substr(1));
    const auto number = to_number(value);
    if (!number || *number < 0 || *number > kMostAmount) return std::nullopt;
    return Amount{below ? 0 : *number, *number};
}
constexpr std::string_view kAmountRemedy =
    "write a number such as 0.35, or <0.02 for less than can be measured, without its unit";

template <class Cell>
auto& cell_for(Cell& unit, Substance s, Measure m) {
    return unit.amount[s == Substance::kLead ? 0 : 1][m == Measure::kPerVolume ? 0 : 1];
}

// Whether a limit of this category is for the vessel; absent: a measure that is needed is not known.
std::optional<bool> fits(const Vessel& v, const Limit& limit) {
    const bool cadmium = limit.substance == Substance::kCadmium;
    const bool iso = limit.authority == "ISO", fda = limit.authority == "US FDA";
    const auto deep = [&]() -> std::optional<bool> {
        if (v.use == Use::kCup || v.use == Use::kPitcher) return true;  // nobody drinks from a plate
        if (!v.depth_mm) return std::nullopt;
        return *v.depth_mm > kFlatDepthMm;
    }();
    const auto volume_from = [&](double ml) -> std::optional<bool> {
        if (!v.volume_ml) return std::nullopt;
        return *v.volume_ml >= ml;
    };
    const auto both = [](std::optional<bool> a, std::optional<bool> b) -> std::optional<bool> {
        if ((a && !*a) || (b && !*b)) return false;
        return a && b ? std::optional(true) : std::nullopt;
    };
    const auto is_not = [](std::optional<bool> a) { return a ? std::optional(!*a) : a; };
    // Cups and pitchers have limits of their own, except for cadmium under the FDA's.
    const bool own_kind = (v.use == Use::kCup && !(fda && (cadmium || !limit.in_force))) ||
                          (v.use == Use::kPitcher && fda && !cadmium && limit.in_force) ||
                          (v.use == Use::kCooking && iso);
    switch (limit.category) {
        case Category::kAny:
            return true;
        case Category::kFlat:
            return own_kind ? std::optional(false) : is_not(deep);
        case Category::kSmallHollow:
            return own_kind ? std::optional(false) : both(deep, is_not(volume_from(kLargeMl)));
        case Category::kLargeHollow: {
            if (own_kind) return false;
            auto large = both(deep, volume_from(kLargeMl));
            if (iso)
                large =
                    both(large, is_not(v.use == Use::kStorage ? volume_from(kStorageMl) : std::optional(false)));
            return large;
        }
        case Category::kCup:
            return v.use == Use::kCup;
        case Category::kPitcher:
            return v.use == Use::kPitcher;
        case Category::kStorage:
            return v.use == Use::kStorage ? both(deep, volume_from(kStorageMl)) : std::optional(false);
        case Category::kCooking:
            return v.use == Use::kCooking;
        case Category::kHollow:
            return deep;
        case Category::kEuFlat:
            return v.use == Use::kCooking ? std::optional(false) : is_not(deep);
        case Category::kEuHollow:
        case Category::kEuLarge: {
            std::optional<bool> third = v.use == Use::kCooking;
            if (v.use == Use::kStorage) {
                third = v.volume_ml ? std::optional(*v.volume_ml > kStorageMl) : std::nullopt;
                third = both(deep, third);
            }
            return limit.category == Category::kEuLarge ? third : both(deep, is_not(third));
        }
    }
    return false;
}

struct Judge {
    const Limit& limit;
    std::vector<std::pair<std::string, Amount>> units;

    LimitVerdict says(Verdict verdict, std::string because) const { return {&limit, verdict, std::move(because)}; }
    std::string figure(double value) const { return fmt::format("{:.4g} {}", value, unit_of(limit.measure)); }
    std::string figure(const Amount& a) const { return (a.least < a.most ? "under " : "") + figure(a.most); }
    std::string bound() const { return fmt::format("the limit of {:g} {}", limit.limit, unit_of(limit.measure)); }
    const std::pair<std::string, Amount>* surely_over(double bound_value) const {
        const auto found = std::ranges::find_if(units, [&](const auto& u) { return u.second.least > bound_value; });
        return found == units.end() ? nullptr : &*found;
    }
    const std::pair<std::string, Amount>* maybe_over() const {
        const auto found = std::ranges::find_if(units, [&](const auto& u) { return u.second.most > limit.limit; });
        return found == units.end() ? nullptr : &*found;
    }
    std::string highest() const {
        const auto most = std::ranges::max_element(units, {}, [](const auto& u) { return u.second.most; });
        return units.size() == 1 ? fmt::format("the only unit is {}", figure(most->second))
                                 : fmt::format("the highest of {} units is {}", units.size(), figure(most->second));
    }
    LimitVerdict not_measured_finely(const std::pair<std::string, Amount>& unit) const {
        return says(Verdict::kCannotTell, fmt::format("unit {} is {}, and {} lies below what was measured",
                                                      unit.first, figure(unit.second), bound()));
    }

    LimitVerdict each() const {
        if (const auto* over = surely_over(limit.limit))
            return says(Verdict::kFail,
                        fmt::format("unit {} is {}, over {}", over->first, figure(over->second), bound()));
        if (const auto* open = maybe_over()) return not_measured_finely(*open);
        return says(Verdict::kPass, fmt::format("{}, not over {}", highest(), bound()));
    }
    LimitVerdict any_of_six() const {
        LimitVerdict out = each();
        if (out.verdict == Verdict::kPass && units.size() < kSix)
            return says(Verdict::kCannotTell,
                        fmt::format("{}, not over {}, but the rule takes six units", highest(), bound()));
        return out;
    }
    LimitVerdict average_of_six() const {
        double least = 0, most = 0;
        for (const auto& [unit, amount] : units) least += amount.least, most += amount.most;
        const auto n = static_cast<double>(units.size());
        const Amount mean{least / n, most / n};
        const std::string average = units.size() == 1
                                        ? fmt::format("the only unit is {}", figure(mean))
                                        : fmt::format("the average of {} units is {}", units.size(), figure(mean));
        if (units.size() < kSix)
            return says(Verdict::kCannotTell, fmt::format("{}, but the rule takes six units", average));
        if (mean.least > limit.limit) return says(Verdict::kFail, fmt::format("{}, over {}", average, bound()));
        if (mean.most <= limit.limit) return says(Verdict::kPass, fmt::format("{}, not over {}", average, bound()));
        return says(Verdict::kCannotTell, fmt::format("{}, and {} lies below what was measured", average, bound()));
    }
    LimitVerdict each_with_three() const {
        if (const auto* far = surely_over(limit.limit * kHalfOver))
            return says(Verdict::kFail, fmt::format("unit {} is {}, over {} by more than half", far->first,
                                                    figure(far->second), bound()));
        if (const auto* over = surely_over(limit.limit)) {
            // Over by up to half: the others decide. None of them is over by more than half, as was just seen.
            double least = 0, most = 0;
            for (const auto& unit : units)
                if (&unit != over) least += unit.second.least, most += unit.second.most;
            const std::size_t others = units.size() - 1;
            const std::string begin =
                fmt::format("unit {} is {}, over {} by up to half", over->first, figure(over->second), bound());
            if (others < kThree)
                return says(Verdict::kCannotTell,
                            fmt::format("{}: at least three other like articles have to be tested", begin));
            const auto n = static_cast<double>(others);
            const std::string average =
                fmt::format("the other {} average {}", others, figure(Amount{least / n, most / n}));
            // Each article that is over has to pass beside its own others.
            Verdict verdict = Verdict::kPass;
            for (const auto& unit : units) {
                if (unit.second.most <= limit.limit) continue;
                double own_least = 0, own_most = 0;
                for (const auto& other : units)
                    if (&other != &unit) own_least += other.second.least, own_most += other.second.most;
                const bool fails = own_least / n > limit.limit && unit.second.least > limit.limit;
                const bool open = own_most / n > limit.limit || unit.second.most > limit.limit * kHalfOver;
                if (fails) verdict = Verdict::kFail;
                else if (open && verdict != Verdict::kFail) verdict = Verdict::kCannotTell;
            }
            return says(verdict, fmt::format("{}; {}", begin, average));
        }
        if (const auto* open = maybe_over()) return not_measured_finely(*open);
        return says(Verdict::kPass, fmt::format("{}, not over {}", highest(), bound()));
    }
    LimitVerdict verdict() const {
        switch (limit.sampling) {
            case Sampling::kAverageOfSix:
                return average_of_six();
            case Sampling::kAnyOfSix:
                return any_of_six();
            case Sampling::kEachWithThree:
                return each_with_three();
            case Sampling::kNotGiven:
                return each();
        }
        return each();
    }
};

}  // namespace

namespace {

// A name that is nearly right may have another unit, and a wrong unit is wrong a thousandfold.
std::string column_remedy(std::string_view name, const std::vector<std::string>& known) {
    const auto has = [&](std::string_view part) { return name.find(part) != name.npos; };
    const std::string use = fmt::format("use {}", fmt::join(known, ", "));
    if (has("ug") || has("\u00b5g") || has("\u03bcg") || has("ppm") || has("ppb"))
        return use + "; 1000 ug per l, or 1 ug per ml, are 1 mg per l";
    return did_you_mean(name, known, use);
}

}  // namespace

std::optional<Use> use_named(std::string_view name) {
    const auto found = std::ranges::find(kUses, name, &std::pair<std::string_view, Use>::first);
    return found == kUses.end() ? std::nullopt : std::optional(found->second);
}

std::string_view name_of(Verdict v) {
    return v == Verdict::kPass ? "pass" : v == Verdict::kFail ? "fail" : "cannot tell";
}

std::expected<std::vector<UnitResult>, std::vector<Problem>> read_results(std::string_view text,
                                                                          std::string_view file) {
    std::vector<Problem> problems;
    const auto fault = [&](std::uint32_t line, std::uint32_t column, std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, fmt::format("{}:{}:{}", file, line, column), std::move(what),
                            std::move(remedy)});
    };
    if (!is_utf8(text)) {
        fault(1, 1, "is not UTF-8 text", "save the table as CSV in UTF-8");
        return std::unexpected(problems);
    }
    // Spreadsheets of half the world separate by semicolons.
    const std::string_view head = text.substr(0, text.find_first_of("\r\n"));
    const char delimiter = head.find(',') != head.npos    ? ','
                           : head.find(';') != head.npos  ? ';'
                           : head.find('\t') != head.npos ? '\t'
                                                          : ',';
    const book::Csv csv = book::read_csv(text, delimiter);
    for (const auto& wrong : csv.faults) fault(wrong.line, wrong.column, wrong.what, wrong.remedy);
    if (csv.rows.empty()) {
        fault(1, 1, "is empty", "begin with a line that names the columns: unit,lead_mg_per_l,cadmium_mg_per_l");
        return std::unexpected(problems);
    }
    std::optional<std::size_t> unit_at;
    std::vector<const ResultColumn*> columns;
    std::set<std::pair<Substance, Measure>> measured;
    std::vector<std::string> known = {"unit"};
    for (const ResultColumn& column : kColumns) known.emplace_back(column.name);
    for (std::size_t at = 0; at < csv.rows.front().cells.size(); ++at) {
        const auto& cell = csv.rows.front().cells[at];
        const std::string name = lower(trim(cell.text));
        const auto found = std::ranges::find(kColumns, name, &ResultColumn::name);
        columns.push_back(found == kColumns.end() ? nullptr : &*found);
        if (name == "unit") unit_at = at;
        else if (found == kColumns.end() && (name.find("lead") != name.npos || name.find("cadmium") != name.npos))
            fault(cell.line, cell.column,
                  fmt::format("the column {} is none of those of results", book::in_quotes(name)),
                  column_remedy(name, known));
        else if (found != kColumns.end() && !measured.insert({found->substance, found->measure}).second)
            fault(cell.line, cell.column, fmt::format("the column '{}' says what another column says", name),
                  "keep one of them");
    }
    if (std::ranges::count(columns, nullptr) == static_cast<std::ptrdiff_t>(columns.size()) && problems.empty())
        fault(1, 1, "has no column of results", fmt::format("use {}", fmt::join(known, ", ")));
    std::vector<UnitResult> out;
    for (std::size_t row = 1; row < csv.rows.size(); ++row) {
        const auto& cells = csv.rows[row].cells;
        if (std::ranges::all_of(cells, [](const auto& c) { return trim(c.text).empty(); })) continue;
        UnitResult unit;
        unit.unit = unit_at && *unit_at < cells.size() ? std::string(trim(cells[*unit_at].text)) : "";
        if (unit.unit.empty()) unit.unit = std::to_string(out.size() + 1);
        if (std::ranges::find(out, unit.unit, &UnitResult::unit) != out.end())
            fault(cells.front().line, cells.front().column,
                  fmt::format("the unit {} stands twice", book::in_quotes(unit.unit)),
                  "give each unit one row and its own name");
        for (std::size_t at = 0; at < cells.size() && at < columns.size(); ++at) {
            if (columns[at] == nullptr) continue;
            if (trim(cells[at].text).empty()) continue;
            if (const auto amount = amount_of(cells[at].text))
                cell_for(unit, columns[at]->substance, columns[at]->measure) = *amount;
            else
                fault(cells[at].line, cells[at].column,
                      fmt::format("{} {} is not an amount", columns[at]->name, book::in_quotes(cells[at].text)),
                      std::string(kAmountRemedy));
        }
        out.push_back(std::move(unit));
    }
    if (out.empty() && problems.empty()) fault(1, 1, "has no unit", "add a row for each unit that was tested");
    if (!problems.empty()) return std::unexpected(problems);
    return out;
}

std::expected<std::vector<UnitResult>, std::vector<Problem>> results_from_json(const nlohmann::json& units,
                                                                               std::string_view where) {
    std::vector<Problem> problems;
    const auto fault = [&](std::string at, std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, std::move(at), std::move(what), std::move(remedy)});
    };
    std::vector<std::string> known = {"unit"};
    for (const ResultColumn& column : kColumns) known.emplace_back(column.name);
    std::vector<UnitResult> out;
    if (!units.is_array() || units.empty())
        fault(std::string(where), "is not a list of the units that were tested",
              fmt::format("give a list of objects with {}", fmt::join(known, ", ")));
    for (std::size_t at = 0; units.is_array() && at < units.size(); ++at) {
        const std::string row = fmt::format("{}/{}", where, at);
        if (!units[at].is_object()) {
            fault(row, "is not an object", fmt::format("give {} as its members", fmt::join(known, ", ")));
            continue;
        }
        UnitResult unit;
        for (const auto& [name, value] : units[at].items()) {
            const std::string cell = row + "/" + name;
            const auto column = std::ranges::find(kColumns, name, &ResultColumn::name);
            if (name == "unit") {
                if (value.is_string()) unit.unit = trim(value.get_ref<const std::string&>());
                else if (!value.is_null()) fault(cell, "is not text", "give the name of the unit as text");
            } else if (column == kColumns.end()) {
                fault(cell, "is no member of a result", column_remedy(name, known));
            } else if (!value.is_null() && value != "") {
                const auto amount = amount_of(value.is_string() ? value.get<std::string>() : value.dump());
                auto& kept = cell_for(unit, column->substance, column->measure);
                if (!amount)
                    fault(cell, fmt::format("{} is not an amount", value.dump()), std::string(kAmountRemedy));
                else if (kept) fault(cell, "says what another member says", "keep one of them");
                else kept = *amount;
            }
        }
        if (unit.unit.empty()) unit.unit = std::to_string(at + 1);
        if (std::ranges::find(out, unit.unit, &UnitResult::unit) != out.end())
            fault(row, fmt::format("the unit {} stands twice", book::in_quotes(unit.unit)),
                  "give each unit one row and its own name");
        out.push_back(std::move(unit));
    }
    if (!problems.empty()) return std::unexpected(problems);
    return out;
}

LeachReport compare(const Vessel& vessel, const std::vector<UnitResult>& results) {
    LeachReport out;
    out.units = results.size();
    for (const Limit& limit : all_limits()) {
        const auto fit = fits(vessel, limit);
        if (fit && !*fit) continue;
        Judge judge{limit, {}};
        if (limit.measure != Measure::kPerDay)
            for (const UnitResult& unit : results)
                if (const auto& amount = cell_for(unit, limit.substance, limit.measure))
                    judge.units.emplace_back(unit.unit, *amount);
        const std::string category = fmt::format("{}: {}", limit.authority, limit.category_words);
        if (fit && limit.category != Category::kAny && limit.in_force &&
            std::ranges::find(out.categories, category) == out.categories.end())
            out.categories.push_back(category);
        if (!fit)
            out.verdicts.push_back(judge.says(
                Verdict::kCannotTell, vessel.depth_mm || vessel.use == Use::kCup || vessel.use == Use::kPitcher
                                          ? "whether it is for this vessel depends on its volume"
                                          : "whether it is for this vessel depends on its depth inside"));
        else if (limit.measure == Measure::kPerDay)
            out.verdicts.push_back(
                judge.says(Verdict::kCannotTell, "it limits what a person takes in each day, not what leaches"));
        else if (judge.units.empty())
            out.verdicts.push_back(judge.says(
                Verdict::kCannotTell, fmt::format("no unit has a result for {} {}", name_of(limit.substance),
                                                  limit.measure == Measure::kPerArea ? "per area" : "per volume")));
        else out.verdicts.push_back(judge.verdict());
    }
    out.notes = {
        "A verdict is about these units and this rule. Other pieces, even of one set, can leach more.",
        "The limits are for the test with 4 % acetic acid over 24 hours at 22 degrees C (plus or minus 2). Swabs "
        "and kits "
        "for the home do not measure that.",
        "Before anybody eats or drinks from it, ask an accredited laboratory, and the rules of your place."};
    if (std::ranges::any_of(out.verdicts, [](const LimitVerdict& v) { return !v.limit->value_verified; }))
        out.notes.push_back("Limits marked unverified were compared with no copy of their document.");
    return out;
}

nlohmann::ordered_json leach_json(const LeachReport& report) {
    using Json = nlohmann::ordered_json;
    return {{"units", report.units},
            {"categories", report.categories},
            {"verdicts", json_list(report.verdicts,
                                   [](const LimitVerdict& v) {
                                       return Json{{"authority", v.limit->authority},
                                                   {"document", v.limit->document},
                                                   {"substance", name_of(v.limit->substance)},
                                                   {"category", v.limit->category_words},
                                                   {"limit", v.limit->limit},
                                                   {"unit", unit_of(v.limit->measure)},
                                                   {"rule", rule_of(v.limit->sampling)},
                                                   {"verdict", name_of(v.verdict)},
                                                   {"because", v.because},
                                                   {"value_verified", v.limit->value_verified},
                                                   {"rule_verified", v.limit->sampling_verified},
                                                   {"in_force", v.limit->in_force},
                                                   {"note", v.limit->note}};
                                   })},
            {"notes", report.notes}};
}

nlohmann::ordered_json regimes_json() {
    using Json = nlohmann::ordered_json;
    Json regimes = Json::array(), categories = Json::array();
    for (const Limit& limit : all_limits()) {
        auto regime = std::ranges::find_if(regimes, [&](const Json& r) {
            return r.at("authority") == limit.authority && r.at("document") == limit.document;
        });
        if (regime == regimes.end()) {
            regimes.push_back({{"authority", limit.authority},
                               {"document", limit.document},
                               {"in_force", limit.in_force},
                               {"limits", Json::array()}});
            regime = std::prev(regimes.end());
        }
        regime->at("limits").push_back({{"substance", name_of(limit.substance)},
                                        {"category", limit.category_words},
                                        {"limit", limit.limit},
                                        {"unit", unit_of(limit.measure)},
                                        {"rule", rule_of(limit.sampling)},
                                        {"value_verified", limit.value_verified},
                                        {"rule_verified", limit.sampling_verified},
                                        {"in_force", limit.in_force},
                                        {"note", limit.note}});
    }
    const auto words = [](Use use) -> std::string_view {
        switch (use) {
            case Use::kTable:
                return "at the table: plates, dishes, bowls";
            case Use::kCup:
                return "a cup or mug";
            case Use::kPitcher:
                return "a pitcher";
            case Use::kStorage:
                return "for storing food";
            case Use::kCooking:
                return "for cooking";
        }
        return "";
    };
    for (const auto& [name, use] : kUses) categories.push_back({{"id", name}, {"name", words(use)}});
    std::vector<std::string_view> columns;
    for (const ResultColumn& column : kColumns) columns.push_back(column.name);
    return {{"regimes", std::move(regimes)},
            {"categories", std::move(categories)},
            {"members", columns},
            {"flat_depth_mm", kFlatDepthMm},
            {"large_ml", kLargeMl},
            {"storage_ml", kStorageMl},
            {"note",
             "Depth is measured inside, from the lowest point to the plane of the rim; a depth up to 25 mm is flat "
             "ware. Limits that are not verified were compared with no copy of their document. A verdict is about "
             "the units that were tested and one rule; whether a piece may be used for food is for an accredited "
             "laboratory and the rules of your place to say."}};
}

}  // namespace footring::care
