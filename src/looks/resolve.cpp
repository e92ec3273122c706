// SPDX-License-Identifier: Apache-2.0
#include "looks/resolve.h"

#include <fmt/format.h>

namespace footring::looks {

namespace {

struct Resolver {
    const book::Book& book;
    const Settings& settings;
    std::string where;
    std::vector<Problem> problems;

    std::string at(std::string_view pointer) const { return fmt::format("{}: {}", where, pointer); }

    template <class T>
    std::optional<book::Ref<T>> look_up(const std::string& id, std::string_view pointer) {
        auto found = book::find<T>(book, id, at(pointer));
        if (found) return *found;
        problems.push_back(std::move(found.error()));
        return std::nullopt;
    }

    // For shape and glaze, which every piece has: not knowing them is said by leaving the field out.
    template <class T>
    std::optional<Sighting<T>> always_there(const std::optional<Seen>& seen, const char* field) {
        if (!seen) return std::nullopt;
        const std::string pointer = fmt::format("/{}/value", field);
        if (seen->value == kNone || seen->value == kSomething || seen->value == kWorn) {
            problems.push_back({ProblemCode::kBadInput, at(pointer),
                                fmt::format("'{}' is not a {}, and every piece has one", seen->value, field),
                                fmt::format("name the {}, or leave the field out when it is not known", field)});
            return std::nullopt;
        }
        const auto ref = look_up<T>(seen->value, pointer);
        if (!ref) return std::nullopt;
        return Sighting<T>{*ref, sureness(seen->sure, settings)};
    }

    template <class T>
    std::optional<Sighting<T>> perhaps_there(const Seen& seen, std::string_view pointer) {
        const double sure = sureness(seen.sure, settings);
        if (seen.value == kNone) return Sighting<T>{Absent{}, sure};
        if (seen.value == kSomething || seen.value == kWorn) return Sighting<T>{Present{}, sure};
        const auto ref = look_up<T>(seen.value, pointer);
        if (!ref) return std::nullopt;
        return Sighting<T>{*ref, sure};
    }
};

}  // namespace

std::expected<Findings, std::vector<Problem>> resolve(const Piece& piece, const book::Book& book,
                                                      const Settings& settings, std::string_view where) {
    Resolver resolver{book, settings, std::string(where), {}};
    Findings out;
    if (!piece.form.empty()) out.form = resolver.look_up<book::Form>(piece.form, "/form");
    out.shape = resolver.always_there<book::Shape>(piece.shape, "shape");
    out.glaze = resolver.always_there<book::Glaze>(piece.glaze, "glaze");
    out.wear = piece.wear;
    for (std::size_t i = 0; i < piece.looks.size(); ++i) {
        const Look& look = piece.looks[i];
        if (const auto seen = resolver.perhaps_there<book::Ornament>(look.seen, fmt::format("/looks/{}/value", i)))
            out.ornaments.push_back({*seen, look.place, i});
    }
    if (piece.mark) out.mark = resolver.perhaps_there<book::Mark>(*piece.mark, "/mark/value");
    if (piece.number) {
        const std::string& read = piece.number->value;
        NumberSighting number{read, sureness(piece.number->sure, settings)};
        if (read == kNone) number.pattern = std::nullopt;
        if (read == kSomething || read == kWorn) number.pattern = "*";
        out.number = std::move(number);
    }
    out.date_code = piece.date_code;
    out.faults = piece.faults;
    if (!resolver.problems.empty()) return std::unexpected(std::move(resolver.problems));
    return out;
}

}  // namespace footring::looks
