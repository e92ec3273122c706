// SPDX-License-Identifier: Apache-2.0
#include "server/readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "photo/reading_json.h"
#include "server/app.h"

namespace footring::server {

using nlohmann::json;

namespace {

constexpr double kHighestRimMm = 300;  // photo/read.h

// Reads one member after another and keeps every fault.
class Members {
  public:
    Members(const json& body, std::string where) : body_(body), where_(std::move(where)) {}
    const json* given(const char* name) const {
        const auto at = body_.find(name);
        return at == body_.end() ? nullptr : &*at;
    }
    void wrong(const std::string& name, std::string what, std::string remedy) {
        problems.push_back(
            {ProblemCode::kBadInput, fmt::format("{}: /{}", where_, name), std::move(what), std::move(remedy)});
    }
    Problems problems;

  private:
    const json& body_;
    std::string where_;
};

std::optional<std::vector<double>> numbers(const json& object, const char* name, std::size_t count) {
    const auto at = object.find(name);
    if (at == object.end() || !at->is_array() || at->size() != count) return std::nullopt;
    std::vector<double> out;
    for (const json& one : *at) {
        if (!one.is_number() || !std::isfinite(one.get<double>())) return std::nullopt;
        out.push_back(one.get<double>());
    }
    return out;
}

std::optional<photo::Ellipse> ellipse_from(const json& value) {
    if (!value.is_object()) return std::nullopt;
    const auto centre = numbers(value, "centre_px", 2), axes = numbers(value, "axes_px", 2);
    const auto angle = value.find("angle_deg");
    if (!centre || !axes || angle == value.end() || !angle->is_number()) return std::nullopt;
    photo::Ellipse e{{(*centre)[0], (*centre)[1]}, (*axes)[0], (*axes)[1], angle->get<double>()};
    if (!(e.a > 0) || !(e.b > 0) || e.a > 1e6 || e.b > 1e6 || std::abs(e.angle_deg) > 3600) return std::nullopt;
    if (e.b > e.a) {
        std::swap(e.a, e.b);
        e.angle_deg += 90;
    }
    e.angle_deg -= 180 * std::floor((e.angle_deg + 90) / 180);  // to [-90, 90)
    return e;
}

// The middle one of the recorded heights of a form, where there are any.
std::optional<double> recorded_height(const book::Book& book, const std::string& form) {
    const auto wanted = book::find<book::Form>(book, form, "form");
    if (!wanted) return std::nullopt;
    std::vector<double> heights;
    for (const book::ShapeForm& row : book.shape_forms)
        if (row.form == *wanted && row.height_mm) heights.push_back(*row.height_mm);
    if (heights.empty()) return std::nullopt;
    std::ranges::nth_element(heights, heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2));
    return heights[heights.size() / 2];
}

photo::ReadOptions options_of(const Asked& asked, const book::Book& book, const std::function<bool()>& stop) {
    photo::ReadOptions options;
    options.side = asked.side;
    options.rim = asked.rim;
    options.rim_height_mm = asked.rim_height_mm;
    if (!options.rim_height_mm && !asked.form.empty()) options.rim_height_mm = recorded_height(book, asked.form);
    if (options.rim_height_mm) options.rim_height_mm = std::min(*options.rim_height_mm, kHighestRimMm);
    options.pictures = true;
    options.stop = stop;
    return options;
}

Problem was_stopped(const std::string& where) {
    return {ProblemCode::kConflict, where, "reading it was stopped", "read it again when there is time"};
}

}  // namespace

std::expected<Asked, Problems> asked_from_json(const json& body, const Asked& before, const book::Book& book) {
    Asked out = before;
    Members in(body, "body");
    if (const json* side = in.given("side")) {
        if (side->is_null()) out.side.reset();
        else if (*side == "front") out.side = photo::Side::kFront;
        else if (*side == "back") out.side = photo::Side::kBack;
        else in.wrong("side", "this is no side of a piece", "give 'front' or 'back', or null to let it be seen");
    }
    if (const json* height = in.given("rim_height_mm")) {
        if (height->is_null()) out.rim_height_mm.reset();
        else if (height->is_number() && height->get<double>() >= 0 && height->get<double>() <= kHighestRimMm)
            out.rim_height_mm = height->get<double>();
        else in.wrong("rim_height_mm", "this is no height of a rim", "give millimetres from 0 to 300, or null");
    }
    if (const json* rim = in.given("rim")) {
        if (rim->is_null()) out.rim.reset();
        else if (const auto ellipse = ellipse_from(*rim)) out.rim = ellipse;
        else
            in.wrong(
                "rim", "this is no ellipse",
                "give {\"centre_px\": [x, y], \"axes_px\": [a, b], \"angle_deg\": degrees} with axes over 0, or "
                "null");
    }
    if (const json* form = in.given("form")) {
        if (form->is_null()) out.form.clear();
        else if (form->is_string() && form->get<std::string>().empty()) out.form.clear();
        else if (!form->is_string()) in.wrong("form", "this is not text", "give the id of a form, or null");
        else if (auto known = book::find<book::Form>(book, form->get<std::string>(), "body: /form"); !known)
            in.problems.push_back(known.error());
        else out.form = form->get<std::string>();
    }
    if (!in.problems.empty()) return refuse(std::move(in.problems));
    return out;
}

Asked asked_of(const json& stored) {
    Asked out;
    if (!stored.is_object()) return out;
    if (const auto at = stored.find("side"); at != stored.end())
        out.side = *at == "back" ? photo::Side::kBack : photo::Side::kFront;
    if (const auto at = stored.find("rim_height_mm"); at != stored.end() && at->is_number())
        out.rim_height_mm = at->get<double>();
    if (const auto at = stored.find("rim"); at != stored.end()) out.rim = ellipse_from(*at);
    if (const auto at = stored.find("form"); at != stored.end() && at->is_string())
        out.form = at->get<std::string>();
    return out;
}

json to_json(const Asked& asked) {
    json out = json::object();
    if (asked.side) out["side"] = *asked.side == photo::Side::kBack ? "back" : "front";
    if (asked.rim_height_mm) out["rim_height_mm"] = *asked.rim_height_mm;
    if (asked.rim)
        out["rim"] = {{"centre_px", {asked.rim->centre.x, asked.rim->centre.y}},
                      {"axes_px", {asked.rim->a, asked.rim->b}},
                      {"angle_deg", asked.rim->angle_deg}};
    if (!asked.form.empty()) out["form"] = asked.form;
    return out;
}

Expected<ReadWithPictures> read_photograph(App& app, const std::string& sha256, const Asked& asked,
                                           const std::function<bool()>& stop) {
    const std::string where = fmt::format("photo-{}", sha256.substr(0, 12));
    auto bytes = app.store->photo_bytes(sha256);
    if (!bytes) return std::unexpected(bytes.error());
    auto reading = [&]() -> Expected<photo::Reading> {
        const DecodingSlot slot(app.decoding);
        if (stop()) return std::unexpected(was_stopped(where));
        return app.read_photo(*bytes, where, options_of(asked, app.book, stop));
    }();
    if (!reading) return std::unexpected(reading.error());
    ReadWithPictures out;
    out.reading.sha256 = sha256;
    out.reading.asked = to_json(asked);
    out.reading.found = json(photo::reading_json(*reading));
    out.reading.packs = app.packs;
    for (auto& [kind, picture] : {std::pair{"strip", &reading->strip_jpeg},
                                  {"repeat", &reading->repeat_png},
                                  {"tile", &reading->tile_png},
                                  {"upright", &reading->upright_jpeg},
                                  {"mark", &reading->wording.mark_png}})
        if (!picture->empty()) out.pictures[kind] = std::move(*picture);
    return out;
}

Expected<store::Reading> read_and_keep(App& app, const std::string& sha256, const Asked& asked,
                                       const std::function<bool()>& stop) {
    auto read = read_photograph(app, sha256, asked, stop);
    if (!read) return std::unexpected(read.error());
    return app.store->put_reading(std::move(read->reading), read->pictures);
}

// --- the queue

std::string_view name_of(ReadQueue::State state) {
    constexpr std::string_view kNames[] = {"waiting", "reading", "read", "failed", "stopped"};
    return kNames[static_cast<std::size_t>(state)];
}

bool ReadQueue::Job::finished() const {
    return std::ranges::none_of(
        items, [](const Item& item) { return item.state == State::kWaiting || item.state == State::kReading; });
}

Expected<ReadQueue::Job> ReadQueue::add(const std::vector<std::string>& photographs) {
    const std::lock_guard lock(mutex_);
    if (closed_)
        return fail(ProblemCode::kConflict, "readings", "the program is being stopped", "start it again, then try");
    Job job;
    job.id = fmt::format("r-{}", ++made_);
    job.began = now_();
    for (const std::string& sha256 : photographs)
        if (std::ranges::none_of(job.items, [&](const Item& item) { return item.sha256 == sha256; }))
            job.items.push_back({sha256, State::kWaiting, {}});
    jobs_.push_front(job);
    std::size_t kept = 0;
    std::erase_if(jobs_, [&](const Job& one) { return ++kept > kJobsKept && one.finished(); });
    if (!thread_.joinable()) thread_ = std::thread([this] { work(); });
    changed_.notify_all();
    return job;
}

ReadQueue::Job* ReadQueue::find(const std::string& id) {
    const auto at = std::ranges::find(jobs_, id, &Job::id);
    return at == jobs_.end() ? nullptr : &*at;
}

std::optional<ReadQueue::Job> ReadQueue::job(const std::string& id) const {
    const std::lock_guard lock(mutex_);
    const auto at = std::ranges::find(jobs_, id, &Job::id);
    return at == jobs_.end() ? std::nullopt : std::optional(*at);
}

std::vector<ReadQueue::Job> ReadQueue::jobs() const {
    const std::lock_guard lock(mutex_);
    return {jobs_.begin(), jobs_.end()};
}

std::optional<ReadQueue::Job> ReadQueue::stop(const std::string& id) {
    const std::lock_guard lock(mutex_);
    Job* job = find(id);
    if (job == nullptr) return std::nullopt;
    if (!job->finished()) job->stopped = true;
    for (Item& item : job->items)
        if (item.state == State::kWaiting) item.state = State::kStopped;
    return *job;
}

void ReadQueue::close() {
    {
        const std::lock_guard lock(mutex_);
        closed_ = true;
        for (Job& job : jobs_) {
            if (!job.finished()) job.stopped = true;
            for (Item& item : job.items)
                if (item.state == State::kWaiting) item.state = State::kStopped;
        }
        changed_.notify_all();
    }
    if (thread_.joinable()) thread_.join();
}

bool ReadQueue::closed() const {
    const std::lock_guard lock(mutex_);
    return closed_;
}

std::size_t ReadQueue::waiting() const {
    const std::lock_guard lock(mutex_);
    std::size_t out = 0;
    for (const Job& job : jobs_)
        out += static_cast<std::size_t>(std::ranges::count(job.items, State::kWaiting, &Item::state));
    return out;
}

std::optional<ReadQueue::Turn> ReadQueue::next() {
    std::unique_lock lock(mutex_);
    while (!closed_) {
        Job* shortest = nullptr;
        std::ptrdiff_t least = 0;
        for (Job& job : jobs_) {
            const auto left = std::ranges::count(job.items, State::kWaiting, &Item::state);
            // Of two that are as long, the older one: jobs_ is newest first.
            if (left > 0 && (shortest == nullptr || left <= least)) shortest = &job, least = left;
        }
        if (shortest != nullptr) {
            const auto item = std::ranges::find(shortest->items, State::kWaiting, &Item::state);
            item->state = State::kReading;
            return Turn{shortest->id, item->sha256, static_cast<std::size_t>(item - shortest->items.begin())};
        }
        changed_.wait(lock);
    }
    return std::nullopt;
}

void ReadQueue::work() {
    while (const auto turn = next()) {
        const auto stopped = [&] {
            const std::lock_guard lock(mutex_);
            const Job* job = find(turn->job);
            return closed_ || job == nullptr || job->stopped;
        };
        Expected<void> done;
        try {
            done = read_(turn->sha256, stopped);
        } catch (const std::exception&) {
            done = fail(ProblemCode::kOurFault, fmt::format("photo-{}", turn->sha256.substr(0, 12)),
                        "reading it failed through a mistake of the program",
                        "the photograph is kept; read it again, and report it when it happens again");
        }
        const bool given_up = !done && done.error().code == ProblemCode::kConflict && stopped();
        const std::lock_guard lock(mutex_);
        Job* job = find(turn->job);
        if (job == nullptr) continue;
        Item& item = job->items[turn->at];
        item.state = done ? State::kRead : given_up ? State::kStopped : State::kFailed;
        if (!done && !given_up) item.problem = done.error();
    }
}

}  // namespace footring::server
