// SPDX-License-Identifier: Apache-2.0
#include "papers/pdf_canvas.h"

#include <cairo-pdf.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace footring::papers {

namespace {

constexpr const char* kSans = "Lato";

cairo_status_t append(void* to, const unsigned char* data, unsigned int length) {
    try {
        static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    } catch (const std::bad_alloc&) {
        return CAIRO_STATUS_NO_MEMORY;
    }
}

// A text inside the attributes of a tag: quotes and backslashes escaped.
std::string quoted(std::string_view text) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'' || c == '\\') out += '\\';
        out += c;
    }
    return out + "'";
}

// Cairo 1.16 does not name the language of its files, and says that they are tagged only in some; readers aloud ask
// for both. The catalogue is the last object of its files, so that only the offset of the table behind it changes.
std::string with_language(std::string pdf) {
    constexpr std::string_view kCatalogue = "<< /Type /Catalog\n", kStart = "startxref\n";
    const std::size_t at = pdf.rfind(kCatalogue), start = pdf.rfind(kStart);
    if (at == std::string::npos || start == std::string::npos || start < at) return pdf;
    const std::size_t number = start + kStart.size(), end = pdf.find('\n', number);
    const auto table = to_int(pdf.substr(number, end - number));
    const std::string rest = pdf.substr(at, start - at);
    if (!table || static_cast<std::size_t>(*table) < at || rest.find(" obj\n") != std::string::npos) return pdf;
    std::string more = "   /Lang (en-GB)\n   /ViewerPreferences << /DisplayDocTitle true >>\n";
    if (rest.find("/MarkInfo") == std::string::npos) more += "   /MarkInfo << /Marked true >>\n";
    pdf.replace(number, end - number, std::to_string(*table + static_cast<int>(more.size())));
    pdf.insert(at + kCatalogue.size(), more);
    return pdf;
}

bool has_family(PangoFontMap* map, std::string_view name) {
    PangoFontFamily** families = nullptr;
    int count = 0;
    pango_font_map_list_families(map, &families, &count);
    bool found = false;
    for (int i = 0; i < count; ++i) found = found || name == pango_font_family_get_name(families[i]);
    g_free(families);
    return found;
}

}  // namespace

void GObjectFree::operator()(void* object) const { g_object_unref(object); }

Canvas::~Canvas() {
    for (auto& [key, description] : described_) pango_font_description_free(description);
}

Expected<std::unique_ptr<Canvas>> Canvas::open(Sheet sheet, const Paper& paper, const std::string& when) {
    std::unique_ptr<Canvas> out(new Canvas);
    out->width_ = mm(sheet.width_mm);
    out->height_ = mm(sheet.height_mm);
    // A font map of its own: Pango's shared one belongs to one thread.
    out->fonts_.reset(pango_cairo_font_map_new());
    auto* map = static_cast<PangoFontMap*>(static_cast<void*>(out->fonts_.get()));
    pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72);
    for (const auto& [family, package] : {std::pair{"EB Garamond", "fonts-ebgaramond"}, {kSans, "fonts-lato"}})
        if (!has_family(map, family))
            return fail(ProblemCode::kStore, "fonts", fmt::format("the font {} is not installed", family),
                        fmt::format("install the package {}; `--format html` needs no fonts", package));
    out->surface_.reset(cairo_pdf_surface_create_for_stream(append, &out->bytes_, out->width_, out->height_));
    auto* pdf = out->surface_.get();
    cairo_pdf_surface_restrict_to_version(pdf, CAIRO_PDF_VERSION_1_5);
    const auto describe = [&](cairo_pdf_metadata_t what, const std::string& text) {
        if (!text.empty()) cairo_pdf_surface_set_metadata(pdf, what, text.c_str());
    };
    std::string words;
    for (const std::string& word : paper.keywords) words += (words.empty() ? "" : ", ") + word;
    describe(CAIRO_PDF_METADATA_TITLE, paper.kind.empty() ? paper.title : paper.kind + ": " + paper.title);
    describe(CAIRO_PDF_METADATA_SUBJECT, paper.about);
    describe(CAIRO_PDF_METADATA_KEYWORDS, words);
    describe(CAIRO_PDF_METADATA_CREATOR, "Footring");
    describe(CAIRO_PDF_METADATA_CREATE_DATE, when);
    out->cairo_.reset(cairo_create(pdf));
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    out->context_.reset(pango_font_map_create_context(map));
    auto* context = PANGO_CONTEXT(out->context_.get());
    pango_cairo_context_set_font_options(context, options);
    pango_context_set_language(context, pango_language_from_string("en-gb"));
    pango_context_set_round_glyph_positions(context, FALSE);
    cairo_font_options_destroy(options);
    return out;
}

void Canvas::check(const char* what) {
    if (!trouble_.empty()) return;
    for (const auto status : {cairo_status(cairo_.get()), cairo_surface_status(surface_.get())})
        if (status != CAIRO_STATUS_SUCCESS) trouble_ = fmt::format("{}: {}", what, cairo_status_to_string(status));
}

cairo_surface_t* Canvas::photograph(const Picture& picture) {
    auto found = pictures_.find(picture.jpeg);
    if (found != pictures_.end()) return found->second.get();
    // Cairo never looks at these pixels: the JPEG itself goes into the file.
    Surface kept(cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(picture.width),
                                            static_cast<int>(picture.height)));
    auto* copy = static_cast<unsigned char*>(g_memdup2(picture.jpeg.data(), picture.jpeg.size()));
    cairo_surface_set_mime_data(kept.get(), CAIRO_MIME_TYPE_JPEG, copy, picture.jpeg.size(), g_free, copy);
    return pictures_.emplace(picture.jpeg, std::move(kept)).first->second.get();
}

void Canvas::soon(const Picture& picture, double width, double height) {
    if (picture.jpeg.empty()) drawings_.begin(picture.layers, width, height);
}

void Canvas::picture(const Picture& picture, double x, double y, double width, double height) {
    auto* on = cairo_.get();
    cairo_save(on);
    cairo_translate(on, x, y);
    if (!picture.jpeg.empty()) {
        cairo_scale(on, width / picture.width, height / picture.height);
        cairo_set_source_surface(on, photograph(picture), 0, 0);
        cairo_rectangle(on, 0, 0, picture.width, picture.height);
        cairo_fill(on);
    } else if (!picture.layers.empty()) {
        const Drawings::Drawn drawn = drawings_.at(picture.layers, width, height);
        if (trouble_.empty()) trouble_ = drawn.trouble;
        cairo_surface_t* pixels = drawn.pixels.get();
        cairo_scale(on, width / cairo_image_surface_get_width(pixels),
                    height / cairo_image_surface_get_height(pixels));
        cairo_set_source_surface(on, pixels, 0, 0);
        cairo_rectangle(on, 0, 0, cairo_image_surface_get_width(pixels), cairo_image_surface_get_height(pixels));
        cairo_fill(on);
    } else if (!picture.svg.empty()) {
        const std::string trouble = draw_svg(picture.svg, on, width, height);
        if (trouble_.empty()) trouble_ = trouble;
    }
    cairo_restore(on);
    check("a picture");
}

void Canvas::rule(double x0, double y0, double x1, double y1, double width, Colour c) {
    auto* on = cairo_.get();
    cairo_set_source_rgb(on, c.r, c.g, c.b);
    cairo_set_line_width(on, width);
    cairo_move_to(on, x0, y0);
    cairo_line_to(on, x1, y1);
    cairo_stroke(on);
}

void Canvas::dots(double x0, double x1, double y, Colour c) {
    if (x1 - x0 < 6) return;
    auto* on = cairo_.get();
    cairo_save(on);
    const double pattern[] = {0, 4};
    cairo_set_line_cap(on, CAIRO_LINE_CAP_ROUND);
    // Counted from the right, so that the dots of all lines stand under each other.
    cairo_set_dash(on, pattern, 2, 0);
    cairo_set_source_rgb(on, c.r, c.g, c.b);
    cairo_set_line_width(on, 0.8);
    cairo_move_to(on, x1, y);
    cairo_line_to(on, x0, y);
    cairo_stroke(on);
    cairo_restore(on);
}

void Canvas::box(double x, double y, double width, double height, Colour c) {
    cairo_set_source_rgb(cairo_.get(), c.r, c.g, c.b);
    cairo_rectangle(cairo_.get(), x, y, width, height);
    cairo_fill(cairo_.get());
}

void Canvas::frame(double x, double y, double width, double height, double line, Colour c) {
    cairo_set_source_rgb(cairo_.get(), c.r, c.g, c.b);
    cairo_set_line_width(cairo_.get(), line);
    cairo_rectangle(cairo_.get(), x, y, width, height);
    cairo_stroke(cairo_.get());
}

void Canvas::ring(double x, double y, const std::string& number) {
    auto* on = cairo_.get();
    // White around dark: it is seen on pale glaze and on a dark table.
    for (const auto& [width, c] : {std::pair{3.4, Colour{1, 1, 1}}, {1.6, kAccent}}) {
        cairo_set_source_rgb(on, c.r, c.g, c.b);
        cairo_set_line_width(on, width);
        cairo_new_path(on);  // else a line comes from wherever the last text ended
        cairo_arc(on, x, y, 9, 0, 2 * 3.14159265358979323846);
        cairo_stroke(on);
    }
    Face face;
    face.family = kSans;
    face.size = 8;
    face.leading = 10;
    face.bold = true;
    face.ink = kAccent;
    const double wide = width_of(number, face);
    box(x + 8, y - 14, wide + 5, 11, Colour{1, 1, 1});
    text(set(Text(number), face, wide + 5), x + 10.5, y - 13.5);
}

void Canvas::open_tag(const char* name) { cairo_tag_begin(cairo_.get(), name, nullptr); }
void Canvas::close_tag(const char* name) {
    cairo_tag_end(cairo_.get(), name);
    check(name);
}

void Canvas::tags(const std::vector<Tag>& wanted) {
    std::size_t same = 0;
    while (same < open_.size() && same < wanted.size() && open_[same] == wanted[same]) ++same;
    while (open_.size() > same) {
        close_tag(open_.back().name);
        open_.pop_back();
    }
    while (open_.size() < wanted.size()) {
        open_.push_back(wanted[open_.size()]);
        open_tag(open_.back().name);
    }
}

void Canvas::place(const std::string& id, double y) {
    const std::string about = fmt::format("name={} x=0 y={:.2f}", quoted(id), std::max(0.0, y - 12));
    cairo_tag_begin(cairo_.get(), CAIRO_TAG_DEST, about.c_str());
    cairo_tag_end(cairo_.get(), CAIRO_TAG_DEST);
    check("a place to link to");
}

void Canvas::outline(const std::string& title, int level, const std::string& id) {
    const auto depth = static_cast<std::size_t>(std::max(level, 1)) - 1;
    outline_parents_.resize(std::min(depth, outline_parents_.size()));
    const int parent = outline_parents_.empty() ? CAIRO_PDF_OUTLINE_ROOT : outline_parents_.back();
    const int made = cairo_pdf_surface_add_outline(
        surface_.get(), parent, title.c_str(), ("dest=" + quoted(id)).c_str(),
        depth == 0 ? CAIRO_PDF_OUTLINE_FLAG_OPEN : static_cast<cairo_pdf_outline_flags_t>(0));
    outline_parents_.push_back(made);
}

void Canvas::label_page(int number) {
    cairo_pdf_surface_set_page_label(surface_.get(), std::to_string(number).c_str());
}

void Canvas::end_page() {
    tags({});
    cairo_show_page(cairo_.get());
    check("a page");
}

Expected<std::string> Canvas::finish() {
    tags({});
    check("the end");
    cairo_surface_finish(surface_.get());
    check("the file");
    if (!trouble_.empty())
        return fail(ProblemCode::kOurFault, "paper", fmt::format("the PDF could not be made ({})", trouble_),
                    "please report this sentence");
    return with_language(std::move(bytes_));
}

}  // namespace footring::papers
