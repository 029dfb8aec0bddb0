#include <benchfeed/advice/sweep.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/ends.hpp>

namespace benchfeed::advice {

using rules::Verdict;

namespace {

constexpr int most_steps = 8;  ///< of a range
constexpr int most_halvings = 40;
constexpr int printed_digits = 4;

std::string without_quotes(std::string_view text) {
    const auto from = text.find_first_not_of(" \t\"");
    if (from == std::string_view::npos) return "";
    return std::string(text.substr(from, text.find_last_not_of(" \t\"") - from + 1));
}

struct Number {
    double value = 0;
    std::string unit;
};
std::optional<Number> number_of(const std::string& text) {
    const auto end = text.find_first_not_of("0123456789.");
    if (end == 0 || end == std::string::npos) return std::nullopt;
    return Number{std::strtod(text.substr(0, end).c_str(), nullptr), without_quotes(text.substr(end))};
}

std::string value_text(double value, const std::string& unit, int significant = printed_digits) {
    std::string number = digits(value, significant);
    if (number.find('.') != std::string::npos) {
        number.erase(number.find_last_not_of('0') + 1);
        if (number.back() == '.') number.pop_back();
    }
    return number + " " + unit;
}

/// A plan read with one more override, with what was found about it.
struct TriedPoint {
    Tried tried;
    std::vector<rules::Outcome> outcomes;
};

std::optional<Tried::Drop> largest_drop(const rules::Judgement& judgement) {
    std::optional<Tried::Drop> largest;
    for (const rules::Outcome& o : judgement.outcomes) {
        if (o.limit == plan::nowhere || judgement.limits[o.limit].reach.kind != rules::Reach::Kind::lost_to)
            continue;
        const auto* lost = std::get_if<Ratio>(&o.value);
        if (lost && (!largest || *lost > largest->lost)) largest = Tried::Drop{*lost, o.at.index, o.set};
    }
    return largest;
}

std::optional<Tried::Weak> weakest_of(const plan::Plan& plan, const rules::Judgement& judgement) {
    std::optional<Tried::Weak> weakest;
    for (Index set = 0; set < plan.sets.size(); ++set) {
        const rules::Weakest& one = judgement.weakest[set];
        if (one.limit == plan::nowhere || (weakest && one.share <= weakest->share)) continue;
        const rules::Limit& limit = judgement.limits[one.limit];
        weakest = Tried::Weak{one.share, limit.at, limit.part, set};
    }
    return weakest;
}

/// Of the bench alone: how much is assumed of it is no turning point.
rules::FindingCounts tally_of(const rules::Situation& s, const rules::Judgement& judgement) {
    rules::FindingCounts tally = rules::count_findings(rules::findings(s, judgement));
    tally.on_the_plan = 0;
    return tally;
}

std::variant<TriedPoint, Diagnostics> point(const Source& source, const std::string& path,
                                            const std::string& value) {
    std::vector<plan::Override> overrides(source.overrides.begin(), source.overrides.end());
    overrides.push_back({path + "=" + value});
    plan::Reading reading = plan::read_plan(source.document, source.words, overrides);
    if (!reading.problems.empty()) return std::move(reading.problems);
    const network::Network network = network::build(reading.plan, source.tables);
    rules::Situation s{reading.plan, network, source.tables};
    const auto best = rules::best_end(s);
    if (best) s.best = &best->situation();
    rules::Judgement judgement = rules::judge(s);
    TriedPoint made;
    made.tried.value = value;
    made.tried.verdict = judgement.verdict;
    made.tried.tally = tally_of(s, judgement);
    made.tried.drop = largest_drop(judgement);
    made.tried.weakest = weakest_of(reading.plan, judgement);
    made.outcomes = std::move(judgement.outcomes);
    return made;
}

/// The worst outcome that one of the two has and the other has not.
void name_reason(Crossing& crossing, const TriedPoint& before, const TriedPoint& after) {
    const rules::Outcome* worst = nullptr;
    const auto look = [&](const TriedPoint& here, const TriedPoint& there) {
        for (const rules::Outcome& o : here.outcomes) {
            if (o.verdict == Verdict::ok || (worst && o.verdict <= worst->verdict)) continue;
            const bool same =
                std::any_of(there.outcomes.begin(), there.outcomes.end(), [&](const auto& other) {
                    return other.rule == o.rule && other.at == o.at && other.part == o.part &&
                           other.set == o.set && other.verdict == o.verdict;
                });
            if (!same) worst = &o;
        }
    };
    look(after, before);
    look(before, after);
    if (!worst) return;
    crossing.rule = worst->rule;
    crossing.at = worst->at;
    crossing.part = worst->part;
}

/// A change, and the plan just behind it.
struct Boundary {
    Crossing crossing;
    TriedPoint behind;
};

/// The first change that halving finds above `low`.
std::optional<Boundary> change_between(const Source& source, const Try& what, double low, TriedPoint before,
                                       double high, TriedPoint after) {
    for (int i = 0; i < most_halvings; ++i) {
        // As a person would write it: the answer is a value that can be tried again.
        const std::string middle = value_text((low + high) / 2, what.unit);
        const double tried = std::strtod(middle.c_str(), nullptr);
        if (!(low < tried && tried < high)) break;
        auto made = point(source, what.path, middle);
        auto* here = std::get_if<TriedPoint>(&made);
        if (!here) return std::nullopt;
        if (here->tried.tally == before.tried.tally) {
            low = tried;
            before = std::move(*here);
        } else {
            high = tried;
            after = std::move(*here);
        }
    }
    Crossing crossing{before.tried.value, after.tried.value, before.tried.verdict, after.tried.verdict,
                      before.tried.tally, after.tried.tally, plan::nowhere,        {},
                      rules::Part::whole};
    name_reason(crossing, before, after);
    return Boundary{std::move(crossing), std::move(after)};
}

double number_in(const TriedPoint& point) {
    return std::strtod(point.tried.value.c_str(), nullptr);
}

/// Every change between two neighbours that leads from the one to the other.
void add_changes(const Source& source, const Try& what, TriedPoint before, const TriedPoint& after,
                 std::vector<Crossing>& crossings) {
    constexpr int most = 6;
    for (int i = 0; i < most && before.tried.tally != after.tried.tally; ++i) {
        const double low = number_in(before), high = number_in(after);
        auto change = change_between(source, what, low, std::move(before), high, after);
        if (!change) return;
        crossings.push_back(std::move(change->crossing));
        before = std::move(change->behind);
        if (!(number_in(before) < high)) return;
    }
}

/// 1, 2, 2.5 or 5 times a power of ten, so that a range has at most `most` steps.
double round_step(double span, int most) {
    const double least = span / most, power = std::pow(10.0, std::floor(std::log10(least)));
    for (const double times : {1.0, 2.0, 2.5, 5.0})
        if (times * power >= least * (1 - 1e-9)) return times * power;
    return 10 * power;
}

/// Both ends of a range, and between them the multiples of a round step.
std::vector<std::string> steps_of(const Try& what) {
    const double step = round_step(what.to - what.from, most_steps);
    std::vector<std::string> steps{value_text(what.from, what.unit)};
    for (double n = std::floor(what.from / step + 1e-9) + 1; n * step < what.to - 1e-9 * step; ++n)
        steps.push_back(value_text(n * step, what.unit));
    steps.push_back(value_text(what.to, what.unit));
    steps.erase(std::unique(steps.begin(), steps.end()), steps.end());
    return steps;
}

Diagnostic fault(const std::string& message, const std::string& help) {
    return {"--try", message, {}, help};
}

}  // namespace

std::variant<Try, Diagnostic> read_try(const std::string& text) {
    const auto equals = text.find('=');
    if (equals == std::string::npos || equals == 0 || without_quotes(text.substr(equals + 1)).empty())
        return fault(fmt::format("\"{}\" is not PATH=VALUES", text),
                     "box.junction.cable.length=\"1 m to 30 m\"");
    Try what;
    what.path = without_quotes(text.substr(0, equals));
    const std::string values = without_quotes(text.substr(equals + 1));
    const auto to = values.find(" to ");
    if (to == std::string::npos) {
        for (std::size_t from = 0; from <= values.size();) {
            const auto comma = std::min(values.find(',', from), values.size());
            const std::string value = without_quotes(values.substr(from, comma - from));
            if (!value.empty()) what.values.push_back(value);
            from = comma + 1;
        }
        return what;
    }
    const auto low = number_of(without_quotes(values.substr(0, to))),
               high = number_of(without_quotes(values.substr(to + 4)));
    if (!low || !high || low->unit != high->unit || !(low->value < high->value))
        return fault(fmt::format("\"{}\" is no range: two rising values of one unit", values), "1 m to 30 m");
    what.unit = low->unit;
    what.from = low->value;
    what.to = high->value;
    what.values = steps_of(what);
    return what;
}

std::variant<Sweep, Diagnostics> sweep(const Source& source, const Try& what) {
    Sweep result;
    std::vector<TriedPoint> points;
    for (const std::string& value : what.values) {
        auto made = point(source, what.path, value);
        if (auto* problems = std::get_if<Diagnostics>(&made)) return std::move(*problems);
        points.push_back(std::move(std::get<TriedPoint>(made)));
    }
    for (std::size_t i = 1; i < points.size() && what.range(); ++i)
        add_changes(source, what, points[i - 1], points[i], result.crossings);
    for (TriedPoint& one : points) result.tried.push_back(std::move(one.tried));
    return result;
}

}  // namespace benchfeed::advice
