// server/serve.h - the web app on this machine: HTTP API and pages over one store and the open packs.
//   Listens on 127.0.0.1 only and answers only requests whose Host (and Origin, when there is one) is this address:
//   other people's web pages and other machines cannot reach it. When it is shared it listens where it is told to,
//   over TLS only, and lets in who has an account. The API is openapi.json, beside this file.
//   errors  every fault of the packs; kStore when the folder or the port cannot be used (with what to do)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "base/problem.h"
#include "base/settings.h"
#include "server/log.h"
#include "server/password.h"
#include "server/readings.h"
#include "server/tls.h"
#include "store/automatic_backups.h"
#include "store/place.h"
#include "store/store.h"

namespace footring::server {

struct Share {
    std::string address = "0.0.0.0";  // of this machine; 0.0.0.0: all of them
    std::vector<std::string> names;   // under which it is opened besides those that the machine knows itself by
    std::filesystem::path certificate, key;  // PEM; empty: one of its own, server/tls.h
};

struct Options {
    std::filesystem::path data;                // folder of the store, and of packs' copies; made when missing
    std::optional<store::Place> place;         // absent: the store is in `data`
    int port = 8377;                           // 0: any free one
    std::vector<std::filesystem::path> packs;  // at least one
    std::filesystem::path law;                 // opened besides, unless one of its name is among them; empty: none
    Settings settings;
    std::filesystem::path app;                  // the built web app; empty: a page that says how to build it
    std::optional<std::filesystem::path> demo;  // cupboard folder, read into the store when the store is empty
    store::Now now;                             // absent: the clock of the machine
    std::optional<store::KeepBackups> backups;  // absent: makes none by itself
    std::optional<Share> share;                 // absent: for the person at this machine alone
    std::shared_ptr<Passwords> passwords;       // absent: argon2id()
    ReadPhoto read_photo;                       // absent: photo::read() over the packs
    LogForm log = LogForm::kWords;
    std::optional<int> watch_port;  // server/watch_port.h; 0: any free one; absent: none
    bool quiet = false;             // no log lines on standard error
    bool json = false;              // serve() says where it is as a line of JSON: {address, data}
};

class Server {
  public:
    static std::expected<std::unique_ptr<Server>, std::vector<Problem>> start(Options);
    virtual ~Server() = default;  // stops
    virtual int port() const = 0;
    virtual std::string address() const = 0;  // "http://127.0.0.1:8377/"
    virtual std::optional<int> watch_port() const = 0;
    virtual std::optional<Certificate> certificate() const = 0;  // absent: not shared
    virtual void stop() = 0;  // returns when running requests have been answered; twice is harmless
    virtual bool running() const = 0;
};

// Serves until SIGINT or SIGTERM arrives; says on `out` where it is and how to stop it.
std::expected<void, std::vector<Problem>> serve(Options, std::ostream& out);

}  // namespace footring::server
