// A bare number is no current.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Current result = 16.0;
#else
    const Current result = 16.0 * unit::ampere;
#endif
    (void)result;
}
