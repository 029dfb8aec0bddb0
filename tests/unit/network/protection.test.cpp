#include <doctest/doctest.h>

#include <benchfeed/network/protection.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using network::Place;
using test::catalogue;
using test::judged;

namespace {

/// A chain of elements behind a supply, in the words of a plan; the last one carries the load.
Judged chain(const std::string& region, const std::string& elements, const std::string& last) {
    return judged("format = 1\n[plan]\nregion = \"" + region +
                  "\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"230 V\"\n" + elements +
                  "[load.x]\nfrom = \"" + last + "\"\nmotor = \"none\"\nplate = { current = \"1 A\" }\n");
}
std::string device(const std::string& name, const std::string& from, const std::string& more) {
    return "[device." + name + "]\nfrom = \"" + from + "\"\n" + more + "\n";
}
std::string found_at(const Judged& j, const char* name) {
    const auto search =
        network::overload_guard(j.plan(), catalogue(), j.plan().find(plan::Kind::box, name), Place::whole);
    return search.found ? j.plan()[search.found->element].name : search.undecided ? "undecided" : "none";
}

}  // namespace

// Source   IEC 60364-4-43 433.1 and the scopes of the product standards: an RCCB (IEC 61008), a PRCD (IEC
// 61540) and an aM fuse have no overload part; an RCBO (IEC 61009) has all three.
TEST_CASE("the search for an overload device is by function") {
    const std::string breaker =
        "kind = \"circuit breaker\"\nstandard = \"IEC 60898\"\ncurve = \"B\"\nrating = \"16 A\"";
    const std::string rcbo =
        "kind = \"circuit breaker\"\nstandard = \"IEC 61009\"\ncurve = \"B\"\nrating = \"13 A\"\nresidual = "
        "{ trip = \"30 mA\", wave = \"A\" }";
    const std::string rccb =
        "kind = \"residual current device\"\nstandard = \"IEC 61008\"\nrating = \"10 A\"";
    const std::string back_up = "kind = \"fuse\"\nstandard = \"IEC 60269 aM\"\nrating = \"6 A\"";
    const std::string box = "[box.b]\nfrom = \"device.second\"\n";
    CHECK(found_at(
              chain("EU", device("first", "supply.s", breaker) + device("second", "device.first", rccb) + box,
                    "box.b"),
              "b") == "first");
    CHECK(
        found_at(chain("EU",
                       device("first", "supply.s", breaker) + device("second", "device.first", back_up) + box,
                       "box.b"),
                 "b") == "first");
    CHECK(found_at(
              chain("EU", device("first", "supply.s", breaker) + device("second", "device.first", rcbo) + box,
                    "box.b"),
              "b") == "second");
    CHECK(found_at(
              chain("EU", device("first", "supply.s", rccb) + device("second", "device.first", back_up) + box,
                    "box.b"),
              "b") == "none");
    const std::string nobody = "kind = \"circuit breaker\"\nrating = \"unknown\"";
    CHECK(found_at(
              chain("EU", device("first", "supply.s", rccb) + device("second", "device.first", nobody) + box,
                    "box.b"),
              "b") == "undecided");
}

TEST_CASE("a device at the far end counts as long as nothing branches off before it") {
    const auto far_end = [](const Judged& j) {
        const auto guard = network::guard_at_far_end(
            j.plan(), catalogue(), j.plan().find(plan::Kind::switch_, "main"), Place::cable);
        return guard ? j.plan()[guard->element].name : std::string("none");
    };
    const std::string head = "[switch.main]\nfrom = \"supply.s\"\npoles = 2\nrating = \"32 A\"\n";
    const std::string breaker =
        device("bench", "switch.main", "kind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"16 A\"");
    const std::string box = "[box.b]\nfrom = \"device.bench\"\n";
    CHECK(far_end(chain("EU", head + breaker + box, "box.b")) == "bench");
    CHECK(far_end(chain("EU", head + breaker + box + "[box.other]\nfrom = \"switch.main\"\n", "box.b")) ==
          "none");
}

TEST_CASE("the fuse in a plug stands above its cord and below its pins") {
    const auto j = judged(
        "format = 1\n[plan]\nregion = \"UK\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 "
        "V\"\n[device.b32]\nfrom = \"supply.s\"\n"
        "kind = \"circuit breaker\"\ncurve = \"B\"\nrating = \"32 A\"\n[outlet.w]\nfrom = "
        "\"device.b32\"\npattern = \"BS 1363\"\n[box.b]\n"
        "from = \"outlet.w\"\nplug = \"BS 1363\"\nfuse = \"13 A\"\n[load.x]\nfrom = \"box.b\"\nmotor = "
        "\"none\"\nplate = { current = \"1 A\" }\n");
    const auto box = j.plan().find(plan::Kind::box, "b");
    CHECK(network::overload_guard(j.plan(), catalogue(), box, Place::cable).found->plug_fuse);
    CHECK_FALSE(network::overload_guard(j.plan(), catalogue(), box, Place::plug).found->plug_fuse);
    CHECK(network::guard_at_far_end(j.plan(), catalogue(), box, Place::plug)->plug_fuse);
}
