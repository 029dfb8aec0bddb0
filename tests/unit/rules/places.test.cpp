// One place is one outcome: what tells two places apart, and which of two outcomes stays.
#include <doctest/doctest.h>

#include <set>
#include <vector>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/support.hpp>

using namespace benchfeed;
using rules::At;
using rules::Outcome;
using rules::Part;
using rules::Verdict;

namespace {

Outcome outcome(plan::Index rule, At at, Part part, Verdict verdict = Verdict::ok) {
    Outcome o;
    o.rule = rule;
    o.at = at;
    o.part = part;
    o.verdict = verdict;
    return o;
}

}  // namespace

TEST_CASE("rule, kind of place, index and part tell places apart; set and verdict do not") {
    std::set<std::uint64_t> keys;
    std::size_t places = 0;
    for (const plan::Index rule : {0u, 1u, 60u})
        for (const auto kind : {At::Kind::plan, At::Kind::element, At::Kind::stock, At::Kind::metal})
            for (const plan::Index index : {0u, 1u, 199'999u, plan::nowhere})
                for (const Part part : {Part::whole, Part::plug, Part::fuse, Part::inlet, Part::cable}) {
                    keys.insert(rules::place_key(outcome(rule, {kind, index}, part)));
                    ++places;
                }
    CHECK(keys.size() == places);
    Outcome a = outcome(3, rules::at_element(7), Part::cable), b = a;
    b.set = 4;
    b.verdict = Verdict::fail;
    CHECK(rules::place_key(a) == rules::place_key(b));
}

TEST_CASE("of two outcomes at one place and part the worse stays, in whatever order they come") {
    const At here = rules::at_element(1), there = rules::at_element(2);
    std::vector<Outcome> kept;
    rules::add_worse(kept, outcome(0, here, Part::plug, Verdict::caution));
    rules::add_worse(kept, outcome(0, here, Part::cable, Verdict::ok));
    rules::add_worse(kept, outcome(0, here, Part::plug, Verdict::fail));
    rules::add_worse(kept, outcome(0, here, Part::plug, Verdict::ok));
    rules::add_worse(kept, outcome(0, there, Part::plug, Verdict::ok));
    REQUIRE(kept.size() == 3);
    CHECK(kept[0].verdict == Verdict::fail);
    CHECK(kept[1].part == Part::cable);
    CHECK(kept[1].verdict == Verdict::ok);
    CHECK(kept[2].at == there);
    CHECK(kept[2].verdict == Verdict::ok);
}
