#include <benchfeed/report/located.hpp>

namespace benchfeed::report {

Label located(const text::Document& document, Label label) {
    const text::Document::Place place = document.place(label.span);
    if (!place.beside) return label;
    label.file = place.document.path();
    label.span = place.span;
    return label;
}

std::vector<Label> located(const text::Document& document, std::vector<Label> labels) {
    for (Label& label : labels) label = located(document, std::move(label));
    return labels;
}

Diagnostics located(const text::Document& document, Diagnostics diagnostics) {
    for (Diagnostic& one : diagnostics) one.labels = located(document, std::move(one.labels));
    return diagnostics;
}

}  // namespace benchfeed::report
