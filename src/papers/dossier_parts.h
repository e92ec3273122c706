// papers/dossier_parts.h - the sections of a dossier, each made by itself. Private to this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "papers/gather.h"
#include "papers/paper.h"
#include "papers/subject.h"
#include "papers/words.h"

namespace footring::papers {

// What the sections look at.
struct Ground {
    const book::Book& book;
    const Context& with;
    Subject subject;
    std::vector<book::Ref<book::Treatment>> treatments;  // in order of time
    std::vector<book::Ref<book::Shape>> shapes;          // in the order of their first treatment here
    std::vector<OwnPiece> pieces;
    Bibliography& sources;
    // Twins of each treatment: which others, and at which forms of its shape.
    struct Alike {
        std::vector<book::Ref<book::Treatment>> others;
        std::vector<book::Ref<book::Form>> forms;
    };
    std::map<book::Ref<book::Treatment>, std::vector<Alike>> alike;

    std::vector<book::Ref<book::Treatment>> of(book::Ref<book::Shape>) const;
    bool about(
        const std::string& full_id) const;  // the subject itself, or one of its treatments, shapes or ornaments
    std::vector<book::Ref<book::Ornament>> ornaments() const;  // that they carry; the subject's own first
};
Ground ground_of(const Subject&, std::vector<OwnPiece>, const Context&, Bibliography&);

// A flat piece shows most of a decoration: the first that the shape has.
std::optional<book::Ref<book::Form>> shown_form(const book::Book&, book::Ref<book::Shape>);
std::string treatment_anchor(const book::Book&, book::Ref<book::Treatment>);
std::string subject_name(const book::Book&, const std::string& full_id);  // of a dated use or statement

using Blocks = std::vector<Block>;
void summary(const Ground&, Blocks&);
void story(const Ground&, Blocks&);
Expected<void> shape_by_shape(const Ground&, Blocks&);
void grades(const Ground&, Blocks&);
void marks(const Ground&, Blocks&);
void dated_uses(const Ground&, Blocks&);
void contested(const Ground&, Blocks&);
void who_else(const Ground&, Blocks&);
void open_questions(const Ground&, Blocks&);

}  // namespace footring::papers
