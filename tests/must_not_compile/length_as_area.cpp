// A length is no area.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Area result = 1.5 * unit::millimetre;
#else
    const Area result = 1.5 * unit::mm2;
#endif
    (void)result;
}
