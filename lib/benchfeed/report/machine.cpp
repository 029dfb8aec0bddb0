#include <benchfeed/report/machine.hpp>

#include <algorithm>
#include <array>

namespace benchfeed::report {

std::span<const MachineFormat> machine_formats() {
    static const std::array formats{
        MachineFormat{"json", json_opening, json_plan, json_unreadable, ",\n", "\n],\"errors\":[\n",
                      json_closing},
        MachineFormat{"sarif", sarif_opening, sarif_plan, sarif_unreadable, ",\n", "", sarif_closing},
        MachineFormat{"junit", junit_opening, junit_plan, junit_unreadable, "", "", junit_closing},
    };
    return formats;
}

const MachineFormat* find_machine_format(std::string_view name) {
    const auto all = machine_formats();
    const auto it =
        std::find_if(all.begin(), all.end(), [&](const MachineFormat& f) { return f.name == name; });
    return it == all.end() ? nullptr : &*it;
}

std::string written(void (*plan)(const JudgedPlan&, const Sink&), const JudgedPlan& judged) {
    std::string text;
    plan(judged, [&](std::string_view piece) { text += piece; });
    return text;
}

}  // namespace benchfeed::report
