// base/text.h - small questions about text that several rooms ask.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace footring {

std::string_view trim(std::string_view);
std::vector<std::string> split(std::string_view text, char at);  // trims the parts, drops empty ones
// Small letters of every script, character by character; a letter whose small one is of another length in UTF-8
// stays.
std::string lower(std::string_view);
std::optional<double> to_number(std::string_view);  // whole text, finite, '.' as the decimal point
std::optional<int> to_int(std::string_view);
bool is_kebab(std::string_view);  // a-z, 0-9 and single inner hyphens, begins with a letter or digit
bool is_utf8(std::string_view);   // well-formed, no NUL
// UTF-8: ? is one character, * any run of them; capitals and small letters are alike.
bool matches_pattern(std::string_view pattern, std::string_view text);
std::string escape_markup(std::string_view);  // & < > " ' for XML and HTML

// "did you mean 'oat'?" when one of `known` is near, else `otherwise`.
std::string did_you_mean(std::string_view name, std::span<const std::string> known, std::string_view otherwise);

}  // namespace footring
