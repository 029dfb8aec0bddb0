// Text of a quantity. The first byte chooses the dimension.
#include <benchfeed/base/quantity_text.hpp>
#include "door.hpp"

namespace {

using namespace benchfeed;

template <class Q>
void read(std::string_view text) {
    const auto result = read_quantity<Q>(text, "the field");
    if (const auto* fault = std::get_if<QuantityFault>(&result)) {
        fuzz::must(!fault->message.empty());
        fuzz::must(fault->from <= fault->to && fault->to <= text.size());
        return;
    }
    // What is printed of a quantity is a quantity again.
    if constexpr (requires(Q q) { to_text(q); })
        fuzz::must(
            std::holds_alternative<Q>(read_quantity<Q>(to_text(std::get<Q>(result), 17), "the field")));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    const std::string_view text = fuzz::text_of(data + 1, size - 1);
    switch (data[0] % 15) {
        case 0:
            read<Length>(text);
            break;
        case 1:
            read<Section>(text);
            break;
        case 2:
            read<Current>(text);
            break;
        case 3:
            read<Voltage>(text);
            break;
        case 4:
            read<Power>(text);
            break;
        case 5:
            read<Horsepower>(text);
            break;
        case 6:
            read<Impedance>(text);
            break;
        case 7:
            read<Temperature>(text);
            break;
        case 8:
            read<Volume>(text);
            break;
        case 9:
            read<Frequency>(text);
            break;
        case 10:
            read<Ratio>(text);
            break;
        case 11:
            read<VoltageRange>(text);
            break;
        case 12:
            read<CurrentOrPower>(text);
            break;
        case 13:
            read<SourcePower>(text);
            break;
        default:
            read<MotorRating>(text);
            break;
    }
    return 0;
}
