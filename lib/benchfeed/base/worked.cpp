#include <benchfeed/base/worked.hpp>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed {

namespace {
constexpr int most_digits = 15;
constexpr std::ptrdiff_t usual_digits = 4;

/// A number with so many digits, without the zeros at its end that are more than usual.
std::string shown(double value, int significant) {
    std::string text = digits(value, significant);
    if (text.find('.') == std::string::npos) return text;
    const auto first = std::min(text.find_first_of("123456789"), text.size());
    auto seen = std::count_if(text.begin() + static_cast<std::ptrdiff_t>(first), text.end(),
                              [](char c) { return c != '.'; });
    for (; seen > usual_digits && text.back() == '0'; --seen) text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

double number_in(const Dimensioned& value, const std::string& unit) {
    const auto size = unit_size(unit);
    return size ? value.si / size->si : value.si;
}

std::string with_unit(std::string number, const std::string& unit) {
    return unit.empty() ? number : number + " " + unit;
}
}  // namespace

Value Working::written(std::string_view text) {
    Known known;
    known.exact = evaluate(text).value_or(Dimensioned{});
    const auto space = text.find(' ');
    if (space != std::string_view::npos) known.unit = text.substr(space + 1);
    known.as_written = text;
    values_.push_back(std::move(known));
    return {values_.size() - 1};
}

Value Working::computed(double in_unit, std::string unit) {
    Known known;
    known.exact = unit_size(unit).value_or(Dimensioned{1, {}});
    known.exact.si *= in_unit;
    known.unit = std::move(unit);
    values_.push_back(std::move(known));
    return {values_.size() - 1};
}

Value Working::add(std::string symbol, std::string formula, std::string pattern,
                   const std::vector<Value>& operands, std::string unit, std::vector<std::string> sources) {
    std::vector<Dimensioned> exact;
    for (const Value operand : operands) exact.push_back(values_[operand.id].exact);
    Known known;
    known.exact = evaluate(pattern, exact).value_or(Dimensioned{});
    known.unit = std::move(unit);
    values_.push_back(std::move(known));
    const Value result{values_.size() - 1};
    lines_.push_back({std::move(symbol), std::move(formula), std::move(pattern), "", "", operands, result,
                      std::move(sources)});
    return result;
}

void Working::compare(Value left, std::string_view relation, Value right, std::vector<std::string> sources) {
    lines_.push_back({"", "", "", std::string(relation), "", {left, right}, left, std::move(sources)});
}

void Working::note(std::string words) {
    lines_.push_back({"", "", "", "", std::move(words), {}, {}, {}});
}

double Working::exact(Value value) const {
    return number_in(values_[value.id].exact, values_[value.id].unit);
}

std::string Working::printed(Value value) const {
    const Known& known = values_[value.id];
    if (!known.as_written.empty()) return known.as_written;
    return with_unit(shown(number_in(known.exact, known.unit), known.digits), known.unit);
}

std::string Working::filled(const Line& line) const {
    std::string out;
    std::size_t next = 0;
    for (std::size_t at = 0; at < line.pattern.size(); ++at) {
        if (line.pattern.compare(at, 2, "{}") == 0) {
            out += printed(line.operands[next++]);
            ++at;
        } else {
            out += line.pattern[at];
        }
    }
    return out;
}

/// What is printed must be true when it is worked by hand.
bool Working::holds(const Line& line) const {
    if (!line.relation.empty()) {
        const auto left = evaluate(printed(line.operands[0])), right = evaluate(printed(line.operands[1]));
        if (!left || !right) return true;
        if (line.relation == ">") return left->si > right->si;
        if (line.relation == "<") return left->si < right->si;
        if (line.relation == ">=") return left->si >= right->si * (1 - 1e-12);
        return left->si <= right->si * (1 + 1e-12);
    }
    const auto by_hand = evaluate(filled(line));
    if (!by_hand) return true;  // nothing to work; the tests refuse such a line
    const Known& result = values_[line.result.id];
    return with_unit(shown(number_in(*by_hand, result.unit), result.digits), result.unit) ==
           printed(line.result);
}

/// One digit more for the computed operands of a line that does not hold; for a comparison, for both sides.
bool Working::refine(Line& line) {
    bool changed = false;
    if (digits_of(line) == line.held_with) return changed;  // digits only rise: it is printed as it was
    // A result halfway between two printed figures is settled by no digit of its operands, but by one more of
    // its own. Tried only where the operands are finer than the result already.
    const auto holds_with_one_digit_more = [&] {
        Known& result = values_[line.result.id];
        const bool finer = std::all_of(line.operands.begin(), line.operands.end(), [&](Value operand) {
            return !values_[operand.id].as_written.empty() || values_[operand.id].digits > result.digits + 1;
        });
        if (!line.relation.empty() || !finer || result.digits >= most_digits) return false;
        ++result.digits;
        if (holds(line)) return true;
        --result.digits;
        return false;
    };
    while (!holds(line)) {
        if (holds_with_one_digit_more()) {
            changed = true;
            break;
        }
        bool raised = false;
        for (const Value operand : line.operands) {
            Known& known = values_[operand.id];
            if (!known.as_written.empty() || known.digits >= most_digits) continue;
            ++known.digits;
            raised = true;
        }
        if (!raised) break;
        changed = true;
    }
    line.held_with = digits_of(line);
    return changed;
}

int Working::digits_of(const Line& line) const {
    int sum = values_[line.result.id].digits;
    for (const Value operand : line.operands) sum += values_[operand.id].digits;
    return sum;
}

std::vector<Step> Working::finish() {
    // From the last line to the first, since a line's operands are the results of earlier ones; again until
    // nothing changes, since a value may stand in several lines.
    for (bool changed = true; changed;) {
        changed = false;
        for (auto line = lines_.rbegin(); line != lines_.rend(); ++line)
            if (line->words.empty()) changed = refine(*line) || changed;
    }
    std::vector<Step> steps;
    for (const Line& line : lines_) {
        Step step;
        step.words = line.words;
        if (!line.words.empty()) {
            steps.push_back(std::move(step));
            continue;
        }
        step.symbol = line.symbol;
        step.formula = line.formula;
        step.sources = line.sources;
        if (line.relation.empty()) {
            step.numbers = filled(line);
            step.result = printed(line.result);
        } else {
            step.numbers = printed(line.operands[0]) + " " + line.relation + " " + printed(line.operands[1]);
        }
        steps.push_back(std::move(step));
    }
    return steps;
}

}  // namespace benchfeed
