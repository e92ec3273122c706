// SPDX-License-Identifier: Apache-2.0
#include "book/glyph.h"
#include "cli/commands.h"
#include "cli/json_page.h"
#include "cli/reference.h"

namespace footring::cli {

namespace {

Outcome glyph(const Call& call, World&) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const book::Book& book = reference->book;
    std::vector<Problem> problems;
    const auto treatment = asked<book::Treatment>(book, call.arguments[0], "treatment " + call.arguments[0]);
    if (!treatment) problems.push_back(treatment.error());
    std::optional<book::Ref<book::Form>> form;
    if (const auto id = call.one("--form")) {
        if (const auto found = asked<book::Form>(book, *id, "--form")) form = *found;
        else problems.push_back(found.error());
    }
    if (!problems.empty()) return refuse(std::move(problems));
    std::string svg = book::draw(book, book::glyph_of(book, *treatment, form));
    if (call.json())
        return page(json_line({{"treatment", book::id_of(book, *treatment)},
                               {"form", form ? nlohmann::ordered_json(book::id_of(book, *form)) : nullptr},
                               {"svg", svg}}));
    if (!svg.ends_with('\n')) svg += '\n';
    return page(std::move(svg));
}

}  // namespace

Command glyph_command() {
    return {
        .name = "glyph",
        .sentence = "Draws a treatment from its data, as SVG on standard output.",
        .detail =
            {"Flat forms are drawn from above, hollow ones from the side. Without --form the treatment is drawn "
             "as a plate, with what it carries on every form."},
        .arguments = {{.name = "TREATMENT", .sentence = "The id of a treatment."}},
        .options = {pack_option(), {.name = "--form", .value = "FORM", .sentence = "The form to draw."}},
        .run = glyph};
}

}  // namespace footring::cli
