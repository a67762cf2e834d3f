// What a label's figure means: N or NO3, P or P2O5, K or K2O, hardness as CaCO3.
#pragma once

#include "core/lines/dosing/sources.hpp"
#include "core/lines/water/ions.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

namespace wetsleeve::dosing {

enum class Wording : int {
    n_no3,
    n_nh4,
    p_po4,
    p2o5_po4,
    p2o5_p,
    k2o_k,
    cao_ca,
    caco3_ca,
    mgo_mg,
    caco3_mg,
    caco3_hco3
};

struct LabelUnits {
    struct In {
        Number amount;
        Wording wording;
    };
    struct Out {
        Number means;
    };

    static constexpr About about{
        .id = "dosing.label_units",
        .title = "Label wording",
        .keywords = "n no3 p po4 p2o5 k k2o potash cao mgo caco3 nitrate phosphate convert percent "
                    "npk label test kit",
        .sentences = {"{amount} of {wording} is {means}."},
        .formula = {"{means} = {amount} × ratio of molar masses"},
        .sources = {source::formula_mass},
        .assumes = {"Both are in the same unit: per cent, mg/L or grams.",
                    "On bags of fertiliser N-P-K stands for N, P2O5 and K₂O."}};

    // In the order of the options.
    static double factor(Wording wording) {
        namespace m = molar;
        static constexpr double ratio[] = {
            m::no3 / m::n,      m::nh4 / m::n,     m::po4 / m::p,         2 * m::po4 / m::p2o5,
            2 * m::p / m::p2o5, 2 * m::k / m::k2o, m::ca / m::cao,        m::ca / m::caco3,
            m::mg / m::mgo,     m::mg / m::caco3,  2 * m::hco3 / m::caco3};
        return ratio[static_cast<int>(wording)];
    }

    static constexpr const char* wordings[] = {"nitrate-nitrogen (N) as nitrate (NO₃)",
                                               "ammonium-nitrogen (N) as ammonium (NH₄)",
                                               "phosphate-phosphorus (P) as phosphate (PO₄)",
                                               "P2O5 as phosphate (PO₄)",
                                               "P2O5 as phosphorus (P)",
                                               "K₂O as potassium (K)",
                                               "CaO as calcium (Ca)",
                                               "CaCO₃ as calcium (Ca)",
                                               "MgO as magnesium (Mg)",
                                               "CaCO₃ as magnesium (Mg)",
                                               "alkalinity as CaCO₃ as bicarbonate (HCO₃)"};

    static constexpr std::tuple slots{
        given<&In::amount>({.id = "amount", .name = "figure on the label", .range = {0, 100000}}),
        given<&In::wording>({.id = "wording",
                             .name = "wording",
                             .usual = 0,
                             .options = std::span<const char* const>(wordings)}),
        answer<&Out::means>({.id = "means",
                             .name = "what it means",
                             .range = {0, 500000},
                             .gives_way = {"amount"}})};

    static Result<Out> reckon(const In& in) {
        return Out{.means = {in.amount.value * factor(in.wording)}};
    }

    static void speak(const In& in, const Out&, Remarks& say) {
        if (in.wording == Wording::p_po4 || in.wording == Wording::n_no3)
            say.note("Test kits, too, may show N and P: read the leaflet before you dose by it.");
    }
};
WETSLEEVE_LINE(LabelUnits);

} // namespace wetsleeve::dosing
