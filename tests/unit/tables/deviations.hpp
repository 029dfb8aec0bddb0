#pragma once
// Figures that differ from what physics or arithmetic gives, each by name and with its reason. A cell that
// deviates and is not listed fails, and so does a listed one that no longer deviates.
#include <doctest/doctest.h>

#include <map>
#include <set>
#include <string>

#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::test {

inline const tables::Catalogue& all_tables() {
    static const tables::Catalogue catalogue;
    return catalogue;
}

inline const tables::Table& table_named(std::string_view id) {
    const tables::Table* table = all_tables().table(id);
    REQUIRE_MESSAGE(table != nullptr, id);
    return *table;
}

/// A number of a cell that must be there.
inline double cell(const tables::Table& table, std::size_t row, const std::string& column) {
    const auto number = table.number(row, column);
    REQUIRE_MESSAGE(number.has_value(), table.id << " " << column << " row " << row);
    return number.value_or(0);
}

class Deviations {
public:
    using List = std::map<std::string, std::string>;
    explicit Deviations(List listed) : listed_(std::move(listed)) {}

    /// Says of one cell whether it is as computed.
    void tell(const tables::Table& table, std::size_t row, std::string_view column, bool as_computed) {
        ++told_;
        const std::string name = std::string(table.id) + ": " + table.cite(row, *table.column(column)).cell();
        if (!as_computed) found_.insert(name);
    }

    /// `cells` guards against a test that looks at nothing.
    void check(int cells) const {
        CHECK(told_ == cells);
        for (const auto& name : found_)
            CHECK_MESSAGE(listed_.contains(name), "deviates and is not listed: " << name);
        for (const auto& entry : listed_)  // clang 14 cannot capture a structured binding
            CHECK_MESSAGE(found_.contains(entry.first),
                          "listed and no longer deviates: " << entry.first << " (" << entry.second << ")");
    }

private:
    std::map<std::string, std::string> listed_;
    std::set<std::string> found_;
    int told_ = 0;
};

}  // namespace benchfeed::test
