// SPDX-License-Identifier: Apache-2.0
#include "worth/thing.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace footring::worth {

namespace {

template <class T>
std::string full(const book::Book& book, book::Ref<T> ref) {
    const T& row = book[ref];
    return row.origin.pack < book.packs.size() ? book.packs[row.origin.pack].id + ":" + row.id : row.id;
}

template <class T>
void index(const book::Book& book, std::unordered_map<std::string, std::uint32_t>& into) {
    for (std::uint32_t at = 0; at < book.table<T>().size(); ++at) {
        into[full(book, book::Ref<T>{at})] = at;
        into[book::id_of(book, book::Ref<T>{at})] = at;  // bare when only one open pack has it
    }
}

template <class T>
std::string key(const book::Book& book, const std::unordered_map<std::string, std::uint32_t>& known,
                std::string_view id) {
    const auto found = known.find(std::string(id));
    return found == known.end() ? std::string(id) : full(book, book::Ref<T>{found->second});
}

}  // namespace

Things::Things(const book::Book& book) : book_(book) {
    index<book::Form>(book, forms_);
    index<book::Shape>(book, shapes_);
    index<book::Treatment>(book, treatments_);
    for (std::uint32_t at = 0; at < book.treatments.size(); ++at) {
        std::set<std::string> ornaments;
        std::vector<std::string> names;
        const auto rows =
            at < book.decoration_rows.size() ? book.decoration_rows[at] : std::vector<std::uint32_t>{};
        for (const std::uint32_t row : rows) {
            const book::TreatmentOrnament& on = book.treatment_ornaments[row];
            if (on.share <= 0) continue;
            ornaments.insert(fmt::format("{}={}", name_of(on.place), full(book, on.ornament)));
            const std::string& name = book[on.ornament].name;
            if (std::ranges::find(names, name) == names.end()) names.push_back(name);
        }
        std::string decoration = ornaments.empty() ? "bare" : fmt::format("{}", fmt::join(ornaments, ";"));
        decoration_names_[decoration] = names.empty() ? "no decoration" : fmt::format("{}", fmt::join(names, ", "));
        decorations_.push_back(std::move(decoration));
    }
}

void Things::add_treatment(Thing& thing, book::Ref<book::Treatment> ref) const {
    const book::Treatment& row = book_[ref];
    thing.treatment = full(book_, ref);
    thing.shape = full(book_, row.shape);
    thing.decoration = decorations_[ref.at];
    if (thing.grade.empty() && row.grade != book::Grade::kAny) thing.grade = name_of(row.grade);
}

Thing Things::of(const Sale& sale) const {
    Thing thing;
    thing.form = form_key(sale.form);
    thing.shape = shape_key(sale.shape);
    thing.size_mm = sale.size_mm;
    thing.condition = sale.condition;
    thing.grade = sale.grade;
    thing.market = sale.market;
    thing.venue = sale.venue;
    if (const auto ref = treatment(sale.treatment)) add_treatment(thing, *ref);
    else thing.treatment = sale.treatment;
    return thing;
}

Thing Things::of(std::optional<book::Ref<book::Treatment>> ref, std::optional<book::Ref<book::Form>> form) const {
    Thing thing;
    if (form) thing.form = full(book_, *form);
    if (ref) add_treatment(thing, *ref);
    return thing;
}

std::string Things::form_key(std::string_view id) const { return key<book::Form>(book_, forms_, id); }
std::string Things::shape_key(std::string_view id) const { return key<book::Shape>(book_, shapes_, id); }
std::string Things::treatment_key(std::string_view id) const {
    return key<book::Treatment>(book_, treatments_, id);
}

std::optional<book::Ref<book::Treatment>> Things::treatment(std::string_view id) const {
    const auto found = treatments_.find(std::string(id));
    if (found == treatments_.end()) return std::nullopt;
    return book::Ref<book::Treatment>{found->second};
}

std::string Things::form_name(const std::string& id) const {
    const auto found = forms_.find(id);
    if (found == forms_.end()) return id;
    const book::Form& row = book_.forms[found->second];
    return row.name.empty() ? row.id : row.name;
}
std::string Things::shape_name(const std::string& id) const {
    const auto found = shapes_.find(id);
    if (found == shapes_.end()) return id;
    const book::Shape& row = book_.shapes[found->second];
    return row.name.empty() ? row.id : row.name;
}
std::string Things::treatment_name(const std::string& id) const {
    const auto ref = treatment(id);
    if (!ref) return id;
    const book::Treatment& row = book_[*ref];
    if (row.number.empty()) return row.name.empty() ? row.id : row.name;
    return row.name.empty() ? row.number : row.number + " " + row.name;
}
std::string Things::decoration_name(const std::string& id) const {
    const auto found = decoration_names_.find(id);
    return found == decoration_names_.end() ? id : found->second;
}

}  // namespace footring::worth
