// SPDX-License-Identifier: Apache-2.0
#include "exchange/linked_art.h"

#include <fmt/format.h>

namespace footring::exchange {

namespace {

using Json = nlohmann::ordered_json;

// Terms of the Art & Architecture Thesaurus that the Linked Art documentation uses for these purposes.
struct Term {
    std::string_view number, label;
};
constexpr Term kPrimaryName{"300404670", "primary name"}, kOwnersNumber{"300404621", "owner-assigned numbers"},
    kDescription{"300435416", "description"}, kConditionStatement{"300435425", "condition statement"},
    kMakersMark{"300028744", "marks (symbols)"}, kLength{"300055645", "length"}, kWidth{"300055647", "width"},
    kHeight{"300055644", "height"}, kMillimetres{"300379097", "millimeters"}, kImage{"300215302", "digital images"},
    kCeramics{"300151343", "ceramics (objects)"};

std::string uri(const Term& term) { return "http://vocab.getty.edu/aat/" + std::string(term.number); }
Json type(const Term& term, std::string_view kind = "Type") {
    return {{"id", uri(term)}, {"type", kind}, {"_label", term.label}};
}
Json statement(const Term& term, const std::string& content) {
    return {{"type", "LinguisticObject"}, {"classified_as", {type(term)}}, {"content", content}};
}
Json dimension(const Term& term, double mm) {
    return {{"type", "Dimension"},
            {"classified_as", {type(term)}},
            {"value", mm},
            {"unit", type(kMillimetres, "MeasurementUnit")}};
}
// xsd:dateTime; years before 1 and after 9999 keep their sign and all their figures.
std::string moment(const edtf::Day& day, std::string_view time) {
    const std::string year = day.year < 0 ? fmt::format("-{:04}", -day.year) : fmt::format("{:04}", day.year);
    return fmt::format("{}-{:02}-{:02}T{}Z", year, day.month, day.day, time);
}
Json time_span(const Described& piece) {
    Json span{{"type", "TimeSpan"}, {"identified_by", {{{"type", "Name"}, {"content", piece.date_words}}}}};
    if (piece.date->earliest()) span["begin_of_the_begin"] = moment(*piece.date->earliest(), "00:00:00");
    if (piece.date->latest()) span["end_of_the_end"] = moment(*piece.date->latest(), "23:59:59");
    return span;
}

}  // namespace

Json linked_art(const Described& piece, std::string_view base) {
    const std::string id = address(base, {"pieces", piece.id});
    Json out{{"@context", "https://linked.art/ns/v1/linked-art.json"},
             {"id", id},
             {"type", "HumanMadeObject"},
             {"_label", piece.title},
             {"classified_as", {type(kCeramics)}}};
    if (!piece.aat.empty())
        out["classified_as"].push_back({{"id", piece.aat}, {"type", "Type"}, {"_label", piece.form}});
    out["identified_by"] = {
        {{"type", "Name"}, {"classified_as", {type(kPrimaryName)}}, {"content", piece.title}},
        {{"type", "Identifier"}, {"classified_as", {type(kOwnersNumber)}}, {"content", piece.id}}};
    out["referred_to_by"] = {statement(kDescription, piece.summary)};
    for (const std::string& one : piece.condition)
        out["referred_to_by"].push_back(statement(kConditionStatement, one));
    Json dimensions = Json::array();
    if (piece.length_mm) dimensions.push_back(dimension(kLength, *piece.length_mm));
    if (piece.width_mm) dimensions.push_back(dimension(kWidth, *piece.width_mm));
    if (piece.height_mm) dimensions.push_back(dimension(kHeight, *piece.height_mm));
    if (!dimensions.empty()) out["dimension"] = std::move(dimensions);

    Json production{{"type", "Production"}};
    if (piece.date) production["timespan"] = time_span(piece);
    if (piece.maker)
        production["carried_out_by"] = {{{"id", address(base, {"makers", piece.maker->first})},
                                         {"type", "Group"},
                                         {"_label", piece.maker->second}}};
    if (production.size() > 1) out["produced_by"] = std::move(production);

    if (!piece.mark.empty()) out["carries"] = {statement(kMakersMark, piece.mark)};
    if (piece.treatment) {
        // The design as a work of its own, which several pieces share.
        const Json design{{"id", address(base, {"treatments", piece.treatment->first})},
                          {"type", "VisualItem"},
                          {"_label", piece.treatment->second}};
        out["shows"] = {design};
        out["attributed_by"] = {{{"type", "AttributeAssignment"},
                                 {"_label", "Named by the keeper of the piece"},
                                 {"assigned_property", "shows"},
                                 {"assigned", {design}}}};
    }
    for (const store::PhotoMeta& photo : piece.photos) {
        const std::string bytes = address(base, {"api", "photos", photo.sha256});
        out["representation"].push_back({{"type", "VisualItem"},
                                         {"digitally_shown_by",
                                          {{{"id", bytes},
                                            {"type", "DigitalObject"},
                                            {"classified_as", {type(kImage)}},
                                            {"format", photo.type},
                                            {"access_point", {{{"id", bytes}, {"type", "DigitalObject"}}}}}}}});
    }
    if (!piece.photos.empty())
        out["subject_of"] = {
            {{"type", "LinguisticObject"},
             {"_label", "IIIF manifest"},
             {"digitally_carried_by",
              {{{"type", "DigitalObject"},
                {"format", R"(application/ld+json;profile="http://iiif.io/api/presentation/3/context.json")"},
                {"conforms_to", {{{"id", "http://iiif.io/api/presentation/"}, {"type", "InformationObject"}}}},
                {"access_point",
                 {{{"id", address(base, {"api", "pieces", piece.id, "manifest"})},
                   {"type", "DigitalObject"}}}}}}}}};
    return out;
}

}  // namespace footring::exchange
