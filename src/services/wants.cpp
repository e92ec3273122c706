// SPDX-License-Identifier: Apache-2.0
#include "services/wants.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "base/text.h"
#include "base/words.h"

namespace footring::services {

using book::Ref;

namespace {

std::string plural(int n, std::string_view one) {
    return n == 1 ? fmt::format("1 {}", one) : fmt::format("{} {}s", n, one);
}

std::string form_name(const book::Book& book, Ref<book::Form> form) {
    return book[form].name.empty() ? book[form].id : book[form].name;
}

// How many places of each line are taken.
std::vector<int> filled_of(const PlannedService& service, const ServiceTable& table) {
    std::vector<int> out(service.lines.size(), 0);
    for (const PlaceTaken& place : table.taken) out[place.line] += place.piece || place.bought ? 1 : 0;
    return out;
}

// "38 USD (24 to 60)"; what one hands in oneself is told to the cent.
std::string price_words(const Cost& cost, const Prices& prices) {
    const auto figure = [&](double amount) {
        return prices.basis.empty() ? fmt::format("{:.2f}", amount)
               : amount < 9.95      ? fmt::format("{:.1f}", amount)
                                    : fmt::format("{:.0f}", amount);
    };
    std::string out = figure(cost.amount) + (prices.currency.empty() ? "" : " " + prices.currency);
    if (cost.between) out += fmt::format(" ({} to {})", figure((*cost.between)[0]), figure((*cost.between)[1]));
    return out;
}

std::string bought_words(const Fitting& fitting, const std::vector<WantedPieces>& buy) {
    std::vector<std::string> out;
    for (const WantedPieces& one : buy)
        out.push_back(
            fmt::format("{} {}", one.count, lower(fitting.plan().services[one.service].lines[one.line].name)));
    return fmt::format("{}", fmt::join(out, ", "));
}

}  // namespace

std::string service_name(const Plan& plan, std::uint32_t s) {
    const Service& given = plan.services[s].given;
    return !given.name.empty() ? given.name : !given.id.empty() ? given.id : fmt::format("service {}", s + 1);
}

Wants wants(const Fitting& fitting, const Allotment& allotment, const Prices& prices) {
    const Plan& plan = fitting.plan();
    Wants out;
    std::vector<WantStep> later;
    for (std::uint32_t s = 0; s < plan.services.size(); ++s) {
        const PlannedService& service = plan.services[s];
        const ServiceTable& table = allotment.services[s];
        std::vector<int> have = filled_of(service, table);
        const std::vector<int> stand = have;
        const std::string name = service_name(plan, s);
        std::vector<std::optional<Offer>> offers;
        for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
            offers.push_back(agreeing_offer(fitting, allotment, prices, s, l));
            if (!offers.back() && have[l] < service.lines[l].places)
                out.never.push_back(
                    fmt::format("{}: no {} of it is on record.", name, lower(service.lines[l].name)));
        }
        for (int setting = table.complete + 1; setting <= table.settings; ++setting) {
            WantStep step{s, setting, {}, 0, 0, 0, ""};
            bool possible = true;
            for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
                const PlannedLine& line = service.lines[l];
                if (!line.in_setting) continue;
                const int more = setting * line.count - have[l];
                if (more <= 0) continue;
                possible = possible && offers[l].has_value();
                if (!offers[l]) continue;
                step.buy.push_back({s, l, *offers[l], more, stand[l] == 0});
                step.pieces += more;
                step.cost += more * offers[l]->cost.amount;
                have[l] += more;
            }
            if (!possible) break;
            step.sentence = fmt::format("Completes setting {} of {} in {}: {}.", setting, table.settings, name,
                                        bought_words(fitting, step.buy));
            later.push_back(std::move(step));
        }
        for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
            const PlannedLine& line = service.lines[l];
            if (line.in_setting || !offers[l]) continue;
            for (; have[l] < line.places; ++have[l]) {
                WantStep step{s, 0, {{s, l, *offers[l], 1, stand[l] == 0}}, 1, offers[l]->cost.amount, 0, ""};
                step.sentence = fmt::format("Fills a serving place in {}: 1 {}.", name, lower(line.name));
                later.push_back(std::move(step));
            }
        }
    }
    for (const Bought& one : allotment.bought) {
        WantStep step{one.service, 0, {}, one.count, one.count * one.offer.cost.amount, 0, ""};
        step.buy.push_back({one.service, one.line, one.offer, one.count, false});
        const ServiceTable& table = allotment.services[one.service];
        const PlannedLine& line = plan.services[one.service].lines[one.line];
        step.setting = line.in_setting ? table.complete : 0;
        step.sentence = line.in_setting ? fmt::format("Of the purchase: {} {} for {} complete in {}.", one.count,
                                                      lower(line.name), plural(table.complete, "setting"),
                                                      service_name(plan, one.service))
                                        : fmt::format("Of the purchase: {} {} for {}.", one.count, lower(line.name),
                                                      service_name(plan, one.service));
        out.steps.push_back(std::move(step));
    }
    // Settings before serving places of the same price; equal steps in the order of the services.
    std::ranges::stable_sort(later, [](const WantStep& a, const WantStep& b) {
        return std::pair(a.cost, a.setting == 0) < std::pair(b.cost, b.setting == 0);
    });
    std::ranges::move(later, std::back_inserter(out.steps));
    std::map<std::pair<std::uint32_t, std::uint32_t>, WantedPieces> all;
    for (WantStep& step : out.steps) {
        out.cost += step.cost;
        out.pieces += step.pieces;
        step.so_far = out.cost;
        for (const WantedPieces& one : step.buy) {
            auto& sum = all.try_emplace({one.service, one.line},
                                        WantedPieces{one.service, one.line, one.offer, 0, one.alone})
                            .first->second;
            sum.count += one.count;
        }
    }
    for (auto& [at, one] : all) out.list.push_back(one);
    return out;
}

std::string carried_text(const Fitting& fitting, const Wants& wants, const Prices& prices) {
    const Plan& plan = fitting.plan();
    std::string out;
    std::optional<std::uint32_t> last;
    for (const WantedPieces& one : wants.list) {
        const PlannedLine& line = plan.services[one.service].lines[one.line];
        if (last != one.service) out += fmt::format("{}{}\n", last ? "\n" : "", service_name(plan, one.service));
        last = one.service;
        const std::string size = size_words(fitting.sizes_at(one.service, one.line)[one.offer.size]);
        std::string form = form_name(fitting.book(), one.offer.form) + (size.empty() ? "" : " " + size);
        std::vector<std::string> others;
        for (const auto other : line.forms)
            if (one.alone && other != one.offer.form) others.push_back(lower(form_name(fitting.book(), other)));
        if (!others.empty()) form += fmt::format(" (or {})", fmt::join(others, ", "));
        std::vector<std::string> twins;
        for (const std::uint32_t t : fitting.alike(one.service, one.offer.form)) {
            const auto& treatment = fitting.book().treatments[t];
            if (Ref<book::Treatment>{t} != one.offer.treatment)
                twins.push_back(treatment.number.empty() ? treatment.id : treatment.number);
        }
        out +=
            fmt::format("[ ] {} x {}, {}{}{}\n", one.count, form, called(fitting.book(), one.offer.treatment),
                        twins.empty() ? "" : fmt::format(" (the same as {})", fmt::join(twins, ", ")),
                        prices.known() ? fmt::format(", about {} each", price_words(one.offer.cost, prices)) : "");
    }
    if (!out.empty() && !prices.basis.empty()) out += "\n" + prices.basis + "\n";
    return out;
}

std::vector<Parted> parting(const Fitting& fitting, const Allotment& allotment) {
    const Plan& plan = fitting.plan();
    std::vector<bool> used(fitting.pieces().size(), false);
    for (const ServiceTable& table : allotment.services)
        for (const PlaceTaken& place : table.taken)
            if (place.piece) used[*place.piece] = true;
    std::vector<Parted> out;
    for (std::size_t i = 0; i < used.size(); ++i) {
        if (used[i]) continue;
        const Owned& piece = fitting.pieces()[i];
        const auto& fits = fitting.of(i);
        if (!fits.empty()) {
            std::vector<std::string> names;
            for (const Fit& fit : fits) {
                const std::string name = fmt::format("{} ({})", service_name(plan, fit.service),
                                                     lower(plan.services[fit.service].lines[fit.line].name));
                if (std::ranges::find(names, name) == names.end()) names.push_back(name);
            }
            // A line may have room left and still not take it: it holds another size.
            const bool room = std::ranges::any_of(fits, [&](const Fit& fit) {
                const auto& table = allotment.services[fit.service];
                return filled_of(plan.services[fit.service], table)[fit.line] <
                       plan.services[fit.service].lines[fit.line].places;
            });
            out.push_back(
                {i, false,
                 room ? fmt::format("It fits {}, where pieces of another form or trade size stand.", listed(names))
                      : fmt::format("It fits {}, where each place is taken.", listed(names))});
            continue;
        }
        const bool refused = std::ranges::any_of(plan.services, [&](const PlannedService& service) {
            return std::ranges::find(service.given.refuse, piece.id) != service.given.refuse.end();
        });
        out.push_back({i, true,
                       !piece.form ? "Its form is not known, so it can stand nowhere."
                       : refused   ? "You refuse it where it could stand, and it fits no other service."
                                   : "It fits none of the services being built."});
    }
    return out;
}

namespace {

// What the setting that comes next lacks once one more piece stands at `line`.
std::vector<std::string> lacking(const PlannedService& service, std::vector<int> have, std::uint32_t line,
                                 int setting) {
    ++have[line];
    std::vector<std::string> out;
    for (std::uint32_t l = 0; l < service.lines.size(); ++l)
        if (service.lines[l].in_setting && have[l] < setting * service.lines[l].count)
            out.push_back(lower(service.lines[l].name));
    return out;
}

std::string found_sentence(const Plan& plan, const FoundPlace& place, bool moves_others) {
    const std::string name = service_name(plan, place.service);
    if (place.completes && place.setting == 0) return fmt::format("Completes {}.", name);
    if (place.completes && moves_others)
        return fmt::format("Completes setting {} of {} in {}, once pieces change their places.", place.setting,
                           place.of, name);
    if (place.completes) return fmt::format("Completes setting {} of {} in {}.", place.setting, place.of, name);
    if (place.gain > 0)
        return fmt::format("Frees a piece from {} that completes a setting of another service.", name);
    const std::string line = lower(plan.services[place.service].lines[place.line].name);
    if (place.setting == 0 && place.of > 0) return fmt::format("Fills the serving place {} in {}.", line, name);
    if (place.setting > 0)
        return fmt::format("Goes into setting {} of {} in {}, which then still lacks {}.", place.setting, place.of,
                           name, listed(place.still_missing));
    return fmt::format("A spare {} for {}: each place is taken.", line, name);
}

}  // namespace

std::expected<Found, std::vector<Problem>> found(const Fitting& with, const Allotment& before,
                                                 const AllotOptions& given) {
    const Plan& plan = with.plan();
    const std::size_t piece = with.pieces().size() - 1;
    Found out;
    std::map<std::uint32_t, std::vector<Fit>> by_service;
    for (const Fit& fit : with.of(piece)) by_service[fit.service].push_back(fit);
    AllotOptions options = given;
    // A find is judged by what it completes; nothing else is bought, and no service loses a setting.
    if (options.objective == Objective::kPurchase) options.objective = Objective::kSettings;
    for (const ServiceTable& table : before.services) {
        int bought = 0;
        for (const PlaceTaken& place : table.taken) bought += place.bought ? 1 : 0;
        options.keep_settings.push_back(bought == 0 ? table.complete : 0);
    }
    for (const auto& [s, fits] : by_service) {
        const PlannedService& service = plan.services[s];
        const ServiceTable& table = before.services[s];
        const std::vector<int> have = filled_of(service, table);
        options.place_piece = {piece, s};
        const auto after = allot(with, options);
        if (!after) return std::unexpected(after.error());
        FoundPlace place{s, fits.front().line, fits.front().state, fits.front().odds, false, 0, 0, 0, {}, ""};
        for (const PlaceTaken& taken : after->services[s].taken)
            if (taken.piece == piece) place.line = taken.line, place.state = taken.state;
        const PlannedLine& line = service.lines[place.line];
        const bool room = have[place.line] < line.places;
        const int more = after->services[s].complete - table.complete;
        place.gain = after->complete() - before.complete();
        bool moves_others = false;
        if (more > 0) {
            place.completes = true;
            place.setting = table.complete + 1;
            place.of = table.settings;
            moves_others = !room || !lacking(service, have, place.line, place.setting).empty();
        } else if (!table.whole && after->services[s].whole) {
            place.completes = true;
            place.gain = std::max(place.gain, 1.0);
        } else if (room && line.in_setting) {
            place.setting = 1 + have[place.line] / line.count;
            place.of = table.settings;
            place.still_missing = lacking(service, have, place.line, place.setting);
        } else if (room) {
            place.of = line.places;
        }
        place.sentence = found_sentence(plan, place, moves_others);
        out.gain = std::max(out.gain, place.gain);
        out.places.push_back(std::move(place));
    }
    std::ranges::stable_sort(out.places, [](const FoundPlace& a, const FoundPlace& b) {
        return std::tuple(a.completes, a.gain, a.setting > 0 || a.of > 0) >
               std::tuple(b.completes, b.gain, b.setting > 0 || b.of > 0);
    });
    if (out.places.empty()) {
        out.sentence = "It fits none of the services being built.";
        return out;
    }
    // "Completes setting 6 of 8 in 2 services": said together where they agree.
    const FoundPlace& first = out.places.front();
    std::vector<std::string> names;
    for (const FoundPlace& place : out.places)
        if (place.completes && first.completes && place.setting > 0 && place.setting == first.setting &&
            place.of == first.of)
            names.push_back(service_name(plan, place.service));
    out.sentence = names.size() > 1
                       ? fmt::format("Completes setting {} of {} in {} services: {}; it can stand in one.",
                                     first.setting, first.of, names.size(), listed(names))
                       : first.sentence;
    return out;
}

namespace {

// Without the number of the setting: settings of one service are alike.
std::string stand_words(const Plan& plan, std::uint32_t s, const PlaceTaken& place) {
    return fmt::format("{}, {}", service_name(plan, s), lower(plan.services[s].lines[place.line].name));
}

}  // namespace

std::map<std::string, std::string> stands(const Fitting& fitting, const Allotment& allotment) {
    std::map<std::string, std::string> out;
    for (std::uint32_t s = 0; s < allotment.services.size(); ++s)
        for (const PlaceTaken& place : allotment.services[s].taken)
            if (place.piece) out[fitting.pieces()[*place.piece].id] = stand_words(fitting.plan(), s, place);
    return out;
}

std::vector<Moved> moved(const std::map<std::string, std::string>& before,
                         const std::map<std::string, std::string>& after) {
    std::vector<Moved> out;
    for (const auto& [piece, from] : before) {
        const auto to = after.find(piece);
        if (to == after.end()) out.push_back({piece, from, ""});
        else if (to->second != from) out.push_back({piece, from, to->second});
    }
    for (const auto& [piece, to] : after)
        if (!before.contains(piece)) out.push_back({piece, "", to});
    std::ranges::sort(out, {}, &Moved::piece);
    return out;
}

std::string place_sentence(const Fitting& fitting, const Allotment& allotment, std::uint32_t s,
                           const PlaceTaken& place) {
    const PlannedService& service = fitting.plan().services[s];
    const PlannedLine& line = service.lines[place.line];
    if (place.piece) {
        for (const Why& why : fitting.why(*place.piece, s))
            if (why.line == place.line) return why.sentence;
        return "";
    }
    if (place.bought)
        for (const Bought& one : allotment.bought)
            if (one.service == s && one.line == place.line) {
                const std::string size = size_words(fitting.sizes_at(s, one.line)[one.offer.size]);
                return fmt::format("To be bought: {}{}.", lower(form_name(fitting.book(), one.offer.form)),
                                   size.empty() ? "" : " in the size " + size);
            }
    if (!line.made) return fmt::format("Nothing can fill it: no {} of it is on record.", lower(line.name));
    std::vector<std::string> forms;
    for (const auto form : line.forms) forms.push_back(lower(form_name(fitting.book(), form)));
    return fmt::format("Missing: no {} is left that may serve.", fmt::join(forms, " or "));
}

}  // namespace footring::services
