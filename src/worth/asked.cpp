// SPDX-License-Identifier: Apache-2.0
#include "worth/asked.h"

#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <set>

namespace footring::worth {

namespace {

using nlohmann::json;

void move_to(Problems& all, Problems more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

// Members of one object; what is wrong with them is gathered.
class Members {
  public:
    Members(const json& object, std::string where, Problems& problems)
        : object_(object), where_(std::move(where)), problems_(problems) {
        if (!object.is_object())
            problems_.push_back({ProblemCode::kBadInput, where_, "this is not an object", "put it in braces"});
    }
    std::string at(std::string_view member) const {
        return fmt::format("{}{}{}", where_, where_.find(": /") == std::string::npos ? ": /" : "/", member);
    }
    void add(std::string_view member, std::string what, std::string remedy) {
        problems_.push_back({ProblemCode::kBadInput, at(member), std::move(what), std::move(remedy)});
    }
    const json* find(const char* member) const {
        if (!object_.is_object()) return nullptr;
        const auto found = object_.find(member);
        return found == object_.end() || found->is_null() ? nullptr : &*found;
    }
    std::string text(const char* member) {
        const json* value = find(member);
        if (value == nullptr) return {};
        if (value->is_string()) return value->get<std::string>();
        add(member, "this is not text", "put it in double quotes");
        return {};
    }
    std::optional<double> number(const char* member, double lowest, double highest) {
        const json* value = find(member);
        if (value == nullptr) return std::nullopt;
        if (value->is_number()) {
            const double x = value->get<double>();
            if (std::isfinite(x) && x >= lowest && x <= highest) return x;
        }
        add(member, fmt::format("this is not a number from {:g} to {:g}", lowest, highest),
            "mend it, or leave it out");
        return std::nullopt;
    }

  private:
    const json& object_;
    std::string where_;
    Problems& problems_;
};

constexpr double kMostMoney = 1e9;

}  // namespace

std::expected<Manner, Problems> manner_from_json(const json& value, const std::string& where) {
    Problems problems;
    Members members(value, where, problems);
    Manner manner;
    const std::string condition = members.text("condition"), grade = members.text("grade"),
                      market = members.text("market");
    if (const auto known = condition_named(condition)) manner.condition = *known;
    else
        members.add("condition", fmt::format("there is no condition '{}'", condition),
                    "use mint, good, fair, poor or damaged");
    if (const auto known = grade_named(grade)) manner.grade = *known;
    else members.add("grade", fmt::format("there is no grade '{}'", grade), "use first, second or nothing");
    if (const auto known = market_named(market)) manner.market = *known;
    else
        members.add("market", fmt::format("there is no market '{}'", market),
                    "use auction, dealer, fair, online or private");
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return manner;
}

std::expected<Described, Problems> described_from_json(const json& value, const book::Book& book, Manner& manner,
                                                       const std::string& where) {
    Problems problems;
    Members members(value, where, problems);
    Described out;
    const auto find = [&]<class T>(const char* member, std::optional<book::Ref<T>>& into) {
        const std::string id = members.text(member);
        if (id.empty()) return;
        auto found = book::find<T>(book, id, members.at(member));
        if (found) into = *found;
        else problems.push_back(std::move(found.error()));
    };
    find("form", out.form);
    find("treatment", out.treatment);
    find("shape", out.shape);
    if (const auto size = members.number("size_mm", 5, looks::kLongestMm)) manner.size_mm = *size;
    if (problems.empty() && !out.form && !out.treatment && !out.shape)
        members.add("form", "nothing is said of what it is", "name a form, a treatment or a shape");
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

std::string words_of(const Things& things, const Described& described) {
    const Thing thing = things.of(described.treatment, described.form);
    std::vector<std::string> words;
    if (!thing.form.empty()) words.push_back(things.form_name(thing.form));
    if (!thing.treatment.empty()) words.push_back(things.treatment_name(thing.treatment));
    if (thing.treatment.empty() && described.shape)
        words.push_back(things.shape_name(things.shape_key(book::id_of(things.book(), *described.shape))));
    return fmt::format("{}", fmt::join(words, ", "));
}

Expected<double> year_asked(std::string_view date, std::string_view today, std::string_view where) {
    constexpr double kMostAhead = 20;
    const auto year = year_of_sale(date, "", where);
    if (!year) return year;
    const auto now = year_of_sale(today.substr(0, 10), "", where);
    if (now && *year > *now + kMostAhead)
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("'{}' is more than {:g} years ahead", date, kMostAhead), "ask for a nearer day");
    return year;
}

std::expected<HaulAsk, Problems> haul_from_json(const json& value, const Things& things, const Identify& piece_file,
                                                const Identify& piece_id, const std::string& where) {
    Problems problems;
    Members members(value, where, problems);
    HaulAsk out;
    out.name = members.text("name");
    out.currency = members.text("currency");
    out.date = members.text("date");
    const std::string market = members.text("market");
    const auto share = [&](const char* member, double& into, double most) {
        if (const auto percent = members.number(member, 0, most)) into = *percent / 100;
    };
    share("premium_percent", out.costs.premium, 200);
    share("tax_percent", out.costs.tax, 100);
    share("selling_percent", out.costs.selling, 100);
    share("margin_percent", out.costs.margin, 1000);
    if (const auto money = members.number("carriage", 0, kMostMoney)) out.costs.carriage = *money;
    if (const auto money = members.number("selling_each", 0, kMostMoney)) out.costs.selling_each = *money;
    out.costs.bid = members.number("bid", 0, kMostMoney);
    const json* pieces = members.find("pieces");
    if (pieces == nullptr || !pieces->is_array() || pieces->empty()) {
        members.add("pieces", "there are no pieces", "give a list of at least one piece");
        return std::unexpected(std::move(problems));
    }
    int many = 0;
    for (std::size_t i = 0; i < pieces->size(); ++i) {
        const json& row = (*pieces)[i];
        const std::string here = members.at(fmt::format("pieces/{}", i));
        Members entry(row, here, problems);
        if (!row.is_object()) continue;
        HaulPiece piece;
        if (const json* count = entry.find("count")) {
            if (count->is_number_integer() && count->get<std::int64_t>() >= 1 &&
                count->get<std::int64_t>() <= kMostHaulPieces)
                piece.count = count->get<int>();
            else
                entry.add("count", fmt::format("this is not a whole number from 1 to {}", kMostHaulPieces),
                          "mend it, or leave it out for 1");
        }
        many += piece.count;
        auto manner = manner_from_json(row, here);
        if (!manner) {
            move_to(problems, std::move(manner.error()));
            continue;
        }
        if (manner->market == Market::kUnsaid)
            if (const auto known = market_named(market)) manner->market = *known;
        const json* file = entry.find("piece");
        const json* id = entry.find("piece_id");
        const json* thing = entry.find("thing");
        if ((file != nullptr) + (id != nullptr) + (thing != nullptr) > 1) {
            entry.add("piece", "it is described twice", "give one of thing, piece and piece_id");
            continue;
        }
        if (file != nullptr || id != nullptr) {
            auto found = file != nullptr ? piece_file(*file, *manner, entry.at("piece"))
                                         : piece_id(*id, *manner, entry.at("piece_id"));
            if (found) {
                piece.words = std::move(found->words);
                piece.identities = std::move(found->identities);
            } else {
                move_to(problems, std::move(found.error()));
            }
        } else {
            const auto described = described_from_json(thing != nullptr ? *thing : row, things.book(), *manner,
                                                       thing != nullptr ? entry.at("thing") : here);
            if (described) {
                piece.words = words_of(things, *described);
                piece.identities = identities_of(things, *described, *manner);
            } else {
                move_to(problems, described.error());
            }
        }
        out.pieces.push_back(std::move(piece));
    }
    if (!market_named(market))
        members.add("market", fmt::format("there is no market '{}'", market),
                    "use auction, dealer, fair, online or private");
    if (many > kMostHaulPieces)
        members.add("pieces", fmt::format("there are {} pieces", many),
                    fmt::format("give at most {}", kMostHaulPieces));
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

}  // namespace footring::worth
