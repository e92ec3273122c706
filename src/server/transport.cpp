// SPDX-License-Identifier: Apache-2.0
#include "server/transport.h"

// Before httplib.h, whose resolv.h makes a macro of a name that Eigen (worth/) uses.
#include "server/app.h"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <httplib.h>
#include <sys/socket.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <exception>
#include <thread>
#include <utility>

#include "base/text.h"
#include "photo/thumbnail.h"
#include "server/files.h"
#include "server/guard.h"
#include "server/router.h"

namespace footring::server {

namespace {

constexpr int kThreads = 16 + ChangeFeed::kMostWaiting;
constexpr int kWaiting = 128;  // connections that the kernel holds for us; a page of glyphs opens many at once
// Handshakes and slow lines of many people hold some of them.
constexpr int kThreadsShared = 64 + ChangeFeed::kMostWaiting;
constexpr const char* kBatchesHeader = "Footring-Batches";  // "41,42", oldest first
constexpr std::size_t kMostDiscarded = 2 * photo::kMostBytes;
constexpr std::size_t kMostDiscardedOfStrangers = 1u << 20;
constexpr std::size_t kMostOfStrangers = 64u << 10;  // a name and a password are less

template <class Base>
class Listener final : public Base {
  public:
    using Base::Base;
    // The library asks the kernel for five waiting connections; a sixth would wait a second for its next try.
    void lengthen_queue() { ::listen(this->svr_sock_, kWaiting); }
};

// The library would answer parts of what a route gave (Range) and compress it. Neither is wanted between two
// programs on one machine, and a Range beyond the end is not checked by it.
void without_extras(const httplib::Request& request) {
    auto& open =
        const_cast<httplib::Request&>(request);  // it lives in the library's own frame and is not const there
    open.ranges.clear();
    open.headers.erase("Accept-Encoding");
}

std::vector<std::string> all_headers(const httplib::Request& request, const char* name) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < request.get_header_value_count(name); ++i)
        out.push_back(request.get_header_value(name, i));
    return out;
}

std::string media_type(const std::string& header) {
    return lower(trim(std::string_view(header).substr(0, header.find(';'))));
}

struct SafeHeader {
    const char *name, *value;
};
constexpr SafeHeader kSafeHeaders[] = {
    {"Content-Security-Policy",
     "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; form-action 'self'; "
     "frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"X-Frame-Options", "DENY"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Permissions-Policy", "geolocation=(), microphone=(), payment=(), usb=()"},
    {"Cache-Control", "no-store"},
};

bool takes_type(Takes takes, const std::string& type) {
    if (takes == Takes::kJson) return type == "application/json";
    return type.starts_with("image/") || type == "application/octet-stream";
}

std::size_t most_bytes(Takes takes) {
    return takes == Takes::kPhoto ? photo::kMostBytes : takes == Takes::kJson ? kMostJson : 0;
}

}  // namespace

struct Transport::Inner {
    House& house;
    std::vector<Route> routes;
    std::filesystem::path pages;
    Listening where;
    std::function<void(const Seen&)> log;
    std::unique_ptr<httplib::Server> listener;
    std::function<void()> lengthen_queue;
    std::thread thread;
    std::atomic<bool> running = false;

    Inner(House& h, std::vector<Route> r, std::filesystem::path p, Listening w, std::function<void(const Seen&)> l)
        : house(h), routes(std::move(r)), pages(std::move(p)), where(std::move(w)), log(std::move(l)) {
        if (where.certificate) {
            hold(std::make_unique<Listener<httplib::SSLServer>>(
                [&](SSL_CTX& context) { return use(context, *where.certificate); }));
        } else {
            hold(std::make_unique<Listener<httplib::Server>>());
        }
    }
    template <class L>
    void hold(std::unique_ptr<L> made) {
        lengthen_queue = [at = made.get()] { at->lengthen_queue(); };
        listener = std::move(made);
    }

    void set_up();
    void answer(const httplib::Request&, httplib::Response&, const httplib::ContentReader* reader);
    Reply reply_to(const httplib::Request&, const httplib::ContentReader* reader, std::string& pattern);
    std::expected<std::string, Problems> body(const httplib::Request&, const httplib::ContentReader*, Takes,
                                              bool stranger);
    Answered answer_route(const httplib::Request&, const httplib::ContentReader*, const Matched&, Visitor);
};

namespace {

bool has_body(const httplib::Request& request) {
    return request.has_header("Transfer-Encoding") ||
           (request.has_header("Content-Length") && request.get_header_value("Content-Length") != "0");
}

// Reads what is left, so that the caller gets to see the answer instead of a broken connection.
void discard(const httplib::Request& request, const httplib::ContentReader* reader,
             std::size_t most = kMostDiscarded) {
    if (reader == nullptr || !has_body(request) || request.is_multipart_form_data()) return;
    std::size_t seen = 0;
    (*reader)([&](const char*, std::size_t n) { return (seen += n) < most; });
}

// Which role a route needs, said to who has another; absent: let in.
std::optional<Problem> shut_out(const Visitor& visitor, Role needs) {
    if (visitor.role >= needs) return std::nullopt;
    if (visitor.role == Role::kNobody)
        return Problem{ProblemCode::kNotKnown, "account", "you are not signed in", "sign in and try again"};
    return Problem{ProblemCode::kNotAllowed, "account",
                   fmt::format("a {} may not do this", store::name_of(visitor.role)),
                   fmt::format("ask a keeper to make you a {}", store::name_of(needs))};
}

}  // namespace

std::expected<std::string, Problems> Transport::Inner::body(const httplib::Request& request,
                                                            const httplib::ContentReader* reader, Takes takes,
                                                            bool stranger) {
    std::string out;
    if (reader == nullptr || !has_body(request)) return out;
    const std::size_t most_discarded = stranger ? kMostDiscardedOfStrangers : kMostDiscarded;
    const std::string type = media_type(request.get_header_value("Content-Type"));
    if (takes != Takes::kNone && !takes_type(takes, type)) {
        discard(request, reader, most_discarded);
        return refuse(
            ProblemCode::kBadInput, "Content-Type header",
            fmt::format("a body of type '{}' is not taken here", type),
            takes == Takes::kJson ? "send application/json" : "send the photograph's own type, as image/jpeg");
    }
    if (takes == Takes::kNone) {
        discard(request, reader, most_discarded);
        return out;
    }
    const std::size_t most = stranger ? std::min(most_bytes(takes), kMostOfStrangers) : most_bytes(takes);
    std::size_t seen = 0;
    const bool whole = (*reader)([&](const char* data, std::size_t n) {
        seen += n;
        if (seen <= most) out.append(data, n);
        return seen < most_discarded;
    });
    const std::string declared = request.get_header_value("Content-Length");
    if (seen > most ||
        (!whole && declared.size() > 7 && to_number(declared).value_or(0) > static_cast<double>(most)))
        return refuse(ProblemCode::kTooLarge, "body",
                      most < 1'000'000 ? fmt::format("it is larger than {} kB", most >> 10)
                                       : fmt::format("it is larger than {} MB", most / 1'000'000),
                      takes == Takes::kJson ? "send it in several parts" : "send a smaller photograph");
    if (!whole)
        return refuse(ProblemCode::kBadInput, "body", "it ended early or cannot be decompressed", "send it again");
    return out;
}

Answered Transport::Inner::answer_route(const httplib::Request& request, const httplib::ContentReader* reader,
                                        const Matched& matched, Visitor visitor) {
    Request call;
    call.method = matched.route->method;
    call.values = matched.values;
    for (const auto& [name, value] : request.params) {
        if (!is_utf8(name) || !is_utf8(value)) {
            discard(request, reader);
            return refuse(ProblemCode::kBadInput, "query", "it is not UTF-8 text", "correct the address");
        }
        call.query.emplace(name, value);
    }
    auto read = body(request, reader, matched.route->takes, visitor.role == Role::kNobody);
    if (!read) return refuse(std::move(read.error()));
    call.body = std::move(*read);
    call.content_type = media_type(request.get_header_value("Content-Type"));
    call.if_none_match = request.get_header_value("If-None-Match");
    call.visitor = std::move(visitor);
    const std::shared_ptr<App> app = house.for_visitor(call.visitor);  // the Book may change while this is answered
    auto answered = matched.route->answer(*app, call);
    // What was changed can be undone by whoever asked for it, whatever others have changed since.
    if (const auto batches = app->store->take_own_batches(); answered && !batches.empty())
        answered->headers.emplace_back(kBatchesHeader, fmt::format("{}", fmt::join(batches, ",")));
    return answered;
}

Reply Transport::Inner::reply_to(const httplib::Request& request, const httplib::ContentReader* reader,
                                 std::string& pattern) {
    const auto no = [&](Problem problem, int status) {
        discard(request, reader, where.certificate ? kMostDiscardedOfStrangers : kMostDiscarded);
        return problem_reply({std::move(problem)}, status);
    };
    const auto segments = path_segments(request.target);
    if (!segments) return no(segments.error(), 400);
    const bool api = !segments->empty() && segments->front() == "api";
    pattern = api ? "/api/?" : "/(page)";
    const Caller caller{request.method, all_headers(request, "Host"), all_headers(request, "Origin"),
                        request.get_header_value("Sec-Fetch-Site"), api};
    if (auto problem = foreign(caller, where.ours)) return no(std::move(*problem), 403);
    if (!api) {
        if (request.method != "GET" && request.method != "HEAD") {
            Reply reply = no({ProblemCode::kBadInput, "method", "pages can only be read", "use GET"}, 405);
            reply.headers.emplace_back("Allow", "GET, HEAD");
            return reply;
        }
        auto page = app_file(pages, *segments);
        return page ? std::move(*page) : problem_reply(page.error());
    }
    const auto stranger = [&](const Problem& problem) {
        discard(request, reader, kMostDiscardedOfStrangers);
        return problem_reply({problem});
    };
    if (const auto wait = house.door.too_many(request.remote_addr)) {
        Reply reply = stranger({ProblemCode::kTooMany, "requests", "there are too many from this address",
                                "wait a moment and try again"});
        reply.headers.emplace_back("Retry-After", fmt::format("{:.0f}", std::ceil(*wait)));
        return reply;
    }
    auto visitor = house.door.visitor(all_headers(request, "Cookie"), request.remote_addr);
    if (!visitor) return no(visitor.error(), http_status(visitor.error().code));
    const Matched matched = match(routes, request.method, *segments);
    if (matched.route != nullptr) pattern = matched.route->pattern;
    // Who is not let in does not learn either what there is and what not.
    if (auto problem = shut_out(*visitor, matched.route != nullptr ? matched.route->needs : Role::kReader))
        return stranger(*problem);
    if (matched.allowed.empty())
        return no({ProblemCode::kNotFound, "address", "the API has no such path", "see /api/openapi.json"}, 404);
    if (matched.route == nullptr) {
        const std::string allowed = fmt::format("{}", fmt::join(matched.allowed, ", "));
        Reply reply = no({ProblemCode::kBadInput, "method", fmt::format("{} is not taken here", request.method),
                          fmt::format("use {}", allowed)},
                         405);
        reply.headers.emplace_back("Allow", allowed);
        return reply;
    }
    auto answered = answer_route(request, reader, matched, std::move(*visitor));
    return answered ? std::move(*answered) : problem_reply(answered.error());
}

void Transport::Inner::answer(const httplib::Request& request, httplib::Response& response,
                              const httplib::ContentReader* reader) {
    const auto began = std::chrono::steady_clock::now();
    without_extras(request);
    std::string pattern = "?";
    Reply reply;
    try {
        reply = reply_to(request, reader, pattern);
    } catch (const std::exception&) {
        // What a library says may hold a person's data; the pattern in the log tells where to look.
        reply = problem_reply({{ProblemCode::kOurFault, "server", "this is a mistake of the program",
                                "nothing was changed; try again, and report what you did when it happens again"}});
    }
    response.status = reply.status;
    for (const auto& [name, value] : reply.headers) response.set_header(name, value);
    if (!reply.type.empty()) response.set_header("Content-Type", reply.type);
    response.body = std::move(reply.body);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - began;
    log({request.method, pattern, reply.status, took.count()});
}

void Transport::Inner::set_up() {
    constexpr const char* kEvery = R"([\s\S]*)";
    const std::size_t threads = where.certificate ? kThreadsShared : kThreads;
    listener->new_task_queue = [threads] { return new httplib::ThreadPool(threads); };
    // One request a connection: a body that was not read can then never be taken for a request of its own, and no
    // idle connection of a browser holds a thread.
    listener->set_keep_alive_max_count(1);
    listener->set_tcp_nodelay(true);
    listener->set_payload_max_length(photo::kMostBytes + 1);
    listener->set_socket_options([](socket_t socket) {
        const int yes = 1;  // SO_REUSEADDR alone: with SO_REUSEPORT two servers would share the port and the data
        ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    listener->set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
        const bool with_body = request.method == "POST" || request.method == "PUT" || request.method == "DELETE" ||
                               request.method == "PATCH";
        if (with_body) return httplib::Server::HandlerResponse::Unhandled;
        answer(request, response, nullptr);
        return httplib::Server::HandlerResponse::Handled;
    });
    const httplib::Server::HandlerWithContentReader with_reader =
        [this](const httplib::Request& request, httplib::Response& response, const httplib::ContentReader& reader) {
            answer(request, response, &reader);
        };
    listener->Post(kEvery, with_reader)
        .Put(kEvery, with_reader)
        .Delete(kEvery, with_reader)
        .Patch(kEvery, with_reader);
    // What the library refuses by itself (a request line that is none, headers that are too long) gets our shape.
    listener->set_error_handler([](const httplib::Request&, httplib::Response& response) {
        if (!response.body.empty() || response.status < 400) return;
        const Reply reply =
            problem_reply({{ProblemCode::kBadInput, "request", fmt::format("HTTP status {}", response.status),
                            "correct the request"}});
        response.body = reply.body;
        response.set_header("Content-Type", reply.type);
    });
    // Browsers would hold to it that the house is only ever opened with a certificate that they know.
    const bool known = where.certificate && !where.certificate->own;
    listener->set_post_routing_handler([known](const httplib::Request&, httplib::Response& response) {
        for (const SafeHeader& header : kSafeHeaders)
            if (!response.has_header(header.name)) response.set_header(header.name, header.value);
        if (known) response.set_header("Strict-Transport-Security", "max-age=31536000");
    });
}

Transport::Transport(House& house, std::vector<Route> routes, std::filesystem::path pages, Listening where,
                     std::function<void(const Seen&)> log)
    : inner_(
          std::make_unique<Inner>(house, std::move(routes), std::move(pages), std::move(where), std::move(log))) {
    inner_->set_up();
}

Transport::~Transport() { stop(); }

Expected<int> Transport::start(int port) {
    const std::string& address = inner_->where.address;
    if (!inner_->listener->is_valid())
        return fail(ProblemCode::kUnreadable, "certificate", "it cannot be used for TLS",
                    "give a certificate with its chain, and its key, both as PEM");
    const int bound = port == 0 ? inner_->listener->bind_to_any_port(address)
                                : (inner_->listener->bind_to_port(address, port) ? port : -1);
    if (bound <= 0)
        return fail(
            ProblemCode::kStore, fmt::format("port {}", port),
            address == "127.0.0.1"
                ? "another program uses it, or it is not allowed"
                : fmt::format("another program uses it at {}, it is not allowed, or this machine has no such "
                              "address",
                              address),
            "stop that program, or choose another port with --port, such as --port 0 for any free one");
    inner_->lengthen_queue();
    inner_->where.ours.port = bound;
    inner_->running = true;
    inner_->thread = std::thread([this] {
        inner_->listener->listen_after_bind();
        inner_->running = false;
    });
    return bound;
}

void Transport::stop() {
    if (inner_->running) {
        // stop() of the library does nothing before its loop has begun.
        while (inner_->running && !inner_->listener->is_running()) std::this_thread::yield();
        inner_->listener->stop();
    }
    if (inner_->thread.joinable()) inner_->thread.join();
}

bool Transport::running() const { return inner_->running; }

}  // namespace footring::server
