// A lux meter's reading as light for plants, by the kind of lamp.
#pragma once

#include "core/lines/light/sources.hpp"
#include "core/quantities.hpp"

#include "presets/lamps.hpp"

namespace wetsleeve::light {

struct LuxReading {
    struct In {
        Lux reading;
        LuxPerPhotonFlux factor;
    };
    struct Out {
        PhotonFlux ppfd_read;
    };

    static constexpr About about{
        .id = "light.lux",
        .title = "Light from lux",
        .keywords = "lux meter phone par ppfd convert illuminance footcandle",
        .sentences = {"{reading} on a lux meter is {ppfd_read} of light for plants.\nUnder this "
                      "lamp, {factor}."},
        .formula = {"{ppfd_read} = {reading} ÷ {factor}"},
        .sources = {source::photopic},
        .assumes = {"The meter's eye is level, under the same water and at the same height as the "
                    "plants; air above the water reads otherwise.",
                    "A phone's sensor may be off by a third; a meter of class C by a tenth (from "
                    "memory, DIN 5032-7)."}};

    static constexpr std::tuple slots{
        given<&In::reading>({.id = "reading",
                             .name = "lux read",
                             .range = {0, 500000},
                             .tolerance = {0.0, 0.1},
                             .read = true}),
        given<&In::factor>({.id = "factor",
                            .name = "lux for a photon flux of 1, by lamp",
                            .range = {3, 150},
                            .tolerance = {0.0, 0.05},
                            .offers = preset::lamps::lux}),
        answer<&Out::ppfd_read>({.id = "ppfd_read",
                                 .name = "light by the lux meter",
                                 .range = {0, 200000},
                                 .gives_way = {"reading"}})};

    static Result<Out> reckon(const In& in) {
        return Out{.ppfd_read = {in.reading.value / in.factor.value}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.factor.value < 40)
            say.stop("A lux meter is useless under red-blue light: it hardly sees those colours. "
                     "Read with a PAR meter.");
    }
};
WETSLEEVE_LINE(LuxReading);

} // namespace wetsleeve::light
