// SPDX-License-Identifier: Apache-2.0
#include "exchange/dublin_core.h"

#include <fmt/format.h>

#include "base/text.h"

namespace footring::exchange {

namespace {

void element(std::string& out, std::string_view name, const std::string& text, std::string_view attribute = "") {
    if (text.empty()) return;
    out += fmt::format("    <dcterms:{}{}>{}</dcterms:{}>\n", name, attribute, escape_markup(text), name);
}
void link(std::string& out, std::string_view name, const std::string& address) {
    if (!address.empty())
        out += fmt::format("    <dcterms:{} rdf:resource=\"{}\"/>\n", name, escape_markup(address));
}

void piece_of(std::string& out, const Described& piece, std::string_view base) {
    out +=
        fmt::format("  <rdf:Description rdf:about=\"{}\">\n", escape_markup(address(base, {"pieces", piece.id})));
    element(out, "identifier", piece.id);
    element(out, "title", piece.title);
    element(out, "description", piece.summary);
    link(out, "type", "http://purl.org/dc/dcmitype/PhysicalObject");
    link(out, "subject", piece.aat);
    for (const auto& ornament : piece.ornaments) element(out, "subject", ornament.second);
    if (piece.maker) element(out, "creator", piece.maker->second);
    if (piece.date)
        element(out, "created", piece.date->text(), R"( rdf:datatype="http://id.loc.gov/datatypes/edtf/EDTF")");
    std::string extent;
    const auto add = [&](std::string_view what, const std::optional<double>& mm) {
        if (mm) extent += fmt::format("{}{} {:g} mm", extent.empty() ? "" : ", ", what, *mm);
    };
    add("length", piece.length_mm);
    add("width", piece.width_mm);
    add("height", piece.height_mm);
    element(out, "extent", extent);
    for (const std::string& source : piece.sources) element(out, "references", source);
    for (const store::PhotoMeta& photo : piece.photos)
        link(out, "hasFormat", address(base, {"api", "photos", photo.sha256}));
    out += "  </rdf:Description>\n";
}

}  // namespace

std::string dublin_core(const std::vector<Described>& pieces, std::string_view base) {
    std::string out =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\" "
        "xmlns:dcterms=\"http://purl.org/dc/terms/\">\n";
    for (const Described& piece : pieces) piece_of(out, piece, base);
    return out + "</rdf:RDF>\n";
}

}  // namespace footring::exchange
