// papers/reply_paper.h - the reply to a letter, set to be sent: to whom, about what, the text as its person left
// it, and
//   what the likeliest answer looks like beside the photographs that came.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "papers/paper.h"
#include "store/store.h"

namespace footring::papers {

struct ReplySheet {
    std::string name, address;  // to whom; lines of the address are set one after the other
    std::string about;          // empty: not known
    std::string text;           // paragraphs with an empty line between; their own line breaks are kept
    std::string date;           // EDTF
    std::vector<Figure> pictures;
};
// A piece of the letter: its photographs, and the likeliest treatment drawn as it would look at this form.
struct ReplyPiece {
    std::string id;
    std::optional<book::Ref<book::Treatment>> likeliest;
    std::optional<book::Ref<book::Form>> form;
};
// `store` null: there are no photographs.
Expected<void> show_piece(ReplySheet&, const book::Book&, const store::Store* store, const ReplyPiece&);
Paper reply_paper(const ReplySheet&);

}  // namespace footring::papers
