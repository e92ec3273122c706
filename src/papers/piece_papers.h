// papers/piece_papers.h - papers about one's own pieces: labels, the inventory, the report on a piece's condition.
//   What stands on them is what the person recorded and decided; where nothing was decided they say so.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "papers/gather.h"
#include "papers/paper.h"

namespace footring::papers {

Expected<Paper> label_sheet(const std::vector<OwnPiece>&, const Order&, const Context&);
Expected<Paper> inventory(const std::vector<OwnPiece>&, const Order&, const Context&);
// `marks` of the order: "0.40,0.62,chip at the rim" - across, down (shares of the first photograph), what is there.
Expected<Paper> condition_report(const OwnPiece&, const Order&, const Context&);

}  // namespace footring::papers
