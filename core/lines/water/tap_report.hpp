// What a water report says once its ions are put together: hardness, alkalinity, whether it adds
// up, and what a meter should read.
#pragma once

#include "core/lines/water/ions.hpp"
#include "core/lines/water/sources.hpp"
#include "core/model/constants.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::water {

struct TapReport {
    struct In {
        MilligramsPerLitre ca, mg, na, k, hco3, so4, cl, no3, copper;
        Number meter_factor;
    };
    struct Out {
        GermanDegrees report_gh, report_kh;
        Percent balance;
        MilligramsPerLitre ion_sum;
        MicrosiemensPerCentimetre conductivity;
        MilligramsPerLitre tds;
    };

    static constexpr About about{
        .id = "water.tap_report",
        .title = "Water report",
        .keywords = "tap analysis ions hardness gh kh alkalinity charge balance conductivity tds "
                    "chloride nitrate copper",
        .sentences = {"This water has a GH of {report_gh} and a KH of {report_kh}; a meter should "
                      "read {conductivity} at 25 °C, or a TDS of {tds}.\n"
                      "The report gives calcium {ca}, magnesium {mg}, sodium {na}, potassium {k}, "
                      "bicarbonate {hco3}, sulfate {so4}, chloride {cl}, nitrate {no3} and copper "
                      "{copper}: {ion_sum} of ions, with a charge balance of {balance}. The meter "
                      "multiplies µS/cm by {meter_factor}."},
        .formula =
            {"{report_gh} = ({ca} ÷ 40.078 + {mg} ÷ 24.305) × 5.6077 °dH per mmol/L",
             "{report_kh} = {hco3} ÷ 61.016 × 2.80385 °dH per meq/L",
             "{balance} = 100 × (cations − anions) ÷ (cations + anions), in meq/L",
             "{ion_sum} = {ca} + {mg} + {na} + {k} + {hco3} + {so4} + {cl} + {no3}",
             "{conductivity} = sum of ions × their conductivity, less for strength and pairs",
             "{tds} = {conductivity} × {meter_factor}"},
        .sources = {source::ion_balance, source::german_degree, source::conductance},
        .assumes = {"Bicarbonate stands for all alkalinity; nitrate is as NO₃: multiply N by 4.43.",
                    "Conductivity is good to about 3 % where the report balances."}};

    static constexpr std::tuple slots{
        given<&In::ca>(
            {.id = "ca", .name = "calcium", .range = {0, 600}, .tolerance = {0.0, 0.05}}),
        given<&In::mg>(
            {.id = "mg", .name = "magnesium", .range = {0, 300}, .tolerance = {0.0, 0.05}}),
        given<&In::na>(
            {.id = "na", .name = "sodium", .range = {0, 1500}, .tolerance = {0.0, 0.05}}),
        given<&In::k>({.id = "k",
                       .name = "potassium",
                       .range = {0, 500},
                       .usual = 0,
                       .tolerance = {0.0, 0.05}}),
        given<&In::hco3>({.id = "hco3",
                          .name = "bicarbonate (alkalinity)",
                          .range = {0, 1500},
                          .tolerance = {0.0, 0.05}}),
        given<&In::so4>(
            {.id = "so4", .name = "sulfate", .range = {0, 2000}, .tolerance = {0.0, 0.05}}),
        given<&In::cl>(
            {.id = "cl", .name = "chloride", .range = {0, 2500}, .tolerance = {0.0, 0.05}}),
        given<&In::no3>({.id = "no3",
                         .name = "nitrate, as NO₃",
                         .range = {0, 500},
                         .usual = 0,
                         .tolerance = {0.0, 0.05}}),
        given<&In::copper>({.id = "copper", .name = "copper", .range = {0, 20}, .usual = 0}),
        given<&In::meter_factor>(quantity::meter_factor),
        answer<&Out::report_gh>({.id = "report_gh",
                                 .name = "GH by the report",
                                 .range = {0, 200},
                                 .gives_way = {"ca"}}),
        answer<&Out::report_kh>({.id = "report_kh",
                                 .name = "KH by the report",
                                 .range = {0, 100},
                                 .gives_way = {"hco3"}}),
        answer<&Out::balance>({.id = "balance",
                               .name = "charge balance, + for cations",
                               .range = {-100, 100},
                               .gives_way = {"cl"}}),
        answer<&Out::ion_sum>(
            {.id = "ion_sum", .name = "sum of ions", .range = {0, 20000}, .gives_way = {"na"}}),
        answer<&Out::conductivity>({.id = "conductivity",
                                    .name = "conductivity at 25 °C",
                                    .range = {0, 50000},
                                    .tolerance = {0.0, 0.03},
                                    .gives_way = {"na"}}),
        answer<&Out::tds>({.id = "tds",
                           .name = "TDS on the meter",
                           .range = {0, 50000},
                           .tolerance = {0.0, 0.03},
                           .gives_way = {"meter_factor"}})};

    static constexpr Ions ions(const In& in) {
        return {.ca = in.ca.value / molar::ca,
                .mg = in.mg.value / molar::mg,
                .na = in.na.value / molar::na,
                .k = in.k.value / molar::k,
                .hco3 = in.hco3.value / molar::hco3,
                .so4 = in.so4.value / molar::so4,
                .cl = in.cl.value / molar::cl,
                .no3 = in.no3.value / molar::no3};
    }

    static Result<Out> reckon(const In& in) {
        const Ions water = ions(in);
        const double us_cm = conductivity_us_cm(water);
        return Out{.report_gh = {gh_dh(water)},
                   .report_kh = {kh_dh(water)},
                   .balance = {charge_balance_percent(water)},
                   .ion_sum = {ion_sum_mg_l(water)},
                   .conductivity = {us_cm},
                   .tds = {us_cm * in.meter_factor.value}};
    }

    static void speak(const In& in, const Out& out, Remarks& say) {
        if (out.balance.value > 10)
            say.caution(
                "Anions are missing: the cations outweigh them by {balance}. Look for bicarbonate, "
                "sulfate or chloride that was left out or is in another unit.");
        else if (out.balance.value < -10)
            say.caution("Cations are missing: the balance is {balance}. Look for sodium, calcium "
                        "or magnesium that was left out, or a number in another unit.");
        else if (out.balance.value > 5)
            say.note("There are slightly more cations than anions ({balance}): the figures are "
                     "from different days, or one is a bit off.");
        else if (out.balance.value < -5)
            say.note("There are slightly more anions than cations ({balance}): the figures are "
                     "from different days, or sodium was left out.");
        // Limits for people: Directive (EU) 2020/2184, annex I.
        if (in.copper.value > 2)
            say.stop("{copper} of copper is beyond the 2 mg/L allowed in drinking water: use none "
                     "of it.");
        else if (in.copper.value > 0.03)
            say.caution("Copper harms shrimp and snails from a few hundredths of a mg/L: run the "
                        "tap first, treat the water, or use RO water.");
        if (in.no3.value > 50)
            say.caution("{no3} of nitrate is beyond the 50 mg/L allowed in drinking water: is it "
                        "really as NO₃?");
        else if (in.no3.value > 25)
            say.note("Much nitrate comes with this water: count it into what you dose.");
        if (in.cl.value > 250)
            say.caution("{cl} of chloride is salty, and plants may suffer: blend in RO water.");
        if (in.na.value > 50 && out.report_gh.value < 4)
            say.caution("So much sodium and so little hardness look like softened water: take it "
                        "from before the softener.");
        else if (in.na.value > 200)
            say.caution("{na} of sodium is beyond the 200 mg/L allowed in drinking water: blend in "
                        "RO water.");
        if (out.conductivity.value > 4000)
            say.note("In water this strong the conductivity is only rough.");
    }
};
WETSLEEVE_LINE(TapReport);

} // namespace wetsleeve::water
