// Two points on the thermometer do not add.
#include <benchfeed/base/quantity.hpp>

using namespace benchfeed;

int main() {
#ifdef MUST_NOT_COMPILE
    const auto result = celsius(70) + celsius(30);
#else
    const Temperature result = celsius(70) + 30.0 * unit::kelvin;
#endif
    (void)result;
}
