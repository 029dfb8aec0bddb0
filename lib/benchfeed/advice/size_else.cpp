#include <benchfeed/advice/size_else.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include <benchfeed/advice/size_trials.hpp>
#include <benchfeed/advice/sizes.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/conductor.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Change;
using rules::Situation;

namespace {

constexpr std::size_t elements_seen = 60'000;                ///< by all looks together
constexpr std::size_t most_sections = 4;                     ///< beyond the one that is there
constexpr double least_volume_step = 0.5, most_volume = 80;  // in3

class Elsewhere {
public:
    explicit Elsewhere(const Situation& s)
        : s_(s),
          trials_(s, {}),
          now_(trials_.look()),
          looks_left_(std::max<std::size_t>(12, elements_seen / s.plan.elements.size())) {}
    [[nodiscard]] bool whole() const { return whole_; }

    std::vector<OtherCure> cures(const Fault& fault) {
        fault_ = fault;
        found_.clear();
        kind_.reset();
        before_ = figure();
        std::vector<Index> way;
        if (fault.at.kind == rules::At::Kind::element) way = s_.plan.path_to(fault.at.index);
        std::erase_if(way, [&](Index i) { return !s_.plan[i].cable || s_.network.house[i]; });
        thickening_ = true;
        for (const Index cable : way) thicken(cable);
        thickening_ = false;
        for (const Index cable : way) shorten(cable);
        return found_;
    }

private:
    /// The changed plan: the fault is gone, and nothing is worse than in the one as it was.
    bool cured() {
        worse_.clear();
        gone_ = false;
        if (looks_left_ == 0) {
            whole_ = false;
            return false;
        }
        --looks_left_;
        const Found after = trials_.look();
        for (const auto& [fault, seen] : after) {
            const auto before = now_.find(fault);
            // More of what a fault suffers from is worse as well, though it fails already.
            const bool fuller = thickening_ && seen.fails > 0 &&
                                rules::registry()[fault.rule].sections.more == rules::More::hurts &&
                                rules::registry()[fault.rule].sections.on == rules::Depends::here;
            if (fuller || !seen.within(before == now_.end() ? Seen{} : before->second))
                worse_.push_back(fault);
        }
        const auto seen = after.find(fault_);
        gone_ = seen == after.end() || seen->second.undecided == 0;
        return gone_ && worse_.empty();
    }
    /// The figure of the fault in the plan as it is now, of the first limit that failed in the plan as it
    /// was.
    Measure figure() {
        if (fault_.set == rules::no_set) return {};
        const network::Network network = trials_.network();
        const Situation s{trials_.plan(), network, s_.tables};
        for (const rules::Limit& limit : rules::registry()[fault_.rule].look(s).limits) {
            if (!(limit.at == fault_.at) || limit.part != fault_.part) continue;
            if (kind_ && *kind_ != limit.reach.kind) continue;
            const auto evaluated = rules::evaluate(s, limit, s.plan.sets[fault_.set].loads);
            if (evaluated.loads.empty()) continue;
            if (!kind_ && rules::verdict_at(limit, evaluated) != rules::Verdict::fail) continue;
            kind_ = limit.reach.kind;
            return evaluated.value;
        }
        return {};
    }
    void keep(std::string text, std::vector<Change> changes, bool thicker) {
        found_.push_back({fault_, std::move(text), std::move(changes), before_, figure(), thicker});
    }

    void shorten(Index cable) {
        auto& length = trials_.plan().elements[cable].cable->length;
        if (!length.known()) return;
        const auto own = length;
        const int now = static_cast<int>(std::floor(in(unit::metre, *own) * 10 + 1e-9));
        const auto holds = [&](int tenths) {
            length.value = tenths * 0.1 * unit::metre;
            return cured();
        };
        int good = (now + 1) / 2, beyond = now;
        if (good > 0 && good < now && holds(good)) {
            while (beyond - good > 1) {
                const int middle = (good + beyond) / 2;
                (holds(middle) ? good : beyond) = middle;
            }
            length.value = good * 0.1 * unit::metre;
            const std::string text = fmt::format("{} m", to_text_of_tenths(good));
            keep(fmt::format("{} -> {} for {}", rules::length_words(s_, *own, 3),
                             rules::length_words(s_, *length, 3),
                             rules::words(s_, rules::at_element(cable), rules::Part::cable)),
                 {{s_.plan[cable].path() + ".cable.length", text}}, false);
        }
        length = own;
    }
    static std::string to_text_of_tenths(int tenths) {
        return fmt::format("{}.{}", tenths / 10, tenths % 10);
    }

    /// Larger sections in which tables rate all cables of the stock.
    [[nodiscard]] std::vector<Section> larger(Index stock) const {
        const plan::Stock& own = s_.plan.stocks[stock];
        std::vector<Section> found;
        if (!own.section.known() || !own.type.known()) return found;
        plan::Plan trial = s_.plan;
        for (const Section& section : standard_sizes(*own.section)) {
            if (section.area <= own.section->area * (1 + 1e-9)) continue;
            trial.stocks[stock].section.value = section;
            bool rated = true;
            for (Index i = 0; i < trial.elements.size() && rated; ++i) {
                if (!trial[i].cable || trial[i].cable->stock_index != stock) continue;
                const auto found_amps = network::ampacity(trial, s_.tables, s_.network, i);
                const auto data =
                    network::conductor_data(s_.tables, s_.practice().family, trial.stocks[stock]);
                rated = found_amps.value && !found_amps.substituted && data && !data->substituted;
            }
            if (rated) found.push_back(section);
            if (found.size() == most_sections) break;
        }
        return found;
    }

    void thicken(Index cable) {
        const Index stock = s_.plan[cable].cable->stock_index;
        if (stock == plan::nowhere) return;
        plan::Stock& trial = trials_.plan().stocks[stock];
        const plan::Stock own = s_.plan.stocks[stock];
        if (own.section.origin == plan::Origin::like) return;  // its section is another stock's
        const auto known = [&](const OtherCure& cure) {
            return cure.changes.front().path == own.path() + ".section";
        };
        if (std::any_of(found_.begin(), found_.end(), known)) return;  // shared with a cable further up
        for (const Section& section : larger(stock)) {
            trial.section.value = section;
            if (trial.protective_section.known() && !has_own_core(s_.tables, own))
                trial.protective_section.value = core_beside(s_.tables, own, section);
            const bool whole = cured();
            if (!gone_) continue;
            const std::string text =
                fmt::format("{}: {} -> {}", own.path(), section_text(*own.section), section_text(section));
            const std::vector<Change> changes{{own.path() + ".section", section_text(section)}};
            if (whole)
                keep(text, changes, true);
            else if (!with_larger_boxes(text, changes))
                continue;
            break;  // the least one
        }
        trial = own;
    }

    /// What got worse are boxes that are too full now, and larger ones hold it.
    bool with_larger_boxes(std::string text, std::vector<Change> changes) {
        std::vector<Index> boxes;
        for (const Fault& fault : worse_) {
            if (rules::registry()[fault.rule].id != "heat.box-overfilled") return false;
            boxes.push_back(fault.at.index);
        }
        const auto volume_of = [&](Index box) -> plan::Field<Volume>& {
            return std::get<plan::Box>(trials_.plan().elements[box].what).volume;
        };
        for (const Index box : boxes) {
            auto& volume = volume_of(box);
            if (!volume.known()) break;
            double cubic_inches = std::floor(in(unit::in3, *volume) / least_volume_step) * least_volume_step;
            const auto full = [&] {
                volume.value = cubic_inches * unit::in3;
                (void)cured();
                return std::any_of(worse_.begin(), worse_.end(),
                                   [&](const Fault& fault) { return fault.at.index == box; });
            };
            do cubic_inches += least_volume_step;
            while (cubic_inches < most_volume && full());
            const std::string wanted = fmt::format("{:g} in3", cubic_inches);
            text += fmt::format(", with {} for {}", wanted, s_.plan[box].words());
            changes.push_back({s_.plan[box].path() + ".volume", wanted});
        }
        const bool held = changes.size() > boxes.size() && cured();
        if (held) keep(std::move(text), std::move(changes), true);
        for (const Index box : boxes) volume_of(box) = std::get<plan::Box>(s_.plan[box].what).volume;
        return held;
    }

    Situation s_;
    Trials trials_;
    Found now_;
    Fault fault_{};
    Measure before_;
    std::optional<rules::Reach::Kind> kind_;  ///< of the limit whose figure is told
    std::vector<Fault> worse_;
    bool gone_ = false, thickening_ = false, whole_ = true;
    std::size_t looks_left_;
    std::vector<OtherCure> found_;
};

}  // namespace

OtherCures other_cures(const Situation& s, const std::vector<Fault>& faults, std::size_t most_faults) {
    OtherCures all;
    std::optional<Elsewhere> elsewhere;
    std::size_t asked = 0;
    for (const Fault& fault : faults) {
        const rules::Rule& rule = rules::registry()[fault.rule];
        if (rule.sections.on == rules::Depends::nothing || rule.harm == rules::Harm::plan) continue;
        if (asked++ == most_faults) break;
        if (!elsewhere) elsewhere.emplace(s);
        for (OtherCure& cure : elsewhere->cures(fault)) all.cures.push_back(std::move(cure));
        all.whole = elsewhere->whole();
        if (!all.whole) break;
    }
    return all;
}

}  // namespace benchfeed::advice
