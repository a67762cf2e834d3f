// What no line's table shows of the carbonate system by itself.
#include "core/lines/carbonate/equilibrium.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

namespace wetsleeve::carbonate {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("ionic strength is half the sum of concentrations times squared charges") {
    // By hand: 1 mmol/L of Ca with half of its charge as sulfate and half as chloride,
    // ½ (4 × 1 + 4 × 0.5 + 1); with bicarbonate alone, ½ (4 × 1 + 2); 1 mmol/L of NaHCO3.
    CHECK_THAT(ionic_strength(0, 5.6077), WithinRel(3.5e-3, 1e-5));
    CHECK_THAT(ionic_strength(5.6077, 5.6077), WithinRel(3e-3, 1e-5));
    CHECK_THAT(ionic_strength(2.80385, 0), WithinRel(1e-3, 1e-5));
}

TEST_CASE("pure water is neutral where its ion product says") {
    // pKw 14.94 at 0 °C, 13.995 at 25 °C, 13.535 at 40 °C (Harned & Owen, from memory). Without
    // alkalinity only what is more acid than neutral holds CO2.
    for (const auto& [celsius, pk] : {std::pair{0.0, 14.94}, {25.0, 13.995}, {40.0, 13.535}}) {
        double acid = 4;
        double alkaline = 10;
        for (int halving = 0; halving < 40; ++halving) {
            const double ph = 0.5 * (acid + alkaline);
            (Water::of(celsius, 0, 0, 0).co2_mg_l(ph) > 0 ? acid : alkaline) = ph;
        }
        INFO(celsius);
        CHECK_THAT(acid, WithinAbs(pk / 2, 0.006));
    }
}

TEST_CASE("pH and CO2 answer each other wherever carbonate counts") {
    for (const double kh : {0.5, 4.0, 15.0})
        for (double ph = 5; ph < 9.6; ph += 0.5) {
            const Water water = Water::of(24, kh, 8, ionic_strength(kh, 8));
            INFO("KH " << kh << " pH " << ph);
            const double co2_mg_l = water.co2_mg_l(ph);
            if (co2_mg_l > 0) CHECK_THAT(water.ph_for(co2_mg_l), WithinAbs(ph, 1e-9));
        }
}

} // namespace wetsleeve::carbonate
