// SPDX-License-Identifier: Apache-2.0
#include "papers/subject.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>

#include "book/decoration.h"
#include "naming/apart.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;

template <class T>
std::string full_id(const Book& b, Ref<T> ref) {
    return b.packs[b[ref].origin.pack].id + ":" + b[ref].id;
}

// book::find with kNotFound for what no open pack has: here the id is what was asked for.
template <class T>
Expected<Subject> found(const Book& b, std::string_view id, std::string_view where) {
    const auto ref = book::find<T>(b, id, where);
    if (ref) return Subject(*ref);
    Problem problem = ref.error();
    const auto same = b.ids.find(fmt::format("{}/{}", Book::table_name<T>(), id));
    if (same == b.ids.end() || same->second.empty()) problem.code = ProblemCode::kNotFound;
    return std::unexpected(std::move(problem));
}

}  // namespace

Expected<Subject> subject_named(const Book& b, std::string_view text, std::string_view where) {
    if (text.empty())
        return fail(ProblemCode::kBadInput, std::string(where), "nothing is named",
                    "write ornament:ID, treatment:ID or shape:ID");
    const std::size_t colon = text.find(':');
    const std::string_view table = colon == std::string_view::npos ? "" : text.substr(0, colon);
    const std::string_view id = colon == std::string_view::npos ? text : text.substr(colon + 1);
    if (table == "ornament") return found<book::Ornament>(b, id, where);
    if (table == "treatment") return found<book::Treatment>(b, id, where);
    if (table == "shape") return found<book::Shape>(b, id, where);
    // A bare id, or "pack:id".
    std::vector<Subject> all;
    if (const auto ref = book::find<book::Ornament>(b, text, where)) all.emplace_back(*ref);
    if (const auto ref = book::find<book::Treatment>(b, text, where)) all.emplace_back(*ref);
    if (const auto ref = book::find<book::Shape>(b, text, where)) all.emplace_back(*ref);
    if (all.size() == 1) return all.front();
    if (all.empty())
        return fail(ProblemCode::kNotFound, std::string(where),
                    fmt::format("no open pack has an ornament, a treatment or a shape '{}'", text),
                    "write ornament:ID, treatment:ID or shape:ID");
    std::string words;
    for (const Subject& each : all)
        words += fmt::format("{}{}:{}", words.empty() ? "" : " or ", table_of(each), text);
    return fail(ProblemCode::kBadInput, std::string(where), fmt::format("'{}' is the id of several things", text),
                "write " + words);
}

std::string_view table_of(const Subject& subject) {
    static constexpr std::string_view kNames[] = {"ornament", "treatment", "shape"};
    return kNames[subject.index()];
}
std::string id_of(const Book& b, const Subject& subject) {
    return std::visit([&](auto ref) { return book::id_of(b, ref); }, subject);
}
std::string full_id_of(const Book& b, const Subject& subject) {
    return std::visit([&](auto ref) { return full_id(b, ref); }, subject);
}
std::string name_of(const Book& b, const Subject& subject) {
    return std::visit(
        [&](auto ref) {
            const auto& row = b[ref];
            if constexpr (requires { row.number; }) {
                if (!row.number.empty()) return row.name.empty() ? row.number : row.number + " " + row.name;
            }
            return row.name.empty() ? row.id : row.name;
        },
        subject);
}

std::optional<int> first_year(const std::optional<edtf::Edtf>& years) {
    if (!years) return std::nullopt;
    std::optional<int> out;
    for (const edtf::Span& span : years->spans())
        if (span.first && (!out || *span.first < *out)) out = static_cast<int>(*span.first);
    return out;
}
std::optional<int> last_year(const std::optional<edtf::Edtf>& years) {
    if (!years) return std::nullopt;
    std::optional<int> out;
    for (const edtf::Span& span : years->spans())
        if (span.last && (!out || *span.last > *out)) out = static_cast<int>(*span.last);
    return out;
}

std::vector<Ref<book::Treatment>> treatments_of(const Book& b, const Subject& subject) {
    std::vector<Ref<book::Treatment>> out;
    if (const auto* one = std::get_if<Ref<book::Treatment>>(&subject)) {
        out.push_back(*one);
        return out;
    }
    for (std::uint32_t i = 0; i < b.treatments.size(); ++i) {
        const Ref<book::Treatment> t{i};
        if (const auto* shape = std::get_if<Ref<book::Shape>>(&subject)) {
            if (b[t].shape == *shape) out.push_back(t);
        } else {
            const auto ornament = std::get<Ref<book::Ornament>>(subject);
            const auto& rows = b.decoration_rows[i];
            if (std::ranges::any_of(rows, [&](std::uint32_t row) {
                    return b.treatment_ornaments[row].ornament == ornament && b.treatment_ornaments[row].share > 0;
                }))
                out.push_back(t);
        }
    }
    std::ranges::stable_sort(out, {}, [&](auto t) {
        const auto year = first_year(b[t].years);
        return year.value_or(std::numeric_limits<int>::max());
    });
    return out;
}

Book part_of(const Book& b, const std::vector<Ref<book::Treatment>>& kept) {
    Book part = b;
    part.treatments.clear();
    part.treatment_ornaments.clear();
    part.decoration_rows.clear();
    part.ids.clear();
    for (std::uint32_t now = 0; now < kept.size(); ++now) {
        part.treatments.push_back(b[kept[now]]);
        for (const std::uint32_t row : b.decoration_rows[kept[now].at]) {
            part.treatment_ornaments.push_back(b.treatment_ornaments[row]);
            part.treatment_ornaments.back().treatment = {now};
        }
    }
    part.index();
    return part;
}

std::optional<Ref<book::Form>> telling_form(const Book& b, const std::vector<Ref<book::Treatment>>& treatments) {
    const Book part = part_of(b, treatments);
    // How many forms of ware the shapes have at all: a key for a form that most of them lack is of little use.
    std::map<Ref<book::Form>, std::size_t> met;
    std::map<Ref<book::Shape>, std::vector<Ref<book::Form>>> forms;
    for (const book::Treatment& t : part.treatments) {
        auto known = forms.find(t.shape);
        if (known == forms.end()) known = forms.emplace(t.shape, book::forms_of(part, t.shape)).first;
        for (const auto form : known->second) ++met[form];
    }
    std::optional<Ref<book::Form>> best;
    std::size_t most = 0;
    for (std::uint32_t i = 0; i < part.forms.size(); ++i) {
        const Ref<book::Form> form{i};
        std::size_t told = met.contains(form) ? met[form] : 0;
        if (told == 0) continue;
        for (const auto& group : naming::twins(part, form)) told -= std::min(told, group.size() - 1);
        if (!best || told > most) best = form, most = told;
    }
    return best;
}

}  // namespace footring::papers
