// SPDX-License-Identifier: Apache-2.0
#include "base/words.h"

namespace footring {

std::string capital(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
    std::string out;
    for (const std::string& part : parts) {
        if (part.empty()) continue;
        if (!out.empty()) out += between;
        out += part;
    }
    return out;
}

std::string listed(const std::vector<std::string>& list, std::string_view last) {
    std::string out;
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (i > 0) out += i + 1 == list.size() ? last : ", ";
        out += list[i];
    }
    return out;
}

}  // namespace footring
