// SPDX-License-Identifier: Apache-2.0
#include "exchange/skos.h"

#include <fmt/format.h>

#include <set>

#include "exchange/described.h"

namespace footring::exchange {

namespace {

using book::Book;
using book::Ref;

// A Turtle string: quotes, backslashes and control characters escaped.
std::string literal(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        switch (c) {
            case '"':
                out += "\\\"";
                break;
            case '\\':
                out += "\\\\";
                break;
            case '\n':
                out += "\\n";
                break;
            case '\r':
                out += "\\r";
                break;
            case '\t':
                out += "\\t";
                break;
            default:
                if (static_cast<unsigned char>(c) < 0x20) out += fmt::format("\\u{:04X}", static_cast<int>(c));
                else out += c;
        }
    }
    return out + "\"@en";
}

class Vocabulary {
  public:
    Vocabulary(const Book& book, std::string_view base) : book_(book), base_(base) {}

    std::string all() {
        out_ =
            "@prefix skos: <http://www.w3.org/2004/02/skos/core#> .\n"
            "@prefix dcterms: <http://purl.org/dc/terms/> .\n";
        table(book_.forms, [&](const book::Form& form) {
            if (form.aat.starts_with("http")) line("skos:closeMatch", "<" + safe(form.aat) + ">");
            note(form.note);
        });
        table(book_.makers, [&](const book::Maker& maker) { note(maker.note); });
        table(book_.shapes, [&](const book::Shape& shape) {
            if (shape.maker) line("skos:related", concept_of(*shape.maker));
            note(shape.note);
        });
        table(book_.glazes, [&](const book::Glaze& glaze) {
            if (glaze.maker) line("skos:related", concept_of(*glaze.maker));
        });
        table(book_.ornaments, [&](const book::Ornament& ornament) {
            line("skos:scopeNote", literal(fmt::format("{} {}", ornament.finish, name_of(ornament.kind))));
        });
        table(book_.treatments, [&](const book::Treatment& treatment) {
            if (!treatment.number.empty()) {
                line("skos:notation", fmt::format("\"{}\"", plain(treatment.number)));
            }
            line("skos:broadMatch", concept_of(treatment.shape));
            if (treatment.glaze) line("skos:related", concept_of(*treatment.glaze));
            std::set<std::uint32_t> ornaments;
            const auto at = static_cast<std::size_t>(&treatment - book_.treatments.data());
            for (const std::uint32_t row : book_.decoration_rows[at])
                if (book_.treatment_ornaments[row].share > 0)
                    ornaments.insert(book_.treatment_ornaments[row].ornament.at);
            for (const std::uint32_t ornament : ornaments)
                line("skos:related", concept_of(Ref<book::Ornament>{ornament}));
            note(treatment.note);
        });
        return std::move(out_);
    }

  private:
    // What may not stand inside <...> of Turtle.
    static std::string safe(std::string_view uri) {
        std::string out;
        for (const char c : uri)
            if (static_cast<unsigned char>(c) <= 0x20 ||
                std::string_view("<>\"{}|^`\\").find(c) != std::string_view::npos)
                out += fmt::format("%{:02X}", static_cast<unsigned char>(c));
            else out += c;
        return out;
    }
    static std::string plain(std::string_view text) {
        const std::string quoted = literal(text);  // "..."@en
        return quoted.substr(1, quoted.size() - 5);
    }
    template <class T>
    std::string concept_of(Ref<T> ref) const {
        return fmt::format("<{}>", address(base_, {std::string(Book::table_name<T>()),
                                                   book_.packs[book_[ref].origin.pack].id + ":" + book_[ref].id}));
    }
    std::string scheme_of(const book::Pack& pack, std::string_view table) const {
        return fmt::format("<{}>", address(base_, {"vocabulary", pack.id, std::string(table)}));
    }
    void line(std::string_view property, const std::string& object) {
        out_ += fmt::format(" ;\n    {} {}", property, object);
    }
    void note(const std::string& text) {
        if (!text.empty()) line("skos:note", literal(text));
    }
    template <class T, class More>
    void table(const std::vector<T>& rows, More more) {
        const std::string_view name = Book::table_name<T>();
        std::set<std::uint32_t> packs;
        for (const T& row : rows) packs.insert(row.origin.pack);
        for (const std::uint32_t pack : packs)
            out_ += fmt::format("\n{} a skos:ConceptScheme ;\n    dcterms:title {} .\n",
                                scheme_of(book_.packs[pack], name),
                                literal(fmt::format("{}: {}", book_.packs[pack].title, name)));
        for (std::uint32_t at = 0; at < rows.size(); ++at) {
            const T& row = rows[at];
            out_ += fmt::format("\n{} a skos:Concept ;\n    skos:inScheme {} ;\n    skos:prefLabel {}",
                                concept_of(Ref<T>{at}), scheme_of(book_.packs[row.origin.pack], name),
                                literal(row.name.empty() ? row.id : row.name));
            more(row);
            out_ += " .\n";
        }
    }

    const Book& book_;
    std::string_view base_;
    std::string out_;
};

}  // namespace

std::string skos(const book::Book& book, std::string_view base) { return Vocabulary(book, base).all(); }

}  // namespace footring::exchange
