#pragma once
// How much current a cable may carry as it lies.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/electrical/conductor.hpp>

namespace benchfeed::electrical {

/// A cable as it lies.
struct Installation {
    Wire wire;
    int loaded = 2;                           ///< conductors that carry: 2 or 3, 4 out and back of two poles
    std::optional<Method> method = {};        ///< of fixed wiring; the IEC tables need it
    std::optional<Temperature> ambient = {};  ///< of the air around it; the tables need it
    int circuits = 1;                         ///< together, this one included
    bool ambient_credit = false;              ///< a factor above 1 for cool air counts
    std::optional<tables::Figure<Ratio>> four_loaded = {};  ///< guidance for cords with four loaded cores
};

/// A printed factor and what it stands for.
struct Factor {
    std::string symbol;  ///< "k_ambient"
    std::string words;   ///< "35 degC ambient"
    tables::Figure<Ratio> figure;
};

/// What a cable may carry [A], with the factors that were applied.
struct Ampacity {
    /// What nothing, or no more than a bound, can be found without.
    enum class Lacks : std::uint8_t { nothing, construction, section, metal, method, ambient, grouping };

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
    bool ambient_assumed = false;  ///< nobody told the air around it
    Lacks lacks = Lacks::nothing;
    std::string missing;  ///< the same as the path of a plan's field; "" where there is no plan
    std::string why;      ///< why not, in words; empty when a value is there that is not `beyond`
    /// `value` times the factor that is only guidance [A]. Pre: value.
    [[nodiscard]] Current with_guidance() const {
        return guidance ? Current(*value * guidance->figure.value) : *value;
    }
};

/// Current-carrying capacity of a cable.
///
///     Iz = printed cell * k_ambient * k_grouping, at most the cap of the terminals
///
/// Units   A.
/// Valid   printed rows only: no interpolation, a section without a row of its own takes the next smaller
///         one, which it outdoes; ambient takes the next printed row at or above, never a factor above 1
///         unless it is credited. Beyond the end of a table the last row is a bound.
/// Omits   reels (rule heat.reel-wound), sunlight, insulation around a cord.
/// Throws  Refused: a section that is no finite number above zero, fewer than one circuit or loaded
/// conductor. Source  IEC 60364-5-52 B.52; BS 7671 4F3A; DIN VDE 0298-4; NEC 310.15, 310.16, 334.80,
/// 110.14(C), 400.5.
///         The XLPE tables are used only up to the 70 degC of the accessories (IEC 60364-5-52 523.1 note).
[[nodiscard]] BENCHFEED_API Ampacity ampacity(const Installation& installation, const Figures& figures);

}  // namespace benchfeed::electrical
