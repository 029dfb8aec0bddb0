#pragma once
// What is in a box: the room that its conductors take by NEC 314.16, and the wires that meet in its
// terminals. The rule about boxes that are too small and the shopping list count alike.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What enters a box or is mounted in it.
struct BoxContents {
    std::vector<Index> cables;  ///< elements whose cable enters the box: its own feed, and what starts in it
    std::vector<Index> yokes;   ///< outlets and switches mounted in the box
    std::vector<Index> loose;   ///< loads wired on whose cable is not in the plan
};
[[nodiscard]] BoxContents box_contents(const Situation& s, Index box);

/// A switch whose cable goes out and back: what it feeds starts in the box from which it hangs.
[[nodiscard]] bool out_and_back(const plan::Element& element);
/// The element at which the feed of another one starts: the one named in `from`, or where the cable of a
/// switch out and back starts. nowhere for a supply.
[[nodiscard]] Index starts_at(const Situation& s, Index element);
/// It is wired on; a load or an outlet with a plug of its own hangs at an outlet instead.
[[nodiscard]] bool at_a_terminal(const plan::Element& element);

/// One counted item of NEC 314.16(B): so many allowances of so much each.
struct FillItem {
    std::string symbol;
    tables::Figure<Ratio> each;  ///< allowances for one, by table nec-314-16-b-rules
    Ratio allowances{};
    Section sized_on;
};
/// What of a box is counted where the plan leaves it open.
enum class Unknown : std::uint8_t { left_out, counted };
/// Items in the order of the code, clamps last: clamps inside the box, and a block of terminals, as the plan
/// has them, or else as `open` says.
[[nodiscard]] std::vector<FillItem> fill_items(const Situation& s, Index box, const BoxContents& contents,
                                               Unknown open);
/// The same with printed volumes alone: a size beyond the last printed one counts as that, one below the
/// first not at all. So much they take at least.
[[nodiscard]] std::vector<FillItem> printed_items(const Situation& s, const std::vector<FillItem>& items);
/// Sum of the items; nothing where a size has no printed volume.
[[nodiscard]] std::optional<Volume> fill_sum(const Situation& s, const std::vector<FillItem>& items);
/// The lowest grade of the figures behind the sum.
[[nodiscard]] tables::Grade fill_grade(const Situation& s, const std::vector<FillItem>& items);
/// Where these figures stand, each once.
[[nodiscard]] std::vector<tables::Citation> fill_sources(const Situation& s,
                                                         const std::vector<FillItem>& items);
/// The worked sum: one line for each item, then all of them. Pre: fill_sum() gives something.
Value work_fill(Working& working, const Situation& s, const std::vector<FillItem>& items);

/// "34.875 in3": as few digits as say it.
[[nodiscard]] std::string cubic_inches(Volume volume);

/// A terminal is made for a core; it holds it only if the part says so, or with care; it does not hold it.
enum class Holds : std::uint8_t { yes, care, no };
/// What table terminal-fit says of a core in one kind of terminal, for each end that it may have.
struct TerminalFit {
    Holds bare = Holds::no, ferrule = Holds::no, ring = Holds::no;
    tables::Citation source;
};
[[nodiscard]] tables::Found<TerminalFit> terminal_fit(const Situation& s, std::string_view terminals,
                                                      std::string_view strands);

/// Wires of one conductor in the terminals of a box: the feed, one for each element wired on, and of the
/// protective conductor one for each metal part that is bonded there.
[[nodiscard]] int terminal_wires(const Situation& s, Index box, plan::Conductor conductor);

}  // namespace benchfeed::rules
