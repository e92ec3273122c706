// SPDX-License-Identifier: Apache-2.0
#include "exchange/names.h"

#include <fmt/format.h>

#include "base/text.h"

namespace footring::exchange {

using book::Ref;

namespace {

template <class T, class Name>
void gather(const book::Book& book, std::unordered_map<std::string, std::vector<std::string>>& into, Name name) {
    for (std::uint32_t at = 0; at < book.table<T>().size(); ++at) {
        const std::string text = lower(trim(name(book.table<T>()[at])));
        if (!text.empty()) into[text].push_back(book::id_of(book, Ref<T>{at}));
    }
}

}  // namespace

Names::Names(const book::Book& book) : book_(book) {
    const auto name = [](const auto& row) { return row.name; };
    gather<book::Form>(book, forms_, name);
    gather<book::Shape>(book, shapes_, name);
    gather<book::Glaze>(book, glazes_, name);
    gather<book::Ornament>(book, ornaments_, name);
    gather<book::Mark>(book, marks_, [](const book::Mark& row) { return row.wording; });
    gather<book::Treatment>(book, treatments_, [](const book::Treatment& row) { return row.number; });
    gather<book::Treatment>(book, treatments_, name);
}

template <class T>
Expected<std::string> Names::id_of(const Ids& ids, const std::string& text, const std::string& where) const {
    auto found = book::find<T>(book_, text, where);
    if (found) return text;
    const auto named = ids.find(lower(text));
    if (named == ids.end()) return std::unexpected(std::move(found.error()));
    if (named->second.size() == 1) return named->second.front();
    return fail(ProblemCode::kBadInput, where,
                fmt::format("{} rows of the reference are called '{}'", named->second.size(), text),
                fmt::format("write one of the ids {}", fmt::join(named->second, ", ")));
}

Expected<std::string> Names::form(const std::string& text, const std::string& where) const {
    return id_of<book::Form>(forms_, text, where);
}
Expected<std::string> Names::shape(const std::string& text, const std::string& where) const {
    return id_of<book::Shape>(shapes_, text, where);
}
Expected<std::string> Names::glaze(const std::string& text, const std::string& where) const {
    return id_of<book::Glaze>(glazes_, text, where);
}
Expected<std::string> Names::ornament(const std::string& text, const std::string& where) const {
    return id_of<book::Ornament>(ornaments_, text, where);
}
Expected<std::string> Names::mark(const std::string& text, const std::string& where) const {
    return id_of<book::Mark>(marks_, text, where);
}
Expected<std::string> Names::treatment(const std::string& text, const std::string& where) const {
    return id_of<book::Treatment>(treatments_, text, where);
}

std::string full_id(const book::Book& book, Ref<book::Treatment> treatment) {
    const book::Treatment& row = book[treatment];
    if (row.origin.pack >= book.packs.size()) return row.id;
    return book.packs[row.origin.pack].id + ":" + row.id;
}

std::string words_of(const book::Book& book, Ref<book::Treatment> ref) {
    const book::Treatment& row = book[ref];
    std::string words = row.number + " " + row.name + " " + book[row.shape].name;
    if (row.glaze) words += " " + book[*row.glaze].name;
    return words;
}

Expected<void> settle_decision(store::PieceRecord& record, const book::Book& book, const std::string& where) {
    record.search_words.clear();
    if (!record.decision) return {};
    std::string& treatment = record.decision->treatment;
    if (treatment == "unlisted" || treatment == "elsewhere") return {};
    const auto ref = book::find<book::Treatment>(book, treatment, where);
    if (!ref) return std::unexpected(ref.error());
    treatment = full_id(book, *ref);
    record.search_words = words_of(book, *ref);
    return {};
}

}  // namespace footring::exchange
