// Rows of the tables that are no part of the circuit.
#include <benchfeed/plan/field_rows.hpp>

namespace benchfeed::plan {

namespace {

using enum Absent;

constexpr Row<MetalPart> metal_rows[] = {
    {row("bonded", ask, "", true, "element at whose protective terminal it ends, or \"no\"",
         "follow the green-yellow core", Vocabulary::end),
     at<&MetalPart::bonded>},
    {row("carries_wiring", ask, "", true, "wires or outlets are fixed to it", "the part"),
     at<&MetalPart::carries_wiring>},
};

constexpr Row<Together> together_rows[] = {
    {row("name", error, "", false, "name of the set", "", Vocabulary::name), at<&Together::name>},
    {row("loads", error, "", false, "names of loads", "", Vocabulary::name), at<&Together::loads>},
    {row("start_order", nothing, "", false, "names of loads in their order", "", Vocabulary::name),
     at<&Together::start_order>},
};

constexpr Row<Accept> accept_rows[] = {
    {row("rule", error, "", false, "rule id"), at<&Accept::rule>},
    {row("at", error, "", false, "where: kind.NAME"), at<&Accept::at>},
    {row("reason", error, "", false, "why it is accepted"), at<&Accept::reason>},
    {row("revision", error, "", false, "revision at which it was accepted"), at<&Accept::revision>},
    {row("until", nothing, "", false, "YYYY-MM-DD, the last day for which it holds", "", Vocabulary::date),
     at<&Accept::until>},
    {row("set", plain, "every set", false, "set"), at<&Accept::set>},
};

constexpr Row<MeterReading> reading_rows[] = {
    {row("test", error, "", false, "which test of the sheet"), at<&MeterReading::test>},
    {row("at", error, "", false, "where: kind.NAME"), at<&MeterReading::at>},
    {row("found", error, "", false,
         "what the meter showed: \"0.9 ohm\", \"> 500 Mohm\", \"28 ms\", \"open\", \"no trip\""),
     at<&MeterReading::found>},
    {row("date", error, "", false, "YYYY-MM-DD", "", Vocabulary::date), at<&MeterReading::date>},
    {row("meter", nothing, "", false, "which meter"), at<&MeterReading::meter>},
    {row("cold", plain, "true", false, "read with the conductors cold"), at<&MeterReading::cold>},
};

constexpr Row<Change> change_rows[] = {
    {row("revision", error, "", false, "revision"), at<&Change::revision>},
    {row("date", error, "", false, "YYYY-MM-DD", "", Vocabulary::date), at<&Change::date>},
    {row("what", error, "", false, "what changed"), at<&Change::what>},
};

}  // namespace

std::vector<Slot> slots(MetalPart& v) {
    return of<MetalPart>(metal_rows, v);
}
std::vector<Slot> slots(Together& v) {
    return of<Together>(together_rows, v);
}
std::vector<Slot> slots(Accept& v) {
    return of<Accept>(accept_rows, v);
}
std::vector<Slot> slots(MeterReading& v) {
    return of<MeterReading>(reading_rows, v);
}
std::vector<Slot> slots(Change& v) {
    return of<Change>(change_rows, v);
}

}  // namespace benchfeed::plan
