// How often things are found for a plan, by functions of the linker in place of the library's own. A load's
// current is found once, when the network is built, and told from what was found. The ampacity of a cable is
// still found by each rule that asks: counts.txt has how often (BENCHFEED_APPROVE=1 writes it anew); it is
// meant to shrink.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <benchfeed/electrical/ampacity.hpp>
#include <benchfeed/electrical/load.hpp>
#include <benchfeed/rules/summary.hpp>

#include "plans/expectations.hpp"
#include "support/approved.hpp"
#include "support/judged.hpp"

namespace {

std::size_t load_currents = 0, ampacities = 0;

}  // namespace

namespace benchfeed::electrical {

/// @{ The library's own, and what is called in its place.
LoadCurrent found_load_current(const Nameplate&, const SupplyVolts&, const Figures&) __asm__(
    "__real__ZN9benchfeed10electrical12load_currentERKNS0_9NameplateERKNS0_11SupplyVoltsERKNS0_7FiguresE");
LoadCurrent
counted_load_current(const Nameplate& plate, const SupplyVolts& supply, const Figures& figures) __asm__(
    "__wrap__ZN9benchfeed10electrical12load_currentERKNS0_9NameplateERKNS0_11SupplyVoltsERKNS0_7FiguresE");
LoadCurrent counted_load_current(const Nameplate& plate, const SupplyVolts& supply, const Figures& figures) {
    ++load_currents;
    return found_load_current(plate, supply, figures);
}
Ampacity found_ampacity(const Installation&, const Figures&) __asm__(
    "__real__ZN9benchfeed10electrical8ampacityERKNS0_12InstallationERKNS0_7FiguresE");
Ampacity counted_ampacity(const Installation& installation, const Figures& figures) __asm__(
    "__wrap__ZN9benchfeed10electrical8ampacityERKNS0_12InstallationERKNS0_7FiguresE");
Ampacity counted_ampacity(const Installation& installation, const Figures& figures) {
    ++ampacities;
    return found_ampacity(installation, figures);
}
/// @}

}  // namespace benchfeed::electrical

using namespace benchfeed;

namespace {

std::size_t plates_of(const plan::Plan& plan) {
    std::size_t plates = 0;
    for (const plan::Element& element : plan.elements)
        if (const auto* load = element.as<plan::Load>()) plates += load->plate.has_value();
    return plates;
}
std::size_t cables_of(const plan::Plan& plan) {
    std::size_t cables = 0;
    for (const plan::Element& element : plan.elements) cables += element.cable.has_value();
    return cables;
}

}  // namespace

TEST_CASE("a load's current is found once for a plan, whatever is told of it") {
    std::size_t seen = 0;
    for (const std::string& folder :
         {std::string(BENCHFEED_DATA_DIR) + "/plans", std::string(BENCHFEED_TESTS_DIR) + "/plans/scenarios"})
        for (const auto& path : test::plans_in(folder)) {
            CAPTURE(path.filename().string());
            load_currents = 0;
            const Judged judged = test::judged(test::read_text(path));
            CHECK(load_currents == plates_of(judged.plan()));
            for (const rules::Outcome& outcome : judged.judgement().outcomes)
                (void)rules::explain(judged.situation(), judged.judgement(), outcome);
            CHECK(load_currents == plates_of(judged.plan()));
            seen += load_currents;
        }
    CHECK(seen > 20);
}

TEST_CASE("how often the ampacity of a cable is found, to judge a plan and to tell it") {
    std::string counts;
    for (const auto& path : test::plans_in(std::string(BENCHFEED_DATA_DIR) + "/plans")) {
        ampacities = 0;
        const Judged judged = test::judged(test::read_text(path));
        const std::size_t to_judge = ampacities;
        for (const rules::Outcome& outcome : judged.judgement().outcomes)
            (void)rules::explain(judged.situation(), judged.judgement(), outcome);
        counts += fmt::format("{}: {} cables, {} times to judge, {} to tell\n", path.filename().string(),
                              cables_of(judged.plan()), to_judge, ampacities - to_judge);
    }
    test::holds_as_approved(std::string(BENCHFEED_TESTS_DIR) + "/laws/counts.txt", counts);
}
