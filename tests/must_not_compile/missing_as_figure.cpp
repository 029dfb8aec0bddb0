// A row that may be missing is no figure before somebody has looked.
#include <benchfeed/figures/iec_41_1.hpp>

using namespace benchfeed;

int main() {
    const tables::Catalogue tables;
    const auto row = figures::iec_41_1::in_range(tables, 230.0 * unit::volt);
#ifdef MUST_NOT_COMPILE
    const figures::iec_41_1::Row result = row;
#else
    const figures::iec_41_1::Row result = *row;
#endif
    (void)result;
}
