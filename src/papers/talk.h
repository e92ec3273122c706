// papers/talk.h - a sheet for a talk or a video: which pieces to bring, in which order to show them, a caption card
// for
//   each, what to turn over, what to say of how sure one is, and where it stands.
//   `pieces`: one's own that have to do with the subject. Without any, the treatments themselves are shown, drawn.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "papers/gather.h"
#include "papers/paper.h"
#include "papers/subject.h"

namespace footring::papers {

inline constexpr std::size_t kMostShown = 24;  // cards; a talk of an hour

Expected<Paper> talk_sheet(const Subject&, const std::vector<OwnPiece>& pieces, const Context&,
                           const std::string& date);

}  // namespace footring::papers
