#pragma once
// What a continuity tester would find in a wired bench, from its connection schedule alone.
#include <map>
#include <span>
#include <vector>

#include <benchfeed/advice/schedule.hpp>

namespace benchfeed::advice {

/// How a switch or a device stands.
struct Stand {
    bool closed = true;
    Index position = plan::nowhere;  ///< of a changeover switch: what it feeds now
};

/// Terminals that are joined by copper while some switches are closed.
///
/// Links, cores and mated contacts join; a switch or device joins what it opens while it is closed; a stop
/// button is closed and a start button open while nobody touches them; an emergency stop stays as it stands.
/// Coils, lamps and loads do not join.
class Continuity {
public:
    /// `stands` counts the plan's elements.
    Continuity(const Schedule& schedule, const std::vector<Stand>& stands);
    /// Copper leads from one terminal to the other.
    [[nodiscard]] bool joined(const Terminal& a, const Terminal& b) const;

private:
    [[nodiscard]] std::size_t group_of(const Terminal& terminal) const;
    void join(const Terminal& a, const Terminal& b);
    std::map<Terminal, std::size_t> number_;
    std::vector<std::size_t> above_;  ///< union-find: terminals of one group lead to the same number
};

/// Switches and devices as they stand with the bench dead and every handle on: what a release, a contactor or
/// electronics open stays open. A changeover switch feeds its first position.
[[nodiscard]] std::vector<Stand> stands_when_dead(const plan::Plan& plan);

}  // namespace benchfeed::advice
