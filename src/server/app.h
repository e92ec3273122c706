// server/app.h - what the routes work on: the Book, the store, the settings, and what is kept ready of them.
//   An App is one state of the Book and never changes. When the Book is edited the House opens another App; whoever
//   holds the old one (a request holds it for as long as it runs) goes on reading the old Book to its end. What
//   outlives a request (a job on a thread of its own) keeps app.shared_from_this().
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
#include "exchange/names.h"
#include "looks/piece.h"
#include "server/allots.h"
#include "server/change_feed.h"
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

// What stays while the server runs, whatever becomes of the Book.
class House {
  public:
    // `read_photo` absent: photo::read() over the open packs, which are prepared for it when it is first asked.
    House(std::unique_ptr<store::Store> store, Settings settings, std::filesystem::path data, store::Now now,
          ReadPhoto read_photo = {});

    const std::unique_ptr<store::Store> store;
    const Settings settings;
    const std::filesystem::path data;
    const store::Now now;
    const ReadPhoto read_photo;
    // One change at a time, so that "the newest change" is the one just made.
    std::mutex changing;
    // Decoding a photograph of 60 megapixels takes some 200 MB: two at a time, the others wait.
    std::counting_semaphore<2> decoding{2};

    void open(book::Book book);            // from now on new requests see this Book
    std::shared_ptr<App> current() const;  // never null after the first open()

  private:
    mutable std::mutex opening_;
    std::shared_ptr<App> app_;

  public:
    AllotDesk allots;
    ReadQueue readings;
    ChangeFeed changes;  // last, with allots and readings: their threads end before what they work on goes away
};

struct App : std::enable_shared_from_this<App> {
    App(House& house, book::Book book);

    House& house;
    const book::Book book;
    store::Store* const store;
    const Settings& settings;
    const std::filesystem::path& data;
    const store::Now& now;
    const std::string packs;  // "pack@version digest; ..." of every open pack
    const std::vector<Findable> findables;
    ViewCache views;
    TwinCache twins;
    Market market;
    YearsCache dated_pieces;
    std::mutex& changing;
    std::counting_semaphore<2>& decoding;
    const ReadPhoto read_photo;
    ReadQueue& readings;
};

// The piece of a body member and the answer to it.
std::expected<looks::Piece, Problems> piece_member(const nlohmann::json& body, std::vector<std::string>& notes);
// What the engine says of a piece, without reasons and next looks.
Expected<naming::Answer> odds_of(App&, const looks::Findings&);
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
