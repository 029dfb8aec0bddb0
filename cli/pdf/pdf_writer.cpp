// Pages as PDF, by cairo and pango. A module of its own: the program starts without loading a type library,
// and loads this one where a PDF is asked for.
#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include <numbers>
#include <string>

#include <benchfeed/report/sheet.hpp>

namespace {

using namespace benchfeed::report;

constexpr double point_of_mm = 72 / 25.4;
constexpr double fine = 32;  ///< type is reckoned in parts of a mm: small sizes are rounded

cairo_status_t take(void* to, const unsigned char* bytes, unsigned int count) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
}

/// One page of a document; every length in mm.
class Painter {
public:
    explicit Painter(cairo_t* cr) : cr_(cr), layout_(pango_cairo_create_layout(cr)) {
        // Letters stand where their widths say, not at the pixels of a screen.
        PangoContext* context = pango_layout_get_context(layout_);
        cairo_font_options_t* options = cairo_font_options_create();
        cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
        cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
        pango_cairo_context_set_font_options(context, options);
        pango_context_set_round_glyph_positions(context, FALSE);
        cairo_font_options_destroy(options);
    }
    ~Painter() { g_object_unref(layout_); }
    Painter(const Painter&) = delete;
    Painter& operator=(const Painter&) = delete;

    void operator()(const DrawnWords& w) {
        if (w.words.empty()) return;
        set_type(w);
        int width = 0, height = 0;
        pango_layout_get_size(layout_, &width, &height);
        const double natural = static_cast<double>(width) / PANGO_SCALE / fine;
        // A type that is wider than the one that was reckoned with is fitted into its room.
        const double fit = w.width > 0 && natural > w.width ? w.width / natural : 1;
        const double left = w.anchor == Anchor::start    ? w.x
                            : w.anchor == Anchor::middle ? w.x - natural * fit / 2
                                                         : w.x - natural * fit;
        const char* tag = w.role == Role::title ? "H1" : w.role == Role::heading ? "H2" : "P";
        const bool tagged = w.role != Role::ornament;
        if (tagged) cairo_tag_begin(cr_, tag, nullptr);
        cairo_save(cr_);
        grey(w.white ? 1 : 0);
        cairo_translate(cr_, left, w.y);
        cairo_scale(cr_, fit / fine, 1 / fine);
        cairo_move_to(cr_, 0, -static_cast<double>(pango_layout_get_baseline(layout_)) / PANGO_SCALE);
        pango_cairo_show_layout(cr_, layout_);
        cairo_new_path(cr_);
        cairo_restore(cr_);
        if (tagged) cairo_tag_end(cr_, tag);
    }
    void operator()(const DrawnBox& b) {
        const auto outline = [&] { cairo_rectangle(cr_, b.x, b.y, b.width, b.height); };
        if (b.fill == Fill::hatch) {
            hatch(b);
        } else if (b.fill != Fill::none) {
            colour(b);
            outline();
            cairo_fill(cr_);
        }
        if (b.line <= 0) return;
        grey(0);
        cairo_set_line_width(cr_, b.line);
        outline();
        cairo_stroke(cr_);
    }
    void operator()(const DrawnLine& l) {
        grey(0);
        cairo_set_line_width(cr_, l.line);
        for (const Place& place : l.through) cairo_line_to(cr_, place.x, place.y);
        cairo_stroke(cr_);
    }
    void operator()(const DrawnRing& r) {
        grey(0);
        cairo_set_line_width(cr_, r.line);
        cairo_new_sub_path(cr_);
        cairo_arc(cr_, r.x, r.y, r.radius, 0, 2 * std::numbers::pi);
        r.filled ? cairo_fill(cr_) : cairo_stroke(cr_);
    }

private:
    void grey(double value) { cairo_set_source_rgb(cr_, value, value, value); }
    void colour(const DrawnBox& b) {
        if (b.fill != Fill::colour) return grey(b.fill == Fill::white ? 1 : 0);
        // "#7a4419" or "#fff"
        const std::size_t digits = b.colour.size() > 4 ? 2 : 1;
        double parts[3] = {0, 0, 0};
        for (std::size_t i = 0; i < 3; ++i) {
            const std::string part(b.colour.substr(1 + i * digits, digits));
            parts[i] = std::stoi(part, nullptr, 16) / (digits == 2 ? 255.0 : 15.0);
        }
        cairo_set_source_rgb(cr_, parts[0], parts[1], parts[2]);
    }
    void hatch(const DrawnBox& b) {
        constexpr double step = 1.0 * std::numbers::sqrt2, stroke = 0.35;
        cairo_save(cr_);
        cairo_rectangle(cr_, b.x, b.y, b.width, b.height);
        cairo_clip(cr_);
        grey(0);
        cairo_set_line_width(cr_, stroke);
        for (double x = b.x - b.height; x < b.x + b.width; x += step) {
            cairo_move_to(cr_, x, b.y + b.height);
            cairo_line_to(cr_, x + b.height, b.y);
            cairo_stroke(cr_);
        }
        cairo_restore(cr_);
    }
    void set_type(const DrawnWords& w) {
        PangoFontDescription* type =
            pango_font_description_from_string("Liberation Sans, Arial, Helvetica, Sans");
        pango_font_description_set_absolute_size(type, w.size * fine * PANGO_SCALE);
        pango_font_description_set_weight(type, w.strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
        pango_layout_set_font_description(layout_, type);
        pango_font_description_free(type);
        pango_layout_set_text(layout_, w.words.c_str(), static_cast<int>(w.words.size()));
    }

    cairo_t* cr_;
    PangoLayout* layout_;
};

}  // namespace

/// Appends the document to `out`. 0: written; else nothing of it is to be used.
extern "C" __attribute__((visibility("default"))) int benchfeed_write_pdf(const Pages* pages,
                                                                          std::string* out) {
    const double width = pages->paper.width * point_of_mm, height = pages->paper.height * point_of_mm;
    cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(take, out, width, height);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, pages->title.c_str());
    // The same plan makes the same bytes: the date is that of the plan, and one long ago where it has none.
    const std::string date = (pages->date.empty() ? "1970-01-01" : pages->date) + "T00:00:00Z";
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date.c_str());
    cairo_t* cr = cairo_create(surface);
    for (const auto& page : pages->pages) {
        cairo_save(cr);
        cairo_scale(cr, point_of_mm, point_of_mm);
        Painter painter(cr);
        for (const Drawn& thing : page) std::visit(painter, thing);
        cairo_restore(cr);
        cairo_show_page(cr);
    }
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    const int status = static_cast<int>(cairo_surface_status(surface));
    cairo_surface_destroy(surface);
    return status;
}
