// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/json.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/new_folder.h"
#include "cli/reference.h"
#include "exchange/cupboard.h"
#include "exchange/dublin_core.h"
#include "exchange/iiif.h"
#include "exchange/json_text.h"
#include "exchange/letter.h"
#include "exchange/linked_art.h"
#include "exchange/site.h"
#include "exchange/skos.h"
#include "photo/thumbnail.h"
#include "store/readers_view.h"

namespace footring::cli {

namespace {

// What was written, and how much of it: "120 pieces", "410 words". Left out: pieces that are not for others.
struct Written {
    std::string text, format, what;
    std::int64_t count = 0, left_out = 0;
};
// "1 piece", "120 pieces": what is counted is named as several are.
std::string so_many(std::int64_t count, std::string_view several) {
    return fmt::format("{} {}", count, several.substr(0, several.size() - (count == 1 ? 1 : 0)));
}
using Result = std::expected<Written, std::vector<Problem>>;

std::string table_format(const Call& call) {
    const auto out = call.one("--out");
    // --json on its own asks for the pieces as JSON; with --out it asks for a JSON account of what was written.
    std::string format = call.json() && !out ? "json" : "csv";
    if (out && lower(*out).ends_with(".json")) format = "json";
    if (out && lower(*out).ends_with(".xlsx")) format = "xlsx";
    if (const auto given = call.one("--format")) format = *given;
    return format;
}

constexpr const char* kPrivate = "--private";

// How many pieces stay at home when these go out.
Expected<std::int64_t> left_out(const store::Store& whole, std::size_t shown) {
    store::Query any;
    any.limit = 1;
    const auto page = whole.find(any);
    if (!page) return std::unexpected(page.error());
    return page->total - static_cast<std::int64_t>(shown);
}

Result table(const Call& call, store::Store& store) {
    const std::string format = table_format(call);
    auto text = exchange::export_pieces(store,
                                        format == "json"   ? exchange::Format::kJson
                                        : format == "xlsx" ? exchange::Format::kWorkbook
                                                           : exchange::Format::kCsv,
                                        call.has(kPrivate) ? store::Sight::kAll : store::Sight::kReaders);
    if (!text) return std::unexpected(std::vector{text.error()});
    const auto view = store::for_readers(store);
    const auto counted = call.has(kPrivate) ? exchange::all_pieces(store) : exchange::own_pieces(*view);
    if (!counted) return std::unexpected(std::vector{counted.error()});
    const auto hidden = left_out(store, counted->size());
    if (!hidden) return std::unexpected(std::vector{hidden.error()});
    return Written{std::move(*text), format, "pieces", static_cast<std::int64_t>(counted->size()), *hidden};
}

Problem no_pieces() {
    return {ProblemCode::kBadInput, "--data", "no folder of pieces is named",
            "name the folder that holds them: --data DIR"};
}

// The pieces that --piece names, or all of them, as others want to read them.
std::expected<std::vector<exchange::Described>, std::vector<Problem>> described(const Call& call,
                                                                                const book::Book& book,
                                                                                store::Store& whole) {
    const auto view = store::for_readers(whole);
    const store::Store& store = call.has(kPrivate) ? whole : *view;
    std::vector<store::PieceRecord> records;
    std::vector<Problem> problems;
    if (const auto ids = call.all("--piece"); !ids.empty()) {
        for (const std::string& id : ids) {
            auto record = store.piece(id);
            if (record) records.push_back(std::move(*record));
            else if (whole.piece(id))
                problems.push_back({ProblemCode::kBadInput, fmt::format("piece {}", id), "it is private",
                                    fmt::format("add {} to take it along all the same", kPrivate)});
            else problems.push_back(record.error());
        }
    } else {
        auto all = exchange::own_pieces(store);  // those of letters are not one's own to show
        if (all) records = std::move(*all);
        else problems.push_back(all.error());
    }
    std::vector<exchange::Described> out;
    for (const store::PieceRecord& record : records) {
        if (!problems.empty()) break;
        auto photos = store.photos(record.piece.id);
        if (photos) out.push_back(exchange::describe(book, record, std::move(*photos)));
        else problems.push_back(photos.error());
    }
    if (!problems.empty()) return std::unexpected(problems);
    return out;
}

Result open_format(const Call& call, const std::string& what, const book::Book& book, store::Store* store) {
    const auto base = exchange::base_address(call.one("--base").value_or(""), "--base");
    if (!base) return std::unexpected(std::vector{base.error()});
    if (what == "skos")
        return Written{
            exchange::skos(book, *base), "turtle", "words",
            static_cast<std::int64_t>(book.forms.size() + book.makers.size() + book.shapes.size() +
                                      book.glazes.size() + book.ornaments.size() + book.treatments.size())};
    const auto pieces = described(call, book, *store);
    if (!pieces) return std::unexpected(pieces.error());
    const auto hidden = call.has("--piece") ? Expected<std::int64_t>{0} : left_out(*store, pieces->size());
    if (!hidden) return std::unexpected(std::vector{hidden.error()});
    if (what == "dublin-core")
        return Written{exchange::dublin_core(*pieces, *base), "rdf-xml", "pieces",
                       static_cast<std::int64_t>(pieces->size()), *hidden};
    if (what == "linked-art") {
        const auto list = json_list(*pieces, [&](const auto& piece) { return exchange::linked_art(piece, *base); });
        return Written{exchange::print_json(list.size() == 1 ? list.front() : list, 1) + "\n", "json-ld", "pieces",
                       static_cast<std::int64_t>(list.size()), *hidden};
    }
    const auto shown = std::ranges::count_if(*pieces, [](const auto& piece) { return !piece.photos.empty(); });
    if (shown == 0)
        return std::unexpected(
            std::vector{Problem{ProblemCode::kNotFound, "export iiif", "none of these pieces has a photograph",
                                "name pieces that have some, or leave --piece out"}});
    const bool one = call.all("--piece").size() == 1;
    const auto json =
        one ? exchange::iiif_manifest(pieces->front(), *base) : exchange::iiif_collection(*pieces, *base);
    return Written{exchange::print_json(json, 1) + "\n", "json-ld", "pieces", shown, *hidden};
}

constexpr std::string_view kSiteMarker = "footring-site.txt", kExportMarker = "footring-export.txt";

// Everything with its photographs goes into a folder, which `footring import` takes. It is for one's own keeping,
// so that it holds what is private without being asked: what it left out would be lost when it is read back.
Outcome export_everything(const Call& call, store::Store& store) {
    const auto out = call.one("--out");
    if (!out)
        return refuse({ProblemCode::kBadInput, "--out", "everything with its photographs is a folder of files",
                       "name one that does not exist yet: --out everything"});
    auto folder = NewFolder::begin(*out, kExportMarker);
    if (!folder) return refuse(folder.error());
    const auto count = exchange::export_folder(
        store, [&](const std::string& path, std::string_view bytes) { return folder->write(path, bytes); });
    if (!count) return refuse(count.error());
    if (const auto done = folder->finish(); !done) return refuse(done.error());
    if (call.json())
        return page(json_line({{"folder", *out},
                               {"what", "everything"},
                               {"pieces", count->pieces},
                               {"photographs", count->photographs}}));
    return page(fmt::format("{} and {} written to {}, with all that is private and what was paid\n",
                            so_many(count->pieces, "pieces"), so_many(count->photographs, "photographs"), *out));
}

// The site goes into a folder; a page on the terminal would be of no use.
Outcome export_site(const Call& call, const book::Book& book, store::Store* store) {
    const auto out = call.one("--out");
    if (!out)
        return refuse({ProblemCode::kBadInput, "--out", "a site is a folder of files",
                       "name one that does not exist yet: --out site"});
    std::vector<exchange::Described> pieces;
    if (call.has("--piece") || call.has("--every-piece")) {
        if (store == nullptr) return refuse(no_pieces());
        auto chosen = described(call, book, *store);
        if (!chosen) return refuse(chosen.error());
        pieces = std::move(*chosen);
    }
    auto folder = NewFolder::begin(*out, kSiteMarker);
    if (!folder) return refuse(folder.error());
    const auto photo = [&](const std::string& sha256) -> Expected<std::string> {
        auto bytes = store->photo_bytes(sha256);
        if (!bytes) return std::unexpected(bytes.error());
        constexpr int kLongest = 1600;
        auto small = photo::thumbnail(*bytes, kLongest, "photo-" + sha256.substr(0, 12));
        if (!small) return std::unexpected(small.error());
        return std::move(small->jpeg);
    };
    const auto count = exchange::write_site(
        book, pieces, {call.one("--title").value_or(""), call.one("--note").value_or("")}, photo,
        [&](const std::string& path, std::string_view bytes) { return folder->write(path, bytes); });
    if (!count) return refuse(count.error());
    if (const auto done = folder->finish(); !done) return refuse(done.error());
    if (call.json())
        return page(json_line({{"folder", *out},
                               {"what", "site"},
                               {"pages", count->pages},
                               {"pieces", count->pieces},
                               {"photographs", count->photographs}}));
    return page(fmt::format("{} with {} and {} written to {}; open {}/index.html\n", so_many(count->pages, "pages"),
                            so_many(count->pieces, "pieces"), so_many(count->photographs, "photographs"), *out,
                            *out));
}

Option pieces_option() {
    Option data = cupboard_option();
    data.required = false;  // the words of packs need none
    return data;
}

Outcome export_cupboard(const Call& call, World& world) {
    const std::string what = call.arguments.empty() ? "pieces" : call.arguments.front();
    // A table of pieces needs no reference; the open formats say names in place of ids.
    Reference reference;
    if (what != "pieces" && what != "everything") {
        auto opened = open_reference(call);
        if (!opened) return refuse(opened.error());
        reference = std::move(*opened);
    }
    std::unique_ptr<store::Store> store;
    const bool needs_pieces = what != "skos" && what != "site";
    if (needs_pieces && !names_cupboard(call)) return refuse(no_pieces());
    if (names_cupboard(call)) {
        auto opened = open_cupboard(call, world, WhenMissing::kRefuse);
        if (!opened) return refuse(opened.error());
        store = std::move(*opened);
    }
    if (what == "everything") return export_everything(call, *store);
    if (what == "site") return export_site(call, reference.book, store.get());
    auto written = what == "pieces" ? table(call, *store) : open_format(call, what, reference.book, store.get());
    if (!written) return refuse(written.error());
    const auto out = call.one("--out");
    if (!out) return page(std::move(written->text));
    if (const auto done = write_file(*out, written->text); !done) return refuse(done.error());
    if (call.json())
        return page(json_line({{"file", *out},
                               {"what", what},
                               {"format", written->format},
                               {written->what, written->count},
                               {"left_out", written->left_out}}));
    const std::string but = written->left_out == 0
                                ? ""
                                : fmt::format("; {} left out, private or of a letter: {} takes {} along",
                                              written->left_out, kPrivate, written->left_out == 1 ? "it" : "them");
    return page(fmt::format("{} written to {}{}\n", so_many(written->count, written->what), *out, but));
}

}  // namespace

Command export_command() {
    return {
        .name = "export",
        .sentence =
            "Writes all that is kept: for spreadsheets, for this program, and in the open formats of museums.",
        .detail =
            {"pieces: a table (CSV or XLSX), or as JSON with lots, sales, services, letters and all else that is "
             "kept, but for photographs. everything: the same with the photographs, as a folder. `footring import` "
             "reads CSV, JSON and the folder back. linked-art: JSON-LD. iiif: the manifest of one piece's "
             "photographs, or a collection. "
             "dublin-core: RDF/XML. skos: the words of the packs as vocabularies, in Turtle. site: a folder of "
             "pages that needs no server.",
             "The open formats say what was decided for a piece, and what was seen where nothing was; they never "
             "say "
             "what it cost, where it is kept or which lot it came in.",
             "everything is for one's own keeping and holds what is private. Nothing else that is written holds "
             "private pieces, the pieces of letters, or what anything cost, unless --private asks for it."},
        .arguments = {{.name = "WHAT",
                       .sentence = "What to write; pieces when absent.",
                       .takes = Takes::kChoice,
                       .least = 0,
                       .choices = {"pieces", "everything", "linked-art", "iiif", "dublin-core", "skos", "site"}}},
        .options =
            {pieces_option(),
             pack_option(false),
             {.name = "--format",
              .value = "FORMAT",
              .sentence = "Of pieces: csv, unless the name after --out ends in .json or .xlsx.",
              .takes = Takes::kChoice,
              .choices = {"csv", "json", "xlsx"}},
             {.name = "--piece",
              .value = "ID",
              .sentence = "Only this piece, in the open formats; all when absent. In a site: this piece.",
              .repeats = true},
             {.name = kPrivate,
              .value = "",
              .sentence = "Private pieces, those of letters, and what was paid go along: for your own keeping."},
             {.name = "--every-piece",
              .value = "",
              .sentence = "Of a site: all pieces. Without it and --piece it has none."},
             {.name = "--title", .value = "TEXT", .sentence = "Of a site; the titles of the packs when absent."},
             {.name = "--note", .value = "TEXT", .sentence = "Of a site: a sentence on its first page."},
             {.name = "--base",
              .value = "ADDRESS",
              .sentence = fmt::format("Of the open formats: what addresses begin with; {} when absent.",
                                      exchange::kOwnBase)},
             {.name = "--out",
              .value = "FILE",
              .sentence = "Where to write; standard output when absent. The file is replaced whole, or not at all.",
              .takes = Takes::kFile}},
        .run = export_cupboard};
}

}  // namespace footring::cli
