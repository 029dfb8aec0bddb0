// Text of a price list and of a list of sold lengths; behind a NUL the text of an allowance and of lengths,
// as options have them.
#include <benchfeed/advice/allowances.hpp>
#include <benchfeed/advice/prices.hpp>
#include <benchfeed/advice/sold_lengths.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

void must_point_into(const QuantityFault& fault, std::string_view text) {
    fuzz::must(!fault.message.empty());
    fuzz::must(fault.from <= fault.to && fault.to <= text.size());
}

void read_options(std::string_view text) {
    advice::Allowances allowances;
    if (const auto fault = advice::allow(allowances, text)) must_point_into(*fault, text);
    const auto lengths = advice::read_lengths(text);
    if (const auto* fault = std::get_if<QuantityFault>(&lengths))
        must_point_into(*fault, text);
    else
        for (const Length& length : std::get<std::vector<Length>>(lengths))
            fuzz::must(in(unit::metre, length) > 0);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes = fuzz::text_of(data, size);
    const auto parts = fuzz::split(bytes).value_or(std::pair{bytes, std::string_view{}});
    const text::Document document("a list", std::string(parts.first));
    const auto prices = advice::read_prices(document);
    if (const auto* problems = std::get_if<Diagnostics>(&prices))
        fuzz::must_be_printable(document, *problems);
    else
        for (const advice::Price& price : std::get<advice::PriceList>(prices).prices)
            fuzz::must(price.per_metre > 0 && !price.type.empty());
    const auto sold = advice::read_sold_lengths(document);
    if (const auto* problems = std::get_if<Diagnostics>(&sold))
        fuzz::must_be_printable(document, *problems);
    else
        for (const advice::SoldLengths::Of& of : std::get<advice::SoldLengths>(sold).of)
            for (const Length& length : of.lengths) fuzz::must(of.cores > 0 && in(unit::metre, length) > 0);
    read_options(parts.second);
    return 0;
}
