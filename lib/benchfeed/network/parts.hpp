#pragma once
// The steps of build(), one file each. Not for use outside this folder.
#include <benchfeed/network/network.hpp>

namespace benchfeed::network {

void make_topology(const plan::Plan& plan, Network& network);
void make_branches(const plan::Plan& plan, const tables::Catalogue& tables, Network& network);
/// Pre: topology and branches are made.
void add_up_impedances(const plan::Plan& plan, Network& network);
void make_loads(const plan::Plan& plan, const tables::Catalogue& tables, Network& network);

}  // namespace benchfeed::network
