#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::tables {

const Table* Catalogue::table(Key id) const {
    for (std::size_t at = id.hash % index_size; index()[at] != 0; at = (at + 1) % index_size)
        if (const Table& there = all()[index()[at] - 1u]; there.id == id.text) return &there;
    return nullptr;
}

std::vector<std::string_view> Catalogue::ids() const {
    std::vector<std::string_view> ids;
    for (const Table& table : all()) ids.push_back(table.id);
    return ids;
}

}  // namespace benchfeed::tables
