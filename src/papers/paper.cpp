// SPDX-License-Identifier: Apache-2.0
#include "papers/paper.h"

namespace footring::papers {

std::string curled(std::string_view text) {
    std::string out;
    bool within = false;  // behind a double mark that opens
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '"' && text[i] != '\'') {
            out += text[i];
            continue;
        }
        const char before = i > 0 ? text[i - 1] : ' ', after = i + 1 < text.size() ? text[i + 1] : ' ';
        const bool digit = before >= '0' && before <= '9';
        // Behind a blank, a bracket or another mark; a dash (the last byte of U+2013 and U+2014) opens too.
        const bool opens =
            (before == ' ' || before == '\n' || before == '\t' || before == '(' || before == '[' || before == '/' ||
             before == '"' || before == '\'' || before == '\x93' || before == '\x94') &&
            after != ' ';
        if (text[i] == '"') {
            if (digit && !within) out += '"';
            else out += opens ? "\u201c" : "\u201d";
            within = opens;
        } else if (digit && !(after >= 'a' && after <= 'z')) {
            out += '\'';
        } else {
            // '34 is what is left of 1934.
            out += opens && !(after >= '0' && after <= '9') ? "\u2018" : "\u2019";
        }
    }
    return out;
}

std::string Text::plain() const {
    std::string out;
    for (const Run& run : runs) out += run.text;
    return out;
}

Sheet size_of(PageSize size) { return size == PageSize::kA4 ? Sheet{210, 297} : Sheet{8.5 * 25.4, 11 * 25.4}; }

}  // namespace footring::papers
