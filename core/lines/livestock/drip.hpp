// Drip acclimation: how long tank water must drip into the bag's water.
#pragma once

#include "core/lines/livestock/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::livestock {

enum class Until : int { conductivity, gh, share };

struct Drip {
    struct In {
        Until by;
        Litres bag;
        PerMinute drops;
        Number per_ml;
        MicrosiemensPerCentimetre bag_us, tank_conductivity, until_us;
        GermanDegrees bag_gh, gh, until_gh;
        Percent share;
    };
    struct Out {
        Minutes time;
        LitresPerHour flow;
        Litres end_volume;
    };

    static constexpr About about{
        .id = "livestock.drip",
        .title = "Drip acclimation",
        .keywords = "acclimate acclimatise new fish shrimp bag drops drip line conductivity",
        .sentences =
            {"Drip for {time}: {bag} from the bag grow to {end_volume}, and {by} comes from "
             "{bag_us} to {until_us}.\nDrops fall at {drops}, which is {flow} at {per_ml} to the "
             "mL. The tank reads {tank_conductivity}. Share of tank water: {course}.",
             "Drip for {time}: {bag} from the bag grow to {end_volume}, and {by} comes from "
             "{bag_gh} to {until_gh}.\nDrops fall at {drops}, which is {flow} at {per_ml} to the "
             "mL. The tank has {gh}. Share of tank water: {course}.",
             "Drip for {time}: {bag} from the bag grow to {end_volume}, and {by} comes to "
             "{share}.\nDrops fall at {drops}, which is {flow} at {per_ml} to the mL. Over time: "
             "{course}."},
        .variant = "by",
        .formula = {"0|share = ({bag_us} − {until_us}) ÷ ({bag_us} − {tank_conductivity})",
                    "1|share = ({bag_gh} − {until_gh}) ÷ ({bag_gh} − {gh})",
                    "0|{end_volume} = {bag} ÷ (1 − share)", "1|{end_volume} = {bag} ÷ (1 − share)",
                    "2|{end_volume} = {bag} ÷ (1 − {share})", "{flow} = {drops} ÷ {per_ml}",
                    "{time} = ({end_volume} − {bag}) ÷ {flow}"},
        .sources = {source::mass_balance, source::drop_size, source::practice},
        .assumes = {"Nothing is poured away meanwhile, and it mixes as it drips.",
                    "Conductivity mixes nearly by volume in fresh water.",
                    "Temperature is evened out first, by floating the closed bag."},
        .always = {
            "Bags from a long way hold ammonia, harmless at their low pH: once open, pH rises and "
            "it turns poisonous. Then do not drip for hours; net the animals over and pour the "
            "bag's water away.",
            "Cover the bucket, keep it warm and aired, and watch that it does not run over."}};

    static Curve course(const In& in, const Out& out) {
        Curve curve{{"time", &dimension::duration}, {"tank water", &dimension::share}, {}};
        const double added_l = out.end_volume.value - in.bag.value;
        for (int i = 0; i <= 60; ++i) {
            const double part = i / 60.0;
            const double in_l = added_l * part;
            curve.points.emplace_back(out.time.value * part, 100 * in_l / (in.bag.value + in_l));
        }
        return curve;
    }

    static constexpr std::tuple slots{
        given<&In::by>({.id = "by",
                        .name = "what is followed",
                        .usual = 0,
                        .options = {"conductivity", "GH", "the share of tank water"}}),
        given<&In::bag>({.id = "bag",
                         .name = "water from the bag",
                         .range = {0.01, 1000},
                         .tolerance = {0.0, 0.1}}),
        given<&In::drops>({.id = "drops",
                           .name = "drops that fall",
                           .range = {1, 6000},
                           .usual = 120,
                           .tolerance = {0.0, 0.1},
                           .shown = {"/s", "/s"}}),
        given<&In::per_ml>({.id = "per_ml",
                            .name = "drops to the mL",
                            .range = {5, 100},
                            .usual = 20,
                            .tolerance = {0.0, 0.1}}),
        given<&In::bag_us>({.id = "bag_us",
                            .name = "conductivity in the bag",
                            .range = {0, 20000},
                            .tolerance = {1, 0.02}}),
        given<&In::tank_conductivity>(quantity::tank_conductivity),
        given<&In::until_us>(
            {.id = "until_us", .name = "conductivity to reach", .range = {0, 20000}}),
        given<&In::bag_gh>({.id = "bag_gh",
                            .name = "GH in the bag",
                            .range = {0, 100},
                            .tolerance = quantity::drop_test}),
        given<&In::gh>(quantity::gh),
        given<&In::until_gh>({.id = "until_gh", .name = "GH to reach", .range = {0, 100}}),
        given<&In::share>(
            {.id = "share", .name = "share of tank water to reach", .range = {1, 99}, .usual = 75}),
        answer<&Out::time>(
            {.id = "time", .name = "time to drip", .range = {0, 1e9}, .gives_way = {"drops"}}),
        answer<&Out::flow>({.id = "flow",
                            .name = "flow of the drip",
                            .range = {0, 100},
                            .gives_way = {"drops"},
                            .shown = {"mL/min", "mL/min"}}),
        answer<&Out::end_volume>({.id = "end_volume",
                                  .name = "water in the end",
                                  .range = {0, 1e6},
                                  .gives_way = {"until_us", "until_gh", "share"}}),
        curve<&course>("course", "share of tank water over time")};

    static Result<Out> reckon(const In& in) {
        double share = in.share.value / 100;
        if (in.by != Until::share) {
            const bool us = in.by == Until::conductivity;
            const double bag = us ? in.bag_us.value : in.bag_gh.value;
            const double tank = us ? in.tank_conductivity.value : in.gh.value;
            const double until = us ? in.until_us.value : in.until_gh.value;
            if (bag == tank)
                return us ? Refusal{"Bag and tank both read {bag_us}: even out the temperature and "
                                    "let the animals in."}
                          : Refusal{"Bag and tank both have {bag_gh}: even out the temperature and "
                                    "let the animals in."};
            share = (bag - until) / (bag - tank);
            if (!(share >= 0 && share <= 0.99))
                return us ? Refusal{"Dripping leads from {bag_us} towards {tank_conductivity} and "
                                    "never quite there: choose a goal between, some way from the "
                                    "tank's."}
                          : Refusal{"Dripping leads from {bag_gh} towards {gh} and never quite "
                                    "there: choose a goal between, some way from the tank's."};
        }
        const double end_l = in.bag.value / (1 - share);
        const double litres_a_minute = in.drops.value / in.per_ml.value / 1000;
        return Out{.time = {(end_l - in.bag.value) / litres_a_minute},
                   .flow = {litres_a_minute * 60},
                   .end_volume = {end_l}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.end_volume.value > 4 * in.bag.value)
            say.note("That is much water: when it has doubled, pour half away and drip on, which "
                     "is quicker.");
        if (out.time.value > 180)
            say.caution("Over three hours in a bucket is hard on animals: start with less water or "
                        "drip faster.");
        else if (out.time.value > 0 && out.time.value < 20)
            say.note("Shrimp want it slower: an hour or more is common practice.");
    }
};
WETSLEEVE_LINE(Drip);

} // namespace wetsleeve::livestock
