// SPDX-License-Identifier: Apache-2.0
#include "services/plan.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "base/text.h"
#include "book/decoration.h"

namespace footring::services {

using book::Book;
using book::Form;
using book::Ref;

namespace {

// "Bread & butter plate" and "bread-butter-plate" alike.
std::string key_of(std::string_view name) {
    std::string out;
    for (const char c : lower(name))
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80) out += c;
    return out;
}

bool same_size(std::string_view a, std::string_view b) { return key_of(a) == key_of(b); }

// Whether a shape was made in a form, as far as is recorded: a shape without any form on record may have had all.
bool made_in(const Book& book, Ref<book::Shape> shape, Ref<Form> form, const std::string& trade_size) {
    bool any = false;
    for (const book::ShapeForm& row : book.shape_forms) {
        if (row.shape != shape) continue;
        any = true;
        if (row.form == form && (trade_size.empty() || same_size(row.trade_size, trade_size))) return true;
    }
    return !any;
}

std::string first_name(const Book& book, const Line& line, const std::vector<Ref<Form>>& forms) {
    if (!line.name.empty()) return line.name;
    if (!forms.empty()) return book[forms.front()].name.empty() ? book[forms.front()].id : book[forms.front()].name;
    return line.forms.front();
}

class Planner {
  public:
    Planner(const Book& book, const Settings& settings, std::span<const Composition> known)
        : book_(book), settings_(settings), known_(known) {}

    void add(const Service& service, const std::string& at) {
        PlannedService out;
        out.given = service;
        out.least_odds = service.least_odds.value_or(settings_.service_least_odds);
        for (const std::string& id : service.treatments) {
            const auto found = book::find<book::Treatment>(book_, id, at + "treatments");
            if (!found) problems_.push_back(found.error());
            else if (std::ranges::find(out.treatments, *found) == out.treatments.end())
                out.treatments.push_back(*found);
        }
        const Composition* composition = composition_of(service, at);
        if (composition == nullptr) return;
        out.composition = *composition;
        out.settings = composition->setting.empty() ? 0 : service.settings.value_or(composition->settings);
        if (const int places = places_of(*composition, out.settings); places > kMostPlaces)
            problems_.push_back({ProblemCode::kBadInput, at + "settings",
                                 fmt::format("the service has {} places", places),
                                 fmt::format("make it at most {}", kMostPlaces)});
        if (!out.treatments.empty()) add_lines(out, at);
        out_.services.push_back(std::move(out));
    }

    std::expected<Plan, std::vector<Problem>> done() {
        if (!problems_.empty()) return std::unexpected(std::move(problems_));
        return std::move(out_);
    }
    std::vector<Problem>& problems() { return problems_; }

  private:
    const Composition* composition_of(const Service& service, const std::string& at) {
        if (service.own) return &*service.own;
        std::vector<std::string> ids;
        for (const auto list : {known_, std::span<const Composition>(supplied_compositions())})
            for (const Composition& one : list) {
                if (one.id == service.composition) return &one;
                ids.push_back(one.id);
            }
        problems_.push_back({ProblemCode::kBadInput, at + "composition",
                             fmt::format("there is no composition '{}'", service.composition),
                             did_you_mean(service.composition, ids,
                                          fmt::format("use one of {}, or write your own", fmt::join(ids, ", ")))});
        return nullptr;
    }

    std::vector<Ref<Form>> forms_of(const Line& line) const {
        std::vector<Ref<Form>> forms;
        for (const bool thesaurus : {false, true}) {
            if (thesaurus && !forms.empty()) break;
            for (const std::string& word : line.forms) {
                if (word.starts_with("aat:") != thesaurus) continue;
                for (const auto form : forms_called(book_, word))
                    if (std::ranges::find(forms, form) == forms.end()) forms.push_back(form);
            }
        }
        return forms;
    }

    void add_lines(PlannedService& out, const std::string& at) {
        const Composition& c = out.composition;
        const std::string name = out.given.name.empty() ? "this service" : out.given.name;
        std::set<std::uint32_t> shapes;
        for (const auto treatment : out.treatments) shapes.insert(book_[treatment].shape.at);
        std::vector<std::string> all_ids;
        for (const Form& form : book_.forms) all_ids.push_back(form.id);
        for (const auto* list : {&c.setting, &c.serving})
            for (const Line& line : *list) {
                PlannedLine one;
                one.in_setting = list == &c.setting;
                one.count = line.count;
                one.places = one.in_setting ? line.count * out.settings : line.count;
                one.forms = forms_of(line);
                one.name = first_name(book_, line, one.forms);
                one.trade_size = line.trade_size;
                one.made = std::ranges::any_of(one.forms, [&](Ref<Form> form) {
                    return std::ranges::any_of(shapes, [&](std::uint32_t shape) {
                        return made_in(book_, Ref<book::Shape>{shape}, form, line.trade_size);
                    });
                });
                if (one.forms.empty() && !c.supplied)
                    problems_.push_back(
                        {ProblemCode::kBadInput, at + "composition",
                         fmt::format("no form of the open packs is called {}: nothing could fill the line '{}'",
                                     quoted(line.forms), one.name),
                         did_you_mean(line.forms.front(), all_ids,
                                      "name a form of the packs by its id, or take the line out")});
                else if (!one.made) out_.notes.push_back(never(out, one, name));
                out.lines.push_back(std::move(one));
            }
        const bool any =
            std::ranges::any_of(out.lines, [](const PlannedLine& l) { return l.made && l.places > 0; });
        if (!any && !out.lines.empty() && problems_.empty())
            problems_.push_back(
                {ProblemCode::kBadInput, at + "composition",
                 fmt::format("nothing can fill the composition '{}': {} has none of its forms on record",
                             c.name.empty() ? "of this service" : c.name, shape_names(shapes)),
                 "name forms that the shape was made in, or another treatment"});
    }

    std::string never(const PlannedService& service, const PlannedLine& line, const std::string& name) const {
        std::set<std::uint32_t> shapes;
        for (const auto treatment : service.treatments) shapes.insert(book_[treatment].shape.at);
        const std::string size = line.trade_size.empty() ? "" : fmt::format(" in the size {}", line.trade_size);
        return fmt::format("{}: {} has no {}{} on record{}", name, shape_names(shapes), lower(line.name), size,
                           line.in_setting ? ", so no setting can be complete." : "; its place stays empty.");
    }
    std::string shape_names(const std::set<std::uint32_t>& shapes) const {
        std::vector<std::string> names;
        for (const std::uint32_t at : shapes)
            names.push_back(book_.shapes[at].name.empty() ? book_.shapes[at].id : book_.shapes[at].name);
        return fmt::format("{}", fmt::join(names, " or "));
    }
    static std::string quoted(const std::vector<std::string>& words) {
        std::vector<std::string> out;
        for (const std::string& word : words) out.push_back("'" + word + "'");
        return fmt::format("{}", fmt::join(out, " or "));
    }

    const Book& book_;
    const Settings& settings_;
    std::span<const Composition> known_;
    Plan out_;
    std::vector<Problem> problems_;
};

}  // namespace

std::vector<Ref<Form>> forms_called(const Book& book, std::string_view word) {
    std::vector<Ref<Form>> out;
    if (word.starts_with("aat:")) {
        const std::string number(word.substr(4));
        for (std::uint32_t i = 0; i < book.forms.size(); ++i)
            if (!number.empty() && book.forms[i].aat.ends_with("/" + number)) out.push_back({i});
        return out;
    }
    if (const auto found = book::find<Form>(book, word, "")) return {*found};
    const std::string wanted = key_of(word);
    if (wanted.empty()) return out;
    // A bare id that several packs have stands for all of these forms.
    for (std::uint32_t i = 0; i < book.forms.size(); ++i)
        if (key_of(book.forms[i].id) == wanted || key_of(book.forms[i].name) == wanted) out.push_back({i});
    return out;
}

std::expected<Plan, std::vector<Problem>> plan(std::span<const Service> services,
                                               std::span<const Composition> known, const Book& book,
                                               const Settings& settings, const std::string& where) {
    Planner planner(book, settings, known);
    std::set<std::string> ids;
    for (std::size_t i = 0; i < services.size(); ++i) {
        const Service& service = services[i];
        const std::string at =
            fmt::format("{}: {}/", where, service.id.empty() ? fmt::format("service {}", i + 1) : service.id);
        if (!service.id.empty() && !ids.insert(service.id).second)
            planner.problems().push_back({ProblemCode::kBadInput, at + "id",
                                          fmt::format("two services are called '{}'", service.id),
                                          "give one of them another id"});
        planner.add(service, at);
    }
    return planner.done();
}

}  // namespace footring::services
