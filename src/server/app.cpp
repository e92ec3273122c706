// SPDX-License-Identifier: Apache-2.0
#include "server/app.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "care/cautions.h"
#include "looks/resolve.h"
#include "naming/answer_json.h"
#include "naming/apart.h"
#include "naming/examine.h"
#include "naming/prior_counts.h"
#include "photo/library.h"
#include "photo/read.h"
#include "server/book_json.h"
#include "server/records.h"

namespace footring::server {

std::shared_ptr<const TwinCache::Groups> TwinCache::at(std::optional<book::Ref<book::Form>> form) {
    const std::lock_guard lock(mutex_);
    for (const auto& [known, groups] : kept_)
        if (known == form) return groups;
    kept_.emplace_back(form, std::make_shared<const Groups>(naming::twins(book_, form)));
    return kept_.back().second;
}

namespace {

std::string packs_line(const book::Book& book) {
    std::string out;
    for (const book::Pack& pack : book.packs)
        out += fmt::format("{}{}@{} {}", out.empty() ? "" : "; ", pack.id, pack.version, pack.digest);
    return out;
}

Expected<ViewCache::View> make_view(const App& app, ViewCache::Form form) {
    std::vector<std::pair<std::string, std::int64_t>> decided;
    if (app.settings.prior_cupboard_counts != 0) {
        auto counts = app.store->counts();
        if (!counts) return std::unexpected(counts.error());
        decided = std::move(*counts);
    }
    const auto counts = naming::prior_counts(app.book, app.settings, decided);
    return std::make_shared<const naming::FormView>(app.book, form, app.settings, counts);
}

// The drawings of the packs are prepared when the first photograph comes: most days none does.
ReadPhoto reader_of(const book::Book& book) {
    struct Prepared {
        std::once_flag once;
        std::optional<photo::Library> library;
    };
    return [&book, prepared = std::make_shared<Prepared>()](std::string_view bytes, std::string_view where,
                                                            const photo::ReadOptions& options) {
        std::call_once(prepared->once, [&] { prepared->library.emplace(book); });
        return photo::read(bytes, where, *prepared->library, options);
    };
}

}  // namespace

House::House(std::unique_ptr<store::Store> kept, Settings chosen, std::filesystem::path folder, store::Now clock,
             ReadPhoto reader)
    : store(std::move(kept)),
      settings(chosen),
      data(std::move(folder)),
      now(std::move(clock)),
      read_photo(std::move(reader)),
      allots(now),
      readings(
          [this](const std::string& sha256, const std::function<bool()>& stop) -> Expected<void> {
              // What a person gave for it before holds again.
              const auto before = store->reading(sha256);
              const auto read = read_and_keep(*current(), sha256, before ? asked_of(before->asked) : Asked{}, stop);
              if (!read) return std::unexpected(read.error());
              return {};
          },
          now),
      changes(*store, [this] {
          if (const auto app = current()) note_change(*app);  // another server may have made it
      }) {}

void House::open(book::Book book) {
    auto app = std::make_shared<App>(*this, std::move(book));
    const std::lock_guard lock(opening_);
    app_.swap(app);
}

std::shared_ptr<App> House::current() const {
    const std::lock_guard lock(opening_);
    return app_;
}

App::App(House& of, book::Book open)
    : house(of),
      book(std::move(open)),
      store(of.store.get()),
      settings(of.settings),
      data(of.data),
      now(of.now),
      packs(packs_line(book)),
      findables(findables_of(book)),
      views([this](ViewCache::Form form) { return make_view(*this, form); }),
      twins(book),
      market(book, *store, now),
      changing(of.changing),
      decoding(of.decoding),
      read_photo(of.read_photo ? of.read_photo : reader_of(book)),
      readings(of.readings) {}

std::expected<looks::Piece, Problems> piece_member(const nlohmann::json& body, std::vector<std::string>& notes) {
    const auto piece = body.find("piece");
    if (piece == body.end())
        return refuse(ProblemCode::kBadInput, "body", "there is no piece in it",
                      "give the piece file as member 'piece'");
    auto read = looks::piece_from_json(*piece, "piece", notes);
    if (!read) return refuse(std::move(read.error()));
    return std::move(*read);
}

Expected<naming::Answer> odds_of(App& app, const looks::Findings& findings) {
    const auto view = app.views.at(findings.form);
    if (!view) return std::unexpected(view.error());
    return naming::examine(**view, findings, {.reasons = false, .next = false, .conflicts = false});
}

std::expected<nlohmann::ordered_json, Problems> examine_piece(App& app, const looks::Piece& piece,
                                                              const std::vector<std::string>& notes) {
    const auto findings = looks::resolve(piece, app.book, app.settings, "piece");
    if (!findings) return refuse(findings.error());
    const auto view = app.views.at(findings->form);
    if (!view) return refuse(view.error());
    const naming::Answer answer = naming::examine(**view, *findings);
    auto out = naming::answer_json(app.book, piece.id, answer, notes);
    out["cautions"] = care::cautions_json(app.book, care::cautions(app.book, *findings, answer));
    return out;
}

}  // namespace footring::server
