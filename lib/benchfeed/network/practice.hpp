#pragma once
// The figures of a region: data, never code. One row of data/tables/common/regions.toml.
#include <optional>
#include <string>

#include <benchfeed/base/quantity.hpp>
#include <benchfeed/electrical/kinds.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

using Family = electrical::CodeFamily;

/// What is usual in the region of a plan: family of standards, volts, limits of drop.
struct Practice {
    std::string region;
    Family family = Family::iec;
    Voltage nominal{};
    Frequency frequency{};
    tables::Figure<Ratio> drop_lighting, drop_other;   ///< the standard's advice
    tables::Figure<Ratio> drop_advice;                 ///< of practice, for motors
    std::optional<tables::Figure<Ratio>> four_loaded;  ///< guidance factor for a cord with four loaded cores
    bool gg_band_is_ok = false;  ///< In between k2-limit and Iz with a gG fuse: ok (UK) or caution (EU)
    std::string colours_fixed, colours_cord;  ///< rows of table iec-60445-colours
    std::string not_read;  ///< national rules for which those of the family stand in; empty: none
};

[[nodiscard]] std::optional<Practice> practice_of(const tables::Catalogue& tables, std::string_view region);

}  // namespace benchfeed::network
