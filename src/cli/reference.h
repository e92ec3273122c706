// cli/reference.h - what the reasoning commands begin with: the open packs, the settings, and ids from the command
// line. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "cli/command.h"

namespace footring::cli {

struct Reference {
    book::Book book;
    Settings settings;
};
// From --pack and --set; every fault of both at once.
std::expected<Reference, std::vector<Problem>> open_reference(const Call&);
std::expected<Settings, std::vector<Problem>> read_settings(const Call&);
// The same with the law-and-marks pack of the share folder opened besides, unless one of that name is among them.
std::expected<Reference, std::vector<Problem>> open_reference_with_law(const Call&, const World&);
bool law_is_there(const World&);  // the share folder has that pack

// book::find for an id that stands on the command line: what no open pack has is kNotFound there, not bad input.
template <class T>
Expected<book::Ref<T>> asked(const book::Book& book, std::string_view id, std::string_view where) {
    auto found = book::find<T>(book, id, where);
    if (found) return found;
    bool several = false;  // a bare id of several packs is there, but has to be written in full
    for (const T& row : book.table<T>()) several = several || row.id == id;
    if (!several) found.error().code = ProblemCode::kNotFound;
    return found;
}

// What people call it: "117 Fern pair, oat" - the number, the name, else the id.
std::string called(const book::Book&, book::Ref<book::Treatment>);
std::string form_name(const book::Book&, book::Ref<book::Form>);
std::string shape_name(const book::Book&, book::Ref<book::Shape>);

}  // namespace footring::cli
