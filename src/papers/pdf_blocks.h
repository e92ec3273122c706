// papers/pdf_blocks.h - blocks of a paper as strips: slices of a page that no page break goes through. Private to
// this
//   room. Lengths in points.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "papers/paper.h"
#include "papers/pdf_canvas.h"

namespace footring::papers {

// The page: a narrow column for what hangs in the margin, and one for the text.
struct Columns {
    double left = 0;   // of the margin column
    double main = 0;   // where text begins
    double right = 0;  // where it ends
    double whole() const { return right - left; }
    double text() const { return right - main; }
};

struct Strip {
    double before = 0;  // space above, dropped at the top of a page
    double height = 0;
    bool keep = false;      // stays on one page with the next strip
    bool new_page = false;  // begins one
    bool flush = false;     // from the very top of the sheet (labels)
    std::vector<Tag> tags;  // what encloses it, outermost first
    std::function<void(Canvas&, double top)> draw;
    std::shared_ptr<const Strip> header;  // repeated above it when it begins a page
    std::string id, heading;              // a place to link to; its title in the outline
    int level = 0;                        // of the heading
};

class Setter {
  public:
    Setter(Canvas& canvas, Columns columns) : canvas_(canvas), columns_(columns) {}
    std::vector<Strip> strips(const std::vector<Block>&);
    std::vector<Strip> title(const Paper&);
    // One line a heading of levels 1 and 2, with its page.
    struct Listed {
        std::string title, id;
        int level, page;
    };
    std::vector<Strip> contents(const std::vector<Listed>&);

  private:
    friend struct OneBlock;
    unsigned long fresh() { return ++last_id_; }
    Canvas& canvas_;
    Columns columns_;
    unsigned long last_id_ = 0;
};

}  // namespace footring::papers
