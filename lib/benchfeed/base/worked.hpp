#pragma once
// Worked steps that a person can recompute: the operands, as printed, give the result, as printed.
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/arithmetic.hpp>

namespace benchfeed {

/// One printed line: `symbol = formula = numbers = result`, or a comparison in `numbers` alone.
struct Step {
    std::string symbol;   ///< "dU"
    std::string formula;  ///< "2 * R' * L * I"
    std::string numbers;  ///< "2 * 13.3 ohm/km * 5 m * 12.3 A"
    std::string result;   ///< "1.64 V"; empty for a comparison
    std::vector<std::string> sources;
    std::string words;  ///< a remark; such a step has nothing else
};

/// A value in a Working, by number.
struct Value {
    std::size_t id = 0;
};

/// Collects steps and chooses how many digits to print.
///
/// Fixed digits lie: of 4-digit operands the printed result cannot be recomputed in most lines. So each
/// result has at least three digits, and computed operands get as many as their lines need, the same
/// everywhere. What is written on a plate, in the plan or in a table is printed as written.
class Working {
public:
    /// A value as written: "13.3 ohm/km". Pre: evaluate(text) gives something.
    Value written(std::string_view text);
    /// A value that was computed elsewhere (by the network), in a unit: computed(0.0231, "ohm").
    Value computed(double in_unit, std::string unit);
    /// A line. `pattern` holds {} for each operand: "{} / ({} * {})". The result is computed from the
    /// operands.
    Value add(std::string symbol, std::string formula, std::string pattern,
              const std::vector<Value>& operands, std::string unit, std::vector<std::string> sources = {});
    /// A comparison that must be true as printed; `relation` is ">", "<=", ">=" or "<".
    void compare(Value left, std::string_view relation, Value right, std::vector<std::string> sources = {});
    /// A line of words between the steps.
    void note(std::string words);
    /// The exact number of a value in its own unit.
    [[nodiscard]] double exact(Value value) const;

    /// The lines, each operand with as many digits as its result needs.
    [[nodiscard]] std::vector<Step> finish();

private:
    struct Known {
        Dimensioned exact;
        std::string unit;
        std::string as_written;  ///< empty for computed values
        int digits = 3;
    };
    struct Line {
        std::string symbol, formula, pattern, relation, words;
        std::vector<Value> operands;
        Value result;
        std::vector<std::string> sources;
        int held_with = -1;  ///< digits of all its values with which it held
    };
    [[nodiscard]] int digits_of(const Line& line) const;
    [[nodiscard]] std::string printed(Value value) const;
    [[nodiscard]] std::string filled(const Line& line) const;
    [[nodiscard]] bool holds(const Line& line) const;
    bool refine(Line& line);

    std::vector<Known> values_;
    std::vector<Line> lines_;
};

}  // namespace benchfeed
