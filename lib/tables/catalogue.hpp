#pragma once
// Every table of the library by id, each parsed when first asked for.
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "tables/table.hpp"

namespace benchfeed::tables {

/// A standard or other text from which tables were taken; one entry of data/tables/sources.toml.
struct Source {
    std::string key, title, publisher, kind;
    std::vector<std::string> editions;  ///< those of the tables taken from it
    std::vector<std::string> notes;     ///< errata, and where prints differ
};

/// The tables that are built in.
class Catalogue {
public:
    Catalogue();
    ~Catalogue();
    Catalogue(const Catalogue&) = delete;
    Catalogue& operator=(const Catalogue&) = delete;

    /// The table, or nullptr when there is none of that id or it could not be read (see problems()).
    /// May be called from several threads.
    [[nodiscard]] const Table* table(std::string_view id) const;
    /// Ids of all tables, sorted.
    [[nodiscard]] std::vector<std::string_view> ids() const;
    /// Every text that a table was taken from.
    [[nodiscard]] const std::vector<Source>& sources() const;
    /// Faults of every table that cannot be read. Reads all of them: for tests and `tables`.
    [[nodiscard]] Diagnostics problems() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace benchfeed::tables
