#include <benchfeed/rules/leaks.hpp>

namespace benchfeed::rules {

std::optional<tables::Figure<Current>> leaks(const Situation& s, Index load_index) {
    const auto& load = *s.plan[load_index].as<plan::Load>();
    const tables::Table* table = s.tables.table("leakage-of-loads");
    if (!table) return std::nullopt;
    const bool second = load.protection_class.is(plan::ProtectionClass::ii);
    const bool drive =
        load.drive.is(plan::Drive::single_phase_drive) || load.drive.is(plan::Drive::three_phase_drive);
    for (std::size_t row = 0; row < table->rows.size(); ++row) {
        if (table->text(row, "family") != (s.nec() ? "nec" : "iec") ||
            table->text(row, "load") != load.kind.word() ||
            table->text(row, "class") != (second ? "II" : "I") || table->flag(row, "drive") != drive)
            continue;
        const tables::Table* limits = s.tables.table(table->text(row, "limits"));
        const auto at = limits ? limits->row_of("equipment", table->text(row, "row")) : std::nullopt;
        return at ? limits->current(*at, "limit") : std::nullopt;
    }
    return std::nullopt;
}

}  // namespace benchfeed::rules
