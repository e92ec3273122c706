// SPDX-License-Identifier: Apache-2.0
#include "exchange/cupboard.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <memory>
#include <optional>
#include <set>
#include <utility>

#include "base/json.h"
#include "book/json_text.h"
#include "exchange/cupboard_photos.h"
#include "exchange/intake.h"
#include "exchange/json_text.h"
#include "exchange/kept_services.h"
#include "exchange/letter.h"
#include "exchange/record_json.h"
#include "exchange/sales.h"
#include "exchange/workbook.h"
#include "store/readers_view.h"

namespace footring::exchange {

namespace {

namespace fs = std::filesystem;
using nlohmann::json;

constexpr const char* kFormatName = "footring-cupboard-1";
constexpr const char* kExportFile = "cupboard.json";
constexpr std::size_t kMostBytes = 256u << 20;  // of a file; a record takes some kilobytes

void move_to(std::vector<Problem>& all, std::vector<Problem> more) {
    std::ranges::move(more, std::back_inserter(all));
}

// A record or a piece file; which of the two, its members tell.
void add_row(const json& value, const std::string& where, Intake& into) {
    std::vector<std::string> notes;
    std::set<std::string> fields = {"piece"};
    Row row;
    row.where = where;
    const auto keep = [&] {
        row.fields = std::make_shared<const std::set<std::string>>(std::move(fields));
        into.rows.push_back(std::move(row));
    };
    const bool is_record = value.is_object() && value.contains("piece");
    if (!is_record) {
        auto piece = looks::piece_from_json(value, where, notes);
        if (piece) {
            row.record.piece = std::move(*piece);
            return keep();
        }
        ++into.bad_rows;
        move_to(into.problems, std::move(piece.error()));
        return;
    }
    auto record = record_from_json(value, where, notes);
    if (!record) {
        ++into.bad_rows;
        move_to(into.problems, std::move(record.error()));
        return;
    }
    row.record = std::move(*record);
    row.record.revision = 0;
    for (const char* field : {"private", "lot", "cost", "currency", "note", "decision", "attribution"})
        if (value.contains(field)) fields.insert(field);
    if (value.contains("place")) fields.insert("place_kept");
    keep();
}

void add_lots(const json& value, const std::string& where, Intake& into) {
    if (!value.is_array()) {
        into.problems.push_back(
            {ProblemCode::kBadInput, where, "this is not a list of lots", "put it in square brackets"});
        return;
    }
    for (std::size_t at = 0; at < value.size(); ++at) {
        auto lot = lot_from_json(value[at], fmt::format("{}/{}", where, at));
        // A list that was written for others has no more than names: what is kept of a lot stays.
        const bool named_only = value[at].is_object() && value[at].size() == 2 && value[at].contains("id");
        if (lot) into.lots.push_back({std::move(*lot), named_only});
        else move_to(into.problems, std::move(lot.error()));
    }
}

void add_others(const json& value, const std::string& where, Intake& into) {
    auto records = others_from_json(value, where);
    if (!records) return move_to(into.problems, std::move(records.error()));
    std::ranges::move(*records, std::back_inserter(into.others));
}

std::expected<Intake, std::vector<Problem>> intake_of_json(const json& value, const std::string& where) {
    Intake into;
    if (value.is_array()) {
        for (std::size_t at = 0; at < value.size(); ++at)
            add_row(value[at], fmt::format("{}: /{}", where, at), into);
    } else if (value.is_object() && value.contains("records")) {
        if (value.value("format", json()) != kFormatName)
            return std::unexpected(std::vector<Problem>{{ProblemCode::kBadInput, where + ": /format",
                                                         "this is not an export that this version reads",
                                                         fmt::format("the format has to be \"{}\"", kFormatName)}});
        const json& records = value["records"];
        if (!records.is_array())
            return std::unexpected(
                std::vector<Problem>{{ProblemCode::kBadInput, where + ": /records", "this is not a list",
                                      "put the records in square brackets"}});
        if (value.contains("lots")) add_lots(value["lots"], where + ": /lots", into);
        for (std::size_t at = 0; at < records.size(); ++at)
            add_row(records[at], fmt::format("{}: /records/{}", where, at), into);
        if (value.contains("others")) add_others(value["others"], where + ": /others", into);
    } else {
        add_row(value, where, into);
    }
    return into;
}

Intake intake_of_csv(std::string_view text, const std::string& where, const book::Book* book,
                     const ImportOptions& options) {
    ReadTable table = read_csv(text, options.mapping, book, where, options.told);
    Intake into;
    into.stopped = table.stopped;
    into.bad_rows = table.bad_rows;
    into.problems = std::move(table.problems);
    into.columns = std::move(table.columns);
    const auto fields = std::make_shared<const std::set<std::string>>(std::move(table.fields));
    into.rows.reserve(table.rows.size());
    for (ReadRow& row : table.rows)
        into.rows.push_back({fmt::format("{}:{}", where, row.line), std::move(row.record), fields});
    return into;
}

Expected<std::string> text_of(const fs::path& path) {
    std::error_code error;
    if (!fs::exists(path, error))
        return fail(ProblemCode::kNotFound, path.string(), "there is no such file", "check the path");
    std::ifstream file(path, std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(file), {});
    if (!file)
        return fail(ProblemCode::kUnreadable, path.string(), "the file cannot be read", "check its permissions");
    return text;
}

std::expected<json, std::vector<Problem>> json_of(const fs::path& path) {
    const auto text = text_of(path);
    if (!text) return std::unexpected(std::vector{text.error()});
    auto value = book::json_from_text(*text, path.string(), {.bytes = kMostBytes});
    if (!value) return std::unexpected(std::vector{value.error()});
    return std::move(*value);
}

// records.json: what is kept of each piece, beside its file.
void add_records(const json& value, const std::string& where, Intake& into) {
    if (!value.is_array()) {
        into.problems.push_back(
            {ProblemCode::kBadInput, where, "this is not a list of records", "put it in square brackets"});
        return;
    }
    for (std::size_t at = 0; at < value.size(); ++at) {
        const std::string here = fmt::format("{}: /{}", where, at);
        json record = value[at];
        const bool names_piece = record.is_object() && record.contains("piece") && record["piece"].is_string();
        const auto row = !names_piece ? into.rows.end()
                                      : std::ranges::find(into.rows, record["piece"].get<std::string>(),
                                                          [](const Row& r) { return r.record.piece.id; });
        if (row == into.rows.end()) {
            into.problems.push_back({ProblemCode::kBadInput, here + "/piece", "no sound piece file has this id",
                                     "add or mend the file in pieces/, or take this record away"});
            continue;
        }
        record["piece"] = looks::to_json(row->record.piece);
        Intake one;
        add_row(record, here, one);
        move_to(into.problems, std::move(one.problems));
        if (one.rows.size() == 1) *row = std::move(one.rows.front());
    }
}

// sales.csv, read once before anything is stored, so that its faults are told with all others.
std::optional<std::string> sales_of_folder(const fs::path& folder, const book::Book* book,
                                           const ImportOptions& options, std::vector<Problem>& problems) {
    std::error_code error;
    const fs::path file = folder / "sales.csv";
    if (!fs::exists(file, error)) return std::nullopt;
    auto text = text_of(file);
    if (!text) {
        problems.push_back(text.error());
        return std::nullopt;
    }
    SalesReading reading;
    reading.today = options.today;
    move_to(problems, read_sales_csv(*text, reading, book, file.string()).problems);
    return std::move(*text);
}

}  // namespace

std::expected<Imported, std::vector<Problem>> import_pieces(store::Store& store, const book::Book* book,
                                                            std::string_view text, std::string_view where,
                                                            const ImportOptions& options) {
    const std::string name(where);
    if (options.format == Format::kCsv)
        return take_in(store, book, intake_of_csv(text, name, book, options), false, options);
    const auto value = book::json_from_text(text, name, {.bytes = kMostBytes});
    if (!value) return std::unexpected(std::vector{value.error()});
    auto intake = intake_of_json(*value, name);
    if (!intake) return std::unexpected(std::move(intake.error()));
    return take_in(store, book, std::move(*intake), true, options);
}

namespace {

// cupboard.json: an export of everything, with its photographs beside it.
std::expected<Imported, std::vector<Problem>> import_export(store::Store& store, const book::Book* book,
                                                            const fs::path& folder, const ImportOptions& options) {
    const std::string where = (folder / kExportFile).string();
    const auto value = json_of(folder / kExportFile);
    if (!value) return std::unexpected(value.error());
    auto intake = intake_of_json(*value, where);
    if (!intake) return std::unexpected(std::move(intake.error()));
    const auto photos = value->is_object() && value->contains("photos")
                            ? photos_of_export(folder, (*value)["photos"], where + ": /photos", intake->problems)
                            : std::vector<FolderPhoto>{};
    auto taken = take_in(store, book, std::move(*intake), true, options);
    if (taken && !options.dry_run && !taken->stopped)
        if (auto added = add_photos(store, photos); !added) return std::unexpected(std::vector{added.error()});
    return taken;
}

}  // namespace

std::expected<Imported, std::vector<Problem>> import_folder(store::Store& store, const book::Book* book,
                                                            const fs::path& folder, const ImportOptions& options) {
    std::error_code error;
    if (fs::exists(folder / kExportFile, error)) return import_export(store, book, folder, options);
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder / "pieces", error))
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    if (error)
        return std::unexpected(std::vector<Problem>{{ProblemCode::kNotFound, (folder / "pieces").string(),
                                                     "there is no such folder of piece files", "check the path"}});
    std::ranges::sort(files);
    Intake intake;
    for (const fs::path& file : files) {
        const auto value = json_of(file);
        if (value) {
            add_row(*value, file.string(), intake);
        } else {
            ++intake.bad_rows;
            move_to(intake.problems, value.error());
        }
    }
    using Add = void (*)(const json&, const std::string&, Intake&);
    for (const auto& [name, add] :
         {std::pair<const char*, Add>{"lots.json", add_lots}, {"records.json", add_records}}) {
        if (!fs::exists(folder / name, error)) continue;
        const auto value = json_of(folder / name);
        if (value) add(*value, (folder / name).string(), intake);
        else move_to(intake.problems, value.error());
    }
    const auto photos = photos_of_folder(folder, intake.rows, intake.problems);
    using Records = std::expected<std::vector<store::Record>, std::vector<Problem>>;
    const auto add_others = [&](const char* name, const auto& records_of) {
        const fs::path file = folder / name;
        if (!fs::exists(file, error)) return;
        const auto value = json_of(file);
        Records records = value ? records_of(*value, file.string()) : Records(std::unexpect, value.error());
        if (records) std::ranges::move(*records, std::back_inserter(intake.others));
        else move_to(intake.problems, std::move(records.error()));
    };
    add_others("services.json",
               [&](const json& value, const std::string& where) { return service_records(value, book, where); });
    add_others("others.json",
               [](const json& value, const std::string& where) { return others_from_json(value, where); });
    const auto sales = sales_of_folder(folder, book, options, intake.problems);
    auto taken = take_in(store, book, std::move(intake), true, options);
    if (!taken || options.dry_run || taken->stopped) return taken;
    if (auto added = add_photos(store, photos); !added) return std::unexpected(std::vector{added.error()});
    if (sales) {
        SalesImport import;
        import.reading.today = options.today;
        import.keep_good = options.keep_good;
        const auto stored = import_sales(store, book, *sales, (folder / "sales.csv").string(), import);
        if (!stored) return std::unexpected(stored.error());
        taken->others.added += stored->added;
        taken->others.changed += stored->changed;
        taken->others.unchanged += stored->unchanged;
    }
    return taken;
}

Expected<std::vector<store::PieceRecord>> all_pieces(const store::Store& store, const std::string& lot) {
    constexpr int kAtOnce = 500;
    std::vector<store::PieceRecord> records;
    store::Query query;
    query.lot = lot;
    query.sort = store::Query::Sort::kId;
    query.descending = false;
    query.limit = kAtOnce;
    while (true) {
        auto page = store.find(query);
        if (!page) return std::unexpected(page.error());
        std::ranges::move(page->rows, std::back_inserter(records));
        if (page->rows.size() < kAtOnce) return records;
        query.offset += kAtOnce;
    }
}

namespace {

// What is shown of a store, and what of it goes out.
struct Shown {
    std::unique_ptr<store::Store> view;  // of readers; null: all is shown
    store::Store& store;
    std::vector<store::PieceRecord> records;
    std::vector<store::Lot> lots;
    bool all = false;
};

Expected<Shown> shown(store::Store& whole, store::Sight sight) {
    const bool all = sight == store::Sight::kAll;
    auto view = all ? nullptr : store::for_readers(whole);
    store::Store& store = all ? whole : *view;
    auto records = all ? all_pieces(store) : own_pieces(store);
    if (!records) return std::unexpected(records.error());
    auto lots = store.lots();
    if (!lots) return std::unexpected(lots.error());
    return Shown{std::move(view), store, std::move(*records), std::move(*lots), all};
}

// All that is kept, but for the bytes of photographs and what the store says of its own keeping. For readers:
// pieces and the names of lots.
Expected<nlohmann::ordered_json> everything(const Shown& from) {
    const auto lot_of = [&](const store::Lot& lot) {
        if (!from.all) return nlohmann::ordered_json{{"id", lot.id}, {"name", lot.name}};
        auto one = lot_json(lot);
        for (const char* member : {"created", "changed", "revision"}) one.erase(member);
        return one;
    };
    const auto record_of = [&](const store::PieceRecord& record) {
        auto one = record_json(record);
        for (const char* member : {"created", "changed", "revision"}) one.erase(member);
        if (!from.all) one.erase("currency");
        return one;
    };
    nlohmann::ordered_json out{{"format", kFormatName},
                               {"lots", json_list(from.lots, lot_of)},
                               {"records", json_list(from.records, record_of)}};
    if (!from.all) return out;
    auto others = others_json(from.store);
    if (!others) return std::unexpected(others.error());
    out["others"] = std::move(*others);
    return out;
}

}  // namespace

Expected<std::string> export_pieces(store::Store& whole, Format format, store::Sight sight) {
    const auto from = shown(whole, sight);
    if (!from) return std::unexpected(from.error());
    if (format == Format::kCsv) return write_csv(from->records, sight);
    if (format == Format::kWorkbook) return workbook(from->records, from->lots, sight);
    const auto out = everything(*from);
    if (!out) return std::unexpected(out.error());
    return print_json(*out, 1) + "\n";
}

Expected<Exported> export_folder(store::Store& whole, const WriteFile& write) {
    const auto from = shown(whole, store::Sight::kAll);
    if (!from) return std::unexpected(from.error());
    auto out = everything(*from);
    if (!out) return std::unexpected(out.error());
    const store::Store& store = from->store;
    Exported done{from->records.size(), 0};
    std::set<std::string> written;
    (*out)["photos"] = nlohmann::ordered_json::array();
    for (const store::PieceRecord& record : from->records) {
        const auto photos = store.photos(record.piece.id);
        if (!photos) return std::unexpected(photos.error());
        for (const store::PhotoMeta& photo : *photos) {
            auto about = photo_json(photo);
            about.erase("added");
            about["file"] = photo_file(photo);
            (*out)["photos"].push_back(std::move(about));
            ++done.photographs;
            if (!written.insert(photo.sha256).second) continue;  // two pieces have the same one
            const auto bytes = store.photo_bytes(photo.sha256);
            if (!bytes) return std::unexpected(bytes.error());
            if (auto kept = write("photos/" + photo_file(photo), *bytes); !kept)
                return std::unexpected(kept.error());
        }
    }
    if (auto kept = write(kExportFile, print_json(*out, 1) + "\n"); !kept) return std::unexpected(kept.error());
    return done;
}

}  // namespace footring::exchange
