// What the store's line refuses.
#include "core/lines/osmosis/store.hpp"

#include <catch2/catch_test_macros.hpp>

namespace wetsleeve::osmosis {

TEST_CASE("a store that takes more than a year to fill is refused") {
    // 100 L in 365 days of 24 h are 0.011416 L/h.
    const auto fills = [](double litres_an_hour) {
        return static_cast<bool>(Store::reckon({.wanted = {0},
                                                .stored = {0},
                                                .capacity = {100},
                                                .osmosis_output = {litres_an_hour},
                                                .until = {0},
                                                .leave = {0}}));
    };
    CHECK(fills(0.01145));
    CHECK(!fills(0.01138));
}

} // namespace wetsleeve::osmosis
