#pragma once
// How much current a cable may carry as it lies.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/worked.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::network {

/// A printed factor and what it stands for.
struct Factor {
    std::string symbol;  ///< "k_ambient"
    std::string words;   ///< "35 degC ambient"
    tables::Figure<Ratio> figure;
};

/// What a cable may carry [A], with the factors that were applied.
struct Ampacity {
    std::optional<Current> value;  ///< Iz as installed; nothing when it cannot be found
    tables::Figure<Current> base;  ///< printed cell
    std::vector<Factor> factors;
    std::optional<Factor> guidance;               ///< a factor that is only guidance, not in `value`
    std::optional<tables::Figure<Current>> cap;   ///< terminals end it here (NEC 110.14(C), 334.80)
    tables::Grade grade = tables::Grade::memory;  ///< lowest of all cells used
    bool substituted = false;  ///< section not in the table: next smaller printed row, or the smallest
    /// A table ends before what is asked: the last printed figure stands in. The cable carries no more than
    /// `value`, perhaps less: that may fail and is never ok.
    bool beyond = false;
    bool cord = false;
    bool ambient_assumed = false;
    std::string missing;  ///< path of the field by which nothing, or no more than a bound, can be found
    std::string why;      ///< why not, in words; empty when a value is there that is not `beyond`
    /// `value` times the factor that is only guidance [A]. Pre: value.
    [[nodiscard]] Current with_guidance() const {
        return guidance ? Current(*value * guidance->figure.value) : *value;
    }
};

/// Current-carrying capacity of the cable that feeds an element.
///
///     Iz = printed cell * k_ambient * k_grouping, at most the cap of the terminals
///
/// Units   A.
/// Valid   printed rows only: no interpolation, a section without a row of its own takes the next smaller
///         one, which it outdoes; ambient takes the next printed row at or above, never a factor above 1
///         unless [local] ambient_credit. Beyond the end of a table the last row is a bound.
/// Omits   reels (rule heat.reel-wound), sunlight, insulation around a cord.
/// Source  IEC 60364-5-52 B.52; BS 7671 4F3A; DIN VDE 0298-4; NEC 310.15, 310.16, 334.80, 110.14(C), 400.5.
///         The XLPE tables are used only up to the 70 degC of the accessories (IEC 60364-5-52 523.1 note).
[[nodiscard]] BENCHFEED_API Ampacity ampacity(const plan::Plan& plan, const tables::Catalogue& tables,
                                              const Network& network, Index element);

/// The cable is fixed wiring of the IEC family, whose table needs a method of installation.
[[nodiscard]] bool ampacity_needs_method(const plan::Plan& plan, const tables::Catalogue& tables,
                                         Index element);

/// Loaded conductors of the cable that feeds an element: 2 or 3, 4 for an out-and-back run of two poles.
[[nodiscard]] int loaded_conductors(const plan::Plan& plan, Index element);

/// A citation as one line of text: "IEC 60364-5-52:2009 Table B.52.2, 2.5, C (one source)".
[[nodiscard]] std::string cited(const tables::Citation& citation);

/// The worked line Iz = cell * factors; returns Iz as a value for further lines.
Value explain_ampacity(Working& working, const Ampacity& found);

}  // namespace benchfeed::network
