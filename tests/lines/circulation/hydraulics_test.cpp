#include "core/lines/circulation/hydraulics.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <cmath>

namespace wetsleeve::circulation {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("viscosity by the tables of IAPWS") {
    // Dynamic viscosity of IAPWS-95's and SR6-08's tables over the density of IAPWS-95, mm²/s. The
    // full equation differs from the short one by 3e-5.
    const double table[][2]{{0.01, 1.791132 / 0.9998438}, {10, 1.305900 / 0.9997025},
                            {20, 1.001596 / 0.9982072},   {25, 0.890022 / 0.9970476},
                            {30, 0.797222 / 0.9956488},   {40, 0.652729 / 0.9922164}};
    for (const auto& [celsius, mm2_s] : table)
        CHECK_THAT(kinematic_viscosity_m2_s(celsius) * 1e6, WithinRel(mm2_s, 5e-5));
}

TEST_CASE("friction within 2 % of Colebrook and White") {
    // Their equation solved by halving.
    for (double re = 4000; re <= 1e8; re *= 1.7)
        for (const double rough : {1e-6, 1e-5, 1e-4, 1e-3}) {
            double low = 1e-4;
            double high = 1;
            for (int i = 0; i < 100; ++i) {
                const double f = 0.5 * (low + high);
                const double off =
                    1 / std::sqrt(f) + 2 * std::log10(rough / 3.7 + 2.51 / (re * std::sqrt(f)));
                (off > 0 ? low : high) = f;
            }
            INFO("Re " << re << " roughness " << rough);
            CHECK_THAT(friction(re, rough).factor, WithinRel(low, 0.02));
        }
}

TEST_CASE("friction has no step, and its slope is that of its value") {
    for (const double rough : {0.0, 1e-4, 1e-2}) {
        for (const double at : {2000.0, 4000.0})
            CHECK_THAT(friction(at * (1 - 1e-12), rough).factor,
                       WithinRel(friction(at * (1 + 1e-12), rough).factor, 1e-9));
        for (double re = 100; re < 1e6; re *= 1.13) {
            const double by = 1e-5;
            const double slope = std::log(friction(re * (1 + by), rough).factor /
                                          friction(re * (1 - by), rough).factor) /
                                 (2 * by);
            if (std::fabs(re - 2000) < 1 || std::fabs(re - 4000) < 1) continue;
            INFO("Re " << re);
            CHECK_THAT(friction(re, rough).slope, WithinAbs(slope, 1e-4));
        }
    }
}

TEST_CASE("a flow uses up exactly its head") {
    const Pump pump{1000 / 3.6e6, 1.5, 1.7};
    for (double bore = 0.002; bore < 0.3; bore *= 1.3)
        for (const double length : {0.1, 3.0, 500.0})
            for (const Pump* driven : {static_cast<const Pump*>(nullptr), &pump})
                for (double head = 1e-4; head < 1.5; head *= 3) {
                    const Hose hose{length, bore, 3};
                    const double flow = flow_m3_s(hose, 1e-6, head, driven);
                    double used = head_lost(hose, flow, 1e-6).head_m;
                    if (driven != nullptr)
                        used += pump.max_head_m * std::pow(flow / pump.max_flow_m3_s, pump.bend);
                    INFO("bore " << bore << " length " << length << " head " << head);
                    CHECK_THAT(used, WithinRel(head, 1e-13));
                }
}

TEST_CASE("two alike hoses carry half each, and both lose the same") {
    const Pump pump{1000 / 3.6e6, 1.5};
    const Hose one{1, 0.016, 2};
    const Hose other{0.5, 0.009, 5};
    const Hose common{2, 0.016, 3};
    const Split even = split_m3_s(one, one, common, 1e-6, 1.5, pump);
    CHECK_THAT(even.first_m3_s, WithinRel(even.second_m3_s, 1e-12));
    const Split odd = split_m3_s(one, other, common, 1e-6, 1.5, pump);
    CHECK_THAT(head_lost(one, odd.first_m3_s, 1e-6).head_m,
               WithinRel(head_lost(other, odd.second_m3_s, 1e-6).head_m, 1e-12));
}

TEST_CASE("a split uses up the head by either hose, whatever their widths") {
    for (double one = 0.002; one < 0.3; one *= 2.1)
        for (double other = 0.002; other < 0.3; other *= 2.1)
            for (const double shared : {0.002, 0.02, 0.2})
                for (const double flow : {20.0, 1000.0, 90000.0}) {
                    const Hose first{0.5, one, 0};
                    const Hose second{20, other, 50};
                    const Hose common{3, shared, 2};
                    const Pump pump{flow / 3.6e6, 1.5};
                    const Split split = split_m3_s(first, second, common, 1e-6, 1.5, pump);
                    const double both = split.first_m3_s + split.second_m3_s;
                    const double rest = head_lost(common, both, 1e-6).head_m +
                                        1.5 * std::pow(both / pump.max_flow_m3_s, 2);
                    const double a = head_lost(first, split.first_m3_s, 1e-6).head_m;
                    INFO(one << " " << other << " " << shared << " " << flow);
                    CHECK_THAT(a + rest, WithinRel(1.5, 1e-12));
                    CHECK_THAT(head_lost(second, split.second_m3_s, 1e-6).head_m,
                               WithinRel(a, 1e-12));
                }
}

TEST_CASE("draining through a bare hole keeps Torricelli's time") {
    // t = 2 A/a √((1)/2g) (√h₁ − √h₂) with all of the speed head lost once (K 1).
    const double bore = 0.02;
    const double hole = 3.14159265358979 / 4 * bore * bore;
    const double expected =
        2 * 0.5 / hole / std::sqrt(2 * 9.80665) * (std::sqrt(1.0) - std::sqrt(0.3));
    CHECK_THAT(drain({1e-9, bore, 1}, 1e-6, 0.5, 1.0, 0.3, nullptr).time_s,
               WithinRel(expected, 1e-6));
}

TEST_CASE("draining adds up: all at once, or in a thousand steps") {
    const Pump pump{600 / 3.6e6, 1.2};
    for (const double bore : {0.003, 0.006, 0.016, 0.1}) // the widest stays turbulent to the end
        for (const Pump* driven : {static_cast<const Pump*>(nullptr), &pump}) {
            const Hose hose{2, bore, 1.5};
            // Midpoints of thin slices of head: another way to the same integral.
            double seconds = 0.0;
            constexpr int slices = 4000;
            for (int i = 0; i < slices; ++i) {
                const double head = 1.0 - 0.9 * (i + 0.5) / slices;
                seconds += 0.5 * 0.9 / slices / flow_m3_s(hose, 9e-7, head, driven);
            }
            INFO("bore " << bore);
            CHECK_THAT(drain(hose, 9e-7, 0.5, 1.0, 0.1, driven).time_s, WithinRel(seconds, 2e-7));
        }
}

TEST_CASE("a long turbulent fall adds up") {
    // From 4 m to 5 mm the flow falls to a twentieth, and the wall of the hose keeps its regime.
    const Hose hose{30, 0.1, 0.1};
    double seconds = 0.0;
    constexpr int slices = 20000; // even in the root of the head, as the flow nearly is
    const double from = std::sqrt(4.0);
    const double step = (from - std::sqrt(0.005)) / slices;
    for (int i = 0; i < slices; ++i) {
        const double root = from - step * (i + 0.5);
        seconds += 2 * root * step / flow_m3_s(hose, 1e-6, root * root, nullptr);
    }
    CHECK_THAT(drain(hose, 1e-6, 1.0, 4.0, 0.005, nullptr).time_s, WithinRel(seconds, 1e-6));
}

TEST_CASE("without a head nothing flows, and at rest the loss goes by the flow itself") {
    const Hose hose{2, 0.016, 1.5};
    CHECK(flow_m3_s(hose, 1e-6, 0, nullptr) == 0);
    CHECK(flow_m3_s(hose, 1e-6, -1, nullptr) == 0);
    // Hagen and Poiseuille: friction alone, and laminar.
    CHECK(head_lost(hose, 0, 1e-6).head_m == 0);
    CHECK(head_lost(hose, 0, 1e-6).slope == 1);
}

} // namespace wetsleeve::circulation
