// SPDX-License-Identifier: Apache-2.0
#include "exchange/iiif.h"

namespace footring::exchange {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kContext = "http://iiif.io/api/presentation/3/context.json";

Json in_english(const std::string& text) { return {{"en", {text}}}; }
Json pair(const std::string& label, const std::string& value) {
    return {{"label", in_english(label)}, {"value", in_english(value)}};
}
std::string manifest_address(const Described& piece, std::string_view base) {
    return address(base, {"api", "pieces", piece.id, "manifest"});
}

Json canvas(const Described& piece, const store::PhotoMeta& photo, std::string_view base) {
    const std::string id = address(base, {"api", "pieces", piece.id, "canvas", photo.sha256});
    const std::string bytes = address(base, {"api", "photos", photo.sha256});
    const Json body{
        {"id", bytes}, {"type", "Image"}, {"format", photo.type}, {"width", photo.width}, {"height", photo.height}};
    return {{"id", id},
            {"type", "Canvas"},
            {"label", in_english(photo.name.empty() ? piece.title : photo.name)},
            {"width", photo.width},
            {"height", photo.height},
            {"thumbnail", {{{"id", bytes + "/thumb"}, {"type", "Image"}, {"format", "image/jpeg"}}}},
            {"items",
             {{{"id", id + "/page"},
               {"type", "AnnotationPage"},
               {"items",
                {{{"id", id + "/painting"},
                  {"type", "Annotation"},
                  {"motivation", "painting"},
                  {"body", body},
                  {"target", id}}}}}}}};
}

}  // namespace

Json iiif_manifest(const Described& piece, std::string_view base) {
    Json out{{"@context", kContext},
             {"id", manifest_address(piece, base)},
             {"type", "Manifest"},
             {"label", in_english(piece.title)},
             {"summary", in_english(piece.summary)}};
    Json metadata = Json::array();
    const auto add = [&](const std::string& label, const std::string& value) {
        if (!value.empty()) metadata.push_back(pair(label, value));
    };
    add("Piece", piece.id);
    add("Form", piece.form);
    add("Shape", piece.shape);
    add("Glaze", piece.glaze);
    add("Maker", piece.maker ? piece.maker->second : "");
    add("Number", piece.number);
    add("Treatment", piece.treatment ? piece.treatment->second : "");
    add("Date", piece.date_words);
    add("Grade", piece.grade);
    add("Mark", piece.mark);
    out["metadata"] = std::move(metadata);
    out["items"] = Json::array();
    for (const store::PhotoMeta& photo : piece.photos) out["items"].push_back(canvas(piece, photo, base));
    return out;
}

Json iiif_collection(const std::vector<Described>& pieces, std::string_view base) {
    Json out{{"@context", kContext},
             {"id", address(base, {"api", "collection"})},
             {"type", "Collection"},
             {"label", in_english("Pieces")},
             {"items", Json::array()}};
    for (const Described& piece : pieces)
        if (!piece.photos.empty())
            out["items"].push_back(
                {{"id", manifest_address(piece, base)}, {"type", "Manifest"}, {"label", in_english(piece.title)}});
    return out;
}

}  // namespace footring::exchange
