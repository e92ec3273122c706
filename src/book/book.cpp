// SPDX-License-Identifier: Apache-2.0
#include "book/book.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace footring::book {

std::optional<Place> place_named(std::string_view name) {
    const auto found = std::ranges::find(kPlaceNames, name);
    if (found == kPlaceNames.end()) return std::nullopt;
    return static_cast<Place>(found - kPlaceNames.begin());
}

std::string_view name_of(Ware ware) { return ware == Ware::kFlat ? "flat" : "hollow"; }

std::optional<Ware> ware_named(std::string_view name) {
    if (name == "flat") return Ware::kFlat;
    if (name == "hollow") return Ware::kHollow;
    return std::nullopt;
}

std::string_view name_of(Outline outline) {
    constexpr std::string_view kNames[] = {"round", "oval", "square", "octagonal", "other"};
    return kNames[static_cast<std::size_t>(outline)];
}

std::string_view name_of(Grade grade) {
    constexpr std::string_view kNames[] = {"first", "second", "any"};
    return kNames[static_cast<std::size_t>(grade)];
}

std::string_view name_of(Role role) {
    constexpr std::string_view kNames[] = {"pottery", "decorator", "supplier"};
    return kNames[static_cast<std::size_t>(role)];
}

std::string_view name_of(OrnamentKind kind) {
    constexpr std::string_view kNames[] = {"stamp", "decal", "line", "band", "print", "solid", "relief"};
    return kNames[static_cast<std::size_t>(kind)];
}

std::string_view name_of(Uranium uranium) {
    constexpr std::string_view kNames[] = {"unknown", "yes", "no"};
    return kNames[static_cast<std::size_t>(uranium)];
}
std::string_view name_of(Verified verified) {
    constexpr std::string_view kNames[] = {"no", "partly", "yes"};
    return kNames[static_cast<std::size_t>(verified)];
}

namespace {

template <class T>
concept HasId = requires(const T& row) {
    row.id;
};

template <class T>
std::string key_of(std::string_view id) {
    return fmt::format("{}/{}", Book::table_name<T>(), id);
}

// "use one of a, b, c" while a person can read the list at a glance, else where to look.
template <class T>
std::string known_ids(const Book& book, const std::vector<std::string>& ids) {
    constexpr std::size_t kReadable = 12;
    if (ids.empty()) return fmt::format("no open pack has a row in {}.csv", Book::table_name<T>());
    if (ids.size() > kReadable || book.packs.empty())
        return fmt::format("see {}.csv of the open packs", Book::table_name<T>());
    return fmt::format("use one of {}", fmt::join(ids, ", "));
}

}  // namespace

void Book::index() {
    ids.clear();
    decoration_rows.assign(treatments.size(), {});
    for (std::uint32_t row = 0; row < treatment_ornaments.size(); ++row)
        if (const auto at = treatment_ornaments[row].treatment.at; at < decoration_rows.size())
            decoration_rows[at].push_back(row);
    const auto note = [this]<class T>(const std::vector<T>& rows) {
        if constexpr (HasId<T>)
            for (std::uint32_t row = 0; row < rows.size(); ++row) ids[key_of<T>(rows[row].id)].push_back(row);
    };
#define FOOTRING_NOTE(Type, member, thing) note(member);
    FOOTRING_BOOK_TABLES(FOOTRING_NOTE)
#undef FOOTRING_NOTE
}

template <class T>
std::string id_of(const Book& book, Ref<T> ref) {
    const T& row = book[ref];
    const auto same = book.ids.find(key_of<T>(row.id));
    if (same == book.ids.end() || same->second.size() < 2 || row.origin.pack >= book.packs.size()) return row.id;
    return book.packs[row.origin.pack].id + ":" + row.id;
}

template <class T>
Expected<Ref<T>> find(const Book& book, std::string_view id, std::string_view where) {
    const std::size_t colon = id.find(':');
    const std::string_view bare = colon == id.npos ? id : id.substr(colon + 1);
    std::vector<std::uint32_t> rows;
    if (const auto same = book.ids.find(key_of<T>(bare)); same != book.ids.end()) rows = same->second;
    if (colon != id.npos)
        std::erase_if(rows, [&](std::uint32_t at) {
            const std::uint32_t pack = book.table<T>()[at].origin.pack;
            return pack >= book.packs.size() || book.packs[pack].id != id.substr(0, colon);
        });
    if (rows.size() == 1) return Ref<T>{rows.front()};
    const auto thing = Book::thing_name<T>();
    std::vector<std::string> known;
    if (!rows.empty()) {
        for (const std::uint32_t at : rows) known.push_back(id_of(book, Ref<T>{at}));
        return fail(ProblemCode::kBadInput, std::string(where),
                    fmt::format("several open packs have a {} '{}'", thing, id),
                    fmt::format("write {}", fmt::join(known, " or ")));
    }
    if (colon != id.npos) {
        std::vector<std::string> packs;
        for (const Pack& pack : book.packs) packs.push_back(pack.id);
        if (std::ranges::find(packs, id.substr(0, colon)) == packs.end())
            return fail(ProblemCode::kBadInput, std::string(where),
                        fmt::format("the pack '{}' of '{}' is not open", id.substr(0, colon), id),
                        did_you_mean(id.substr(0, colon), packs, "open that pack as well, or correct its name"));
    }
    for (std::uint32_t at = 0; at < book.table<T>().size(); ++at) known.push_back(id_of(book, Ref<T>{at}));
    return fail(ProblemCode::kBadInput, std::string(where), fmt::format("there is no {} '{}'", thing, id),
                did_you_mean(id, known, known_ids<T>(book, known)));
}

#define FOOTRING_FINDABLE(Type)                                                               \
    template Expected<Ref<Type>> find<Type>(const Book&, std::string_view, std::string_view); \
    template std::string id_of<Type>(const Book&, Ref<Type>);
FOOTRING_FINDABLE(Source)
FOOTRING_FINDABLE(Maker)
FOOTRING_FINDABLE(Shape)
FOOTRING_FINDABLE(Form)
FOOTRING_FINDABLE(Glaze)
FOOTRING_FINDABLE(Ornament)
FOOTRING_FINDABLE(Treatment)
FOOTRING_FINDABLE(CodeScheme)
FOOTRING_FINDABLE(Mark)
FOOTRING_FINDABLE(Statement)
FOOTRING_FINDABLE(Clue)
FOOTRING_FINDABLE(NumberSeries)
FOOTRING_FINDABLE(TradeCount)
#undef FOOTRING_FINDABLE

std::optional<Ref<Maker>> maker_of(const Book& book, Ref<Treatment> treatment) {
    return book[book[treatment].shape].maker;
}

std::string source_ids(const Book& book, const std::vector<Ref<Source>>& sources) {
    std::vector<std::string> ids;
    for (const Ref<Source> source : sources) ids.push_back(id_of(book, source));
    return fmt::format("{}", fmt::join(ids, "; "));
}

}  // namespace footring::book
