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

}  // namespace benchfeed::rules
