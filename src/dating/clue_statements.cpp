// SPDX-License-Identifier: Apache-2.0
#include "dating/clue_statements.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace footring::dating {

namespace {

std::string tells(const FoundClue& clue, const std::string& from) {
    const auto years = edtf::parse(clue.years);
    std::string out =
        fmt::format("\"{}\" in {} tells {}", clue.text, from, years ? edtf::in_words(*years) : clue.years);
    if (clue.verified == book::Verified::kNo) out += " (not verified)";
    return out;
}

}  // namespace

Expected<std::vector<YearStatement>> clue_statements(const ClueFinder& finder,
                                                     const std::vector<WordingText>& texts, YearRange range,
                                                     bool with_marks, const Settings& settings) {
    std::vector<YearStatement> out;
    std::vector<std::string> ids;  // of the clue that each came from
    for (const WordingText& text : texts) {
        if (trim(text.text).empty()) continue;
        const auto answer = finder.find(text.text, settings);
        if (!answer) return std::unexpected(answer.error());
        for (const FoundClue& clue : answer->clues) {
            if (!clue.within.empty() || clue.years.empty() || (clue.kind == "mark" && !with_marks)) continue;
            YearStatement one{
                .subject = fmt::format("{} {}", clue.kind == "mark" ? "wording of mark" : "wording", clue.clue),
                .what = tells(clue, text.from),
                .agrees = clue_agrees(clue, range.first, range.last, settings),
                .trust = clue.weight * text.confidence,
                .sources = clue.sources,
                .row = clue.row};
            const std::string id = clue.number ? fmt::format("{} {}", clue.clue, clue.number->number) : clue.clue;
            const auto known = std::ranges::find(ids, id);
            if (known == ids.end()) {
                ids.push_back(id);
                out.push_back(std::move(one));
            } else if (YearStatement& before = out[static_cast<std::size_t>(known - ids.begin())];
                       before.trust < one.trust) {
                before = std::move(one);  // the same wording, read better elsewhere
            }
        }
    }
    return out;
}

}  // namespace footring::dating
