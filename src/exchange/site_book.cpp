// SPDX-License-Identifier: Apache-2.0
#include "exchange/site_book.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>
#include <unordered_map>

#include "base/words.h"
#include "book/decoration.h"
#include "book/glyph.h"

namespace footring::exchange {

namespace {

using book::Book;
using book::Ref;
using TableRows = std::vector<std::vector<std::string>>;

std::string words(const std::optional<edtf::Edtf>& years) {
    return years ? fmt::format("{} <code>{}</code>", escaped(edtf::in_words(*years)), escaped(years->text())) : "";
}
std::string number(const std::optional<double>& value, std::string_view unit) {
    return value ? fmt::format("{:g} {}", *value, unit) : "";
}
std::string_view grade_words(book::Grade grade) {
    return grade == book::Grade::kFirst    ? "first run"
           : grade == book::Grade::kSecond ? "second-grade ware"
                                           : "first run and second-grade ware";
}

// Rows of one table by a row of another, in the order of the packs.
template <class Of, class By>
class Group {
  public:
    explicit Group(std::size_t size) : at_(size) {}
    void add(Ref<By> by, std::uint32_t row) { at_[by.at].push_back(Ref<Of>{row}); }
    const std::vector<Ref<Of>>& operator[](Ref<By> by) const { return at_[by.at]; }

  private:
    std::vector<std::vector<Ref<Of>>> at_;
};

class BookPages {
  public:
    BookPages(const Book& book, const PiecesByTreatment& pieces, std::vector<SiteFind>& finds,
              const std::function<Expected<void>(const SitePage&)>& give)
        : book_(book),
          pieces_(pieces),
          finds_(finds),
          give_(give),
          by_shape_(book.shapes.size()),
          by_glaze_(book.glazes.size()),
          by_ornament_(book.ornaments.size()),
          shapes_by_maker_(book.makers.size()),
          glazes_by_maker_(book.makers.size()),
          marks_by_maker_(book.makers.size()),
          forms_by_shape_(book.shapes.size()) {
        for (std::uint32_t i = 0; i < book.treatments.size(); ++i) {
            const book::Treatment& row = book.treatments[i];
            by_shape_.add(row.shape, i);
            if (row.glaze) by_glaze_.add(*row.glaze, i);
            std::set<std::uint32_t> ornaments;
            for (const std::uint32_t at : book.decoration_rows[i])
                if (book.treatment_ornaments[at].share > 0)
                    ornaments.insert(book.treatment_ornaments[at].ornament.at);
            for (const std::uint32_t ornament : ornaments) by_ornament_.add(Ref<book::Ornament>{ornament}, i);
        }
        for (std::uint32_t i = 0; i < book.shapes.size(); ++i)
            if (book.shapes[i].maker) shapes_by_maker_.add(*book.shapes[i].maker, i);
        for (std::uint32_t i = 0; i < book.glazes.size(); ++i)
            if (book.glazes[i].maker) glazes_by_maker_.add(*book.glazes[i].maker, i);
        for (std::uint32_t i = 0; i < book.marks.size(); ++i)
            if (book.marks[i].maker) marks_by_maker_.add(*book.marks[i].maker, i);
        for (std::uint32_t i = 0; i < book.shape_forms.size(); ++i)
            forms_by_shape_.add(book.shape_forms[i].shape, i);
        for (std::uint32_t i = 0; i < book.dated_uses.size(); ++i) uses_[book.dated_uses[i].subject].push_back(i);
        for (std::uint32_t i = 0; i < book.statements.size(); ++i) said_[book.statements[i].subject].push_back(i);
    }

    Expected<void> all() {
        table<book::Treatment>("Treatments", {"Treatment", "Shape", "Glaze", "Grade", "Years"});
        table<book::Ornament>("Ornaments", {"Ornament", "Kind", "Finish", "Years", "Treatments"});
        table<book::Shape>("Shapes", {"Shape", "Maker", "Years", "Treatments"});
        table<book::Maker>("Makers", {"Maker", "Role", "Place", "Years"});
        table<book::Glaze>("Glazes", {"Glaze", "Maker", "Years"});
        table<book::Mark>("Marks", {"Wording", "Maker", "Years"});
        table<book::Source>("Sources", {"Source", "Kind", "Creator", "Date"});
        if (problem_) return std::unexpected(*problem_);
        return {};
    }

  private:
    std::string name(const book::Treatment& row) const { return spoken(row); }
    std::string name(const book::Mark& row) const { return row.wording.empty() ? row.id : row.wording; }
    std::string name(const book::Source& row) const { return row.title.empty() ? row.id : row.title; }
    template <class T>
    std::string name(const T& row) const {
        return row.name.empty() ? row.id : row.name;
    }
    template <class T>
    std::string link(const SitePage& page, Ref<T> ref) const {
        return page.link(page_of(book_, ref), name(book_[ref]));
    }
    template <class T>
    std::string link(const SitePage& page, const std::optional<Ref<T>>& ref) const {
        return ref ? link(page, *ref) : "";
    }
    std::string sources(const SitePage& page, const std::vector<Ref<book::Source>>& refs) const {
        std::vector<std::string> links;
        for (const auto ref : refs) links.push_back(link(page, ref));
        return joined(links, "; ");
    }
    template <class T>
    std::string full(const T& row) const {
        return book_.packs[row.origin.pack].id + ":" + row.id;
    }

    void give(const SitePage& page) {
        if (problem_) return;
        if (auto done = give_(page); !done) problem_ = done.error();
    }

    template <class T>
    void table(const std::string& title, const std::vector<std::string>& columns) {
        const std::string folder(Book::table_name<T>());
        SitePage list(folder + "/index.html", title, "");
        TableRows rows;
        for (std::uint32_t i = 0; i < book_.table<T>().size() && !problem_; ++i) {
            const Ref<T> ref{i};
            const T& row = book_[ref];
            SitePage page(page_of(book_, ref), name(row), std::string(Book::thing_name<T>()));
            fill(page, ref);
            spoken_of(page, row);
            give(page);
            rows.push_back(list_cells(list, ref));
            finds_.push_back({name(row), std::string(Book::thing_name<T>()), detail(row), page.path()});
        }
        list.paragraph(rows.empty() ? "Nothing is recorded here." : fmt::format("{} in all.", rows.size()));
        list.table(title, columns, rows);
        give(list);
    }

    // ---- what every row may have
    template <class T>
    void spoken_of(SitePage& page, const T& row) {
        page.end_facts();
        if (const auto uses = uses_.find(full(row)); uses != uses_.end()) {
            page.heading("Dated uses");
            TableRows cells;
            for (const std::uint32_t i : uses->second) {
                const book::DatedUse& use = book_.dated_uses[i];
                cells.push_back({words(use.date), escaped(use.kind), sources(page, use.sources)});
            }
            page.table("Dated uses", {"Date", "What", "Source"}, cells);
        }
        if (const auto said = said_.find(full(row)); said != said_.end()) {
            page.heading("Statements");
            TableRows cells;
            for (const std::uint32_t i : said->second) {
                const book::Statement& one = book_.statements[i];
                std::string source = sources(page, one.sources);
                for (const auto ref : one.sources)
                    if (book_[ref].trust) source += fmt::format(" (trust {:.2f})", *book_[ref].trust);
                cells.push_back({escaped(one.property), escaped(one.value), one.stance_for ? "for" : "against",
                                 source, escaped(one.note)});
            }
            page.table("Statements", {"Of", "Says", "Stance", "Source", "Note"}, cells);
        }
    }
    void glyph(SitePage& page, Ref<book::Treatment> ref, std::optional<Ref<book::Form>> form) {
        const std::string svg = book::draw(book_, book::glyph_of(book_, ref, form));
        page.raw(fmt::format("<figure class=\"glyph\">{}<figcaption>{}</figcaption></figure>\n", svg,
                             escaped(form ? book_[*form].name : "Plate")));
    }
    void treatments(SitePage& page, std::string_view caption, const std::vector<Ref<book::Treatment>>& refs) {
        if (refs.empty()) return;
        page.heading(caption);
        page.raw("<ul class=\"plates\">\n");
        for (const auto ref : refs)
            page.raw(fmt::format("<li>{}{}<span>{}</span></li>\n",
                                 book::draw(book_, book::glyph_of(book_, ref, std::nullopt)), link(page, ref),
                                 escaped(joined({book_[book_[ref].shape].name,
                                                 book_[ref].grade == book::Grade::kSecond ? "second" : ""},
                                                ", "))));
        page.raw("</ul>\n");
    }

    // ---- a page of each kind
    void fill(SitePage& page, Ref<book::Treatment> ref) {
        const book::Treatment& row = book_[ref];
        // One flat and one hollow form show all that there is to see.
        const auto forms = book::forms_of(book_, row.shape);
        page.raw("<div class=\"glyphs\">\n");
        for (const book::Ware ware : {book::Ware::kFlat, book::Ware::kHollow}) {
            const auto form = std::ranges::find_if(forms, [&](auto f) { return book_[f].ware == ware; });
            if (form != forms.end()) glyph(page, ref, *form);
        }
        page.raw("</div>\n");
        page.fact("Shape", link(page, row.shape));
        page.fact("Maker", link(page, maker_of(book_, ref)));
        page.fact("Glaze", link(page, row.glaze));
        page.fact("Number", escaped(row.number));
        page.fact("Grade", escaped(grade_words(row.grade)));
        page.fact("Years", words(row.years));
        page.fact("Outlet", escaped(row.outlet));
        page.fact("Note", escaped(row.note));
        page.fact("Sources", sources(page, row.sources));
        page.end_facts();
        TableRows decoration;
        for (const std::uint32_t at : book_.decoration_rows[ref.at]) {
            const book::TreatmentOrnament& one = book_.treatment_ornaments[at];
            const std::string on = one.on.form   ? book_[*one.on.form].name
                                   : one.on.ware ? std::string(name_of(*one.on.ware)) + " ware"
                                                 : "every form";
            decoration.push_back(
                {escaped(capital(name_of(one.place))), one.share > 0 ? link(page, one.ornament) : "bare",
                 escaped(on), one.share > 0 && one.share < 1 ? fmt::format("{:.0f} in 100", 100 * one.share) : "",
                 sources(page, one.sources)});
        }
        if (!decoration.empty()) page.heading("Decoration");
        page.table("Decoration", {"Place", "Ornament", "On", "How often", "Source"}, decoration);
        if (const auto pieces = pieces_.find(full(row)); pieces != pieces_.end()) {
            page.heading("Pieces");
            std::vector<std::string> items;
            for (const SitePieceLink& piece : pieces->second) items.push_back(page.link(piece.path, piece.title));
            page.list(items);
        }
    }
    void fill(SitePage& page, Ref<book::Ornament> ref) {
        const book::Ornament& row = book_[ref];
        page.raw(fmt::format("<figure class=\"strip\">{}<figcaption>The rim unrolled</figcaption></figure>\n",
                             book::rim_strip(book_, ref)));
        page.fact("Kind", escaped(name_of(row.kind)));
        page.fact("Finish", escaped(row.finish));
        page.fact("Repeats", row.repeats ? fmt::format("{} round the rim", *row.repeats) : "");
        page.fact("Supplier", link(page, row.supplier));
        page.fact("Shared", row.shared ? "several potteries used it" : "");
        page.fact("Years", words(row.years));
        page.fact("Sources", sources(page, row.sources));
        page.end_facts();
        treatments(page, "Treatments that carry it", by_ornament_[ref]);
    }
    void fill(SitePage& page, Ref<book::Shape> ref) {
        const book::Shape& row = book_[ref];
        page.fact("Maker", link(page, row.maker));
        page.fact("Years", words(row.years));
        page.fact("Note", escaped(row.note));
        page.fact("Sources", sources(page, row.sources));
        page.end_facts();
        treatments(page, "Treatments", by_shape_[ref]);
        TableRows sizes;
        for (const auto at : forms_by_shape_[ref]) {
            const book::ShapeForm& form = book_[at];
            sizes.push_back({escaped(book_[form.form].name), escaped(form.trade_size), number(form.length_mm, "mm"),
                             number(form.width_mm, "mm"), number(form.height_mm, "mm"),
                             number(form.capacity_ml, "ml"), sources(page, form.sources)});
        }
        if (!sizes.empty()) page.heading("Forms and sizes");
        page.table("Forms and sizes", {"Form", "Trade size", "Length", "Width", "Height", "Holds", "Source"},
                   sizes);
    }
    void fill(SitePage& page, Ref<book::Maker> ref) {
        const book::Maker& row = book_[ref];
        page.fact("Role", escaped(name_of(row.role)));
        page.fact("Place", escaped(row.place));
        page.fact("Years", words(row.years));
        page.fact("Note", escaped(row.note));
        page.fact("Sources", sources(page, row.sources));
        page.end_facts();
        links(page, "Shapes", shapes_by_maker_[ref]);
        links(page, "Glazes", glazes_by_maker_[ref]);
        links(page, "Marks", marks_by_maker_[ref]);
    }
    void fill(SitePage& page, Ref<book::Glaze> ref) {
        const book::Glaze& row = book_[ref];
        if (row.lab)
            page.fact("Colour",
                      fmt::format("<svg class=\"swatch\" viewBox=\"0 0 2 1\" role=\"img\" aria-label=\"swatch\">"
                                  "<rect width=\"2\" height=\"1\" fill=\"{}\"/></svg> L* {:g}, a* {:g}, b* {:g}",
                                  book::srgb_of_lab(*row.lab), (*row.lab)[0], (*row.lab)[1], (*row.lab)[2]));
        page.fact("Maker", link(page, row.maker));
        page.fact("Years", words(row.years));
        page.fact("Uranium", row.uranium == book::Uranium::kYes
                                 ? "recorded as bearing uranium: have a piece tested before it is used for food"
                             : row.uranium == book::Uranium::kNo ? "none is recorded"
                                                                 : "not known");
        page.fact("Sources", sources(page, row.sources));
        page.end_facts();
        treatments(page, "Treatments", by_glaze_[ref]);
    }
    void fill(SitePage& page, Ref<book::Mark> ref) {
        const book::Mark& row = book_[ref];
        page.fact("Wording", escaped(row.wording));
        page.fact("Maker", link(page, row.maker));
        page.fact("Years", words(row.years));
        page.fact("Grade", row.second ? "struck on second-grade ware only" : "");
        page.fact("Sources", sources(page, row.sources));
        page.end_facts();
        links(page, "Shapes that bear it", row.shapes);
    }
    void fill(SitePage& page, Ref<book::Source> ref) {
        const book::Source& row = book_[ref];
        page.fact("Kind", escaped(row.kind));
        page.fact("Creator", escaped(row.creator));
        page.fact("Date", escaped(row.date));
        page.fact("Where in it", escaped(row.locator));
        page.fact("Trust", row.trust ? fmt::format("{:.2f} of 1", *row.trust) : "");
        page.end_facts();
        resting(page, ref, book_.treatments, "Treatments that rest on it");
        resting(page, ref, book_.ornaments, "Ornaments that rest on it");
        resting(page, ref, book_.shapes, "Shapes that rest on it");
        resting(page, ref, book_.glazes, "Glazes that rest on it");
        resting(page, ref, book_.marks, "Marks that rest on it");
    }
    template <class T>
    void links(SitePage& page, std::string_view caption, const std::vector<Ref<T>>& refs) {
        if (refs.empty()) return;
        page.heading(caption);
        std::vector<std::string> items;
        for (const auto ref : refs) items.push_back(link(page, ref));
        page.list(items);
    }
    template <class T>
    void resting(SitePage& page, Ref<book::Source> source, const std::vector<T>& rows, std::string_view caption) {
        std::vector<Ref<T>> refs;
        for (std::uint32_t i = 0; i < rows.size(); ++i)
            if (std::ranges::find(rows[i].sources, source) != rows[i].sources.end()) refs.push_back(Ref<T>{i});
        links(page, caption, refs);
    }

    // ---- the lists
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Treatment> ref) const {
        const book::Treatment& row = book_[ref];
        return {link(page, ref), link(page, row.shape), link(page, row.glaze), escaped(grade_words(row.grade)),
                words(row.years)};
    }
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Ornament> ref) const {
        const book::Ornament& row = book_[ref];
        return {link(page, ref), escaped(name_of(row.kind)), escaped(row.finish), words(row.years),
                fmt::format("{}", by_ornament_[ref].size())};
    }
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Shape> ref) const {
        return {link(page, ref), link(page, book_[ref].maker), words(book_[ref].years),
                fmt::format("{}", by_shape_[ref].size())};
    }
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Maker> ref) const {
        const book::Maker& row = book_[ref];
        return {link(page, ref), escaped(name_of(row.role)), escaped(row.place), words(row.years)};
    }
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Glaze> ref) const {
        return {link(page, ref), link(page, book_[ref].maker), words(book_[ref].years)};
    }
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Mark> ref) const {
        return {link(page, ref), link(page, book_[ref].maker), words(book_[ref].years)};
    }
    std::vector<std::string> list_cells(const SitePage& page, Ref<book::Source> ref) const {
        const book::Source& row = book_[ref];
        return {link(page, ref), escaped(row.kind), escaped(row.creator), escaped(row.date)};
    }

    // ---- what a search shows beside the name
    std::string detail(const book::Treatment& row) const {
        return joined({book_[row.shape].name, row.glaze ? book_[*row.glaze].name : ""}, ", ");
    }
    std::string detail(const book::Ornament& row) const {
        return joined({row.finish, std::string(name_of(row.kind))}, " ");
    }
    std::string detail(const book::Shape& row) const { return row.maker ? book_[*row.maker].name : ""; }
    std::string detail(const book::Maker& row) const { return row.place; }
    std::string detail(const book::Glaze& row) const { return row.maker ? book_[*row.maker].name : ""; }
    std::string detail(const book::Mark& row) const { return row.maker ? book_[*row.maker].name : ""; }
    std::string detail(const book::Source& row) const { return joined({row.creator, row.date}, ", "); }

    const Book& book_;
    const PiecesByTreatment& pieces_;
    std::vector<SiteFind>& finds_;
    const std::function<Expected<void>(const SitePage&)>& give_;
    std::optional<Problem> problem_;
    Group<book::Treatment, book::Shape> by_shape_;
    Group<book::Treatment, book::Glaze> by_glaze_;
    Group<book::Treatment, book::Ornament> by_ornament_;
    Group<book::Shape, book::Maker> shapes_by_maker_;
    Group<book::Glaze, book::Maker> glazes_by_maker_;
    Group<book::Mark, book::Maker> marks_by_maker_;
    Group<book::ShapeForm, book::Shape> forms_by_shape_;
    std::unordered_map<std::string, std::vector<std::uint32_t>> uses_, said_;  // by full id of the subject
};

}  // namespace

std::string spoken(const book::Treatment& row) {
    const std::string out = joined({row.number, row.name}, " ");
    return out.empty() ? row.id : out;
}

Expected<void> book_pages(const book::Book& book, const PiecesByTreatment& pieces, std::vector<SiteFind>& finds,
                          const std::function<Expected<void>(const SitePage&)>& page) {
    return BookPages(book, pieces, finds, page).all();
}

}  // namespace footring::exchange
