// One finding for many places: what an acceptance of one of them covers, and what becomes of the finding when
// another of them carries it.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <tuple>
#include <vector>

#include <benchfeed/rules/compare.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using rules::Verdict;
using test::judged;

namespace {

const std::string residual = "shock.no-residual-protection";

/// Two wall outlets on one breaker without a residual part. `left` and `right` is what hangs on them.
std::string walls(const std::string& left, const std::string& right, const std::string& more = "") {
    return "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\nrevision = \"1\"\n"
           "[supply.s]\nsystem = \"230 V\"\nearthing = \"TN-S\"\n"
           "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nstandard = \"IEC 60898\"\nrating = "
           "\"16 A\"\n"
           "[outlet.left]\nfrom = \"device.d\"\npattern = \"CEE 7/3\"\n[outlet.right]\nfrom = "
           "\"device.d\"\npattern = \"CEE 7/3\"\n" +
           left + right + more;
}

std::string lamp(const std::string& at) {
    return "[load.lamp-" + at + "]\nfrom = \"outlet." + at +
           "\"\nkind = \"light\"\nplug = \"CEE 7/7\"\nplate = { current = \"0.1 A\" }\n";
}

/// A bench with a residual device of its own at its inlet.
std::string guarded_bench(const std::string& at) {
    return "[device.own-" + at + "]\nfrom = \"outlet." + at +
           "\"\nplug = \"CEE 7/7\"\nkind = \"residual current device\"\nstandard = \"IEC 61008\"\nrating = "
           "\"16 A\"\npoles = 2\nresidual = { trip = \"30 mA\", wave = \"A\" }\n"
           "[outlet.bench-" +
           at + "]\nfrom = \"device.own-" + at + "\"\npattern = \"CEE 7/3\"\n[load.lamp-" + at +
           "]\nfrom = \"outlet.bench-" + at +
           "\"\nkind = \"light\"\nplug = \"CEE 7/7\"\nplate = { current = \"0.1 A\" }\n";
}

std::string acceptance(const std::string& at) {
    return "[[accept]]\nrule = \"" + residual + "\"\nat = \"" + at +
           "\"\nreason = \"it has its own\"\nrevision = \"1\"\n";
}

const rules::Outcome& told(const Judged& result, const std::string& rule) {
    const rules::Outcome* found = nullptr;
    for (const rules::Outcome& o : result.judgement().outcomes)
        if (rules::registry()[o.rule].id == rule && o.verdict != Verdict::ok) {
            REQUIRE(found == nullptr);
            found = &o;
        }
    REQUIRE(found != nullptr);
    return *found;
}

std::string place(const Judged& result, const rules::Outcome& o) {
    return rules::path_of(result.plan(), o.at);
}

/// What compare says of one rule.
std::vector<rules::Moved> moved(const std::string& before, const std::string& after,
                                const std::string& rule) {
    const Judged old = judged(before), fresh = judged(after);
    auto list =
        rules::compare({old.situation(), old.judgement()}, {fresh.situation(), fresh.judgement()}).moved;
    std::erase_if(list, [&](const rules::Moved& m) { return rules::registry()[m.rule].id != rule; });
    return list;
}

}  // namespace

TEST_CASE("an acceptance covers a caution, and not the fail of another place of the same finding") {
    const Judged both = judged(walls(guarded_bench("left"), lamp("right"), acceptance("outlet.left")));
    const auto& fail = told(both, residual);
    CHECK(place(both, fail) == "outlet.right");
    CHECK(fail.verdict == Verdict::fail);
    CHECK(fail.accepted == plan::nowhere);
    CHECK(both.judgement().verdict == Verdict::fail);
    // Of two cautions either may be named.
    for (const char* named : {"outlet.left", "outlet.right"}) {
        const Judged alike = judged(walls(guarded_bench("left"), guarded_bench("right"), acceptance(named)));
        const auto& caution = told(alike, residual);
        CHECK(caution.verdict == Verdict::caution);
        CHECK(caution.accepted == 0);
    }
    // A fail is not accepted by its own name either.
    CHECK(told(judged(walls(guarded_bench("left"), lamp("right"), acceptance("outlet.right"))), residual)
              .accepted == plan::nowhere);
}

TEST_CASE("a finding that another of its places carries now is the same finding") {
    const std::string both = walls(lamp("left"), lamp("right")),
                      one = walls(guarded_bench("left"), lamp("right"));
    CHECK(place(judged(both), told(judged(both), residual)) == "outlet.left");
    CHECK(place(judged(one), told(judged(one), residual)) == "outlet.right");
    for (const auto& [before, after, from, to] : {std::tuple(both, one, "outlet.left", "outlet.right"),
                                                  std::tuple(one, both, "outlet.right", "outlet.left")}) {
        const auto list = moved(before, after, residual);
        REQUIRE(list.size() == 1);
        CHECK(list.front().direction() == rules::Moved::Direction::elsewhere);
        CHECK(list.front().carried_from == from);
        CHECK(list.front().at == to);
        CHECK(list.front().before->verdict == Verdict::fail);
        CHECK(list.front().after->verdict == Verdict::fail);
    }
}

TEST_CASE("a finding that is carried elsewhere and gets worse or better is told once") {
    const std::string cautions = walls(guarded_bench("left"), guarded_bench("right")),
                      fails = walls(guarded_bench("left"), lamp("right"));
    const auto worse = moved(cautions, fails, residual);
    REQUIRE(worse.size() == 1);
    CHECK(worse.front().worse);
    CHECK(worse.front().at == "outlet.right");
    CHECK(worse.front().before->verdict == Verdict::caution);
    const auto better = moved(fails, cautions, residual);
    REQUIRE(better.size() == 1);
    CHECK_FALSE(better.front().worse);
    CHECK(better.front().after->verdict == Verdict::caution);
}
