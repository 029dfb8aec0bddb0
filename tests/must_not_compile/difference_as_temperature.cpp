// A difference of temperatures is no temperature.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const Temperature result = celsius(70) - celsius(30);
#else
    const TemperatureRise result = celsius(70) - celsius(30);
#endif
    (void)result;
}
