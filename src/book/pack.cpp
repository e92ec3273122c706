// SPDX-License-Identifier: Apache-2.0
#include "book/pack.h"

#include <fmt/format.h>
#include <sodium.h>

#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "book/pack_text.h"
#include "book/reading.h"
#include "book/tables.h"

namespace footring::book {

namespace {

constexpr std::size_t kDigestBytes = 16;

}  // namespace

std::string digest_of(std::string_view bytes) {
    std::array<unsigned char, kDigestBytes> hash{};
    crypto_generichash(hash.data(), hash.size(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                       nullptr, 0);
    std::string out;
    for (const unsigned char byte : hash) out += fmt::format("{:02x}", byte);
    return out;
}

std::expected<Book, std::vector<Problem>> read_all(std::vector<std::unique_ptr<PackFiles>> files, Faults faults) {
    Reading reading;
    reading.faults = std::move(faults);
    for (std::unique_ptr<PackFiles>& pack_files : files) {
        auto descriptor = read_descriptor(*pack_files, reading.faults);
        if (!descriptor) continue;
        OpenPack& pack = reading.packs.emplace_back();
        pack.files = std::move(pack_files);
        pack.descriptor = std::move(*descriptor);
        pack.note_digest(std::string(kDescriptor), pack.descriptor.text);
        for (const OpenPack& other : reading.packs)
            if (&other != &pack && other.name() == pack.name() && !pack.name().empty())
                reading.faults.add(pack.files->shown(kDescriptor), {1, 1},
                                   fmt::format("two open packs are called '{}'; the other is {}", pack.name(),
                                               other.files->shown(kDescriptor)),
                                   "open one of them, or give one another name");
        for (const Table& table : all_tables()) {
            const TableFile& file = pack.descriptor.tables[table.name];
            std::string bytes;
            pack.sheets.push_back(read_sheet(*pack.files, table, file, reading.faults, bytes));
            if (!bytes.empty()) pack.note_digest(file.path, bytes);
        }
    }
    register_ids(reading);
    read_rows(reading);
    check_sense(reading);
    if (!reading.faults.empty()) return std::unexpected(reading.faults.in_order());
    for (OpenPack& pack : reading.packs) {
        std::string all;
        for (const auto& [path, digest] : pack.digests) all += fmt::format("{} {}\n", digest, path);
        pack.descriptor.pack.digest = digest_of(all);
        reading.book.packs.push_back(std::move(pack.descriptor.pack));
    }
    reading.book.index();
    return std::move(reading.book);
}

void OpenPack::note_digest(const std::string& path, std::string_view bytes) { digests[path] = digest_of(bytes); }

std::expected<Book, std::vector<Problem>> read_packs(const std::vector<std::filesystem::path>& folders) {
    if (folders.empty())
        return std::unexpected(std::vector<Problem>{{ProblemCode::kBadInput, "packs", "no pack is given",
                                                     "name at least one folder that holds a datapackage.json"}});
    Faults faults;
    std::vector<std::unique_ptr<PackFiles>> files;
    for (const auto& folder : folders) {
        auto pack = std::make_unique<PackOnDisk>(folder);
        if (auto opened = pack->open(); !opened) {
            Problem& problem = opened.error();
            faults.add(std::move(problem.where), {}, std::move(problem.what), std::move(problem.remedy),
                       problem.code);
        } else {
            files.push_back(std::move(pack));
        }
    }
    return read_all(std::move(files), std::move(faults));
}

std::expected<Book, std::vector<Problem>> read_packs_besides(std::vector<std::filesystem::path> folders,
                                                             const std::filesystem::path& more) {
    if (!folders.empty()) {
        auto given = read_packs(folders);
        if (!given) return given;
        PackOnDisk pack(more);
        const auto opened = pack.open();
        const auto text = opened ? pack.read(kDescriptor) : Expected<std::string>(std::unexpected(opened.error()));
        const auto descriptor = nlohmann::json::parse(text.value_or(""), nullptr, false);
        const std::string name = descriptor.is_object() ? descriptor.value("name", "") : "";
        for (const Pack& one : given->packs)
            if (one.id == name) return given;
    }
    folders.push_back(more);
    return read_packs(folders);
}

std::vector<Problem> check_packs(const std::vector<std::filesystem::path>& folders) {
    const auto book = read_packs(folders);
    return book ? std::vector<Problem>{} : book.error();
}

std::expected<Book, std::vector<Problem>> read_pack_texts(const std::vector<PackText>& packs) {
    std::vector<std::unique_ptr<PackFiles>> files;
    for (const PackText& pack : packs) {
        std::map<std::string, std::string> all = pack.files;
        for (const auto& [table, csv] : pack.tables) all[table + ".csv"] = csv;
        all.try_emplace(std::string(kDescriptor), nlohmann::json{{"name", pack.name}}.dump());
        files.push_back(std::make_unique<PackInMemory>(pack.name, std::move(all)));
    }
    return read_all(std::move(files), {});
}

Book book_from_tables(const std::map<std::string, std::string>& tables) {
    auto book = read_pack_texts({{"test", tables, {}}});
    if (book) return std::move(*book);
    std::string lines;
    for (const Problem& problem : book.error()) lines += to_line(problem) + "\n";
    throw std::logic_error(lines);
}

}  // namespace footring::book
