// book/json_reader.h - members of a JSON object, read with every fault at once.
//   Absent and null members leave the target as it is. `where` is the file, or "file: /services/2".
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::book {

class JsonReader {
  public:
    JsonReader(const nlohmann::json& object, std::string where, std::vector<Problem>& problems);

    const nlohmann::json* member(const char* name) const;                          // null: absent
    void text(const char* name, std::string& into, std::size_t most_bytes = 500);  // without blanks around it
    void verbatim(const char* name, std::string& into);                            // as it is, however long
    void date(const char* name, std::string& into);                                // EDTF, or empty
    void flag(const char* name, bool& into);
    void ids(const char* name, std::vector<std::string>& into);  // a list of texts that are not empty, each once
    void money(const char* name, std::optional<double>& into);   // not negative
    void revision(const char* name, std::int64_t& into);
    void whole(const char* name, int& into, int lowest, int highest);
    void amount(const char* name, double& into, double lowest, double highest);
    void texts(const char* name, std::vector<std::string>& into, std::size_t most);  // one text stands for a list
    // Index into `words`.
    std::optional<std::size_t> word(const char* name, std::span<const std::string_view> words);
    // A fault for each member that is none of `known`.
    void only(std::span<const std::string_view> known);

    std::string at(std::string_view name) const;  // "file: /services/2/name"
    void fault(std::string_view name, std::string what, std::string remedy);

  private:
    const nlohmann::json& object_;
    std::string where_;
    std::vector<Problem>& problems_;
};

}  // namespace footring::book
