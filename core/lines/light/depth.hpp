// How light fades on its way down: what the water takes, and how the lamp's beam widens.
#pragma once

#include "core/lines/light/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include "presets/waters.hpp"

#include <cmath>

namespace wetsleeve::light {

enum class LampShape : int { point, bar, panel };

struct Depth {
    struct In {
        PhotonFlux surface_ppfd;
        Centimetres depth;
        Number kd;
        LampShape shape;
        Centimetres lamp_height;
    };
    struct Out {
        PhotonFlux deep_ppfd;
        Percent left;
    };

    static constexpr About about{
        .id = "light.depth",
        .title = "Light by depth",
        .keywords = "attenuation par ppfd deep lamp height tint tannin water beer lambert",
        .sentences = {"Of {surface_ppfd} just under the surface, {deep_ppfd} is left {depth} down: "
                      "{left}.\nThe water takes {kd} per metre; the light comes from {shape}, "
                      "{lamp_height} above the water. All the way down: {course}."},
        .formula = {"{left} = e^(−{kd} × {depth}) × widening",
                    "widening = ({lamp_height} ÷ ({lamp_height} + {depth} ÷ 1.333))^n; n is 2 for "
                    "a single lamp, 1 for a long bar, 0 for a panel",
                    "{deep_ppfd} = {surface_ppfd} × {left}"},
        .sources = {source::beer_lambert, source::practice},
        .assumes = {"Straight under the lamp. Glass walls send light back, so a tank filled by its "
                    "lamp fades less than this.",
                    "Plants and floating leaves above cast no shade."}};

    static double share(const In& in, double depth_cm) {
        constexpr double refraction = 1.333;
        const double once = in.lamp_height.value / (in.lamp_height.value + depth_cm / refraction);
        const double widening = in.shape == LampShape::point ? once * once
                                : in.shape == LampShape::bar ? once
                                                             : 1.0;
        return std::exp(-in.kd.value * depth_cm / 100) * widening;
    }

    static Curve course(const In& in, const Out&) {
        Curve curve{{"depth", &dimension::length}, {"light", &dimension::photon_flux}, {}};
        constexpr int steps = 40;
        for (int i = 0; i <= steps; ++i) {
            const double depth_cm = in.depth.value * i / steps;
            curve.points.emplace_back(depth_cm, in.surface_ppfd.value * share(in, depth_cm));
        }
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::surface_ppfd>({.id = "surface_ppfd",
                                  .name = "light just under the surface",
                                  .range = {0, 10000},
                                  .tolerance = {0.0, 0.1}}),
        given<&In::depth>(
            {.id = "depth", .name = "depth", .range = {0, 500}, .tolerance = quantity::tape}),
        given<&In::kd>({.id = "kd",
                        .name = "what a metre of water takes",
                        .range = {0, 20},
                        .usual = 0.4,
                        .tolerance = {0.0, 0.3},
                        .offers = preset::waters::kd}),
        given<&In::shape>(
            {.id = "shape",
             .name = "shape of the lamp",
             .usual = 1,
             .options = {"a single lamp", "a long bar or tube", "a panel over all of the tank"}}),
        given<&In::lamp_height>({.id = "lamp_height",
                                 .name = "lamp above the water",
                                 .range = {1, 500},
                                 .tolerance = quantity::tape}),
        answer<&Out::deep_ppfd>({.id = "deep_ppfd",
                                 .name = "light at that depth",
                                 .range = {0, 10000},
                                 .gives_way = {"surface_ppfd"}}),
        answer<&Out::left>({.id = "left",
                            .name = "share of the light that is left",
                            .range = {0, 100},
                            .gives_way = {"depth"}}),
        curve<&course>("course", "light by depth")};

    static Result<Out> reckon(const In& in) {
        const double part = share(in, in.depth.value);
        return Out{.deep_ppfd = {in.surface_ppfd.value * part}, .left = {100 * part}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (in.kd.value >= 2)
            say.note("Water this brown keeps blue and green light back: floating and tall plants "
                     "do better than carpets.");
        if (out.deep_ppfd.value < 15)
            say.note("{deep_ppfd} keeps only plants of deep shade at that depth.");
        if (in.lamp_height.value < 5)
            say.caution(
                "{lamp_height} is close over the water: keep splashes off, and let heat out.");
    }
};
WETSLEEVE_LINE(Depth);

} // namespace wetsleeve::light
