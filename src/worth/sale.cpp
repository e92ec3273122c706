// SPDX-License-Identifier: Apache-2.0
#include "worth/sale.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "base/text.h"
#include "edtf/edtf.h"
#include "worth/currencies.h"

namespace footring::worth {

namespace {

using nlohmann::json;

constexpr std::size_t kLongestText = 500;  // bytes of a short field; a note may have ten times as many
constexpr int kEarliestYear = 1850, kLongestPeriodYears = 5;
constexpr double kMmPerInch = 25.4;

struct Synonym {
    std::string_view word, means;
};
constexpr Synonym kConditionWords[] = {
    {"perfect", "mint"},     {"as new", "mint"},      {"excellent", "mint"},   {"near mint", "mint"},
    {"very good", "good"},   {"light wear", "good"},  {"average", "fair"},     {"moderate wear", "fair"},
    {"worn", "fair"},        {"heavy wear", "poor"},  {"stained", "poor"},     {"crazed", "poor"},
    {"chip", "damaged"},     {"chipped", "damaged"},  {"crack", "damaged"},    {"cracked", "damaged"},
    {"hairline", "damaged"}, {"repaired", "damaged"}, {"restored", "damaged"}, {"broken", "damaged"}};
constexpr Synonym kMarketWords[] = {
    {"auctions", "auction"}, {"auction house", "auction"}, {"saleroom", "auction"},
    {"shop", "dealer"},      {"store", "dealer"},          {"antiques shop", "dealer"},
    {"flea market", "fair"}, {"market", "fair"},           {"stall", "fair"},
    {"web", "online"},       {"internet", "online"},       {"privately", "private"}};
constexpr Synonym kGradeWords[] = {{"1", "first"},         {"1st", "first"},       {"firsts", "first"},
                                   {"first run", "first"}, {"first-run", "first"}, {"2", "second"},
                                   {"2nd", "second"},      {"seconds", "second"},  {"any", ""}};

std::string meant(std::string_view text, std::span<const Synonym> synonyms) {
    const std::string word = lower(trim(text));
    const auto found = std::ranges::find(synonyms, std::string_view(word), &Synonym::word);
    return found == synonyms.end() ? word : std::string(found->means);
}

template <class Enum, std::size_t N>
std::optional<Enum> named(std::string_view text, std::span<const Synonym> synonyms,
                          const std::array<Word, N>& words) {
    const std::string word = meant(text, synonyms);
    const auto found = std::ranges::find(words, std::string_view(word), &Word::name);
    if (found == words.end()) return std::nullopt;
    return static_cast<Enum>(found - words.begin());
}

double in_years(const edtf::Day& day) {
    constexpr int kBefore[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334};
    const double days = kBefore[std::clamp(day.month, 1, 12) - 1] + day.day - 0.5;
    return static_cast<double>(day.year) + std::min(days, 364.5) / 365;
}

}  // namespace

std::optional<Condition> condition_named(std::string_view text) {
    return named<Condition>(text, kConditionWords, kConditions);
}
std::optional<Market> market_named(std::string_view text) { return named<Market>(text, kMarketWords, kMarkets); }
std::optional<std::string> grade_named(std::string_view text) {
    const std::string word = meant(text, kGradeWords);
    if (std::ranges::find(kSaleGrades, std::string_view(word)) == kSaleGrades.end()) return std::nullopt;
    return word;
}

Condition condition_of(const std::optional<looks::Wear>& wear) {
    if (!wear) return Condition::kUnsaid;
    switch (*wear) {
        case looks::Wear::kNone:
            return Condition::kMint;
        case looks::Wear::kLight:
            return Condition::kGood;
        case looks::Wear::kModerate:
            return Condition::kFair;
        case looks::Wear::kHeavy:
            return Condition::kPoor;
    }
    return Condition::kUnsaid;
}

Market market_of_venue(std::string_view venue) {
    const std::string words = lower(venue);
    const auto says = [&](std::initializer_list<const char*> any) {
        return std::ranges::any_of(any, [&](const char* word) { return words.find(word) != std::string::npos; });
    };
    if (says({"online", "web", "internet"})) return Market::kOnline;
    if (says({"auction", "saleroom", "sale room"})) return Market::kAuction;
    if (says({"dealer", "shop", "gallery"})) return Market::kDealer;
    if (says({"fair", "flea", "market", "stall", "boot sale", "barn sale"})) return Market::kFair;
    if (says({"private", "collector"})) return Market::kPrivate;
    return Market::kUnsaid;
}

Expected<double> year_of_sale(std::string_view date, std::string_view today, std::string_view where) {
    const auto read = edtf::parse(date);
    if (!read) return fail(ProblemCode::kBadInput, std::string(where), read.error().what, read.error().remedy);
    const auto& from = read->earliest();
    const auto& to = read->latest();
    if (!from || !to || read->spans().size() != 1)
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("'{}' is not the day, month or year of a sale", date),
                    "write it as 2019-05-12, 2019-05 or 2019");
    const auto now = edtf::parse(today.substr(0, 10));
    if (now && now->latest() && *from > *now->latest())
        return fail(ProblemCode::kBadInput, std::string(where), fmt::format("'{}' is in the future", date),
                    fmt::format("give the day on which it was sold; today is {}", today.substr(0, 10)));
    if (from->year < kEarliestYear)
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("'{}' is before {}", date, kEarliestYear), "check the year of the sale");
    if (to->year - from->year > kLongestPeriodYears)
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("'{}' runs over {} years", date, to->year - from->year),
                    fmt::format("give a period of at most {} years, or leave the sale out", kLongestPeriodYears));
    return (in_years(*from) + in_years(*to)) / 2;
}

Expected<double> read_price(std::string_view text, std::string_view where) {
    const std::string_view price = trim(text);
    if (price.empty())
        return fail(ProblemCode::kBadInput, std::string(where), "the price is missing",
                    "give what was paid, or leave the sale out");
    const auto value = to_number(price);
    if (!value)
        return fail(ProblemCode::kBadInput, std::string(where), fmt::format("'{}' is not a price", price),
                    "give digits with a point, as in 1250.50, without the currency's sign and without separators");
    return *value;
}

Expected<double> read_size_mm(std::string_view text, std::string_view where) {
    const auto wrong = [&] {
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("'{}' is not a length from 5 to {:g} mm", trim(text), looks::kLongestMm),
                    "write it as 241, 24.1 cm or 9 1/2 in");
    };
    std::string words = lower(trim(text));
    double unit = 1;
    const auto ends_in = [&](std::string_view suffix, double mm) {
        if (!words.ends_with(suffix)) return false;
        words = std::string(trim(std::string_view(words).substr(0, words.size() - suffix.size())));
        unit = mm;
        return true;
    };
    static_cast<void>(ends_in("mm", 1) || ends_in("cm", 10) || ends_in("inches", kMmPerInch) ||
                      ends_in("inch", kMmPerInch) || ends_in("in", kMmPerInch) || ends_in("\"", kMmPerInch));
    double sum = 0;
    const std::vector<std::string> parts = split(words, ' ');
    if (parts.empty() || parts.size() > 2) return wrong();
    for (const std::string& part : parts) {
        const auto slash = part.find('/');
        const auto above = to_number(part.substr(0, slash));
        const auto below = slash == std::string::npos ? std::optional(1.0) : to_number(part.substr(slash + 1));
        if (!above || !below || *below <= 0 || *above < 0 ||
            (parts.size() == 2 && &part == &parts[1] && slash == std::string::npos))
            return wrong();
        sum += *above / *below;
    }
    const double size = sum * unit;
    if (!(size >= 5) || size > looks::kLongestMm) return wrong();
    return size;
}

Expected<std::string> read_currency(std::string_view text, std::string_view where) {
    std::string code(trim(text));
    std::ranges::transform(code, code.begin(),
                           [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c; });
    if (code.empty())
        return fail(ProblemCode::kBadInput, std::string(where), "the currency is missing",
                    "give its ISO 4217 code, as in USD");
    if (currency_of(code) != nullptr) return code;
    // Among those that are met most, a slip of the pen is likelier to have begun.
    static const std::vector<std::string> kOften{"USD", "EUR", "GBP", "CAD", "AUD", "JPY", "CHF", "NZD", "SEK"};
    const std::string plain = "give its code of three letters, as in USD";
    std::string remedy = code.size() == 3 ? did_you_mean(code, kOften, plain) : plain;
    if (code.size() == 3 && remedy == plain) {
        std::vector<std::string> known;
        for (const Currency& currency : all_currencies()) known.emplace_back(currency.code);
        remedy = did_you_mean(code, known, plain);
    }
    return fail(ProblemCode::kBadInput, std::string(where),
                fmt::format("'{}' is not a currency of ISO 4217", trim(text)), std::move(remedy));
}

std::vector<Problem> faults_of(const Sale& sale, std::string_view today,
                               const std::function<std::string(std::string_view field)>& where) {
    std::vector<Problem> problems;
    const auto add = [&](std::string_view field, std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, where(field), std::move(what), std::move(remedy)});
    };
    if (sale.date.empty()) add("date", "the date is missing", "give the day, month or year of the sale");
    else if (const auto year = year_of_sale(sale.date, today, where("date")); !year)
        problems.push_back(year.error());
    const auto code = read_currency(sale.currency, where("currency"));
    if (!code) problems.push_back(code.error());
    if (!std::isfinite(sale.price)) add("price", "the price is not a number", "give what was paid");
    else if (sale.price < 0)
        add("price", fmt::format("{:g} is a negative price", sale.price), "give what was paid");
    else if (sale.price == 0)
        add("price", "the price is 0", "give what was paid; leave out what was given away or not sold");
    else if (const Currency* currency = code ? currency_of(*code) : nullptr;
             currency != nullptr && sale.price > highest_price(*currency))
        add("price", fmt::format("{:.0f} {} for one piece of tableware cannot be right", sale.price, *code),
            "check the decimal point and the currency");
    if (sale.form.empty()) add("form", "the form is missing", "say what was sold, as in dinner-plate");
    if (sale.size_mm && (!std::isfinite(*sale.size_mm) || *sale.size_mm < 5 || *sale.size_mm > looks::kLongestMm))
        add("size_mm", fmt::format("{:g} is not a length from 5 to {:g} mm", *sale.size_mm, looks::kLongestMm),
            "give the longest measure in millimetres");
    if (!grade_named(sale.grade))
        add("grade", fmt::format("there is no grade '{}'", sale.grade), "use first, second or nothing");
    const std::pair<std::string_view, const std::string*> texts[] = {
        {"id", &sale.id},       {"form", &sale.form},   {"treatment", &sale.treatment},
        {"shape", &sale.shape}, {"venue", &sale.venue}, {"source", &sale.source},
        {"note", &sale.note}};
    for (const auto& [field, text] : texts) {
        const std::size_t most = field == "note" ? 10 * kLongestText : kLongestText;
        if (text->size() > most) add(field, fmt::format("it is longer than {} characters", most), "shorten it");
        else if (!is_utf8(*text)) add(field, "it is not UTF-8 text", "type it again");
    }
    return problems;
}

std::expected<Sale, std::vector<Problem>> sale_from_json(const json& value, std::string_view today,
                                                         std::string_view where) {
    std::vector<Problem> problems;
    const auto at = [&](std::string_view field) {
        return fmt::format("{}{}{}", where, where.find(": /") == std::string_view::npos ? ": /" : "/", field);
    };
    const auto add = [&](std::string_view field, std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, at(field), std::move(what), std::move(remedy)});
    };
    if (!value.is_object())
        return std::unexpected(std::vector{Problem{ProblemCode::kBadInput, std::string(where), "this is not a sale",
                                                   "give an object with date, price, currency and form"}});
    const auto text = [&](const char* field) -> std::string {
        const auto found = value.find(field);
        if (found == value.end() || found->is_null()) return {};
        if (found->is_string()) return std::string(trim(found->get<std::string>()));
        add(field, "this is not text", "put it in double quotes");
        return {};
    };
    const auto number = [&](const char* field) -> std::optional<double> {
        const auto found = value.find(field);
        if (found == value.end() || found->is_null()) return std::nullopt;
        if (found->is_number()) return found->get<double>();
        add(field, "this is not a number", "give a number without quotes");
        return std::nullopt;
    };
    Sale sale;
    sale.id = text("id");
    sale.date = text("date");
    const std::size_t before = problems.size();
    const auto price = number("price");
    if (price) sale.price = *price;
    else if (problems.size() == before)
        add("price", "the price is missing", "give what was paid, or leave the sale out");
    sale.currency = text("currency");
    sale.form = text("form");
    sale.treatment = text("treatment");
    sale.shape = text("shape");
    sale.size_mm = number("size_mm");
    if (const auto condition = condition_named(text("condition"))) sale.condition = *condition;
    else
        add("condition", fmt::format("there is no condition '{}'", text("condition")),
            "use mint, good, fair, poor or damaged");
    if (const auto market = market_named(text("market"))) sale.market = *market;
    else
        add("market", fmt::format("there is no market '{}'", text("market")),
            "use auction, dealer, fair, online or private");
    sale.grade = text("grade");
    sale.venue = text("venue");
    sale.source = text("source");
    sale.note = text("note");
    for (Problem& fault : faults_of(sale, today, at)) {
        if (!price && fault.where == at("price")) continue;  // told already
        problems.push_back(std::move(fault));
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    sale.currency = *read_currency(sale.currency, "");
    sale.grade = *grade_named(sale.grade);
    return sale;
}

nlohmann::ordered_json sale_json(const Sale& sale) {
    nlohmann::ordered_json out{
        {"id", sale.id},     {"date", sale.date},           {"price", sale.price}, {"currency", sale.currency},
        {"form", sale.form}, {"treatment", sale.treatment}, {"shape", sale.shape}};
    if (sale.size_mm) out["size_mm"] = *sale.size_mm;
    out["condition"] = name_of(sale.condition);
    out["grade"] = sale.grade;
    out["venue"] = sale.venue;
    out["market"] = name_of(sale.market);
    out["source"] = sale.source;
    out["note"] = sale.note;
    return out;
}

Likeness likeness(const Sale& a, const Sale& b) {
    if (a.date != b.date || a.price != b.price || a.currency != b.currency || a.form != b.form ||
        a.treatment != b.treatment || a.shape != b.shape)
        return Likeness::kDifferent;
    Sale same = b;
    same.id = a.id;
    return a == same ? Likeness::kSame : Likeness::kMaybe;
}

}  // namespace footring::worth
