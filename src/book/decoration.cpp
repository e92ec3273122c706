// SPDX-License-Identifier: Apache-2.0
#include "book/decoration.h"

#include <algorithm>

namespace footring::book {

namespace {

bool applies(const Book& book, const On& on, std::optional<Ref<Form>> form) {
    if (on.form) return form == on.form;
    if (on.ware) return form && book[*form].ware == *on.ware;
    return true;
}

}  // namespace

Decoration decoration(const Book& book, Ref<Treatment> treatment, std::optional<Ref<Form>> form) {
    Decoration out;
    if (treatment.at >= book.decoration_rows.size()) return out;
    const std::vector<std::uint32_t>& rows = book.decoration_rows[treatment.at];
    std::array<int, kPlaces> rank;  // of the most specific row at each place; -1: none applies
    rank.fill(-1);
    for (const std::uint32_t at : rows) {
        const TreatmentOrnament& row = book.treatment_ornaments[at];
        int& most = rank[static_cast<std::size_t>(row.place)];
        if (applies(book, row.on, form)) most = std::max(most, row.on.rank());
    }
    for (const std::uint32_t at : rows) {
        const TreatmentOrnament& row = book.treatment_ornaments[at];
        const auto place = static_cast<std::size_t>(row.place);
        // A row with share 0 has done its work above: it hid the less specific ones.
        if (row.share > 0 && row.on.rank() == rank[place] && applies(book, row.on, form))
            out.at[place].push_back({row.ornament, row.share, at});
    }
    return out;
}

std::vector<Ref<Form>> shown_alike(const Book& book) {
    std::vector<bool> named(book.forms.size());
    bool by_ware = false;
    for (const TreatmentOrnament& row : book.treatment_ornaments) {
        if (row.on.form) named[row.on.form->at] = true;
        by_ware = by_ware || row.on.ware;
    }
    std::vector<Ref<Form>> alike;
    for (std::uint32_t at = 0; at < book.forms.size(); ++at) {
        std::uint32_t first = 0;
        while (first < at &&
               (named[at] || named[first] || (by_ware && book.forms[first].ware != book.forms[at].ware)))
            ++first;
        alike.push_back({first});
    }
    return alike;
}

std::vector<Ref<Form>> forms_of(const Book& book, Ref<Shape> shape) {
    std::vector<Ref<Form>> forms;
    std::vector<bool> taken(book.forms.size());
    for (const ShapeForm& row : book.shape_forms) {
        if (row.shape != shape || taken[row.form.at]) continue;
        taken[row.form.at] = true;
        forms.push_back(row.form);
    }
    if (forms.empty())
        for (std::uint32_t at = 0; at < book.forms.size(); ++at) forms.push_back({at});
    return forms;
}

}  // namespace footring::book
