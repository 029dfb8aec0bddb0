// The format as a list: each field of each table, whether it must be there and what stands for it otherwise,
// whether nobody has to know it, and its words. Plans of others stand on it, so it changes with approval
// alone.
#include <doctest/doctest.h>

#include <benchfeed/plan/fields.hpp>
#include "support/approved.hpp"

using namespace benchfeed;

namespace {

std::string words_of(const plan::FieldRef& ref) {
    const auto* choice = std::get_if<plan::ChoiceRef>(&ref);
    std::string words;
    if (choice)
        for (const std::string_view word : choice->words)
            words += (words.empty() ? "" : ", ") + std::string(word);
    return words;
}

std::string lines(const std::string& table, const std::vector<plan::Slot>& slots) {
    constexpr const char* absent[] = {"required", "asked for", "assumed", "plain", "nothing"};
    std::string all;
    for (const plan::Slot& slot : slots) {
        const plan::FieldInfo& info = slot.info;
        const std::string fallback(info.fallback), words = words_of(slot.ref);
        all += table + "." + std::string(info.key) + ": " + absent[static_cast<std::size_t>(info.absent)] +
               (fallback.empty() ? "" : " " + fallback) + (info.may_be_unknown ? ", may be unknown" : "") +
               (words.empty() ? "" : ", one of " + words) + "\n";
    }
    return all;
}

template <class Table>
std::string of(const std::string& name) {
    Table table{};
    return lines(name, plan::slots(table));
}

}  // namespace

TEST_CASE("the fields of the format are as approved") {
    std::string all = of<plan::Head>("plan") + of<plan::Site>("site") + of<plan::Local>("local") +
                      of<plan::Stock>("stock") + of<plan::Cable>("cable") + of<plan::Residual>("residual") +
                      of<plan::Measured>("measured") + of<plan::Plate>("plate") +
                      of<plan::MetalPart>("metal") + of<plan::Together>("together") +
                      of<plan::Accept>("accept") + of<plan::Change>("change");
    for (const plan::Kind kind : plan::element_kinds) {
        plan::Element element;
        element.kind = kind;
        element.what = plan::empty_of(kind);
        all += lines(std::string(plan::word(kind)), plan::slots(element));
    }
    test::holds_as_approved(BENCHFEED_TESTS_DIR "/golden/format.fields", all);
    CHECK(test::lines_of(all).size() > 150);
}
