#pragma once
// An earlier SARIF report, against which a new one is held.
#include <map>
#include <mutex>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>

namespace benchfeed::report {

/// The results of an earlier report by file and fingerprint. May be asked from several threads.
class BENCHFEED_API Baseline {
public:
    /// Reads a report; `fault` is then "" or says what it is instead.
    explicit Baseline(std::string_view sarif);

    /// Why it cannot be used; "" where it can.
    [[nodiscard]] const std::string& fault() const { return fault_; }
    /// "unchanged" or "new", and notes that it was asked for.
    [[nodiscard]] std::string state(const std::string& uri, const std::string& fingerprint);
    /// What nobody asked for: results as they were, with "absent" as their state, in the order of the report.
    [[nodiscard]] std::vector<std::string> absent() const;

private:
    using Key = std::pair<std::string, std::string>;
    std::vector<std::pair<Key, std::string>> results_;
    std::set<Key> known_, asked_;
    std::string fault_;
    std::mutex mutex_;
};

}  // namespace benchfeed::report
