// A phasor is no magnitude.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Current result = turned(3.0 * unit::ampere, 1.0 * unit::one, 0.0 * unit::one);
#else
    const Current result = magnitude(turned(3.0 * unit::ampere, 1.0 * unit::one, 0.0 * unit::one));
#endif
    (void)result;
}
