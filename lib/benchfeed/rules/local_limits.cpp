#include <benchfeed/rules/local_limits.hpp>

#include <fmt/format.h>

namespace benchfeed::rules {

namespace {

/// The field of [local] that a rule reads.
Span place_in_local(const plan::Local& local, std::string_view rule) {
    if (rule == "volts.running-drop") return local.voltage_drop_limit.span;
    if (rule == "volts.start-dip") return local.start_dip_limit.span;
    return local.long_run_share.span;
}

}  // namespace

Label local_limit(const Situation& s, const Outcome& outcome) {
    const plan::Local& local = s.plan.local;
    if (!local.present) return {};
    const std::string_view rule = registry()[outcome.rule].id;
    Span place;
    if (outcome.basis == Basis::local) place = place_in_local(local, rule);
    // A residual trip is compared with a list of practice, of which the local one is the strictest entry.
    const bool residual = rule == "shock.no-residual-protection" && outcome.verdict != Verdict::ok;
    if (residual && local.residual_trip.known()) place = local.residual_trip.span;
    if (place.nowhere()) return {};
    const std::string_view by = local.source_of(place);
    return {place, by.empty() ? "a local limit" : fmt::format("the limit that holds here, by {}", by)};
}

}  // namespace benchfeed::rules
