// Photographs are read: one at once or many in the queue; what was read is shown, corrected by the person, and
// combined into suggestions for the piece.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "base/json.h"
#include "base/text.h"
#include "exchange/json_text.h"
#include "exchange/record_json.h"
#include "photo/combine.h"
#include "photo/reading_json.h"
#include "server/app.h"
#include "server/corrections.h"
#include "server/pictures.h"
#include "server/routes.h"
#include "server/wording.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

ordered_json reading_reply(const App& app, const store::Reading& reading) {
    return {{"sha256", reading.sha256},
            {"when", reading.when},
            {"packs", reading.packs},
            {"stale", reading.packs != app.packs},
            {"asked", reading.asked},
            {"pictures", reading.pictures},
            {"reading", reading.found},
            {"clues", clues_in(app.book, wording_of(reading.found, nullptr, reading.sha256), app.settings)}};
}

Answered read_photo(App& app, const Request& request) {
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto before = app.store->reading(name);
    if (!before && before.error().code != ProblemCode::kNotFound) return refuse(before.error());
    const auto asked = asked_from_json(*body, before ? asked_of(before->asked) : Asked{}, app.book);
    if (!asked) return refuse(asked.error());
    const auto kept = read_and_keep(app, name, *asked, [&] { return app.readings.closed(); });
    if (!kept) return refuse(kept.error());
    return json_reply(reading_reply(app, *kept));
}

Answered reading(App& app, const Request& request) {
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    const auto kept = app.store->reading(name);
    if (!kept) return refuse(kept.error());
    return json_reply(reading_reply(app, *kept));
}

// A picture of the newest reading. Its address is that of the photograph and stays when it is read again, so that a
// browser asks each time and is told whether its copy still holds.
Answered picture(App& app, const Request& request, const std::string& kind, const char* type) {
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    const auto kept = app.store->reading(name);
    if (!kept) return refuse(kept.error());
    const auto known = kept->pictures.find(kind);
    const std::string digest = known == kept->pictures.end() ? std::string{} : known->second;
    if (!digest.empty() && request.if_none_match == "\"" + digest + "\"") {
        Reply reply;
        reply.status = 304;
        reply.type.clear();
        reply.headers = {{"ETag", "\"" + digest + "\""}, {"Cache-Control", "private, no-cache"}};
        return reply;
    }
    auto bytes = app.store->reading_picture(name, kind);
    if (!bytes) return refuse(bytes.error());
    Reply reply = immutable(type, std::move(*bytes), digest);
    for (auto& [header, value] : reply.headers)
        if (header == "Cache-Control") value = "private, no-cache";
    return reply;
}

// --- borders like it in the cupboard

Answered alike(App& app, const Request& request) {
    constexpr std::size_t kMost = 12;
    const std::string& name = request.values[0];
    if (!is_sha256(name)) return no_photo(name);
    const auto found = app.tiles.like(*app.store, name, kMost);
    if (!found) return refuse(found.error());
    ordered_json pieces = ordered_json::array();
    for (const BorderTiles::Alike& one : *found) {
        const auto record = app.store->piece(one.piece);
        if (!record) continue;  // taken away meanwhile
        pieces.push_back(
            {{"piece", one.piece},
             {"sha256", one.sha256},
             {"likeness", one.likeness},
             {"form", record->piece.form},
             {"treatment", record->decision ? ordered_json(record->decision->treatment) : ordered_json()}});
    }
    return json_reply({{"pieces", std::move(pieces)}});
}

// --- what a person mends

Answered correct(App& app, const Request& request) {
    const std::string &piece = request.values[0], &name = request.values[1];
    if (!is_sha256(name)) return no_photo(name);
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto after = corrections_from_json(*body, "body");
    if (!after) return refuse(after.error());
    const std::lock_guard lock(app.changing);
    const auto photos = app.store->photos(piece);
    if (!photos) return refuse(photos.error());
    const auto photo = std::ranges::find(*photos, name, &store::PhotoMeta::sha256);
    if (photo == photos->end())
        return refuse(ProblemCode::kNotFound, fmt::format("piece {}", piece), "it has no such photograph",
                      "read the piece again; the photograph may have been removed");
    const std::string sentence = in_words(corrections_of(photo->corrections), *after, photo->name);
    const auto kept = app.store->correct_photo(piece, name, to_json(*after), sentence);
    if (!kept) return refuse(kept.error());
    return json_reply(exchange::photo_json(*kept));
}

// --- suggestions

struct PhotoRead {
    store::PhotoMeta photo;
    std::optional<store::Reading> reading;
    Corrections corrections;
};

std::expected<std::vector<PhotoRead>, Problems> photos_read(const App& app, const std::string& piece) {
    const auto photos = app.store->photos(piece);
    if (!photos) return refuse(photos.error());
    std::vector<PhotoRead> out;
    for (const store::PhotoMeta& photo : *photos) {
        auto reading = app.store->reading(photo.sha256);
        if (!reading && reading.error().code != ProblemCode::kNotFound) return refuse(reading.error());
        out.push_back({photo, reading ? std::optional(std::move(*reading)) : std::nullopt,
                       corrections_of(photo.corrections)});
    }
    return out;
}

bool same_value(const std::string& a, const std::string& b) {
    if (a == b || a.ends_with(":" + b) || b.ends_with(":" + a)) return true;
    const auto x = to_number(a), y = to_number(b);
    return x && y && *x == *y;
}

// What the piece says there now; absent: not looked at.
std::optional<std::string> value_in(const looks::Piece& piece, const std::string& field, const std::string& place) {
    const auto of = [](const std::optional<looks::Seen>& seen) {
        return seen ? std::optional(seen->value) : std::nullopt;
    };
    const auto text = [](const std::string& value) { return value.empty() ? std::nullopt : std::optional(value); };
    if (field == "looks") {
        for (const looks::Look& look : piece.looks)
            if (book::name_of(look.place) == place) return look.seen.value;
        return std::nullopt;
    }
    if (field == "shape") return of(piece.shape);
    if (field == "glaze") return of(piece.glaze);
    if (field == "mark") return of(piece.mark);
    if (field == "number") return of(piece.number);
    if (field == "form") return text(piece.form);
    if (field == "date_code") return text(piece.date_code);
    if (field == "wear" && piece.wear) return std::string(looks::kWearNames[static_cast<std::size_t>(*piece.wear)]);
    if (field == "faults" && piece.faults)
        return std::string(looks::kFaultsNames[static_cast<std::size_t>(*piece.faults)]);
    for (const auto& [name, mm] :
         {std::pair{"length_mm", piece.length_mm}, {"width_mm", piece.width_mm}, {"height_mm", piece.height_mm}})
        if (field == name && mm) return fmt::format("{}", *mm);
    return std::nullopt;
}

ordered_json said_json(const photo::Statement& said, const std::vector<PhotoRead>& photos) {
    const auto photo = std::ranges::find(photos, said.photo, [](const PhotoRead& one) { return one.photo.sha256; });
    return {{"sha256", said.photo},
            {"name", photo == photos.end() ? "" : photo->photo.name},
            {"value", said.what.value},
            {"chance", said.what.chance},
            {"why", said.what.why}};
}

ordered_json row_json(const photo::Combined& row, const looks::Piece& piece, const std::vector<PhotoRead>& photos,
                      bool refused) {
    const auto now = value_in(piece, row.what.field, row.what.place);
    const bool taken = now && same_value(*now, row.what.value);
    const auto said = [&](const photo::Statement& one) { return said_json(one, photos); };
    return {{"field", row.what.field},
            {"place", row.what.place.empty() ? ordered_json() : ordered_json(row.what.place)},
            {"value", row.what.value},
            {"sure", row.what.sure ? ordered_json(looks::kSureNames[static_cast<std::size_t>(*row.what.sure)])
                                   : ordered_json()},
            {"chance", row.what.chance},
            {"why", row.what.why},
            {"state", refused ? "refused"
                      : taken ? "taken"
                              : "open"},
            {"now", now ? ordered_json(*now) : ordered_json()},
            {"for", json_list(row.for_it, said)},
            {"against", json_list(row.against, said)}};
}

Answered suggestions(App& app, const Request& request) {
    const auto record = app.store->piece(request.values[0]);
    if (!record) return refuse(record.error());
    const auto photos = photos_read(app, request.values[0]);
    if (!photos) return refuse(photos.error());
    std::set<Named> refused;
    for (const PhotoRead& one : *photos)
        refused.insert(one.corrections.refused.begin(), one.corrections.refused.end());
    std::vector<photo::Statement> open, dropped;
    for (const PhotoRead& one : *photos) {
        if (!one.reading) continue;
        const auto read =
            photo::reading_from_json(one.reading->found, fmt::format("reading of {}", one.photo.name));
        if (!read) return refuse(read.error());
        for (const photo::Suggestion& suggestion : read->suggestions) {
            const bool no = refused.contains({suggestion.field, suggestion.place, suggestion.value});
            (no ? dropped : open).push_back({one.photo.sha256, suggestion});
        }
    }
    ordered_json rows = ordered_json::array();
    for (const photo::Combined& row : photo::combine(open))
        rows.push_back(row_json(row, record->piece, *photos, false));
    for (const photo::Combined& row : photo::combine(dropped))
        rows.push_back(row_json(row, record->piece, *photos, true));
    ordered_json read = json_list(*photos, [&](const PhotoRead& one) {
        return ordered_json{{"sha256", one.photo.sha256},
                            {"name", one.photo.name},
                            {"read", one.reading.has_value()},
                            {"stale", one.reading && one.reading->packs != app.packs}};
    });
    // What the wording tells of the date, from each photograph on which some was read.
    ordered_json clues = ordered_json::array();
    for (const PhotoRead& one : *photos)
        if (auto found = clues_in(
                app.book,
                wording_of(one.reading ? one.reading->found : json(), one.photo.corrections, one.photo.name),
                app.settings);
            !found.is_null() && !found.at("clues").empty())
            clues.push_back({{"sha256", one.photo.sha256}, {"name", one.photo.name}, {"found", std::move(found)}});
    return json_reply({{"piece", record->piece.id},
                       {"photos", std::move(read)},
                       {"rows", std::move(rows)},
                       {"clues", std::move(clues)}});
}

// --- the queue

ordered_json job_json(const ReadQueue::Job& job) {
    const auto count = [&](ReadQueue::State state) {
        return std::ranges::count(job.items, state, &ReadQueue::Item::state);
    };
    ordered_json failed = ordered_json::array();
    for (const ReadQueue::Item& item : job.items)
        if (item.problem)
            failed.push_back({{"sha256", item.sha256}, {"problem", exchange::problem_json(*item.problem)}});
    const bool over = job.finished();
    return {{"id", job.id},
            {"state", over ? (job.stopped ? "stopped" : "done") : (job.stopped ? "stopping" : "running")},
            {"began", job.began},
            {"total", job.items.size()},
            {"done", count(ReadQueue::State::kRead) + count(ReadQueue::State::kFailed)},
            {"failed", std::move(failed)},
            {"photos", json_list(job.items, [](const ReadQueue::Item& item) {
                 return ordered_json{{"sha256", item.sha256}, {"state", name_of(item.state)}};
             })}};
}

std::unexpected<Problems> no_job(const std::string& id) {
    return refuse(ProblemCode::kNotFound, fmt::format("job {}", id), "there is no such job",
                  "jobs are forgotten when the program stops; ask for the unread photographs anew");
}

Answered read_many(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    auto photographs = list_member(*body, "photos");
    if (!photographs) return refuse(photographs.error());
    for (const std::string& name : *photographs)
        if (!is_sha256(name)) return no_photo(name);
    if (!body->contains("photos") || (*body)["photos"].is_null()) {
        auto unread = app.store->unread(app.packs);
        if (!unread) return refuse(unread.error());
        *photographs = std::move(*unread);
    }
    const auto job = app.readings.add(*photographs);
    if (!job) return refuse(job.error());
    return json_reply(job_json(*job), 201);
}

Answered jobs(App& app, const Request&) {
    const auto unread = app.store->unread(app.packs);
    if (!unread) return refuse(unread.error());
    return json_reply({{"unread", unread->size()}, {"jobs", json_list(app.readings.jobs(), job_json)}});
}

Answered job(App& app, const Request& request) {
    const auto found = app.readings.job(request.values[0]);
    if (!found) return no_job(request.values[0]);
    return json_reply(job_json(*found));
}

Answered stop_job(App& app, const Request& request) {
    const auto found = app.readings.stop(request.values[0]);
    if (!found) return no_job(request.values[0]);
    return json_reply(job_json(*found));
}

}  // namespace

std::vector<Route> reading_routes() {
    const auto shows = [](std::string kind, const char* type) {
        return [kind = std::move(kind), type](App& app, const Request& request) {
            return picture(app, request, kind, type);
        };
    };
    return {{"POST", "/api/photos/{sha256}/read", Takes::kJson, Role::kContributor, read_photo},
            {"GET", "/api/photos/{sha256}/reading", Takes::kNone, Role::kReader, reading},
            {"GET", "/api/photos/{sha256}/alike", Takes::kNone, Role::kReader, alike},
            {"GET", "/api/photos/{sha256}/strip", Takes::kNone, Role::kReader, shows("strip", "image/jpeg")},
            {"GET", "/api/photos/{sha256}/upright", Takes::kNone, Role::kReader, shows("upright", "image/jpeg")},
            {"GET", "/api/photos/{sha256}/repeat", Takes::kNone, Role::kReader, shows("repeat", "image/png")},
            {"GET", "/api/photos/{sha256}/mark", Takes::kNone, Role::kReader, shows("mark", "image/png")},
            {"PUT", "/api/pieces/{id}/photos/{sha256}/corrections", Takes::kJson, Role::kContributor, correct},
            {"GET", "/api/pieces/{id}/suggestions", Takes::kNone, Role::kReader, suggestions},
            {"POST", "/api/readings", Takes::kJson, Role::kContributor, read_many},
            {"GET", "/api/readings", Takes::kNone, Role::kContributor, jobs},
            {"GET", "/api/readings/{job}", Takes::kNone, Role::kContributor, job},
            {"DELETE", "/api/readings/{job}", Takes::kNone, Role::kContributor, stop_job}};
}

}  // namespace footring::server
