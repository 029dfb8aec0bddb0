// Watts are no ohms.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Impedance result = 3.0 * unit::watt;
#else
    const Impedance result = 3.0 * unit::watt / (1.0 * unit::ampere * unit::ampere);
#endif
    (void)result;
}
