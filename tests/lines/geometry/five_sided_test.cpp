// What the five-sided tank refuses.
#include "core/lines/geometry/five_sided.hpp"

#include <catch2/catch_test_macros.hpp>

namespace wetsleeve::geometry {

TEST_CASE("ends that their glass fills are refused") {
    // Where the slanting front meets an end, panes of 1 cm take √2 cm of its length outside.
    const auto fits = [](double ends_cm) {
        return static_cast<bool>(FiveSided::reckon({.measured = Measured::outside,
                                                    .length = {60},
                                                    .ends = {ends_cm},
                                                    .height = {40},
                                                    .glass = {1},
                                                    .gap = {2}}));
    };
    CHECK(fits(1.43));
    CHECK(!fits(1.40));
}

} // namespace wetsleeve::geometry
