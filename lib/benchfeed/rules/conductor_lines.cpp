#include <benchfeed/rules/conductor_lines.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <complex>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/conductor.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using plan::Conductor;

CableOhms explain_cable(Working& working, const Situation& s, Index at, Ratio passes, ComplexImpedance total,
                        const std::string& suffix) {
    const network::Branch& branch = s.network.branches[at];
    if (branch.measured || !branch.cable || !branch.table_resistance || passes <= 0.0 * unit::one)
        return {working.computed(in(unit::ohm, real_part(total)), "ohm"),
                working.computed(in(unit::ohm, imag_part(total)), "ohm")};
    const std::string name = s.plan[at].name + suffix;
    const plan::Cable& cable = *s.plan[at].cable;
    const auto data =
        network::conductor_data(s.tables, s.practice().family, s.plan.stocks[cable.stock_index]);
    Value r = working.written(data->table.written);
    const std::string unit(data->table.written.substr(data->table.written.find(' ') + 1));
    if (data->temperature > data->table_temperature)
        r = working.add(
            "R'_" + name, "R'(20 degC) * (1 + alpha * (theta - 20 degC))", "{} * (1 + {} * ({} - {}))",
            {r, working.written(tables::written_number(data->alpha) + " /K"),
             working.written(to_text(data->temperature)), working.written(to_text(data->table_temperature))},
            unit, {network::cited(data->table.source), network::cited(data->alpha.source)});
    const Value length = working.written(length_words(s, branch.length, 4));
    const std::string times = fmt::format("{:g}", in(unit::one, passes));
    const Value resistance = working.add("R_" + name, times + " * R' * L", times + " * {} * {}", {r, length},
                                         "ohm", {network::cited(data->table.source)});
    if (!data->reactance) return {resistance, working.written("0 ohm")};
    const Value x = working.written(data->reactance->written);
    return {resistance, working.add("X_" + name, times + " * X' * L", times + " * {} * {}", {x, length},
                                    "ohm", {network::cited(data->reactance->source)})};
}

std::optional<Value> explain_warmth(Working& working, const Situation& s, Index at, Ratio passes,
                                    Current current) {
    const network::Branch& branch = s.network.branches[at];
    const plan::Element& element = s.plan[at];
    if (branch.measured || !branch.known || !branch.cable || !branch.table_resistance) return std::nullopt;
    const auto& own = element.cable->ambient;
    const auto& ambient = own.known() ? own : s.plan.head.ambient;
    const network::Ampacity iz = network::ampacity(s.plan, s.tables, s.network, at);
    const auto data =
        network::conductor_data(s.tables, s.practice().family, s.plan.stocks[element.cable->stock_index]);
    if (!iz.value || !ambient.known() || !data || current > *iz.value || *ambient >= data->temperature)
        return std::nullopt;
    working.note("Judged at the temperature at which " + words(s, at_element(at), Part::cable) +
                 " is rated. At these amps it is cooler, and loses less:");
    const Value air = working.written(to_text(*ambient)), rated = working.written(to_text(data->temperature));
    const Value amps = working.computed(in(unit::ampere, current), "A");
    const Value theta =
        working.add("theta_" + element.name, "theta_air + (I / Iz)^2 * (theta_rated - theta_air)",
                    "{} + ({} / {}) ^ 2 * ({} - {})",
                    {air, amps, working.computed(in(unit::ampere, *iz.value), "A"), rated, air}, "degC");
    const std::string unit(data->table.written.substr(data->table.written.find(' ') + 1));
    const Value warm = working.add(
        "R'_theta", "R' * (1 + alpha * (theta - theta_table))", "{} * (1 + {} * ({} - {}))",
        {working.written(data->table.written), working.written(tables::written_number(data->alpha) + " /K"),
         theta, working.written(to_text(data->table_temperature))},
        unit, {network::cited(data->table.source), network::cited(data->alpha.source)});
    const Value length = working.written(length_words(s, branch.length, 4));
    const std::string times = fmt::format("{:g}", in(unit::one, passes));
    return working.add("R_" + element.name + ",cooler", times + " * R'_theta * L", times + " * {} * {}",
                       {warm, length}, "ohm");
}

std::vector<Flow> running_flows(Working& working, const Situation& s, const std::vector<Index>& loads) {
    std::vector<Flow> flows;
    for (const Index load : loads) {
        const network::LoadPoint& point = s.network.loads[s.network.load_of[load]];
        const network::LoadCurrent found =
            network::load_current(s.plan, s.tables, s.practice(), load, s.network.plate_end);
        flows.push_back(
            {load, network::explain_current(working, s.plan, found, load), point.current, point.draw});
    }
    return flows;
}

namespace {

using Plane = std::complex<double>;

std::string word(Conductor c) {
    plan::Conductors one;
    one.add(c);
    return plan::conductors_text(one);
}

/// Six decimals without trailing zeros.
std::string plain_number(double number) {
    std::string text = fmt::format("{:.6f}", number);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

/// Terms with their signs, worked as one line: "7 A * 0.8 - 5 A * 0.5".
class SumLine {
public:
    void add(Value value, double factor = 1) {
        if (factor == 0) return;
        if (pattern_.empty() && factor < 0) {
            starts_negative_ = true;
            pattern_ = "- ";
        } else if (!pattern_.empty()) {
            pattern_ += factor < 0 ? " - " : " + ";
        }
        pattern_ += "{}";
        if (std::abs(factor) != 1) pattern_ += " * " + plain_number(std::abs(factor));
        operands_.push_back(value);
        plain_ = operands_.size() == 1 && factor == 1;
    }
    [[nodiscard]] bool empty() const { return operands_.empty(); }
    /// The one term itself, or a line; nothing for a sum of nothing.
    [[nodiscard]] std::optional<Value> work(Working& working, const std::string& symbol,
                                            const std::string& formula, const std::string& unit) const {
        if (empty()) return std::nullopt;
        if (plain_) return operands_.front();
        return working.add(symbol, formula, (starts_negative_ ? "0 " + unit + " " : "") + pattern_, operands_,
                           unit);
    }

private:
    std::string pattern_;
    std::vector<Value> operands_;
    bool starts_negative_ = false, plain_ = false;
};

class PairLines {
public:
    PairLines(Working& working, const Situation& s, Index target, network::Pair pair,
              const std::vector<Flow>& flows)
        : working_(working), s_(s), target_(target), pair_(pair), flows_(flows) {
        const plan::Supply& supply = s.plan.supply_of(target);
        const VoltagePhasor sent =
            network::nominal_voltage(supply, pair.from) - network::nominal_voltage(supply, pair.to);
        volts_ = magnitude(sent);
        along_ = Plane{in(unit::volt, real_part(sent)), in(unit::volt, imag_part(sent))};
        along_ /= std::abs(along_);
    }

    Value work(std::optional<Impedance> source) {
        const std::string from = word(pair_.from), to = word(pair_.to);
        working_.note(fmt::format(
            "Real parts lie along the volts between {} and {}; the factors are the cosine and sine "
            "of each load's current against them.",
            from, to));
        if (source) add_source(*source);
        for (const Index at : s_.plan.path_to(target_)) add_branch(at);
        const Value volts = working_.written(to_text(volts_, 6));
        const auto real = real_.work(working_, "dU_re", "sum over the conductors", "V"),
                   across = across_.work(working_, "dU_im", "sum over the conductors", "V");
        if (!real && !across) return volts;
        const Value zero = working_.written("0 V");
        return working_.add("U_left", "sqrt((U - dU_re)^2 + dU_im^2)", "sqrt(({} - {}) ^ 2 + {} ^ 2)",
                            {volts, real.value_or(zero), across.value_or(zero)}, "V");
    }

private:
    struct Lines {
        std::optional<Value> real, lagging;
    };

    /// Cosine and sine to six digits, so that currents which cancel do so on paper too.
    Plane factor(const Flow& flow, Conductor c) const {
        const CurrentPhasor& drawn = flow.draw[index_of(c)];
        const Plane share = Plane{in(unit::ampere, real_part(drawn)), in(unit::ampere, imag_part(drawn))} /
                            in(unit::ampere, flow.current) / along_;
        const auto rounded = [](double x) { return std::round(x * 1e6) / 1e6; };
        return {rounded(share.real()), rounded(share.imag())};
    }

    Lines currents(Index at, Conductor c) {
        SumLine real, lagging;
        for (const Flow& flow : flows_) {
            if (!s_.network.hangs_below(flow.load, at) || !(flow.current > Current{})) continue;
            const Plane k = factor(flow, c);
            real.add(flow.amps, k.real());
            lagging.add(flow.amps, -k.imag());
        }
        const std::string symbol = "I_" + word(c) + "," + s_.plan[at].name;
        return {real.work(working_, symbol, "sum of I * cos", "A"),
                lagging.work(working_, symbol + ",lag", "sum of I * sin", "A")};
    }

    /// What comes on one conductor goes on the other: then a cable is one loop.
    bool there_and_back(Index at) const {
        return std::all_of(flows_.begin(), flows_.end(), [&](const Flow& f) {
            return !s_.network.hangs_below(f.load, at) || factor(f, pair_.from) == -factor(f, pair_.to);
        });
    }

    void add_branch(Index at) {
        const network::Branch& branch = s_.network.branches[at];
        const std::string name = s_.plan[at].name;
        const auto passes = [&](Conductor c) { return branch.passes[index_of(c)]; };
        const auto impedance = [&](Conductor c) { return branch.impedance[index_of(c)]; };
        if (there_and_back(at)) {
            const Ratio both = passes(pair_.from) + passes(pair_.to);
            const ComplexImpedance z = impedance(pair_.from) + impedance(pair_.to);
            const Lines i = magnitude(z) > 0.0 * unit::ohm ? currents(at, pair_.from) : Lines{};
            if (i.real || i.lagging) lose(name, explain_cable(working_, s_, at, both, z), i, 1);
            return;
        }
        std::optional<CableOhms> ohms;
        Ratio ohms_of{};
        for (const auto& [c, sign] : {std::pair{pair_.from, 1.0}, std::pair{pair_.to, -1.0}}) {
            if (!(magnitude(impedance(c)) > 0.0 * unit::ohm)) continue;
            const Lines i = currents(at, c);
            if (!i.real && !i.lagging) continue;
            if (!ohms ||
                ohms_of != passes(c)) {  // both conductors of a cable are alike but for a switch's run
                ohms = explain_cable(working_, s_, at, passes(c), impedance(c), ohms ? "," + word(c) : "");
                ohms_of = passes(c);
            }
            lose(word(c) + "," + name, *ohms, i, sign);
        }
    }

    void lose(const std::string& where, const CableOhms& z, const Lines& i, double sign) {
        if (i.real && i.lagging) {
            real_.add(add("dU_re," + where, "R * I + X * I_lag", "{} * {} + {} * {}",
                          {z.resistance, *i.real, z.reactance, *i.lagging}),
                      sign);
            across_.add(add("dU_im," + where, "X * I - R * I_lag", "{} * {} - {} * {}",
                            {z.reactance, *i.real, z.resistance, *i.lagging}),
                        sign);
        } else if (i.real) {
            real_.add(add("dU_re," + where, "R * I", "{} * {}", {z.resistance, *i.real}), sign);
            across_.add(add("dU_im," + where, "X * I", "{} * {}", {z.reactance, *i.real}), sign);
        } else if (i.lagging) {
            real_.add(add("dU_re," + where, "X * I_lag", "{} * {}", {z.reactance, *i.lagging}), sign);
            across_.add(add("dU_im," + where, "R * I_lag", "{} * {}", {z.resistance, *i.lagging}), -sign);
        }
    }

    Value add(std::string symbol, std::string formula, std::string pattern,
              const std::vector<Value>& operands) {
        return working_.add(std::move(symbol), std::move(formula), std::move(pattern), operands, "V");
    }

    void add_source(Impedance source) {
        const Index supply = s_.plan.supply_index_of(target_);
        const Value whole = working_.written(to_text(source, 6)), nothing = working_.written("0 ohm");
        if (there_and_back(supply)) {
            if (const Lines i = currents(supply, pair_.from); i.real || i.lagging)
                lose("source", {whole, nothing}, i, 1);
            return;
        }
        const Value half = working_.add("Z_half", "Z / 2", "{} / 2", {whole}, "ohm");
        for (const auto& [c, sign] : {std::pair{pair_.from, 1.0}, std::pair{pair_.to, -1.0}})
            lose(word(c) + ",source", {half, nothing}, currents(supply, c), sign);
    }

    Working& working_;
    const Situation& s_;
    Index target_;
    network::Pair pair_;
    const std::vector<Flow>& flows_;
    Voltage volts_{};
    Plane along_;
    SumLine real_, across_;
};

}  // namespace

Value explain_pair(Working& working, const Situation& s, Index target, network::Pair pair,
                   const std::vector<Flow>& flows, std::optional<Impedance> source) {
    return PairLines(working, s, target, pair, flows).work(source);
}

}  // namespace benchfeed::rules
