// papers/dossier.h - all that is recorded of one ornament, treatment or shape: in order of time, shape by shape,
// with
//   drawings and one's own photographs, what is contested, what is not known, and where each statement comes from.
//   `pieces`: one's own that have to do with it; their photographs are shown, at most kMostPhotos.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "papers/gather.h"
#include "papers/paper.h"
#include "papers/subject.h"

namespace footring::papers {

inline constexpr std::size_t kMostPhotos = 120;

Expected<Paper> dossier(const Subject&, const std::vector<OwnPiece>& pieces, const Context&,
                        const std::string& date);

}  // namespace footring::papers
