// A column that its table does not have is no figure.
#include <benchfeed/figures/iec_41_1.hpp>

using namespace benchfeed;

int main() {
    const tables::Catalogue tables;
    const auto row = figures::iec_41_1::in_range(tables, 230.0 * unit::volt);
#ifdef MUST_NOT_COMPILE
    const auto result = row->tn_dc();
#else
    const auto result = row->tn_ac();
#endif
    (void)result;
}
