// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <signal.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <thread>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "server/queue_work.h"

namespace footring::cli {

namespace {

constexpr int kShortestLease = 5, kLongestLease = 3600;  // seconds

std::string own_name() {
    std::array<char, 256> host{};
    ::gethostname(host.data(), host.size() - 1);
    return fmt::format("{}-{}", host.data(), ::getpid());
}

// Whether somebody asked the program to end, from its making on.
class Ending {
  public:
    Ending() {
        sigemptyset(&ends_);
        sigaddset(&ends_, SIGINT);
        sigaddset(&ends_, SIGTERM);
        // Before any thread begins, so that every thread inherits it and only the one below receives them.
        pthread_sigmask(SIG_BLOCK, &ends_, &before_);
        thread_ = std::jthread([this](const std::stop_token& done) {
            const timespec a_while{0, 200'000'000};
            while (!done.stop_requested() && !asked_)
                if (sigtimedwait(&ends_, nullptr, &a_while) > 0) asked_ = true;
        });
    }
    ~Ending() {
        thread_.request_stop();
        thread_.join();
        pthread_sigmask(SIG_SETMASK, &before_, nullptr);
    }
    Ending(const Ending&) = delete;
    Ending& operator=(const Ending&) = delete;
    bool asked() const { return asked_; }

  private:
    sigset_t ends_, before_;
    std::atomic<bool> asked_ = false;
    std::jthread thread_;
};

std::string_view name_of(server::QueueWorked::How how) {
    constexpr std::string_view kNames[] = {"read", "failed", "lost", "given-back"};
    return kNames[static_cast<std::size_t>(how)];
}

std::string line_of(const server::QueueWorked& one, bool json) {
    if (!json)
        return fmt::format("{} {} ({:.1f} s){}\n", one.sha256.substr(0, 12), name_of(one.how), one.seconds,
                           one.problem ? ": " + to_line(*one.problem) : "");
    nlohmann::ordered_json told{{"sha256", one.sha256}, {"how", name_of(one.how)}, {"seconds", one.seconds}};
    if (one.problem) told["problem"] = to_line(*one.problem);
    return json_line(told);
}

Outcome look(const Call& call, store::ReadingQueue& queue, std::int64_t added, std::int64_t revived) {
    const auto counts = queue.counts();
    if (!counts) return refuse(counts.error());
    const auto dead = queue.dead();
    if (!dead) return refuse(dead.error());
    if (call.json()) {
        auto listed = nlohmann::ordered_json::array();
        for (const store::Task& task : *dead)
            listed.push_back({{"sha256", task.sha256}, {"tries", task.tries}, {"said", task.said}});
        return page(json_line({{"added", added},
                               {"revived", revived},
                               {"waiting", counts->waiting},
                               {"leased", counts->leased},
                               {"dead", std::move(listed)}}));
    }
    std::string text =
        fmt::format("{} waiting, {} being read, {} dead\n", counts->waiting, counts->leased, counts->dead);
    for (const store::Task& task : *dead)
        text += fmt::format("  {} after {} tries: {}\n", task.sha256, task.tries, task.said);
    return page(std::move(text));
}

Outcome reader(const Call& call, World& world) {
    const Ending ending;
    auto reference = open_reference_with_law(call, world);  // as a server opens them
    if (!reference) return refuse(reference.error());
    server::QueueWork work;
    work.reader = call.one("--name").value_or(own_name());
    work.until_empty = call.has("--until-empty");
    if (const auto text = call.one("--lease")) {
        const auto seconds = to_int(*text);
        if (!seconds || *seconds < kShortestLease || *seconds > kLongestLease)
            return refuse({ProblemCode::kBadInput, "--lease", fmt::format("'{}' is no time of a lease", *text),
                           fmt::format("give seconds from {} to {}", kShortestLease, kLongestLease)});
        work.lease = std::chrono::seconds(*seconds);
    }
    const auto place = place_of(call, world);
    if (!place) return refuse(place.error());
    auto store = open_cupboard(*place, WhenMissing::kRefuse);
    if (!store) return refuse(store.error());
    server::House::Manner manner;
    manner.in_database = !place->database.empty();
    server::House house(std::move(*store), reference->settings, place->folder, utc_now, std::move(manner));
    house.open(std::move(reference->book));
    const auto app = house.current();
    store::ReadingQueue& queue = app->store->reading_queue();
    std::int64_t added = 0, revived = 0;
    if (call.has("--revive")) {
        const auto done = queue.revive();
        if (!done) return refuse(done.error());
        revived = *done;
    }
    if (call.has("--fill")) {
        const auto done = server::fill_queue(*app);
        if (!done) return refuse(done.error());
        added = *done;
    }
    if (call.has("--look")) return look(call, queue, added, revived);
    const auto worked = server::work_queue(
        *app, work, [&] { return ending.asked(); },
        [&](const server::QueueWorked& one) { world.out << line_of(one, call.json()) << std::flush; });
    if (!worked) return refuse(worked.error());
    return {};
}

}  // namespace

Command reader_command() {
    return {
        .name = "reader",
        .sentence = "Reads the photographs that wait in the queue of a store, beside any number of other readers.",
        .detail =
            {"For an archive: start as many as there are processors, on as many machines as reach the database and "
             "the photographs. Each takes a photograph for a while, reads it and keeps what it read; what a reader "
             "had that was killed or cut off goes to another, and every photograph gets one result. One that fails "
             "five times is laid aside as dead, with what was said of it.",
             "Give all of them the same packs. It prints a line for each photograph and ends when it is asked to "
             "(Ctrl+C, SIGTERM), giving back what it was reading."},
        .arguments = {},
        .options = {cupboard_option(),
                    pack_option(),
                    {.name = "--fill",
                     .value = "",
                     .sentence = "First adds the photographs that were not read with these packs."},
                    {.name = "--until-empty", .value = "", .sentence = "Ends when nothing is left to be read."},
                    {.name = "--lease",
                     .value = "SECONDS",
                     .sentence = "How long a photograph waits for a reader that has gone; 120 when absent."},
                    {.name = "--name",
                     .value = "NAME",
                     .sentence = "Its name in the queue; host and process when absent."},
                    {.name = "--revive", .value = "", .sentence = "First lets the dead wait again, as if new."},
                    {.name = "--look",
                     .value = "",
                     .sentence = "Reads nothing: tells how many wait, and which are dead and why."},
                    set_option()},
        .run = reader};
}

}  // namespace footring::cli
