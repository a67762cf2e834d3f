// A plant's light, CO2 and temperature against this tank, and which plants would suit it.
#pragma once

#include "core/quantities.hpp"
#include "core/sources.hpp"
#include "presets/plants.hpp"

namespace wetsleeve::livestock {

enum class Plant : int {};

struct Bands {
    struct In {
        Plant plant;
        DegreesCelsius water_temperature;
        PhotonFlux ppfd;
        MilligramsPerLitre co2;
    };
    struct Out {
        Kelvins warm_room, cool_room;
        Percent light;
        MilligramsPerLitre co2_spare;
    };

    static constexpr About about{
        .id = "livestock.bands",
        .title = "Will it grow here",
        .keywords = "plant species light co2 temperature needs suits carpet moss stem band",
        .sentences = {"For {plant} the water may warm by {warm_room} or cool by {cool_room}; it "
                      "gets {light} of the least light it needs, and {co2_spare} more CO2 than it "
                      "must have.\nThe tank has {water_temperature}, {ppfd} at the plants and "
                      "{co2} of CO2. Other plants here: {suited}."},
        .formula = {"{warm_room} = warmest − {water_temperature}",
                    "{cool_room} = {water_temperature} − coolest", "{light} = {ppfd} ÷ least light",
                    "{co2_spare} = {co2} − least CO2"},
        .sources = {source::practice},
        .assumes = {"Each plant's needs are what growers have found, not measurements: common "
                    "practice, no source.",
                    "CO2 is what is in the water while the lights are on; without adding any 1 to "
                    "5 mg/L."}};

    enum class Verdict { suits, lost, warm, cool, dark, bright, thin };
    static Verdict judge(std::size_t i, const In& in) {
        namespace p = preset::plants;
        const double t = in.water_temperature.value;
        if (t > p::temp_lost_of[i]) return Verdict::lost; // false where it is not known
        if (t > p::temp_high_of[i]) return Verdict::warm;
        if (in.ppfd.value < p::light_low_of[i]) return Verdict::dark;
        if (in.co2.value < p::co2_low_of[i]) return Verdict::thin;
        if (t < p::temp_low_of[i]) return Verdict::cool;
        if (in.ppfd.value > p::light_high_of[i]) return Verdict::bright;
        return Verdict::suits;
    }

    static Table suited(const In& in, const Out&) {
        namespace p = preset::plants;
        static constexpr const char* words[] = {"suits",         "lost within days", "too warm",
                                                "too cool",      "too dark",         "too bright",
                                                "too little CO2"};
        Table table{{{"plant"},
                     {"here"},
                     {"light from", &dimension::photon_flux},
                     {"to", &dimension::photon_flux},
                     {"CO2 from", &dimension::concentration},
                     {"coolest", &dimension::temperature},
                     {"warmest", &dimension::temperature}},
                    {}};
        for (std::size_t i = 0; i < std::size(p::name); ++i)
            table.rows.push_back({{0, p::name[i]},
                                  {0, words[static_cast<int>(judge(i, in))]},
                                  {p::light_low_of[i], nullptr},
                                  {p::light_high_of[i], nullptr},
                                  {p::co2_low_of[i], nullptr},
                                  {p::temp_low_of[i], nullptr},
                                  {p::temp_high_of[i], nullptr}});
        return table;
    }

    static constexpr std::tuple slots{
        given<&In::plant>({.id = "plant",
                           .name = "plant",
                           .usual = 0,
                           .options = {std::span<const char* const>(preset::plants::name)}}),
        given<&In::water_temperature>(quantity::water_temperature),
        given<&In::ppfd>(quantity::ppfd),
        given<&In::co2>(quantity::co2),
        answer<&Out::warm_room>({.id = "warm_room",
                                 .name = "room up to the warmest",
                                 .range = {-60, 60},
                                 .gives_way = {"water_temperature"}}),
        answer<&Out::cool_room>({.id = "cool_room",
                                 .name = "room down to the coolest",
                                 .range = {-60, 60},
                                 .gives_way = {"water_temperature"}}),
        answer<&Out::light>({.id = "light",
                             .name = "light, of the least needed",
                             .range = {0, 100000},
                             .gives_way = {"ppfd"}}),
        answer<&Out::co2_spare>({.id = "co2_spare",
                                 .name = "CO2 beyond the least needed",
                                 .range = {-200, 2000},
                                 .gives_way = {"co2"}}),
        table<&suited>("suited", "other plants here")};

    static Result<Out> reckon(const In& in) {
        namespace p = preset::plants;
        const auto i = static_cast<std::size_t>(in.plant);
        return Out{.warm_room = {p::temp_high_of[i] - in.water_temperature.value},
                   .cool_room = {in.water_temperature.value - p::temp_low_of[i]},
                   .light = {in.ppfd.value / p::light_low_of[i] * 100},
                   .co2_spare = {in.co2.value - p::co2_low_of[i]}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        namespace p = preset::plants;
        const auto i = static_cast<std::size_t>(in.plant);
        if (in.water_temperature.value > p::temp_lost_of[i])
            say.stop("At {water_temperature} {plant} is lost within days: cool the tank now, or "
                     "move it to a cooler one.");
        else if (out.warm_room.value < 0)
            say.caution("{water_temperature} is too warm for {plant} to do well: cool the tank, or "
                        "take another plant.");
        if (out.cool_room.value < 0) say.note("{plant} grows slowly in water so cool.");
        if (out.light.value < 100)
            say.caution("{plant} gets too little light: it stretches and thins out. Raise the "
                        "lamp's output, or place it nearer.");
        else if (in.ppfd.value > p::light_high_of[i])
            say.note("{plant} cannot use so much light: algae get the rest. Shade it, or dim.");
        if (out.co2_spare.value < 0)
            say.caution("{plant} gets too little CO2: raise it slowly while watching the animals, "
                        "or take one that grows without.");
    }
};
WETSLEEVE_LINE(Bands);

} // namespace wetsleeve::livestock
