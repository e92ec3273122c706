// papers/key_paper.h - an identification key to be printed: couplets on the first page, drawings on the second.
//   in      the Book; what it is a key to (an ornament: every treatment that carries it; a shape: every treatment
//   of
//           it); the form, or none: the form that tells most of them apart is taken
//   out     a paper of two pages for some thirty treatments; more treatments take more pages
//   errors  kBadInput: a treatment is no set of things to be told apart; kNotFound: nothing carries the ornament
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "base/settings.h"
#include "papers/paper.h"
#include "papers/subject.h"

namespace footring::papers {

Expected<Paper> key_paper(const book::Book&, const Subject&, std::optional<book::Ref<book::Form>>, const Settings&,
                          const std::string& date);

}  // namespace footring::papers
