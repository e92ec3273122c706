// SPDX-License-Identifier: Apache-2.0
#include "server/serve.h"

#include <fmt/chrono.h>
#include <fmt/format.h>
#include <pthread.h>
#include <signal.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>
#include <utility>

#include "base/text.h"
#include "exchange/cupboard.h"
#include "exchange/json_text.h"
#include "exchange/letter.h"
#include "server/app.h"
#include "server/backup_thread.h"
#include "server/desk.h"
#include "server/log.h"
#include "server/records.h"
#include "server/spare_memory.h"
#include "server/transport.h"
#include "server/watch_port.h"

namespace footring::server {

namespace {

std::string clock_of_the_machine() {
    const auto now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(now));
}

class Running final : public Server {
  public:
    Running(std::unique_ptr<SpareMemory> spare, std::unique_ptr<House> house, Desk desk,
            std::filesystem::path pages, Listening where, LogForm log)
        : spare_(std::move(spare)),
          house_(std::move(house)),
          desk_(std::move(desk)),
          log_(log),
          where_(where),
          transport_(*house_, routes_at(desk_), std::move(pages), std::move(where), [this](const Seen& seen) {
              metrics_.answered(seen);
              log_.request(seen);
          }) {}

    Expected<void> listen(int port) {
        const auto bound = transport_.start(port);
        if (!bound) return std::unexpected(bound.error());
        port_ = *bound;
        log_.event(true, "listening", {{"port", fmt::format("{}", port_)}});
        return {};
    }
    // A store that answers is healthy, whatever it holds.
    Expected<void> let_watch(int port) {
        auto opened = WatchPort::open(port, metrics_,
                                      [this] { return house_->current()->store->last_undoable().has_value(); });
        if (!opened) return std::unexpected(opened.error());
        watch_ = std::move(*opened);
        return {};
    }
    void make_backups(const store::KeepBackups& keep) {
        backups_.emplace(house_->data, keep, house_->now, [this](bool well, const std::string& what) {
            metrics_.backup(
                well, static_cast<double>(std::chrono::system_clock::to_time_t(std::chrono::system_clock::now())));
            log_.event(well, "backup", {{well ? "file" : "problem", what}});
        });
    }
    int port() const override { return port_; }
    std::string address() const override {
        return fmt::format("{}://{}:{}/", where_.ours.scheme, where_.shown, port_);
    }
    std::optional<int> watch_port() const override { return watch_ ? std::optional(watch_->port()) : std::nullopt; }
    std::optional<Certificate> certificate() const override { return where_.certificate; }
    void stop() override {
        watch_.reset();
        backups_.reset();
        desk_.reexaminer->stop();
        desk_.importer->stop();
        house_->changes.close();   // first: nobody waits for what may never come
        house_->readings.close();  // and readings that somebody waits for are given up too
        transport_.stop();
    }
    bool running() const override { return transport_.running(); }

  private:
    std::unique_ptr<SpareMemory> spare_;
    std::unique_ptr<House> house_;
    Desk desk_;  // behind the house: its threads work on what the house has
    const Log log_;
    Metrics metrics_;
    const Listening where_;
    Transport transport_;  // last: it stops before what it works on goes away
    std::optional<BackupThread> backups_;
    std::unique_ptr<WatchPort> watch_;
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

// Names that are given come first: they are what the house is opened by.
Expected<Listening> listening_for(const Options& options) {
    Listening out;
    if (!options.share) return out;
    const Share& share = *options.share;
    out.address = share.address;
    std::vector<std::string> names = share.names;
    const bool everywhere = share.address == "0.0.0.0" || share.address == "::";
    for (const std::string& name : names_of_this_machine(share.address))
        if (std::ranges::find(names, name) == names.end()) names.push_back(name);
    auto certificate = share.certificate.empty() ? own_certificate(options.data / "tls", names, options.now())
                                                 : given_certificate(share.certificate, share.key, options.now());
    if (!certificate) return std::unexpected(certificate.error());
    out.certificate = std::move(*certificate);
    out.ours.scheme = "https";
    // A name that others can use, when none is given.
    const auto others = std::ranges::find_if(
        names, [](const std::string& name) { return name != "localhost" && name != "127.0.0.1" && name != "::1"; });
    out.shown = as_authority(!share.names.empty()    ? share.names.front()
                             : !everywhere           ? share.address
                             : others != names.end() ? *others
                                                     : names.front());
    out.ours.names.clear();
    for (const std::string& name : names) out.ours.names.push_back(as_authority(lower(name)));
    return out;
}

// A house that is shared and has no keeper could only be opened by nobody.
Expected<void> somebody_keeps(store::People& people) {
    const auto accounts = people.accounts();
    if (!accounts) return std::unexpected(accounts.error());
    if (std::ranges::find(*accounts, Role::kKeeper, &store::Account::role) != accounts->end()) return {};
    return fail(ProblemCode::kNotFound, "--share", "there is no account of a keeper, so that nobody could sign in",
                "make one with `footring account add NAME --role keeper`");
}

std::string words_of(const Certificate& certificate) {
    if (!certificate.own)
        return fmt::format("Its certificate is {}, valid until {}.\n", certificate.certificate.string(),
                           certificate.until.substr(0, 10));
    return fmt::format(
        "Its certificate is its own{}, valid until {}. A browser asks once whether to trust it; do so when it "
        "shows\n"
        "this SHA-256 fingerprint: {}\n",
        certificate.made_now ? ", made just now" : "", certificate.until.substr(0, 10), certificate.fingerprint);
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
    auto spare_memory = std::make_unique<SpareMemory>();  // before much is held
    // First: packs with faults leave no trace in the data folder.
    auto editor = BookEditor::start(std::move(homes), options.data, options.now);
    if (!editor) return std::unexpected(std::move(editor.error()));
    auto store = store::open_store(options.place.value_or(store::Place{options.data, "", "", "", ""}), options.now);
    if (!store) return refuse(store.error());
    if (options.share)
        if (auto hidden = exchange::hide_borrowed(**store); !hidden) return refuse(hidden.error());
    if (options.share)
        if (auto kept = somebody_keeps((*store)->people()); !kept) return refuse(kept.error());
    auto where = listening_for(options);  // with the folder in hand: no other server makes a certificate meanwhile
    if (!where) return refuse(where.error());
    auto house = std::make_unique<House>(
        std::move(*store), options.settings, options.data, options.now,
        House::Manner{options.share.has_value(), std::move(options.passwords), std::move(options.read_photo),
                      options.place && !options.place->database.empty()});
    (*editor)->open_into([&kept = *house](book::Book book) { kept.open(std::move(book)); });
    const std::shared_ptr<BookEditor> packs = std::move(*editor);
    Desk desk{packs,
              std::make_shared<Reexaminer>(options.data,
                                           [packs] {
                                               std::vector<std::filesystem::path> folders;
                                               for (auto& state : packs->states()) folders.push_back(state.folder);
                                               return folders;
                                           }),
              std::make_shared<Importer>()};
    if (auto noted = desk.reexaminer->begin_with_these_packs(); !noted) return refuse(noted.error());
    if (options.demo)
        if (auto filled = fill_when_empty(*house->current(), *options.demo); !filled)
            return std::unexpected(filled.error());
    auto running =
        std::make_unique<Running>(std::move(spare_memory), std::move(house), std::move(desk), options.app,
                                  std::move(*where), options.quiet ? LogForm::kNone : options.log);
    if (auto listening = running->listen(options.port); !listening) return refuse(listening.error());
    if (options.watch_port)
        if (auto watching = running->let_watch(*options.watch_port); !watching) return refuse(watching.error());
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
        const auto certificate = (*server)->certificate();
        if (json) {
            nlohmann::ordered_json told{{"address", (*server)->address()}, {"data", data}};
            if (certificate) told["fingerprint"] = certificate->fingerprint;
            if (const auto watch = (*server)->watch_port())
                told["watch"] = fmt::format("http://127.0.0.1:{}/", *watch);
            out << exchange::print_json(told) << std::endl;
        } else {
            out << fmt::format("Footring is at {}\n{}Press Ctrl+C here to stop it.\n", (*server)->address(),
                               certificate ? words_of(*certificate) : "")
                << std::flush;
        }
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
