// SPDX-License-Identifier: Apache-2.0
#include "book/descriptor.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.h"
#include "book/json_text.h"
#include "book/tables.h"

namespace footring::book {

namespace {

using Json = nlohmann::json;

constexpr std::string_view kMendDialect = "save the file as RFC 4180 CSV: quotation marks \" and a header line";

bool is_pack_name(std::string_view name) {
    return !name.empty() && std::ranges::all_of(name, [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '.' || c == '_' || c == '-';
    });
}

struct DescriptorReader {
    const PackFiles& files;
    Faults& faults;
    std::string text;
    Descriptor out;

    // Where a text first stands in the file, after `from`. A person who looks there sees the fault.
    Spot spot_of(std::string_view value, std::string_view from = {}) const {
        const auto quoted = [](std::string_view s) { return Json(s).dump(); };
        std::size_t begin = from.empty() ? 0 : text.find(quoted(from));
        if (begin == text.npos) begin = 0;
        std::size_t at = text.find(quoted(value), begin);
        if (at == text.npos) at = text.find(quoted(value));
        if (at == text.npos) return {1, 1};
        const TextPosition position = position_in(text, at);
        return {static_cast<std::uint32_t>(position.line), static_cast<std::uint32_t>(position.column)};
    }

    void fault(Spot spot, std::string what, std::string remedy) {
        faults.add(files.shown(kDescriptor), spot, std::move(what), std::move(remedy));
    }

    std::string text_of(const Json& object, const char* name) {
        const auto found = object.find(name);
        if (found == object.end() || found->is_null()) return "";
        if (found->is_string()) return std::string(trim(found->get_ref<const std::string&>()));
        fault(spot_of(name), fmt::format("'{}' is not a text", name), "write it in quotation marks");
        return "";
    }

    void read_about(const Json& package) {
        out.pack.id = text_of(package, "name");
        if (!package.contains("name") || (package["name"].is_string() && out.pack.id.empty()))
            fault({1, 1}, "the pack has no name", "add \"name\": \"some-short-name\"");
        else if (!out.pack.id.empty() && !is_pack_name(out.pack.id))
            fault(spot_of("name"),
                  fmt::format("the name '{}' is not made of a-z, 0-9, '.', '_' and '-'", out.pack.id),
                  "write it in lower case and without blanks");
        out.pack.title = text_of(package, "title");
        if (out.pack.title.empty()) out.pack.title = out.pack.id;
        out.pack.version = text_of(package, "version");
        out.pack.description = text_of(package, "description");
        const auto people = package.find("contributors");
        if (people == package.end() || !people->is_array()) return;
        for (const Json& person : *people)
            if (person.is_object() && person.contains("title") && person["title"].is_string())
                out.pack.contributors.push_back(person["title"]);
    }

    void read_dialect(const Json& dialect, std::string_view table, TableFile& file) {
        if (!dialect.is_object()) {
            fault(spot_of("dialect", table), fmt::format("the dialect of '{}' is not an object", table),
                  "write it out in datapackage.json");
            return;
        }
        const auto must_be = [&](const char* name, const Json& wanted) {
            const auto found = dialect.find(name);
            if (found == dialect.end() || found->is_null() || *found == wanted) return;
            fault(spot_of(name, table), fmt::format("the dialect of '{}' has a {} that is not read", table, name),
                  std::string(kMendDialect));
        };
        must_be("quoteChar", "\"");
        must_be("doubleQuote", true);
        must_be("header", true);
        must_be("escapeChar", nullptr);
        must_be("commentChar", nullptr);
        const auto found = dialect.find("delimiter");
        if (found == dialect.end() || found->is_null()) return;
        const std::string delimiter = found->is_string() ? found->get<std::string>() : "";
        constexpr std::string_view kDelimiters = ",;\t|";
        if (delimiter.size() == 1 && kDelimiters.find(delimiter[0]) != kDelimiters.npos)
            file.delimiter = delimiter[0];
        else
            fault(spot_of("delimiter", table),
                  fmt::format("the delimiter of '{}' is not a comma, ;, | or a tab", table),
                  "save the file with commas");
    }

    void read_resource(const Json& resource, std::string_view table, TableFile& file) {
        const std::string name = resource["name"];
        const auto path = resource.find("path");
        const Json* one = path == resource.end() ? nullptr : &*path;
        if (one && one->is_array() && one->size() == 1) one = &(*path)[0];
        if (!one || !one->is_string() || one->get_ref<const std::string&>().empty()) {
            fault(spot_of(name), fmt::format("the resource '{}' does not name one file as its path", name),
                  fmt::format("add \"path\": \"{}.csv\"", table));
            file.listed = false;
            return;
        }
        file.path = *one;
        file.spot = spot_of(file.path, name);
        if (const std::string encoding = lower(text_of(resource, "encoding"));
            !encoding.empty() && encoding != "utf-8" && encoding != "utf8")
            fault(spot_of("encoding", name), fmt::format("the encoding of '{}' is '{}'", name, encoding),
                  "save the file as UTF-8 and say \"utf-8\"");
        if (resource.contains("compression"))
            fault(spot_of("compression", name), fmt::format("the resource '{}' is compressed", name),
                  "unpack its file and leave the compression out");
        if (const auto dialect = resource.find("dialect"); dialect != resource.end() && !dialect->is_null())
            read_dialect(*dialect, name, file);
        const auto schema = resource.find("schema");
        if (schema == resource.end() || !schema->is_object() || !schema->contains("missingValues")) return;
        const Json& missing = (*schema)["missingValues"];
        if (!missing.is_array()) return;
        file.missing.clear();
        for (const Json& value : missing) {
            if (value.is_string()) file.missing.push_back(value);
            // version 2 of the standard: {"value": "-", "label": "not recorded"}
            if (value.is_object() && value.contains("value") && value["value"].is_string())
                file.missing.push_back(value["value"]);
        }
    }

    // The table that a resource holds: by its name, else by the name of its file.
    static std::string_view table_of(const Json& resource) {
        if (const Table* table = table_named(resource["name"].get_ref<const std::string&>())) return table->name;
        const auto path = resource.find("path");
        if (path == resource.end() || !path->is_string()) return {};
        std::string_view file = path->get_ref<const std::string&>();
        if (!file.ends_with(".csv")) return {};
        file.remove_suffix(4);
        file.remove_prefix(std::min(file.rfind('/') + 1, file.size()));  // npos + 1 is 0
        const Table* table = table_named(file);
        return table ? table->name : std::string_view{};
    }

    void read_resources(const Json& package) {
        std::vector<std::string> known;
        for (const Table& table : all_tables()) {
            out.tables[table.name].path = fmt::format("{}.csv", table.name);
            known.emplace_back(table.name);
        }
        const auto resources = package.find("resources");
        if (resources == package.end()) return;  // the tables are looked for under their own names
        if (!resources->is_array()) {
            fault(spot_of("resources"), "'resources' is not a list",
                  "list the tables: [{\"name\": ..., \"path\": ...}]");
            return;
        }
        std::set<std::string> names;
        for (const Json& resource : *resources) {
            if (!resource.is_object() || !resource.contains("name") || !resource["name"].is_string()) {
                fault(spot_of("resources"), "a resource has no name", "name it as its table, such as \"shapes\"");
                continue;
            }
            const std::string name = resource["name"];
            if (!names.insert(name).second) {
                fault(spot_of(name), fmt::format("there are two resources '{}'", name), "keep one of them");
                continue;
            }
            const std::string_view table = table_of(resource);
            if (!table.empty() && !out.tables[table].listed) {
                out.tables[table].listed = true;
                read_resource(resource, table, out.tables[table]);
            } else if (table.empty()) {
                // Other tables are welcome beside ours; a slip of the pen in one of ours would hide it.
                const std::string hint = did_you_mean(name, known, "");
                if (!hint.empty())
                    fault(spot_of(name), fmt::format("the resource '{}' is none of the tables of a pack", name),
                          hint);
            }
        }
    }
};

}  // namespace

std::optional<Descriptor> read_descriptor(const PackFiles& files, Faults& faults) {
    auto text = files.read(kDescriptor);
    if (!text) {
        const bool missing = text.error().code == ProblemCode::kNotFound;
        faults.add(
            files.shown(kDescriptor), {1, 1},
            missing ? "the folder has no datapackage.json" : std::move(text.error().what),
            missing ? "name the folder of a pack, or add the file (docs/packs.md)" : std::move(text.error().remedy),
            missing ? ProblemCode::kBadInput : text.error().code);
        return std::nullopt;
    }
    const std::string shown = files.shown(kDescriptor);
    const auto package = json_from_text(*text, shown);
    if (!package) {
        Problem problem = package.error();
        Spot spot{1, 1};
        if (problem.where.size() > shown.size()) {  // file:line:column
            const auto numbers = split(std::string_view(problem.where).substr(shown.size()), ':');
            spot = {static_cast<std::uint32_t>(to_int(numbers[0]).value_or(1)),
                    static_cast<std::uint32_t>(to_int(numbers[1]).value_or(1))};
        }
        faults.add(shown, spot, std::move(problem.what), std::move(problem.remedy), problem.code);
        return std::nullopt;
    }
    if (!package->is_object()) {
        faults.add(shown, {1, 1}, "this is not a JSON object", "see docs/packs.md for an example");
        return std::nullopt;
    }
    DescriptorReader reader{files, faults, std::move(*text), {}};
    reader.out.pack.folder = files.folder();
    reader.read_about(*package);
    reader.read_resources(*package);
    reader.out.text = std::move(reader.text);
    return std::move(reader.out);
}

}  // namespace footring::book
