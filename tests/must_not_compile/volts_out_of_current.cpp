// A number leaves a quantity only in a unit of its own dimension.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const double result = in(unit::volt, 16.0 * unit::ampere);
#else
    const double result = in(unit::ampere, 16.0 * unit::ampere);
#endif
    (void)result;
}
