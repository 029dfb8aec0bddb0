// A bare number is no temperature.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Temperature result = 30.0;
#else
    const Temperature result = celsius(30.0);
#endif
    (void)result;
}
