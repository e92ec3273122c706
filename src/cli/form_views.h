// cli/form_views.h - the Book laid out for each form that the pieces of a command line have, once a form.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "book/decoration.h"
#include "cli/reference.h"
#include "exchange/identified.h"
#include "naming/examine.h"
#include "naming/form_view.h"
#include "naming/prior_counts.h"

namespace footring::cli {

class FormViews {
  public:
    explicit FormViews(const Reference& reference)  // keeps a reference to it
        : reference_(reference),
          counts_(naming::prior_counts(reference.book, reference.settings)),
          alike_(book::shown_alike(reference.book)) {}

    const naming::FormView& of(std::optional<book::Ref<book::Form>> form) {
        if (const auto view = views_.find(form); view != views_.end()) return view->second;
        if (form && alike_[form->at] != *form)
            return views_.emplace(form, naming::FormView(of(alike_[form->at]), *form)).first->second;
        return views_.emplace(form, naming::FormView(reference_.book, form, reference_.settings, counts_))
            .first->second;
    }

  private:
    const Reference& reference_;
    std::vector<double> counts_;
    std::vector<book::Ref<book::Form>> alike_;
    std::map<std::optional<book::Ref<book::Form>>, naming::FormView> views_;
};

// Names pieces with these views, which must outlive it.
inline exchange::Namer namer_of(const Reference& reference, FormViews& views) {
    return {reference.book, reference.settings,
            [&views](const looks::Findings& findings) -> Expected<naming::Answer> {
                return naming::examine(views.of(findings.form), findings,
                                       {.reasons = false, .next = false, .conflicts = false});
            }};
}

}  // namespace footring::cli
