#pragma once
// Text -> plan, with every mistake of the file in one run.
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::plan {

/// Words and usual values that come from data tables; made by the caller from the catalogue.
struct Words {
    /// What a region takes for granted.
    struct Region {
        std::string name;
        Voltage voltage;
        Frequency frequency;
        SwitchKind usual_switch = SwitchKind::rocker;
        /// Standards of devices for which a plan names none.
        DeviceStandard breaker = DeviceStandard::iec_60898, breaker_residual = DeviceStandard::iec_61009,
                       fuse = DeviceStandard::iec_60269_gg, residual_device = DeviceStandard::iec_61008;
        std::optional<Earthing> earthing;  ///< that every supply of the region has
    };
    /// A plug or outlet pattern.
    struct Pattern {
        std::string name;
        bool plug = false, outlet = false;
        std::string poles;  ///< "L-N", "L-L", "L-L-N", "L1-L2-L3", "L1-L2-L3-N"
        bool fused = false;
    };
    /// A type of cable, such as H07RN-F.
    struct Construction {
        std::string name;
        bool cord = false;
        Strands strands = Strands::solid;
        bool flat_pvc = false;  ///< protective core by table where the plan says nothing
    };
    /// What shops call a cable, and the word of the plan for it: "6242Y", "flat PVC".
    struct TradeName {
        std::string called, word;
    };
    /// A plug and the outlet that takes it.
    struct Mating {
        std::string plug, outlet;
        bool polarised = false, earth = false;
    };
    /// What a device of a standard has.
    struct DeviceFunction {
        DeviceStandard standard;
        DeviceKind kind;
        bool curve = false;     ///< B, C, D are asked for
        bool residual = false;  ///< always has a residual part (IEC 61009, 61008, UL 943)
    };
    /// Protective core beside live ones.
    struct ProtectiveSection {
        Section section, protective;
    };
    std::vector<Region> regions;
    std::vector<Pattern> patterns;
    std::vector<Construction> constructions;
    std::vector<TradeName> trade_names;
    std::vector<Mating> matings;
    std::vector<DeviceFunction> devices;
    std::vector<ProtectiveSection> flat_pvc;  ///< UK flat cable
    std::string today;                        ///< "2026-05-02", what `until` is held against; "" for none
};

/// One override of `--set PATH=VALUE`, as typed.
struct Override {
    std::string text;
};

/// What came of a text.
struct Reading {
    Plan plan;             ///< as far as it could be read
    Diagnostics problems;  ///< not empty: the plan must not be judged
};

/// A text read into fields, before options, `like` and references. Copied where one text is read with
/// several options.
struct Written {
    Plan plan;
    Diagnostics problems;
    std::set<std::string> excused;  ///< paths that need no "is missing": something near it was written
    bool whole = true;              ///< every block of the text was read
    /// Common files, out of which names that the plan itself does not have are taken.
    std::vector<std::shared_ptr<const text::Beside>> beside;
};
[[nodiscard]] BENCHFEED_API Written read_written(const text::Document& document, const Words& words);
/// The rest of read_plan().
[[nodiscard]] BENCHFEED_API Reading complete(Written written, const Words& words,
                                             std::span<const Override> overrides = {});

/// YYYY-MM-DD with a month from 1 to 12 and a day from 1 to 31.
[[nodiscard]] BENCHFEED_API bool is_date(std::string_view text);

/// Read a plan.
///
/// All problems of the file are told at once, each with its place: TOML syntax, unknown keys (with the
/// nearest known one), wrong types and dimensions, impossible values, dangling or circular `from`,
/// contradictions (both places), limits exceeded. Problems of an override have line 0 in their span and
/// columns into the override's text; their path is "--set".
/// Overrides are applied before `like`; such values have origin `option` and stand at the element's header.
[[nodiscard]] BENCHFEED_API Reading read_plan(const text::Document& document, const Words& words,
                                              std::span<const Override> overrides = {});

}  // namespace benchfeed::plan
