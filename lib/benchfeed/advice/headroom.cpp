#include <benchfeed/advice/headroom.hpp>

#include <algorithm>

namespace benchfeed::advice {

using plan::Element;
using plan::Kind;
using rules::Judgement;
using rules::Limit;
using rules::Situation;
using rules::Verdict;

namespace {

/// No place of a bench takes more; a search has to begin somewhere.
constexpr double beyond_any = 1000;  // A

/// The plan with one more load at a place.
class Extended {
public:
    Extended(const Situation& s, Index at, bool for_hours) : plan_(s.plan), at_(at) {
        Element load;
        load.kind = Kind::load;
        load.name = "further load";
        load.parent = at;
        load.conductors = s.plan[at].conductors;
        if (s.plan[at].kind == Kind::outlet) load.plug = s.plan[at].as<plan::Outlet>()->pattern;
        load.what = plan::Load{};
        load_ = static_cast<Index>(plan_.elements.size());
        plan_.elements.push_back(std::move(load));
        plan_.elements[at].children.push_back(load_);
        network_ = network::build(plan_, s.tables);
        point_ = &network_.loads[network_.load_of[load_]];
        point_->from = network::CurrentFrom::plate_current;
        point_->power_factor_known = false;
        point_->least_power_factor = 1.0 * unit::one;
        point_->motor = true;
        point_->electronic = false;
        point_->hours = for_hours;
        point_->start.reset();
        // Of three lines one and the neutral, or two, as a single tool would take them.
        plan::Conductors one;
        const auto has = plan_[at].conductors.value_or(plan::Conductors{});
        for (const auto c : {plan::Conductor::l1, plan::Conductor::l2, plan::Conductor::l3})
            if (has.has(c) && one.lines() < (has.has(plan::Conductor::n) ? 1 : 2)) one.add(c);
        if (has.has(plan::Conductor::n)) one.add(plan::Conductor::n);
        point_->conductors = one;
    }
    Extended(const Extended&) = delete;
    Extended& operator=(const Extended&) = delete;

    [[nodiscard]] Situation situation(const Situation& s) const { return {plan_, network_, s.tables}; }
    [[nodiscard]] Index load() const { return load_; }
    [[nodiscard]] bool possible() const { return network::pair_of(point_->conductors).has_value(); }

    void draw(Current amps) {
        const auto pair = *network::pair_of(point_->conductors);
        const auto& supply = plan_.supply_of(at_);
        const VoltagePhasor across =
            network::nominal_voltage(supply, pair.from) - network::nominal_voltage(supply, pair.to);
        const Voltage volts = magnitude(across);
        const Ratio cosine = real_part(across) / volts, sine = imag_part(across) / volts;
        point_->current = amps;
        point_->draw = {};
        point_->draw[static_cast<std::size_t>(pair.from)] = turned(amps, cosine, sine);
        point_->draw[static_cast<std::size_t>(pair.to)] = -turned(amps, cosine, sine);
    }

private:
    plan::Plan plan_;
    Index at_, load_ = plan::nowhere;
    network::Network network_;
    network::LoadPoint* point_ = nullptr;
};

/// The volts of the new load itself: the limit that motors have.
Limit own_volts(const Situation& s, Index load) {
    Limit limit;
    limit.at = rules::at_element(load);
    limit.reach = {rules::Reach::Kind::lost_to, load};
    limit.edge = s.plan.local.voltage_drop_limit.known() ? *s.plan.local.voltage_drop_limit
                                                         : s.practice().drop_other.value;
    return limit;
}

/// A limit as it must hold: of those for hours the caution is the edge.
std::optional<Limit> to_hold(const Limit& limit, Stay stay) {
    if (!std::holds_alternative<std::monostate>(limit.edge)) return limit;
    if (stay == Stay::minutes || !limit.weight.hours_only) return std::nullopt;
    Limit hours = limit;
    hours.edge = limit.caution;
    hours.caution = std::monostate{};
    return hours;
}

struct Held {
    Limit limit;
    Index index;
};

bool breaks(const Situation& s, const Limit& limit, const std::vector<Index>& loads) {
    const auto evaluated = rules::evaluate(s, limit, loads);
    return !evaluated.loads.empty() && rules::verdict_at(limit, evaluated) == Verdict::fail;
}

/// An essential rule cannot say anything about this place.
bool in_doubt(const Situation& s, const Judgement& judgement, const Situation& with, Index load,
              const std::vector<Index>& loads) {
    for (const rules::Outcome& o : judgement.outcomes)
        if (o.verdict == Verdict::cannot_judge && o.set == rules::no_set &&
            o.at.kind == rules::At::Kind::element && rules::registry()[o.rule].essential &&
            rules::registry()[o.rule].harm == rules::Harm::heat && with.network.hangs_below(load, o.at.index))
            return true;
    const auto unknown = [&](Index one) { return !s.network.loads[s.network.load_of[one]].known(); };
    return std::any_of(judgement.limits.begin(), judgement.limits.end(), [&](const Limit& limit) {
        if (!rules::registry()[limit.rule].essential) return false;
        const auto evaluated = rules::evaluate(with, limit, loads);
        const auto& on_it = evaluated.loads;
        if (std::find(on_it.begin(), on_it.end(), load) == on_it.end()) return false;
        return !limit.ground.carries_ok() || std::any_of(on_it.begin(), on_it.end(), [&](Index one) {
            return one != load && unknown(one);
        });
    });
}

}  // namespace

std::vector<Index> free_outlets(const Situation& s) {
    std::vector<Index> found;
    for (const Index i : s.network.order) {
        const auto* outlet = s.plan[i].as<plan::Outlet>();
        if (!outlet || s.network.house[i]) continue;
        const auto taken = std::count_if(
            s.plan[i].children.begin(), s.plan[i].children.end(),
            [&](Index child) { return s.plan[child].kind == Kind::load || s.plan[child].plug.written(); });
        if (taken < outlet->ways.value_or(1)) found.push_back(i);
    }
    return found;
}

Headroom headroom(const Situation& s, const Judgement& judgement, Index set, Index at, Stay stay) {
    Headroom result;
    result.set = set;
    result.at = at;
    Extended extended(s, at, stay == Stay::hours);
    if (!extended.possible()) return result;
    const Situation with = extended.situation(s);
    std::vector<Index> loads = s.plan.sets[set].loads;
    loads.push_back(extended.load());
    extended.draw(beyond_any * unit::ampere);
    if (in_doubt(s, judgement, with, extended.load(), loads)) return result;

    std::vector<Held> held;
    for (Index i = 0; i < judgement.limits.size(); ++i)
        if (const auto limit = to_hold(judgement.limits[i], stay); limit && breaks(with, *limit, loads))
            held.push_back({*limit, i});
    if (const Limit own = own_volts(with, extended.load()); breaks(with, own, loads))
        held.push_back({own, plan::nowhere});
    // The limits one by one: each leaves less than the one before, or does not count.
    double most = beyond_any;
    for (const Held& one : held) {
        extended.draw(most * unit::ampere);
        if (!breaks(with, one.limit, loads)) continue;
        double low = 0, high = most;
        for (int step = 0; step < 50; ++step) {
            const double middle = (low + high) / 2;
            extended.draw(middle * unit::ampere);
            (breaks(with, one.limit, loads) ? high : low) = middle;
        }
        most = low;
        result.ends = one.index;
    }
    if (held.empty()) return result;  // nothing on the way could be rated
    result.most = most * unit::ampere;
    result.watts = Power(*result.most * volts_at(s, at));
    return result;
}

}  // namespace benchfeed::advice
