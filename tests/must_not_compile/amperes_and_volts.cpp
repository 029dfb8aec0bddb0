// Amperes and volts do not add.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const auto result = 1.0 * unit::ampere + 1.0 * unit::volt;
#else
    const auto result = 1.0 * unit::ampere + 1.0 * unit::milliampere;
#endif
    (void)result;
}
