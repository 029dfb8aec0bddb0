// Ohm per metre is no ohm.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Impedance result = 13.3 * unit::ohm_per_kilometre;
#else
    const Impedance result = 13.3 * unit::ohm_per_kilometre * (5.0 * unit::metre);
#endif
    (void)result;
}
