// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as the files of two packs. A line "@@ a/glazes.csv" begins a file of pack a (or b); what stands
// before the first such line is ignored. What is read must be a Book in which every reference leads somewhere; what
// is refused must be refused the same way twice, each fault on one line with a place, a reason and a remedy.
#include <algorithm>
#include <cstdint>

#include "base/text.h"
#include "book/code_scheme.h"
#include "book/decoration.h"
#include "book/pack_text.h"
#include "holds.h"

using namespace footring;

namespace {

std::vector<book::PackText> packs_of(std::string_view text) {
    std::vector<book::PackText> packs = {{"a", {}, {}}, {"b", {}, {}}};
    std::string* file = nullptr;
    while (!text.empty()) {
        const std::string_view line = text.substr(0, std::min(text.find('\n'), text.size() - 1) + 1);
        text.remove_prefix(line.size());
        if (line.starts_with("@@ a/") || line.starts_with("@@ b/"))
            file = &packs[line[3] == 'b'].files[std::string(trim(line.substr(5)))];
        else if (file) *file += line;
    }
    if (packs[1].files.empty()) packs.pop_back();
    return packs;
}

void check_faults(const std::vector<Problem>& problems) {
    HOLDS(!problems.empty());
    for (const Problem& p : problems) {
        HOLDS(!p.where.empty() && !p.what.empty() && !p.remedy.empty());
        HOLDS(is_utf8(p.what) && is_utf8(p.remedy));
        HOLDS(exit_status(p.code) == 2 || exit_status(p.code) == 3);
        HOLDS(to_line(p).find('\n') == std::string::npos);
    }
}

template <class T>
void in_range(const book::Book& b, book::Ref<T> ref) {
    HOLDS(ref.at < b.table<T>().size());
}
template <class T>
void in_range(const book::Book& b, std::optional<book::Ref<T>> ref) {
    if (ref) in_range(b, *ref);
}
void in_unit(std::optional<double> share) { HOLDS(!share || (*share >= 0 && *share <= 1)); }

template <class T>
void check_rows(const book::Book& b) {
    for (std::uint32_t at = 0; at < b.table<T>().size(); ++at) {
        const T& row = b.table<T>()[at];
        HOLDS(row.origin.pack < b.packs.size() && row.origin.line >= 2);
        if constexpr (requires { row.id; }) {
            HOLDS(is_kebab(row.id));
            const auto found = book::find<T>(b, book::id_of(b, book::Ref<T>{at}), "fuzz");
            HOLDS(found && found->at == at);
        }
        if constexpr (requires { row.sources; })
            for (const auto source : row.sources) in_range(b, source);
        if constexpr (requires { row.years; }) HOLDS(!row.years || !row.years->spans().empty());
        if constexpr (requires { row.maker; }) in_range(b, row.maker);
        if constexpr (requires { row.shape; }) in_range(b, row.shape);
        if constexpr (requires { row.form; }) in_range(b, row.form);
        if constexpr (requires { row.glaze; }) in_range(b, row.glaze);
    }
}

void check_book(const book::Book& b) {
#define FOOTRING_CHECK(Type, member, thing) check_rows<book::Type>(b);
    FOOTRING_BOOK_TABLES(FOOTRING_CHECK)
#undef FOOTRING_CHECK
    for (const auto& ornament : b.ornaments) {
        HOLDS(!ornament.finish.empty());
        in_unit(ornament.second_share);
        in_range(b, ornament.supplier);
    }
    for (const auto& maker : b.makers) in_unit(maker.unmarked_share), in_unit(maker.numbered_share);
    for (const auto& row : b.treatment_ornaments) {
        in_range(b, row.treatment), in_range(b, row.ornament), in_range(b, row.on.form);
        in_unit(row.share);
    }
    for (const auto& mark : b.marks) {
        in_range(b, mark.code_scheme);
        for (const auto shape : mark.shapes) in_range(b, shape);
    }
    for (const auto& scheme : b.code_schemes) {
        HOLDS(check(scheme).has_value());
        for (const std::string_view code : {"34", "A", "A 1934", ""}) {
            const auto years = decode(scheme, code, 1870, 1990);
            HOLDS(!years || std::ranges::is_sorted(*years));
        }
    }
    for (const auto& use : b.dated_uses) HOLDS(use.subject.find(':') != std::string::npos);
    for (std::uint32_t t = 0; t < b.treatments.size(); ++t) {
        const auto shown =
            decoration(b, {t}, b.forms.empty() ? std::nullopt : std::optional(book::Ref<book::Form>{0}));
        for (const auto& place : shown.at)
            for (const auto& carried : place) HOLDS(carried.share > 0 && carried.share <= 1);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto packs = packs_of({reinterpret_cast<const char*>(data), size});
    const auto read = book::read_pack_texts(packs);
    if (read) {
        check_book(*read);
    } else {
        check_faults(read.error());
        const auto again = book::read_pack_texts(packs);
        HOLDS(!again && again.error() == read.error());
    }
    return 0;
}
