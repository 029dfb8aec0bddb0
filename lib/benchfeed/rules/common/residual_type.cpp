// shock.residual-type: the residual current device does not see the wave form that a fault behind electronics
// has.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/figures/residual_ac_bars.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::residual_type {
namespace {

constexpr std::uint8_t suits = 0, ac_barred = 1, ac_electronic = 2, not_b = 3, ac_plain = 4, not_f = 5,
                       ask_wave = 6, blinded = 7;

using plan::Drive;
using plan::Wave;

/// What hangs behind a residual current device, of that which no nearer one looks after.
struct Behind {
    bool outlets = false;
    Index electronic = plan::nowhere;  ///< a load with electronics, or nobody knows that it has none
    Index single_phase_drive = plan::nowhere;
    Index three_phase_drive = plan::nowhere;
    [[nodiscard]] bool anything() const { return outlets || electronic != plan::nowhere || loads; }
    bool loads = false;
};

bool has_electronics(const plan::Load& load) {
    return load.motor.is(plan::Motor::electronic) || load.soft_start.is(true) ||
           (load.drive.known() && !load.drive.is(Drive::none));
}

Behind behind(const Situation& s, Index device) {
    Behind b;
    for (Index i = s.network.enter[device]; i < s.network.leave[device]; ++i) {
        const Index at = s.network.order[i];
        const plan::Element& e = s.plan[at];
        const auto* load = e.as<plan::Load>();
        if (e.kind != plan::Kind::outlet && !load) continue;
        const auto above_it = residual_devices_above(s, at);
        if (above_it.empty() || above_it.front() != device) continue;
        if (!load) {
            b.outlets = true;
            continue;
        }
        b.loads = true;
        const auto first = [&](Index& where, bool is) {
            if (is && where == plan::nowhere) where = at;
        };
        first(b.electronic, has_electronics(*load));
        first(b.single_phase_drive, load->drive.is(Drive::single_phase_drive));
        first(b.three_phase_drive, load->drive.is(Drive::three_phase_drive));
    }
    return b;
}

/// Words of a country in a plan against a list like "DE, Germany, Deutschland".
bool names(std::string_view list, const std::string& country) {
    while (!list.empty()) {
        const auto comma = std::min(list.find(", "), list.size());
        if (list.substr(0, comma) == country) return true;
        list.remove_prefix(std::min(comma + 2, list.size()));
    }
    return false;
}

/// The rule of the region or the country that bars type AC before outlets.
std::optional<figures::residual_ac_bars::Row> bar(const Situation& s) {
    for (const auto row : figures::residual_ac_bars::rows(s.tables)) {
        if (row.region() != s.practice().region) continue;
        const auto countries = row.countries();
        const auto& country = s.plan.head.country;
        if (countries.empty() || (country.known() && names(countries, *country))) return row;
    }
    return std::nullopt;
}

Outcome judge_device(const Situation& s, Index i, const Behind& b) {
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    const auto decided = [&](std::uint8_t variant, Verdict verdict, Basis basis) {
        o.variant = variant;
        o.verdict = verdict;
        o.basis = basis;
        return o;
    };
    const auto& residual = s.plan[i].as<plan::Device>()->residual;
    if (!residual || !residual->wave.known()) {
        const bool may_fail = (b.outlets && bar(s)) || b.electronic != plan::nowhere ||
                              b.three_phase_drive != plan::nowhere;  // of type AC, or A before the drive
        return may_fail ? decided(ask_wave, Verdict::cannot_judge, Basis::standard)
                        : decided(ask_wave, Verdict::caution, Basis::recommendation);
    }
    const auto& wave = residual->wave;
    if (b.three_phase_drive != plan::nowhere && !wave.is(Wave::b))
        return decided(not_b, Verdict::fail, Basis::standard);
    if (wave.is(Wave::ac)) {
        if (b.outlets && bar(s)) return decided(ac_barred, Verdict::fail, Basis::standard);
        if (b.electronic != plan::nowhere) return decided(ac_electronic, Verdict::fail, Basis::standard);
        return decided(ac_plain, Verdict::caution, Basis::recommendation);
    }
    if (wave.is(Wave::a) && b.single_phase_drive != plan::nowhere)
        return decided(not_f, Verdict::caution, Basis::recommendation);
    return o;
}

bool has_wave(const Situation& s, Index i, Wave wave) {
    const auto* device = s.plan[i].as<plan::Device>();
    return device && residual_part(s, *device) == Known::yes && device->residual &&
           device->residual->wave.is(wave);
}

/// A device behind this one that lets more smooth direct current pass than this one stands: of type B, else
/// of type F; of equals the first by name.
Index blinding(const Situation& s, Index i) {
    if (!has_wave(s, i, Wave::ac) && !has_wave(s, i, Wave::a)) return plan::nowhere;
    for (const Wave wave : {Wave::b, Wave::f}) {
        Index found = plan::nowhere;
        for (Index at = s.network.enter[i]; at < s.network.leave[i]; ++at) {
            const Index below = s.network.order[at];
            if (!has_wave(s, below, wave)) continue;
            if (found == plan::nowhere || s.plan[below].name < s.plan[found].name) found = below;
        }
        if (found != plan::nowhere) return found;
    }
    return plan::nowhere;
}

/// Smooth direct current flows where a three-phase drive is; what else hangs behind a type B or F device may
/// change.
Outcome judge_blinded(const Situation& s, Index i, Index below) {
    Outcome o;
    o.at = at_element(i);
    o.variant = blinded;
    o.basis = Basis::standard;
    const bool flows = has_wave(s, below, Wave::b) && behind(s, below).three_phase_drive != plan::nowhere;
    o.verdict = flows ? Verdict::fail : Verdict::caution;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* device = s.plan[i].as<plan::Device>();
        if (!device || residual_part(s, *device) != Known::yes) continue;
        const Behind b = behind(s, i);
        if (b.anything()) yield.outcomes.push_back(judge_device(s, i, b));
        if (const Index below = blinding(s, i); below != plan::nowhere)
            add_worse(yield.outcomes, judge_blinded(s, i, below));
    }
    return yield;
}

void cite_wave(const Situation& s, Explanation& e, std::string_view wave) {
    const tables::Table* waves = s.tables.table("iec-60755");
    if (const auto* fact = waves ? waves->fact(wave) : nullptr) e.sources.push_back(waves->cite(*fact));
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& residual = element.as<plan::Device>()->residual;
    const Behind b = behind(s, o.at.index);
    const std::string name = element.words();
    Explanation e;
    e.place = {residual ? place_of(residual->wave, element) : element.header, ""};
    e.remedies = {{Cost::electrician, "a residual current device of a type that sees it"}};
    const std::string unseen =
        "A fault behind electronics has a wave form that this device does not see: it does "
        "not trip, or trips late.";
    switch (o.variant) {
        case ask_wave:
            e.headline = "What wave forms " + name + " trips at is not known";
            e.consequence = unseen;
            e.questions.push_back({element.path() + ".residual.wave",
                                   "Which wave form does " + name + " show?",
                                   "a sine in a frame: AC; with half waves under it: A; F and B in letters"});
            e.remedies.clear();
            return e;
        case not_b:
            e.headline =
                fmt::format("{} is of type {}, and {} has a three-phase drive: it needs type B",
                            capital(name), residual->wave.word(), s.plan[b.three_phase_drive].words());
            e.consequence =
                "Smooth direct current makes it blind: it does not trip for anybody on the circuit.";
            e.related.push_back({s.plan[b.three_phase_drive].header, "the drive"});
            e.remedies = {{Cost::electrician, "a residual current device of type B for the drive"}};
            cite_wave(s, e, "B");
            break;
        case ac_barred: {
            const auto barred = *bar(s);
            e.headline = fmt::format("{} is of type AC: {}", capital(name), barred.rule());
            e.consequence = unseen;
            e.sources.push_back(barred.source(figures::residual_ac_bars::Column::rule));
            e.remedies = {{Cost::electrician, "a residual current device of type A at least"}};
            break;
        }
        case ac_electronic:
            e.headline = fmt::format("{} is of type AC, and {} has electronics: it needs type A at least",
                                     capital(name), s.plan[b.electronic].words());
            e.consequence = unseen;
            e.related.push_back({s.plan[b.electronic].header, "with electronics"});
            e.remedies = {{Cost::electrician, "a residual current device of type A at least"}};
            cite_wave(s, e, "AC");
            break;
        case ac_plain:
            e.headline = capital(name) +
                         " is of type AC: good for what is plugged in now, not for a tool with "
                         "electronics";
            e.consequence = unseen;
            e.remedies = {{Cost::electrician, "type A when it is next changed"}};
            cite_wave(s, e, "AC");
            break;
        case not_f:
            e.headline = fmt::format("{} is of type A, and {} has a drive: type F sees its mixed frequencies",
                                     capital(name), s.plan[b.single_phase_drive].words());
            e.consequence = "It may trip late, or for no fault at all.";
            e.related.push_back({s.plan[b.single_phase_drive].header, "the drive"});
            e.remedies = {{Cost::free, "look up what the drive's manual asks for"},
                          {Cost::electrician, "a residual current device of type F"}};
            cite_wave(s, e, "F");
            break;
        case blinded: {
            const plan::Element& below = s.plan[blinding(s, o.at.index)];
            const auto& passes = below.as<plan::Device>()->residual->wave;
            e.headline = fmt::format("{} is of type {}, and {} of type {} is behind it", capital(name),
                                     residual->wave.word(), below.words(), passes.word());
            e.consequence = fmt::format(
                "{} works on with the smooth direct current of a drive and lets it pass; it makes {} blind, "
                "which then "
                "trips for nobody.",
                capital(below.words()), name);
            e.related.push_back({place_of(passes, below), "type " + std::string(passes.word())});
            e.remedies = {{Cost::electrician, "the circuit of the drive beside " + name + ", not behind it"},
                          {Cost::electrician, "or the same type upstream"}};
            cite_wave(s, e, residual->wave.word());
            cite_wave(s, e, passes.word());
            cite_wave(s, e, "upstream");
            break;
        }
        case suits:
        default:
            e.headline = fmt::format("{} is of type {}, which suits what is behind it", capital(name),
                                     residual->wave.word());
            cite_wave(s, e, residual->wave.word());
            e.remedies.clear();
            return e;
    }
    e.place.text = "type " + std::string(residual->wave.word());
    e.short_words = name + " does not see every fault";
    return e;
}

}  // namespace

const Rule rule{.id = "shock.residual-type",
                .title = "the residual current device does not see the wave form",
                .harm = Harm::shock,
                .essential = false,
                .families = "iec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::residual_type
