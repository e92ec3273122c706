// SPDX-License-Identifier: Apache-2.0
#include "server/serve.h"

#include <fmt/chrono.h>
#include <fmt/format.h>
#include <pthread.h>
#include <signal.h>
#include <spdlog/logger.h>
#include <spdlog/sinks/null_sink.h>
#include <spdlog/sinks/stdout_sinks.h>

#include <chrono>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>
#include <utility>

#include "exchange/cupboard.h"
#include "exchange/json_text.h"
#include "server/app.h"
#include "server/backup_thread.h"
#include "server/desk.h"
#include "server/records.h"
#include "server/transport.h"

namespace footring::server {

namespace {

std::string clock_of_the_machine() {
    const auto now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(now));
}

std::shared_ptr<spdlog::logger> log_to_standard_error(bool quiet) {
    if (quiet) return std::make_shared<spdlog::logger>("footring", std::make_shared<spdlog::sinks::null_sink_mt>());
    auto log = std::make_shared<spdlog::logger>("footring", std::make_shared<spdlog::sinks::stderr_sink_mt>());
    log->set_pattern("%Y-%m-%dT%H:%M:%S.%e %l %v");
    return log;
}

class Running final : public Server {
  public:
    Running(std::unique_ptr<House> house, Desk desk, std::filesystem::path pages,
            std::shared_ptr<spdlog::logger> log)
        : house_(std::move(house)),
          desk_(std::move(desk)),
          log_(std::move(log)),
          transport_(*house_, routes_at(desk_), std::move(pages), [this](const Seen& seen) {
              log_->log(seen.status >= 500 ? spdlog::level::err : spdlog::level::info, "{} {} {} {:.1f} ms",
                        seen.method, seen.pattern, seen.status, seen.milliseconds);
          }) {}

    Expected<void> listen(int port) {
        const auto bound = transport_.start(port);
        if (!bound) return std::unexpected(bound.error());
        port_ = *bound;
        log_->info("listening on port {}", port_);
        return {};
    }
    void make_backups(const store::KeepBackups& keep) {
        backups_.emplace(house_->data, keep, house_->now, [log = log_](bool well, const std::string& what) {
            log->log(well ? spdlog::level::info : spdlog::level::err, "{}", what);
        });
    }
    int port() const override { return port_; }
    std::string address() const override { return fmt::format("http://127.0.0.1:{}/", port_); }
    void stop() override {
        backups_.reset();
        desk_.reexaminer->stop();
        house_->changes.close();   // first: nobody waits for what may never come
        house_->readings.close();  // and readings that somebody waits for are given up too
        transport_.stop();
    }
    bool running() const override { return transport_.running(); }

  private:
    std::unique_ptr<House> house_;
    Desk desk_;  // behind the house: its threads work on what the house has
    std::shared_ptr<spdlog::logger> log_;
    Transport transport_;  // last: it stops before what it works on goes away
    std::optional<BackupThread> backups_;
    int port_ = 0;
};

// The demo belongs into an empty cupboard only: it never mixes with a person's own pieces.
std::expected<void, Problems> fill_when_empty(App& app, const std::filesystem::path& folder) {
    const auto pieces = pieces_kept(app);
    if (!pieces) return refuse(pieces.error());
    const auto history = app.store->recent(1);
    if (!history) return refuse(history.error());
    if (*pieces > 0 || !history->empty()) return {};
    auto filled = exchange::import_folder(*app.store, &app.book, folder);
    if (!filled) return refuse(std::move(filled.error()));
    return {};
}

// The name that a pack gives itself; empty where it cannot be read: whoever opens it says why.
std::string name_of_pack(const std::filesystem::path& folder) {
    std::ifstream file(folder / "datapackage.json");
    const auto descriptor = nlohmann::json::parse(file, nullptr, false);
    return descriptor.is_object() ? descriptor.value("name", "") : "";
}

// The pack that holds for any maker is open besides, unless one of that name is; it is not the person's to edit.
void add_law(std::vector<PackHome>& homes, const std::filesystem::path& law) {
    if (law.empty()) return;
    const std::string name = name_of_pack(law);
    for (const PackHome& home : homes)
        if (name_of_pack(home.folder) == name) return;
    homes.push_back({law, std::nullopt, true});
}

std::vector<PackHome> in_their_places(const Options& options) {
    std::vector<PackHome> homes;
    for (const std::filesystem::path& pack : options.packs) homes.push_back({pack, std::nullopt, false});
    return homes;
}

}  // namespace

std::expected<std::unique_ptr<Server>, std::vector<Problem>> Server::start(Options options) {
    std::vector<PackHome> homes = in_their_places(options);
    return start_server(std::move(options), std::move(homes));
}

std::expected<std::unique_ptr<Server>, std::vector<Problem>> start_server(Options options,
                                                                          std::vector<PackHome> homes) {
    if (homes.empty())
        return refuse(ProblemCode::kBadInput, "--pack", "no reference pack is given",
                      "name at least one pack folder");
    add_law(homes, options.law);
    if (!options.now) options.now = clock_of_the_machine;
    // First: packs with faults leave no trace in the data folder.
    auto editor = BookEditor::start(std::move(homes), options.data, options.now);
    if (!editor) return std::unexpected(std::move(editor.error()));
    auto store = store::open_store(options.place.value_or(store::Place{options.data, "", "", "", ""}), options.now);
    if (!store) return refuse(store.error());
    auto house = std::make_unique<House>(std::move(*store), options.settings, options.data, options.now,
                                         std::move(options.read_photo));
    (*editor)->open_into([&kept = *house](book::Book book) { kept.open(std::move(book)); });
    Desk desk{std::move(*editor), std::make_shared<Reexaminer>()};
    if (options.demo)
        if (auto filled = fill_when_empty(*house->current(), *options.demo); !filled)
            return std::unexpected(filled.error());
    auto running = std::make_unique<Running>(std::move(house), std::move(desk), options.app,
                                             log_to_standard_error(options.quiet));
    if (auto listening = running->listen(options.port); !listening) return refuse(listening.error());
    if (options.backups) running->make_backups(*options.backups);
    return running;
}

std::expected<void, std::vector<Problem>> serve(Options options, std::ostream& out) {
    std::vector<PackHome> homes = in_their_places(options);
    return serve(std::move(options), std::move(homes), out);
}

std::expected<void, std::vector<Problem>> serve(Options options, std::vector<PackHome> homes, std::ostream& out) {
    // Blocked before any thread begins, so that every thread inherits it and only the wait below receives them.
    sigset_t ends, before;
    sigemptyset(&ends);
    sigaddset(&ends, SIGINT);
    sigaddset(&ends, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &ends, &before);
    const bool json = options.json;
    const std::string data = options.data.string();
    auto server = start_server(std::move(options), std::move(homes));
    if (server) {
        if (json)
            out << exchange::print_json(nlohmann::ordered_json{{"address", (*server)->address()}, {"data", data}})
                << std::endl;
        else
            out << fmt::format("Footring is at {}\nPress Ctrl+C here to stop it.\n", (*server)->address())
                << std::flush;
        const timespec half_a_second{0, 500'000'000};
        while ((*server)->running() && sigtimedwait(&ends, nullptr, &half_a_second) < 0) {
        }
        (*server)->stop();
        if (!json) out << "Footring has stopped; everything is saved.\n" << std::flush;
    }
    pthread_sigmask(SIG_SETMASK, &before, nullptr);
    if (!server) return std::unexpected(std::move(server.error()));
    return {};
}

}  // namespace footring::server
