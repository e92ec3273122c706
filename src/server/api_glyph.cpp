// Glyphs, rim strips and drawings: pictures made from the reference. Everything is answered under a policy that
// lets no script of a drawing run. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "base/text.h"
#include "book/glyph.h"
#include "looks/resolve.h"
#include "server/app.h"
#include "server/routes.h"
#include "server/version.h"

namespace footring::server {

namespace {

namespace fs = std::filesystem;

constexpr const char* kPicturePolicy = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; sandbox";

Reply picture(std::string type, std::string body) {
    Reply reply;
    reply.type = std::move(type);
    reply.body = std::move(body);
    reply.headers = {{"Content-Security-Policy", kPicturePolicy}};
    return reply;
}

// Pictures of the reference change only with the packs: the browser may keep them and ask whether they are still
// good.
Answered unless_known(const App& app, const Request& request, const std::function<Answered()>& make) {
    std::string digest = kVersion;
    for (const book::Pack& pack : app.book.packs) digest += pack.digest + " ";
    const std::string tag = fmt::format("\"{:016x}\"", std::hash<std::string>{}(digest));
    Answered reply = request.if_none_match == tag
                         ? Answered(Reply{.status = 304, .type = "", .body = "", .headers = {}})
                         : make();
    if (!reply) return reply;
    reply->headers.emplace_back("ETag", tag);
    reply->headers.emplace_back("Cache-Control", "private, no-cache");
    return reply;
}

std::expected<std::vector<book::Place>, Problems> places_named(const std::vector<std::string>& names,
                                                               const std::string& where) {
    std::vector<book::Place> out;
    std::vector<std::string> known(book::kPlaceNames.begin(), book::kPlaceNames.end());
    for (const std::string& name : names) {
        const auto place = book::place_named(name);
        if (!place)
            return refuse(ProblemCode::kBadInput, where, fmt::format("there is no place '{}'", name),
                          did_you_mean(name, known, fmt::format("use one of {}", fmt::join(known, ", "))));
        out.push_back(*place);
    }
    return out;
}

void pick_out(book::Glyph& glyph, const std::vector<book::Place>& places) {
    for (const book::Place place : places) glyph.at[static_cast<std::size_t>(place)].picked_out = true;
}

// The piece as far as it was seen: what was not looked at stays unknown.
book::Glyph glyph_of_piece(const App& app, const looks::Piece& piece, const looks::Findings& findings) {
    using State = book::GlyphPlace::State;
    book::Glyph glyph;
    glyph.title = piece.id.empty() ? "The piece as far as it was seen"
                                   : fmt::format("The piece {} as far as it was seen", piece.id);
    if (findings.form) {
        const book::Form& form = app.book[*findings.form];
        glyph.outline = form.outline;
        glyph.ware = form.ware;
        glyph.form_id = form.id;
    }
    if (findings.glaze)
        if (const auto* glaze = std::get_if<book::Ref<book::Glaze>>(&findings.glaze->value))
            glyph.lab = app.book[*glaze].lab;
    for (const looks::OrnamentSighting& sighting : findings.ornaments) {
        book::GlyphPlace& place = glyph.at[static_cast<std::size_t>(sighting.place)];
        const looks::Look& look = piece.looks[sighting.look];
        if (const auto* ornament = std::get_if<book::Ref<book::Ornament>>(&sighting.value)) {
            place.state = State::kDecorated;
            place.ornaments.push_back(*ornament);
        } else if (place.state == State::kUnknown) {
            place.state = look.seen.value == looks::kNone   ? State::kBare
                          : look.seen.value == looks::kWorn ? State::kWorn
                                                            : State::kSomething;
        }
        place.doubtful = place.doubtful || look.seen.sure == looks::Sure::kGuess;
    }
    return glyph;
}

Answered glyph_piece(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    std::vector<std::string> notes;
    const auto piece = piece_member(*body, notes);
    if (!piece) return refuse(piece.error());
    const auto names = list_member(*body, "picked_out");
    if (!names) return refuse(names.error());
    const auto places = places_named(*names, "body: picked_out");
    if (!places) return refuse(places.error());
    const auto findings = looks::resolve(*piece, app.book, app.settings, "piece");
    if (!findings) return refuse(findings.error());
    book::Glyph glyph = glyph_of_piece(app, *piece, *findings);
    pick_out(glyph, *places);
    return picture("image/svg+xml", book::draw(app.book, glyph));
}

Answered glyph_treatment(App& app, const Request& request) {
    const auto treatment = row_named<book::Treatment>(app.book, request.values[0], "treatment");
    if (!treatment) return refuse(treatment.error());
    const auto form = maybe_row_named<book::Form>(app.book, query_text(request, "form"), "query: form");
    if (!form) return refuse(form.error());
    const auto places = places_named(split(query_text(request, "picked_out"), ','), "query: picked_out");
    if (!places) return refuse(places.error());
    return unless_known(app, request, [&]() -> Answered {
        book::Glyph glyph = book::glyph_of(app.book, *treatment, *form);
        pick_out(glyph, *places);
        return picture("image/svg+xml", book::draw(app.book, glyph));
    });
}

Answered strip(App& app, const Request& request) {
    const auto ornament = row_named<book::Ornament>(app.book, request.values[0], "ornament");
    if (!ornament) return refuse(ornament.error());
    return unless_known(
        app, request, [&]() -> Answered { return picture("image/svg+xml", book::rim_strip(app.book, *ornament)); });
}

// The pack was checked when it was read, but its folder belongs to others: never follow a path out of it.
Answered drawing(App& app, const Request& request) {
    const auto ref = row_named<book::Ornament>(app.book, request.values[0], "ornament");
    if (!ref) return refuse(ref.error());
    const book::Ornament& ornament = app.book[*ref];
    const auto missing = [&](std::string what) {
        return refuse(ProblemCode::kNotFound, fmt::format("ornament {}", request.values[0]), std::move(what),
                      "look at its rim strip or its glyph instead");
    };
    if (ornament.drawing.empty() || ornament.origin.pack >= app.book.packs.size())
        return missing("the pack has no drawing of it");
    return unless_known(app, request, [&]() -> Answered {
        std::error_code error;
        const fs::path folder = fs::canonical(app.book.packs[ornament.origin.pack].folder, error);
        const fs::path path = fs::canonical(folder / ornament.drawing, error);
        if (error) return missing("the drawing that the pack names cannot be read");
        const fs::path inside = path.lexically_relative(folder);
        if (inside.empty() || *inside.begin() == "..") return missing("the drawing lies outside of its pack");
        const std::string ending = lower(path.extension().string());
        if (ending != ".svg" && ending != ".png") return missing("the drawing is neither SVG nor PNG");
        std::ifstream file(path, std::ios::binary);
        std::string bytes(std::istreambuf_iterator<char>(file), {});
        if (!file) return missing("the drawing that the pack names cannot be read");
        return picture(ending == ".svg" ? "image/svg+xml" : "image/png", std::move(bytes));
    });
}

}  // namespace

std::vector<Route> glyph_routes() {
    return {{"POST", "/api/glyph", Takes::kJson, Role::kReader, glyph_piece},
            {"GET", "/api/glyph/treatment/{id}", Takes::kNone, Role::kReader, glyph_treatment},
            {"GET", "/api/glyph/strip/{ornament}", Takes::kNone, Role::kReader, strip},
            {"GET", "/api/drawing/{ornament}", Takes::kNone, Role::kReader, drawing}};
}

}  // namespace footring::server
