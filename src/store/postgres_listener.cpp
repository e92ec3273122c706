// SPDX-License-Identifier: Apache-2.0
#include "store/postgres_listener.h"

#include <libpq-fe.h>
#include <poll.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include <cstdint>
#include <memory>
#include <stdexcept>

namespace footring::store {

namespace {

constexpr int kRetryMs = 1000;
constexpr int kLookMs = 30'000;  // a connection that is dead without a word is noticed by asking it something

struct Finish {
    void operator()(PGconn* connection) const { PQfinish(connection); }
};
struct Clear {
    void operator()(PGresult* result) const { PQclear(result); }
};
using Connection = std::unique_ptr<PGconn, Finish>;

bool ask(PGconn* connection, const std::string& what) {
    const std::unique_ptr<PGresult, Clear> result(PQexec(connection, what.c_str()));
    const auto status = PQresultStatus(result.get());
    return status == PGRES_COMMAND_OK || status == PGRES_TUPLES_OK;
}

// Takes what has arrived; whether there was any.
bool heard(PGconn* connection) {
    bool any = false;
    while (PGnotify* one = PQnotifies(connection)) {
        PQfreemem(one);
        any = true;
    }
    return any;
}

}  // namespace

PostgresListener::PostgresListener(std::string address, Bell& bell)
    : address_(std::move(address)), bell_(bell), stop_(::eventfd(0, EFD_CLOEXEC)) {
    if (stop_ < 0) throw std::runtime_error("no event for the listener");
    thread_ = std::thread([this] { run(); });
}

PostgresListener::~PostgresListener() {
    const std::uint64_t one = 1;
    [[maybe_unused]] const auto written = ::write(stop_, &one, sizeof one);
    thread_.join();
    ::close(stop_);
}

void PostgresListener::run() {
    Connection connection;
    for (;;) {
        if (!connection) {
            connection.reset(PQconnectdb(address_.c_str()));
            if (PQstatus(connection.get()) != CONNECTION_OK ||
                !ask(connection.get(), "SET application_name = 'footring'") ||
                !ask(connection.get(), std::string("LISTEN ") + kChannel))
                connection.reset();
            else bell_.ring();
        }
        pollfd both[] = {{stop_, POLLIN, 0}, {connection ? PQsocket(connection.get()) : -1, POLLIN, 0}};
        const int ready = ::poll(both, connection ? 2 : 1, connection ? kLookMs : kRetryMs);
        if ((both[0].revents & POLLIN) != 0) return;
        if (!connection) continue;
        const bool alive = ready > 0 ? PQconsumeInput(connection.get()) == 1 : ask(connection.get(), "SELECT 1");
        if (heard(connection.get())) bell_.ring();
        if (!alive || PQstatus(connection.get()) != CONNECTION_OK) connection.reset();
    }
}

}  // namespace footring::store
