// SPDX-License-Identifier: Apache-2.0
#include "server/app.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "book/decoration.h"
#include "care/cautions.h"
#include "looks/resolve.h"
#include "naming/answer_json.h"
#include "naming/apart.h"
#include "naming/examine.h"
#include "naming/prior_counts.h"
#include "photo/library.h"
#include "photo/read.h"
#include "server/book_json.h"
#include "store/readers_view.h"

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

Expected<ViewCache::View> make_view(const Shelf& shelf, ViewCache::Form form) {
    std::vector<std::pair<std::string, std::int64_t>> decided;
    if (shelf.settings.prior_cupboard_counts != 0) {
        auto counts = shelf.store.counts();
        if (!counts) return std::unexpected(counts.error());
        decided = std::move(*counts);
    }
    const book::Book& book = shelf.open->book;
    const auto counts = naming::prior_counts(book, shelf.settings, decided);
    return std::make_shared<const naming::FormView>(book, form, shelf.settings, counts);
}

// A view of a hundred thousand treatments takes 80 MB and a second to make; those of ordinary Books are all kept.
std::size_t views_kept(const book::Book& book) {
    constexpr std::size_t kMost = 48, kFewest = 4, kRows = 600'000;
    return std::clamp(kRows / std::max<std::size_t>(1, book.treatments.size()), kFewest, kMost);
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

OpenBook::OpenBook(book::Book opened)
    : book(std::move(opened)),
      packs(packs_line(book)),
      findables(findables_of(book)),
      alike(book::shown_alike(book)),
      read_photo(reader_of(book)),
      twins(book) {}

Shelf::Shelf(std::shared_ptr<OpenBook> opened, store::Store& seen, const Settings& chosen, store::Now clock)
    : open(std::move(opened)),
      store(seen),
      settings(chosen),
      views([this](ViewCache::Form form) { return make_view(*this, form); }, views_kept(open->book), open->alike),
      market(open->book, store, std::move(clock)) {}

void Shelf::forget_counts() {
    views.forget();
    dated_pieces.forget();
}

House::House(std::unique_ptr<store::Store> kept, Settings chosen, std::filesystem::path folder, store::Now clock,
             Manner manner)
    : store_(std::move(kept)),
      for_readers_(store::for_readers(*store_)),
      settings(chosen),
      data(std::move(folder)),
      now(std::move(clock)),
      read_photo(std::move(manner.read_photo)),
      door(*store_, settings, now, manner.shared, manner.passwords ? std::move(manner.passwords) : argon2id()),
      allots(now),
      readers_allots(now),
      readings(
          [this](const std::string& sha256, const std::function<bool()>& stop) -> Expected<void> {
              // What a person gave for it before holds again.
              const auto before = store_->reading(sha256);
              const auto read = read_and_keep(*current(), sha256, before ? asked_of(before->asked) : Asked{}, stop);
              if (!read) return std::unexpected(read.error());
              return {};
          },
          now),
      in_database(manner.in_database),
      changes(*store_, [this] {
          if (settings.prior_cupboard_counts != 0) forget_counts();  // another server may have made it
      }) {}

void House::open(book::Book book) {
    auto opened = std::make_shared<OpenBook>(std::move(book));
    auto shelf = std::make_shared<Shelf>(opened, *store_, settings, now),
         readers = std::make_shared<Shelf>(opened, *for_readers_, settings, now);
    const std::lock_guard lock(opening_);
    shelf_.swap(shelf);
    readers_shelf_.swap(readers);
}

std::shared_ptr<App> House::for_visitor(const Visitor& visitor) {
    const bool all = visitor.role >= Role::kContributor;
    std::shared_ptr<Shelf> shelf;
    {
        const std::lock_guard lock(opening_);
        shelf = all ? shelf_ : readers_shelf_;
    }
    return std::make_shared<App>(*this, std::move(shelf),
                                 (all ? *store_ : *for_readers_).signed_by(visitor.account), visitor);
}

std::shared_ptr<App> House::current() {
    Visitor house;
    house.role = Role::kKeeper;
    return for_visitor(house);
}

void House::forget_counts() {
    const std::lock_guard lock(opening_);
    if (!shelf_) return;  // nothing is open yet
    shelf_->forget_counts();
    readers_shelf_->forget_counts();
}

App::App(House& of, std::shared_ptr<Shelf> on, std::unique_ptr<store::Store> seen, Visitor who)
    : house(of),
      shelf(std::move(on)),
      visitor(std::move(who)),
      book(shelf->open->book),
      signed_(std::move(seen)),
      store(signed_.get()),
      settings(of.settings),
      data(of.data),
      now(of.now),
      packs(shelf->open->packs),
      findables(shelf->open->findables),
      views(shelf->views),
      twins(shelf->open->twins),
      market(shelf->market),
      dated_pieces(shelf->dated_pieces),
      changing(of.changing),
      decoding(of.decoding),
      read_photo(of.read_photo ? of.read_photo : shelf->open->read_photo),
      allots(visitor.role >= Role::kContributor ? of.allots : of.readers_allots),
      readings(of.readings),
      tiles(of.tiles) {}

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

exchange::Namer namer_of(App& app) {
    return {app.book, app.settings, [&app](const looks::Findings& findings) { return odds_of(app, findings); }};
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
