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

std::string numbered_key(Ref<book::Shape> shape, std::string_view number) {
    return fmt::format("{}/{}", shape.at, lower(number));
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
    for (std::uint32_t at = 0; at < book.treatments.size(); ++at)
        numbered_[numbered_key(book.treatments[at].shape, book.treatments[at].number)].push_back({at});
}

template <class T>
Expected<std::string> Names::id_of(const Ids& ids, const std::string& text, const std::string& where) const {
    const auto named = ids.find(lower(text));
    const bool is_name = named != ids.end();
    // What is no id is not asked for as one: the suggestion that comes with a refusal takes long, and lists have
    // names in every row.
    const std::string bare = text.substr(text.find(':') + 1);
    const bool is_id = book_.ids.contains(fmt::format("{}/{}", book::Book::table_name<T>(), bare));
    if (is_id || !is_name) {
        auto found = book::find<T>(book_, text, where);
        if (found) return text;
        if (!is_name) return std::unexpected(std::move(found.error()));
    }
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

std::vector<Ref<book::Treatment>> Names::numbered(Ref<book::Shape> shape, const std::string& number) const {
    const auto found = numbered_.find(numbered_key(shape, number));
    return found == numbered_.end() ? std::vector<Ref<book::Treatment>>{} : found->second;
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
