#include <benchfeed/check.hpp>

#include <algorithm>
#include <iterator>

#include <benchfeed/figures/cable_constructions.hpp>
#include <benchfeed/figures/device_functions.hpp>
#include <benchfeed/figures/plug_mating.hpp>
#include <benchfeed/figures/plug_patterns.hpp>
#include <benchfeed/figures/regions.hpp>
#include <benchfeed/figures/uk_flat_protective.hpp>

namespace benchfeed {

Judged::Judged(plan::Plan plan, const tables::Catalogue& tables)
    : plan_(std::make_unique<const plan::Plan>(std::move(plan))),
      tables_(&tables),
      network_(std::make_unique<const network::Network>(network::build(*plan_, tables))),
      judgement_(rules::judge(situation())) {}

namespace {

using Regions = figures::regions;
using Devices = figures::device_functions;
using Cables = figures::cable_constructions;
using Patterns = figures::plug_patterns;

/// The device of a word of table device-functions: the build has looked that a region names one of them.
plan::DeviceStandard device_of(std::string_view word) {
    const auto* at = std::find(std::begin(Devices::standard_words), std::end(Devices::standard_words), word);
    return static_cast<plan::DeviceStandard>(at - std::begin(Devices::standard_words));
}

plan::SwitchKind switch_of(Regions::UsualSwitch word) {
    switch (word) {
        case Regions::UsualSwitch::rocker:
            return plan::SwitchKind::rocker;
        case Regions::UsualSwitch::snap:
            break;
    }
    return plan::SwitchKind::snap;
}

plan::Earthing earthing_of(Regions::Earthing word) {
    switch (word) {
        case Regions::Earthing::tn_c_s:
            break;
    }
    return plan::Earthing::tn_c_s;
}

plan::Strands strands_of(Cables::Strands word) {
    switch (word) {
        case Cables::Strands::solid:
            return plan::Strands::solid;
        case Cables::Strands::stranded:
            return plan::Strands::stranded;
        case Cables::Strands::fine:
            break;
    }
    return plan::Strands::fine;
}

plan::DeviceKind kind_of(Devices::Kind word) {
    switch (word) {
        case Devices::Kind::circuit_breaker:
            return plan::DeviceKind::circuit_breaker;
        case Devices::Kind::residual_current_device:
            return plan::DeviceKind::residual_current_device;
        case Devices::Kind::fuse:
            break;
    }
    return plan::DeviceKind::fuse;
}

plan::Words::Region region_of(const Regions::Row& row) {
    plan::Words::Region region;
    region.name = row.region();
    region.voltage = row.voltage().value;
    region.frequency = row.frequency().value;
    region.usual_switch = switch_of(row.usual_switch());
    region.breaker = device_of(row.breaker());
    region.breaker_residual = device_of(row.breaker_residual());
    region.fuse = device_of(row.fuse());
    region.residual_device = device_of(row.residual_device());
    if (const auto earthing = row.earthing()) region.earthing = earthing_of(*earthing);
    return region;
}

}  // namespace

plan::Words plan_words(const tables::Catalogue& tables) {
    plan::Words words;
    for (const Regions::Row row : Regions::rows(tables)) words.regions.push_back(region_of(row));
    for (const Patterns::Row row : Patterns::rows(tables))
        words.patterns.push_back({std::string(row.pattern()), row.gender() != Patterns::Gender::outlet,
                                  row.gender() != Patterns::Gender::plug, std::string(row.poles()),
                                  row.fused()});
    for (const Cables::Row row : Cables::rows(tables))
        words.constructions.push_back({std::string(row.construction()), row.use() == Cables::Use::cord,
                                       strands_of(row.strands()), row.flat_pvc()});
    for (const auto row : figures::plug_mating::rows(tables))
        words.matings.push_back(
            {std::string(row.plug()), std::string(row.outlet()), row.polarised() == true, row.earth()});
    for (const Devices::Row row : Devices::rows(tables))
        words.devices.push_back({device_of(row.written(Devices::Column::standard)), kind_of(row.kind()),
                                 row.curve(), row.residual() == Devices::Residual::yes});
    for (const auto row : figures::uk_flat_protective::rows(tables))
        words.flat_pvc.push_back({row.section().value, row.protective().value});
    return words;
}

std::variant<Judged, Diagnostics> check(const text::Document& document, const tables::Catalogue& tables,
                                        const plan::Words& words, std::span<const plan::Override> overrides) {
    plan::Reading reading = plan::read_plan(document, words, overrides);
    if (!reading.problems.empty()) return std::move(reading.problems);
    return Judged(std::move(reading.plan), tables);
}

std::variant<Judged, Diagnostics> check(const text::Document& document, const tables::Catalogue& tables,
                                        std::span<const plan::Override> overrides) {
    return check(document, tables, plan_words(tables), overrides);
}

bool reaches(const rules::Outcome& outcome, FailOn level) {
    using rules::Verdict;
    if (outcome.accepted != plan::nowhere) return false;
    switch (outcome.verdict) {
        case Verdict::fail:
            return true;
        case Verdict::cannot_judge:
            return level >= FailOn::unknown || rules::registry()[outcome.rule].essential;
        case Verdict::caution:
            return level >= FailOn::caution;
        case Verdict::ok:
            break;
    }
    return false;
}

bool fails(const rules::Judgement& judgement, FailOn level) {
    return std::any_of(judgement.outcomes.begin(), judgement.outcomes.end(),
                       [&](const rules::Outcome& o) { return reaches(o, level); });
}

}  // namespace benchfeed
