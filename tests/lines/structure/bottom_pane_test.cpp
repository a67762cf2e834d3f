// How the bottom pane's loads add up.
#include "core/lines/structure/bottom_pane.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

namespace wetsleeve::structure {

TEST_CASE("a heap presses as its weight in water does") {
    // 160 kg on 80 × 50 cm are 400 kg/m², as 40 cm of water at 1,000 kg/m³ are.
    const auto stress = [](double height_cm, double heap_g) {
        return BottomPane::reckon({.length = {80},
                                   .width = {50},
                                   .height = {height_cm},
                                   .heap = {heap_g},
                                   .bottom = {1},
                                   .strength = {24}})
            ->stress.value;
    };
    CHECK_THAT(stress(10, 160000), Catch::Matchers::WithinRel(stress(50, 0), 1e-12));
}

} // namespace wetsleeve::structure
