// naming/key.h - an identification key of least expected effort: a tree of looks.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "base/settings.h"
#include "book/book.h"

namespace footring::naming {

struct KeyNode {
    // A leaf names treatments (several: twins); a fork asks for a look.
    std::vector<book::Ref<book::Treatment>> treatments;  // still possible here, in the order of the Book
    std::string look;                                    // empty at a leaf
    Minutes effort;                                      // of that look
    struct Branch {
        std::string value;
        std::size_t node;  // index into Key::nodes
    };
    std::vector<Branch> branches;
};
struct Key {
    std::vector<KeyNode> nodes;  // nodes[0] is the root; children stand after their parent
    Minutes expected_effort;     // mean over the treatments, equal prior
    bool optimal = false;        // proven least (small sets); otherwise greedy by bits per minute
};
// Looks are taken as right (sureness 1) and a treatment's likeliest ornament as what is seen.
Key key(const book::Book&, std::optional<book::Ref<book::Shape>>, std::optional<book::Ref<book::Form>>,
        const Settings&);

}  // namespace footring::naming
