// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "naming/key.h"

namespace footring::cli {

namespace {

nlohmann::ordered_json key_json(const book::Book& book, const naming::Key& key) {
    nlohmann::ordered_json nodes = nlohmann::ordered_json::array();
    for (const naming::KeyNode& node : key.nodes) {
        auto treatments = nlohmann::ordered_json::array(), branches = nlohmann::ordered_json::array();
        for (const auto treatment : node.treatments) treatments.push_back(book::id_of(book, treatment));
        for (const auto& branch : node.branches)
            branches.push_back({{"value", branch.value}, {"node", branch.node}});
        nodes.push_back({{"treatments", std::move(treatments)},
                         {"look", node.look},
                         {"effort_min", node.effort.value},
                         {"branches", std::move(branches)}});
    }
    return {
        {"nodes", std::move(nodes)}, {"expected_effort_min", key.expected_effort.value}, {"optimal", key.optimal}};
}

// Couplets: each fork has a number, each branch leads to another number or to treatments.
std::string key_page(const book::Book& book, const naming::Key& key, const World& world) {
    const Ink ink{world.colour};
    const auto names = [&](const naming::KeyNode& leaf) {
        std::vector<std::string> list;
        for (const auto treatment : leaf.treatments) list.push_back(called(book, treatment));
        return fmt::format("{}", fmt::join(list, "; "));
    };
    if (key.nodes.empty()) return "There is no treatment to tell apart.\n";
    std::string text = ink.strong(fmt::format("A key to {} treatments", key.nodes[0].treatments.size())) + "\n";
    text += wrapped(fmt::format("{:.1f} minutes on average; {}.", key.expected_effort.value,
                                key.optimal ? "no key over these looks needs less"
                                            : "the look with most bits a minute comes first"),
                    world.width, "", "");
    if (key.nodes[0].branches.empty()) return text + "\n" + wrapped(names(key.nodes[0]), world.width, "  ", "  ");
    std::vector<std::size_t> numbers(key.nodes.size(), 0);
    std::size_t forks = 0, value_width = 0;
    for (std::size_t i = 0; i < key.nodes.size(); ++i) {
        if (!key.nodes[i].branches.empty()) numbers[i] = ++forks;
        for (const auto& branch : key.nodes[i].branches)
            value_width = std::max(value_width, width_of(branch.value));
    }
    for (std::size_t i = 0; i < key.nodes.size(); ++i) {
        const naming::KeyNode& node = key.nodes[i];
        if (node.branches.empty()) continue;
        text += "\n" + padded_left(fmt::format("{}", numbers[i]), 4) + "  " + ink.strong(node.look) +
                ink.faint(fmt::format("  {:g} min", node.effort.value)) + "\n";
        for (const auto& branch : node.branches) {
            const naming::KeyNode& to = key.nodes[branch.node];
            const std::string begin = "      " + padded(branch.value, value_width) + "  ";
            text += wrapped(to.branches.empty() ? names(to) : fmt::format("→ {}", numbers[branch.node]),
                            world.width, begin, std::string(width_of(begin), ' '));
        }
    }
    return text;
}

Outcome key(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const book::Book& book = reference->book;
    std::vector<Problem> problems;
    std::optional<book::Ref<book::Shape>> shape;
    std::optional<book::Ref<book::Form>> form;
    if (const auto id = call.one("--shape")) {
        if (const auto found = asked<book::Shape>(book, *id, "--shape")) shape = *found;
        else problems.push_back(found.error());
    }
    if (const auto id = call.one("--form")) {
        if (const auto found = asked<book::Form>(book, *id, "--form")) form = *found;
        else problems.push_back(found.error());
    }
    if (!problems.empty()) return refuse(std::move(problems));
    const naming::Key answer = naming::key(book, shape, form, reference->settings);
    if (call.json()) return page(json_line(key_json(book, answer)));
    return page(key_page(book, answer, world));
}

}  // namespace

Command key_command() {
    return {
        .name = "key",
        .sentence = "Writes an identification key of least expected effort.",
        .detail =
            {"Each step asks for one look; follow the line of what you see. Twins end together, because no look "
             "at that form tells them apart."},
        .arguments = {},
        .options = {pack_option(),
                    {.name = "--shape", .value = "SHAPE", .sentence = "Only the treatments of this shape."},
                    {.name = "--form", .value = "FORM", .sentence = "The form of the pieces."},
                    set_option()},
        .run = key};
}

}  // namespace footring::cli
