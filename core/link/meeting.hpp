// How the tanks of a link stand to those that are there already: a link is opened twice, or comes
// again with other numbers. Pure functions.
#pragma once

#include "core/link/handover.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace wetsleeve::record {

struct Meeting {
    std::size_t handed; // which of the link's tanks
    std::string ours;   // id of the tank that the same shop handed over before, under this name
    // Sentences in the reader's language and units; none: both are alike in all that travels.
    std::vector<std::string> differs;
    bool operator==(const Meeting&) const = default;
};

// In the link's order; each tank meets one at most, of several the one from which it differs least.
// A link without a shop's name meets none.
std::vector<Meeting> meetings(const Handover& handover, const std::vector<Tank>& ours,
                              std::span<const Line* const> catalogue, const Style& style);

} // namespace wetsleeve::record
