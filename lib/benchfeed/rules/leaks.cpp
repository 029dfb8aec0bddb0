#include <benchfeed/rules/leaks.hpp>

#include <benchfeed/figures/iec_leakage_limits.hpp>
#include <benchfeed/figures/leakage_of_loads.hpp>
#include <benchfeed/figures/ul_101_leakage.hpp>

namespace benchfeed::rules {

tables::Found<tables::Figure<Current>> leaks(const Situation& s, Index load_index) {
    const auto& load = *s.plan[load_index].as<plan::Load>();
    const bool second = load.protection_class.is(plan::ProtectionClass::ii);
    const bool drive =
        load.drive.is(plan::Drive::single_phase_drive) || load.drive.is(plan::Drive::three_phase_drive);
    using Of = figures::leakage_of_loads;
    const auto limit = [](const auto& row) { return row.limit(); };
    for (const Of::Row row : Of::rows(s.tables)) {
        if (row.family() != (s.nec() ? Of::Family::nec : Of::Family::iec) || row.load() != load.kind.word() ||
            row.class_() != (second ? Of::Class::ii : Of::Class::i) || row.drive() != drive)
            continue;
        switch (row.limits()) {
            case Of::Limits::iec_leakage_limits:
                return figures::iec_leakage_limits::at(s.tables, row.row()).then(limit);
            case Of::Limits::ul_101_leakage:
                return figures::ul_101_leakage::at(s.tables, row.row()).then(limit);
        }
    }
    return tables::Missing{Of::id.key.text, std::string(load.kind.word())};
}

Leak leak_behind(const Situation& s, Index plug, std::span<const Index> loads) {
    Leak leak;
    for (const Index load : loads) {
        const bool earthed = !s.plan[load].as<plan::Load>()->protection_class.is(plan::ProtectionClass::ii);
        if (!earthed || !s.network.hangs_below(load, plug)) continue;
        const auto one = leaks(s, load);
        if (!one) continue;
        leak.loads.push_back(load);
        leak.sum += one->value;
    }
    return leak;
}

LoadsOfSets::LoadsOfSets(const Situation& s) : s_(s), sets_of_(s.plan.elements.size()) {
    for (Index set = 0; set < s.plan.sets.size(); ++set)
        for (const Index load : s.plan.sets[set].loads) sets_of_[load].push_back(set);
}

std::map<Index, std::vector<Index>> LoadsOfSets::behind(Index element) const {
    std::map<Index, std::vector<Index>> found;
    for (Index at = s_.network.enter[element]; at < s_.network.leave[element]; ++at) {
        const Index here = s_.network.order[at];
        for (const Index set : sets_of_[here]) found[set].push_back(here);
    }
    return found;
}

}  // namespace benchfeed::rules
