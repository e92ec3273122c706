// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "naming/apart.h"

namespace footring::cli {

namespace {

using Treatments = std::vector<book::Ref<book::Treatment>>;

nlohmann::ordered_json apart_json(const book::Book& book, const naming::Apart& answer) {
    nlohmann::ordered_json out = {{"differences", nlohmann::ordered_json::array()},
                                  {"telling_forms", nlohmann::ordered_json::array()},
                                  {"twin_groups", nlohmann::ordered_json::array()}};
    for (const naming::Difference& difference : answer.differences)
        out["differences"].push_back({{"look", difference.look}, {"values", difference.values}});
    for (const auto form : answer.telling_forms) out["telling_forms"].push_back(book::id_of(book, form));
    for (const Treatments& group : answer.twin_groups) {
        auto ids = nlohmann::ordered_json::array();
        for (const auto treatment : group) ids.push_back(book::id_of(book, treatment));
        out["twin_groups"].push_back(std::move(ids));
    }
    return out;
}

std::string apart_page(const book::Book& book, book::Ref<book::Form> form, const Treatments& asked,
                       const naming::Apart& answer, const World& world) {
    const Ink ink{world.colour};
    std::string text =
        ink.strong(fmt::format("{}: {} treatments beside each other", form_name(book, form), asked.size()));
    text += "\n";
    std::vector<std::string> names;
    std::size_t name_width = 0;
    for (const auto treatment : asked) {
        names.push_back(fmt::format("{} ({})", called(book, treatment), book::id_of(book, treatment)));
        name_width = std::max(name_width, width_of(names.back()));
    }
    name_width = std::min(name_width, static_cast<std::size_t>(world.width) / 2);
    if (answer.differences.empty()) text += wrapped("No look at this form tells them apart.", world.width, "", "");
    for (const naming::Difference& difference : answer.differences) {
        text += "\n" + ink.strong(difference.look) + "\n";
        for (std::size_t i = 0; i < names.size(); ++i)
            text += "  " + padded(shortened(names[i], name_width), name_width) + "  " + difference.values[i] + "\n";
    }
    for (const Treatments& group : answer.twin_groups) {
        if (group.size() < 2) continue;
        std::vector<std::string> twins;
        for (const auto treatment : group) twins.push_back(called(book, treatment));
        text +=
            "\n" + wrapped(fmt::format("Twins at this form: {}.", fmt::join(twins, "; ")), world.width, "", "  ");
    }
    std::vector<std::string> forms;
    for (const auto telling : answer.telling_forms) forms.push_back(form_name(book, telling));
    text += "\n" + wrapped(forms.empty() ? "No form tells any two of them apart."
                                         : fmt::format("Forms that tell: {}.", fmt::join(forms, "; ")),
                           world.width, "", "  ");
    return text;
}

Outcome apart(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const book::Book& book = reference->book;
    std::vector<Problem> problems;
    const auto form = asked<book::Form>(book, *call.one("--form"), "--form");
    if (!form) problems.push_back(form.error());
    Treatments treatments;
    for (const std::string& id : call.arguments) {
        const auto treatment = asked<book::Treatment>(book, id, "treatment " + id);
        if (!treatment) problems.push_back(treatment.error());
        else if (std::ranges::find(treatments, *treatment) != treatments.end())
            problems.push_back({ProblemCode::kBadInput, "treatment " + id, "is named twice", "name it once"});
        else treatments.push_back(*treatment);
    }
    if (!problems.empty()) return refuse(std::move(problems));
    const naming::Apart answer = naming::apart(book, *form, treatments);
    if (call.json()) return page(json_line(apart_json(book, answer)));
    return page(apart_page(book, *form, treatments, answer, world));
}

}  // namespace

Command apart_command() {
    return {
        .name = "apart",
        .sentence = "Shows where treatments differ on a form, or which forms would tell them apart.",
        .detail = {},
        .arguments = {{.name = "TREATMENT", .sentence = "The id of a treatment.", .least = 2, .repeats = true}},
        .options = {pack_option(),
                    {.name = "--form", .value = "FORM", .sentence = "The form of the piece.", .required = true}},
        .run = apart};
}

}  // namespace footring::cli
