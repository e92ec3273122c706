// SPDX-License-Identifier: Apache-2.0
#include "server/watch_port.h"

#include <fmt/format.h>
#include <httplib.h>

#include <thread>

#include "server/guard.h"

namespace footring::server {

struct WatchPort::Inner {
    httplib::Server server;
    std::thread thread;
    int port = 0;
};

WatchPort::WatchPort(std::unique_ptr<Inner> inner) : inner_(std::move(inner)) {}
WatchPort::~WatchPort() {
    inner_->server.stop();
    if (inner_->thread.joinable()) inner_->thread.join();
}
int WatchPort::port() const { return inner_->port; }

Expected<std::unique_ptr<WatchPort>> WatchPort::open(int port, const Metrics& metrics,
                                                     std::function<bool()> healthy) {
    auto inner = std::make_unique<Inner>();
    httplib::Server& server = inner->server;
    server.new_task_queue = [] { return new httplib::ThreadPool(2); };
    server.set_keep_alive_max_count(1);
    server.set_pre_routing_handler(
        [at = inner.get()](const httplib::Request& request, httplib::Response& response) {
            std::vector<std::string> hosts, origins;
            for (std::size_t i = 0; i < request.get_header_value_count("Host"); ++i)
                hosts.push_back(request.get_header_value("Host", i));
            for (std::size_t i = 0; i < request.get_header_value_count("Origin"); ++i)
                origins.push_back(request.get_header_value("Origin", i));
            const Caller caller{request.method, hosts, origins, request.get_header_value("Sec-Fetch-Site"), true};
            response.set_header("X-Content-Type-Options", "nosniff");
            response.set_header("Cache-Control", "no-store");
            if (!foreign(caller, Ours{.port = at->port})) return httplib::Server::HandlerResponse::Unhandled;
            response.status = 403;
            return httplib::Server::HandlerResponse::Handled;
        });
    server.Get("/metrics", [&metrics](const httplib::Request&, httplib::Response& response) {
        response.set_content(metrics.text(), "text/plain; version=0.0.4; charset=utf-8");
    });
    server.Get("/health", [healthy = std::move(healthy)](const httplib::Request&, httplib::Response& response) {
        const bool well = healthy();
        response.status = well ? 200 : 503;
        response.set_content(well ? "ok\n" : "the store does not answer\n", "text/plain; charset=utf-8");
    });
    inner->port =
        port == 0 ? server.bind_to_any_port("127.0.0.1") : (server.bind_to_port("127.0.0.1", port) ? port : -1);
    if (inner->port <= 0)
        return fail(ProblemCode::kStore, fmt::format("port {}", port),
                    "another program uses it, or it is not allowed",
                    "choose another one with --watch-port, such as --watch-port 0 for any free one");
    inner->thread = std::thread([at = inner.get()] { at->server.listen_after_bind(); });
    while (!server.is_running()) std::this_thread::yield();  // until then stop() does nothing
    return std::unique_ptr<WatchPort>(new WatchPort(std::move(inner)));
}

}  // namespace footring::server
