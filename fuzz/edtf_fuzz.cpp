// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as a date. What is read must print as a text that reads the same, and its days, spans, weights
// and words must agree with each other. What is refused must be refused with a place, a reason and a remedy on one
// line.
#include <cstdint>

#include "base/text.h"
#include "edtf/edtf.h"
#include "holds.h"

using namespace footring;

namespace {

void check_refusal(const Problem& problem) {
    HOLDS(problem.code == ProblemCode::kBadInput);
    HOLDS(!problem.where.empty() && !problem.what.empty() && !problem.remedy.empty());
    HOLDS(is_utf8(problem.where) && is_utf8(problem.what) && is_utf8(problem.remedy));
    HOLDS(problem.where.find('\n') == std::string::npos);
}

void check_spans(const edtf::Edtf& date, const Settings& settings) {
    HOLDS(!date.spans().empty());
    bool reaches_earliest = !date.earliest(), reaches_latest = !date.latest();
    for (const edtf::Span& span : date.spans()) {
        HOLDS(!span.first || !span.last || *span.first <= *span.last);
        for (const auto& year : {span.first, span.last})
            HOLDS(!year || edtf::weight(date.spans(), *year, settings) == 1);
        reaches_earliest = reaches_earliest || span.first == date.earliest()->year;
        reaches_latest = reaches_latest || span.last == date.latest()->year;
    }
    HOLDS(reaches_earliest && reaches_latest);
    HOLDS(!date.earliest() || !date.latest() || *date.earliest() <= *date.latest());
}

void check_weights(const edtf::Edtf& date, const Settings& settings) {
    const std::vector<double> weights = edtf::year_weights(date, 1850, 2000, settings);
    HOLDS(weights.size() == 151);
    for (std::size_t i = 0; i < weights.size(); ++i) {
        HOLDS(weights[i] >= 0 && weights[i] <= 1);
        HOLDS(weights[i] == edtf::weight(date.spans(), 1850 + static_cast<int>(i), settings));
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto date = edtf::parse(text);
    if (!date) {
        check_refusal(date.error());
        return 0;
    }
    HOLDS(date->text() == text);
    const std::string printed = print(*date);
    const auto again = edtf::parse(printed);
    HOLDS(again.has_value());
    HOLDS(print(*again) == printed);
    HOLDS(*again == *date);
    HOLDS(again->level() == date->level() && date->level() >= 0 && date->level() <= 2);
    HOLDS(again->earliest() == date->earliest() && again->latest() == date->latest());
    HOLDS(again->approximate() == date->approximate() && again->uncertain() == date->uncertain());
    HOLDS(again->spans() == date->spans());
    HOLDS(!in_words(*date).empty() && in_words(*date) == in_words(*again));
    HOLDS(caution(*date) == caution(*again));
    const Settings settings;
    check_spans(*date, settings);
    check_weights(*date, settings);
    return 0;
}
