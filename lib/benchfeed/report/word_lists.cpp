#include <benchfeed/report/word_lists.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

namespace benchfeed::report {

namespace {

using tables::Table;

constexpr std::array<std::string_view, 3> lists{"cables", "patterns", "devices"};

/// One of several words parted by spaces is the region, or any is asked for.
bool is_of(std::string_view regions, const std::string& region) {
    return region.empty() || fmt::format(" {} ", regions).find(" " + region + " ") != std::string::npos;
}

/// What shops of the region call it: "6242Y, twin and earth".
std::string called(const tables::Catalogue& tables, std::string_view word, const std::string& region) {
    const Table* table = tables.table("trade-names");
    std::string names;
    for (std::size_t row = 0; table && row < table->rows.size(); ++row)
        if (table->text(row, "word") == word && is_of(table->text(row, "regions"), region))
            names += (names.empty() ? "" : ", ") + std::string(table->text(row, "called"));
    return names;
}

std::string cables(const tables::Catalogue& tables, const std::string& region, std::string_view family,
                   const Style& style) {
    const Table& table = *tables.table("cable-constructions");
    std::string out;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        if (!region.empty() && table.text(row, "family") != family) continue;
        const std::string_view word = table.text(row, "construction");
        const std::string names = called(tables, word, region);
        const bool cord = table.text(row, "use") == "cord";
        std::string about = cord ? fmt::format("cord, {} usage", table.text(row, "usage")) : "fixed wiring";
        about += fmt::format(", {} {}", table.text(row, "strands"),
                             table.text(row, "strands") == "fine" ? "strands" : "cores");
        if (!names.empty()) about += "; called " + names + " (from memory)";
        out += wrapped(about, fmt::format("{:<14}  ", word), "    ", style);
    }
    return out;
}

std::string patterns(const tables::Catalogue& tables, const std::string& region, const Style& style) {
    const Table& table = *tables.table("plug-patterns");
    std::string out;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        if (!is_of(table.text(row, "regions"), region)) continue;
        const std::string_view gender = table.text(row, "gender");
        const std::string about = fmt::format(
            "{}, {:g} A, {:g} V, {}, {}", gender == "both" ? "plug and outlet" : gender,
            table.number(row, "rated").value_or(0), table.number(row, "volts").value_or(0),
            table.text(row, "poles"), table.flag(row, "earth").value_or(false) ? "with earth" : "NO EARTH");
        out += wrapped(about, fmt::format("{:<22}  ", table.text(row, "pattern")), "    ", style);
    }
    return out;
}

std::string devices(const tables::Catalogue& tables, const std::string& region, std::string_view family,
                    const Style& style) {
    const Table& table = *tables.table("device-functions");
    std::string out;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        if (!region.empty() && table.text(row, "family") != family) continue;
        const auto ends = [&](tables::Key what) { return table.flag(row, what).value_or(false); };
        std::string about(table.text(row, "kind"));
        if (ends("curve")) about += ", curve B, C or D";
        about += ends("overload") && ends("short_circuit") ? "; ends overload and short circuit"
                 : ends("overload")                        ? "; ends overload alone"
                 : ends("short_circuit")                   ? "; ends short circuit alone"
                                                           : "; ends neither overload nor short circuit";
        if (table.text(row, "residual") == "yes") about += "; with residual part";
        out += wrapped(about, fmt::format("{:<14}  ", table.text(row, "standard")), "    ", style);
    }
    return out;
}

}  // namespace

std::span<const std::string_view> word_lists() {
    return lists;
}

std::string word_list_text(std::string_view list, const std::string& region, const tables::Catalogue& tables,
                           const Style& style) {
    const Table& regions = *tables.table("regions");
    const auto row = region.empty() ? std::nullopt : regions.row_of("region", region);
    if (!region.empty() && !row) return "";
    const std::string family(row ? regions.text(*row, "family") : std::string_view{});
    if (list == "cables") return cables(tables, region, family, style);
    return list == "patterns" ? patterns(tables, region, style) : devices(tables, region, family, style);
}

}  // namespace benchfeed::report
