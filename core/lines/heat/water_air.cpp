#include "core/lines/heat/water_air.hpp"

#include "core/lines/heat/root.hpp"
#include "core/model/constants.hpp"

#include <cmath>

namespace wetsleeve::heat {

namespace {

double over_ice_pa(double temperature_c) {
    const double t = temperature_c + zero_celsius_k;
    const double t2 = t * t;
    return 1.0001 *
           std::exp(-5.6745359e3 / t + 6.3925247 - 9.6778430e-3 * t + 6.2215701e-7 * t2 +
                    2.0747825e-9 * t2 * t - 9.4840240e-13 * t2 * t2 + 4.1635019 * std::log(t));
}

} // namespace

double saturation_pa(double temperature_c) {
    return temperature_c < 0 ? over_ice_pa(temperature_c) : over_water_pa(temperature_c);
}

double water_density_kg_m3(double temperature_c) {
    const double t = temperature_c - 3.983035;
    return 999.974950 *
           (1 - t * t * (temperature_c + 301.797) / (522528.9 * (temperature_c + 69.34881)));
}

double water_cp_j_kg_k(double temperature_c) {
    const double t = temperature_c;
    return 4218.813125 +
           t * (-3.179397660 + t * (0.1000356000 + t * (-1.524468314e-3 + t * 9.600306610e-6)));
}

double evaporation_j_kg(double temperature_c) {
    const double t = temperature_c;
    return 2500917.857 + t * (-2373.996650 + t * (0.5118254669 - t * 0.01213989787));
}

double humidity_ratio(double vapour_pa) {
    return 0.621945 * vapour_pa / (air_pressure_pa - vapour_pa);
}

double wet_bulb_c(double air_c, double humidity) {
    const double wanted = humidity_ratio(humidity * saturation_pa(air_c));
    const auto error = [&](double wet_c) {
        const double full = humidity_ratio(saturation_pa(wet_c));
        const double got = wet_c >= 0 ? ((2501 - 2.326 * wet_c) * full - 1.006 * (air_c - wet_c)) /
                                            (2501 + 1.86 * air_c - 4.186 * wet_c)
                                      : ((2830 - 0.24 * wet_c) * full - 1.006 * (air_c - wet_c)) /
                                            (2830 + 1.86 * air_c - 2.1 * wet_c);
        return got - wanted;
    };
    constexpr double low_c = -60;
    return root_between(low_c, air_c, error(low_c), error(air_c), error);
}

} // namespace wetsleeve::heat
