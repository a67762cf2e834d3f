// What the lines about plants and animals say out loud, and what they refuse.
#include "core/lines/livestock/animals.hpp"
#include "core/lines/livestock/bands.hpp"
#include "core/lines/livestock/drip.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string_view>

namespace wetsleeve::livestock {

namespace {

std::size_t plant_named(std::string_view name) {
    for (std::size_t i = 0; i < std::size(preset::plants::name); ++i)
        if (name == preset::plants::name[i]) return i;
    FAIL("no such plant: " << name);
    return 0;
}

} // namespace

TEST_CASE("a cool-water carpet is lost above 24 °C, and the line says stop") {
    const auto moss = static_cast<Plant>(plant_named("Fissidens fontanus"));
    const auto spoken = [&](double celsius) {
        const Bands::In in{moss, {celsius}, {40}, {25}};
        Remarks say;
        Bands::speak(in, *Bands::reckon(in), say);
        return say;
    };
    CHECK(spoken(21).size() == 0);
    REQUIRE(spoken(23.5).size() == 1);
    CHECK(spoken(23.5).begin()->level == Level::caution);
    REQUIRE(spoken(24.5).size() == 1);
    CHECK(spoken(24.5).begin()->level == Level::stop);
}

TEST_CASE("every plant's and animal's bands are bands") {
    namespace p = preset::plants;
    CHECK(std::size(p::name) >= 20);
    for (std::size_t i = 0; i < std::size(p::name); ++i) {
        INFO(p::name[i]);
        CHECK(p::light_low_of[i] > 0);
        CHECK(p::light_low_of[i] < p::light_high_of[i]);
        CHECK(p::co2_low_of[i] >= 0);
        CHECK(p::temp_low_of[i] < p::temp_high_of[i]);
        CHECK(!(p::temp_lost_of[i] < p::temp_high_of[i]));
    }
    namespace a = preset::animals;
    for (std::size_t i = 0; i < std::size(a::name); ++i) {
        INFO(a::name[i]);
        CHECK(a::temp_low_of[i] < a::temp_high_of[i]);
        CHECK(a::gh_low_of[i] < a::gh_high_of[i]);
        CHECK(a::kh_low_of[i] < a::kh_high_of[i]);
    }
}

TEST_CASE("the table of plants agrees with what the line says of each") {
    for (const double celsius : {12.0, 21.0, 25.0, 31.0})
        for (const double light : {5.0, 45.0, 400.0}) {
            const Bands::In in{Plant{}, {celsius}, {light}, {12}};
            const Table table = Bands::suited(in, {});
            REQUIRE(table.rows.size() == std::size(preset::plants::name));
            for (std::size_t i = 0; i < table.rows.size(); ++i) {
                const Bands::In one{static_cast<Plant>(i), {celsius}, {light}, {12}};
                Remarks say;
                Bands::speak(one, *Bands::reckon(one), say);
                INFO(table.rows[i][0].text << ": " << table.rows[i][1].text);
                CHECK((say.size() == 0) == (std::string_view(table.rows[i][1].text) == "suits"));
            }
        }
}

TEST_CASE("an animal at the edge of its band is still inside") {
    const Animals::In soft{static_cast<Animal>(1), {20}, {3}, {0}};
    Remarks quiet;
    Animals::speak(soft, *Animals::reckon(soft), quiet);
    CHECK(quiet.size() == 0);
    const Animals::In hot{static_cast<Animal>(1), {28}, {3}, {0}};
    Remarks loud;
    Animals::speak(hot, *Animals::reckon(hot), loud);
    REQUIRE(loud.size() == 1);
    CHECK(loud.begin()->level == Level::stop);
}

TEST_CASE("dripping towards a goal that the tank only just reaches is refused") {
    const auto until = [](double us) {
        return Drip::reckon({.by = Until::conductivity,
                             .bag = {1},
                             .drops = {60},
                             .per_ml = {20},
                             .bag_us = {600},
                             .tank_conductivity = {200},
                             .until_us = {us},
                             .bag_gh = {},
                             .gh = {},
                             .until_gh = {},
                             .share = {}});
    };
    CHECK(until(206)); // 98.5 % of the way
    CHECK(!until(202));
    CHECK(!until(190));
}

} // namespace wetsleeve::livestock
