// SPDX-License-Identifier: Apache-2.0
#include "server/wording.h"

#include <fmt/format.h>

#include "base/text.h"
#include "dating/clues.h"
#include "server/corrections.h"

namespace footring::server {

std::optional<dating::WordingText> wording_of(const nlohmann::json& found, const nlohmann::json& corrections,
                                              const std::string& photo) {
    dating::WordingText out{"", fmt::format("photograph {}", photo), 1};
    if (const Corrections mended = corrections_of(corrections); mended.words) {
        out.text = *mended.words;
    } else {
        const auto words = found.is_object() ? found.find("wording") : found.end();
        if (words == found.end() || !words->is_array()) return std::nullopt;
        double confidence = 0;
        std::size_t count = 0;
        for (const nlohmann::json& word : *words) {
            const std::string text = word.is_object() ? word.value("text", "") : "";
            if (trim(text).empty()) continue;
            out.text += (out.text.empty() ? "" : "\n") + text;
            confidence += word.value("confidence", 0.0);
            ++count;
        }
        if (count > 0) out.confidence = confidence / static_cast<double>(count);
    }
    if (trim(out.text).empty()) return std::nullopt;
    return out;
}

Expected<std::vector<dating::WordingText>> wordings_of_piece(const store::Store& store, const std::string& piece) {
    std::vector<dating::WordingText> out;
    if (piece.empty()) return out;
    const auto photos = store.photos(piece);
    if (!photos) {
        if (photos.error().code == ProblemCode::kNotFound) return out;
        return std::unexpected(photos.error());
    }
    for (const store::PhotoMeta& photo : *photos) {
        const auto reading = store.reading(photo.sha256);
        if (!reading && reading.error().code != ProblemCode::kNotFound) return std::unexpected(reading.error());
        if (auto text = wording_of(reading ? reading->found : nlohmann::json(), photo.corrections, photo.name))
            out.push_back(std::move(*text));
    }
    return out;
}

nlohmann::ordered_json clues_in(const book::Book& book, const std::optional<dating::WordingText>& wording,
                                const Settings& settings) {
    if (!wording) return nullptr;
    const auto answer = dating::find_clues(book, wording->text, settings);
    return answer ? dating::clues_json(book, *answer) : nlohmann::ordered_json(nullptr);
}

}  // namespace footring::server
