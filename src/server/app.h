// server/app.h - what the routes work on: the Book, the store, the settings, and what is kept ready of them.
//   Each request gets an App of its own: one state of the Book, which never changes, and the store as the visitor
//   sees it. When the Book is edited the House opens it anew; whoever holds an App goes on reading the old Book to
//   the end. What outlives a request (a job on a thread of its own) keeps app.shared_from_this().
//   Everything here may be used from any thread.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <semaphore>
#include <string>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "exchange/identified.h"
#include "exchange/names.h"
#include "looks/piece.h"
#include "server/allots.h"
#include "server/border_tiles.h"
#include "server/change_feed.h"
#include "server/door.h"
#include "server/market.h"
#include "server/pieces_in_years.h"
#include "server/readings.h"
#include "server/request.h"
#include "server/view_cache.h"
#include "store/store.h"

namespace footring::server {

using exchange::full_id;

// Treatments that cannot be told apart at one form, worked out once per form.
class TwinCache {
  public:
    using Groups = std::vector<std::vector<book::Ref<book::Treatment>>>;
    explicit TwinCache(const book::Book& book) : book_(book) {}
    std::shared_ptr<const Groups> at(std::optional<book::Ref<book::Form>> form);

  private:
    const book::Book& book_;
    std::mutex mutex_;
    std::vector<std::pair<std::optional<book::Ref<book::Form>>, std::shared_ptr<const Groups>>> kept_;
};

// One line of the reference as search finds it.
struct Findable {
    std::string table, id, name, detail;
    std::string words;  // lower case
};

// One of the photographs that are decoded at the same time.
class DecodingSlot {
  public:
    explicit DecodingSlot(std::counting_semaphore<2>& all) : all_(all) { all_.acquire(); }
    ~DecodingSlot() { all_.release(); }
    DecodingSlot(const DecodingSlot&) = delete;
    DecodingSlot& operator=(const DecodingSlot&) = delete;

  private:
    std::counting_semaphore<2>& all_;
};

struct App;

// One state of the Book, and what is made of it alone. It never changes.
struct OpenBook {
    explicit OpenBook(book::Book);
    const book::Book book;
    const std::string packs;  // "pack@version digest; ..." of every open pack
    const std::vector<Findable> findables;
    const std::vector<book::Ref<book::Form>> alike;  // book::shown_alike
    const ReadPhoto read_photo;
    TwinCache twins;
};

// What is kept ready of an open Book and a store as one sees it: readers have a shelf of their own, so that nothing
// that was worked out over private pieces can reach them.
struct Shelf {
    Shelf(std::shared_ptr<OpenBook>, store::Store&, const Settings&, store::Now);
    void forget_counts();  // of the prior: they changed
    const std::shared_ptr<OpenBook> open;
    store::Store& store;
    const Settings& settings;
    ViewCache views;
    Market market;
    YearsCache dated_pieces;
};

// What stays while the server runs, whatever becomes of the Book.
class House {
  public:
    struct Manner {
        bool shared = false;                   // people sign in
        std::shared_ptr<Passwords> passwords;  // absent: argon2id()
        ReadPhoto read_photo = {};  // absent: photo::read() over the open packs, prepared when it is first asked
        bool in_database = false;   // the store is not in `data`, and its backups are the database's own
    };
    House(std::unique_ptr<store::Store> store, Settings settings, std::filesystem::path data, store::Now now,
          Manner);

  private:
    const std::unique_ptr<store::Store> store_;        // everything
    const std::unique_ptr<store::Store> for_readers_;  // store/readers_view.h

  public:
    const Settings settings;
    const std::filesystem::path data;
    const store::Now now;
    const ReadPhoto read_photo;
    Door door;
    // One change at a time, so that "the newest change" is the one just made.
    std::mutex changing;
    // Decoding a photograph of 60 megapixels takes some 200 MB: two at a time, the others wait.
    std::counting_semaphore<2> decoding{2};

    void open(book::Book book);  // from now on new requests see this Book
    // What the routes work on for this visitor: a reader gets the view and the shelf of readers.
    std::shared_ptr<App> for_visitor(const Visitor&);
    std::shared_ptr<App> current();  // for what the house does by itself; never null after the first open()
    void forget_counts();
    store::People& people() { return store_->people(); }

  private:
    std::mutex opening_;
    std::shared_ptr<Shelf> shelf_, readers_shelf_;

  public:
    AllotDesk allots, readers_allots;
    ReadQueue readings;
    BorderTiles tiles;
    const bool in_database;
    ChangeFeed changes;  // last, with allots and readings: their threads end before what they work on goes away
};

// What one request works on.
struct App : std::enable_shared_from_this<App> {
    App(House& house, std::shared_ptr<Shelf>, std::unique_ptr<store::Store>, Visitor);

    House& house;
    const std::shared_ptr<Shelf> shelf;
    const Visitor visitor;
    const book::Book& book;

  private:
    const std::unique_ptr<store::Store> signed_;

  public:
    store::Store* const store;  // as this visitor sees it, and under their name
    const Settings& settings;
    const std::filesystem::path& data;
    const store::Now& now;
    const std::string& packs;
    const std::vector<Findable>& findables;
    ViewCache& views;
    TwinCache& twins;
    Market& market;
    YearsCache& dated_pieces;
    std::mutex& changing;
    std::counting_semaphore<2>& decoding;
    const ReadPhoto& read_photo;
    AllotDesk& allots;
    ReadQueue& readings;
    BorderTiles& tiles;
};

// The piece of a body member and the answer to it.
std::expected<looks::Piece, Problems> piece_member(const nlohmann::json& body, std::vector<std::string>& notes);
// What the engine says of a piece, without reasons and next looks.
Expected<naming::Answer> odds_of(App&, const looks::Findings&);
exchange::Namer namer_of(App&);  // with odds_of(); keeps the App by reference
std::expected<nlohmann::ordered_json, Problems> examine_piece(App&, const looks::Piece&,
                                                              const std::vector<std::string>& notes);

// An id from an address or a query: kNotFound when no open pack has it.
template <class T>
std::expected<book::Ref<T>, Problems> row_named(const book::Book& book, const std::string& id,
                                                const std::string& where) {
    auto found = book::find<T>(book, id, where);
    if (found) return *found;
    Problem problem = found.error();
    // An id that several packs have is there; it only has to be written out.
    const auto same = book.ids.find(std::string(book::Book::table_name<T>()) + "/" + id);
    if (same == book.ids.end()) problem.code = ProblemCode::kNotFound;
    return refuse(std::move(problem));
}
// Absent for an empty text.
template <class T>
std::expected<std::optional<book::Ref<T>>, Problems> maybe_row_named(const book::Book& book, const std::string& id,
                                                                     const std::string& where) {
    if (id.empty()) return std::optional<book::Ref<T>>{};
    auto found = row_named<T>(book, id, where);
    if (!found) return refuse(std::move(found.error()));
    return std::optional(*found);
}

}  // namespace footring::server
