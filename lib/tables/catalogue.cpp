#include "tables/catalogue.hpp"

#include <algorithm>

namespace benchfeed::tables {

const Table* Catalogue::table(std::string_view id) const {
    const auto tables = all();
    const auto it =
        std::lower_bound(tables.begin(), tables.end(), id,
                         [](const Table& table, std::string_view wanted) { return table.id < wanted; });
    return it != tables.end() && it->id == id ? &*it : nullptr;
}

std::vector<std::string_view> Catalogue::ids() const {
    std::vector<std::string_view> ids;
    for (const Table& table : all()) ids.push_back(table.id);
    return ids;
}

}  // namespace benchfeed::tables
