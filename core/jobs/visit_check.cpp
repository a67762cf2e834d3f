#include "core/jobs/visit_check.hpp"

#include "core/jobs/history.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::round {

std::vector<std::string> not_done(const std::vector<std::string>& planned,
                                  const std::vector<std::string>& done) {
    std::vector<std::string> rest = done;
    std::vector<std::string> left;
    for (const std::string& what : planned) {
        const auto found = std::find(rest.begin(), rest.end(), what);
        if (found == rest.end()) left.push_back(what);
        else rest.erase(found);
    }
    return left;
}

std::optional<Usual> usual_of(const std::vector<double>& earlier) {
    if (earlier.empty()) return std::nullopt;
    Usual usual{.middle = median(earlier), .visits = earlier.size()};
    std::vector<double> apart;
    apart.reserve(earlier.size());
    for (const double value : earlier) apart.push_back(std::fabs(value - usual.middle));
    constexpr double of_a_bell_curve = 0.6745;
    constexpr double least_share = 0.05;
    usual.spread =
        std::fmax(median(apart) / of_a_bell_curve, least_share * std::fabs(usual.middle));
    return usual;
}

double unusual_by(const Usual& usual, double value) {
    const double apart = value - usual.middle;
    if (apart == 0) return 0;
    if (usual.spread > 0) return apart / usual.spread;
    return apart > 0 ? HUGE_VAL : -HUGE_VAL; // it was always nothing
}

Oddity oddity_of(const Usual& usual, double value) {
    if (usual.visits < visits_for_decimal) return Oddity::too_few_visits;
    const auto is_usual = [&](double x) { return std::fabs(unusual_by(usual, x)) <= most_usual; };
    // Nothing at all is no slip of a decimal, whichever way it is moved.
    if (!is_usual(value) && value != 0 && usual.middle != 0) {
        if (is_usual(value / 10)) return Oddity::ten_times;
        if (is_usual(value * 10)) return Oddity::a_tenth;
    }
    if (usual.visits < visits_for_usual) return Oddity::too_few_visits;
    if (is_usual(value)) return Oddity::none;
    return value < usual.middle ? Oddity::much_less : Oddity::much_more;
}

std::optional<Sentence> speak_of_value(const std::string& what, const std::string& unit,
                                       const std::vector<double>& earlier, double value,
                                       const Style& style) {
    const std::optional<Usual> usual = usual_of(earlier);
    if (!usual.has_value()) return std::nullopt;
    const auto format = [&](double x) {
        const std::string number = write_shortest(x, 4, style.decimal);
        return unit.empty() ? number : number + "\u00a0" + unit;
    };
    const auto sentence = [&](Level level, const char* text, double moved) {
        return Sentence{level,
                        compose(text, {what, format(value), format(usual->middle), format(moved)})};
    };
    switch (oddity_of(*usual, value)) {
    case Oddity::ten_times:
        return sentence(
            Level::stop,
            style.say("{0}: {1} is about ten times the usual {2}. Did the decimal slip? If it "
                      "should be {3}, put it right; if not, measure once more."),
            value / 10);
    case Oddity::a_tenth:
        return sentence(
            Level::stop,
            style.say("{0}: {1} is about a tenth of the usual {2}. Did the decimal slip? If it "
                      "should be {3}, put it right; if not, measure once more."),
            value * 10);
    case Oddity::much_more:
        return sentence(Level::caution,
                        style.say("{0}: {1} is far more than the usual {2}. Please look again; if "
                                  "it is right, a word in the note helps the next one."),
                        value);
    case Oddity::much_less:
        return sentence(Level::caution,
                        style.say("{0}: {1} is far less than the usual {2}. Please look again; if "
                                  "it is right, a word in the note helps the next one."),
                        value);
    case Oddity::none:
    case Oddity::too_few_visits:
        break;
    }
    return std::nullopt;
}

std::optional<Sentence> speak_of_range(const std::string& what, const std::string& value,
                                       const std::string& low, const std::string& high,
                                       bool outside, const Style& style) {
    if (!outside) return std::nullopt;
    return Sentence{Level::stop,
                    compose(style.say("{0}: {1} is outside of what can be, {2} to {3}. Did the "
                                      "decimal slip? Put it right, or measure once more."),
                            {what, value, low, high})};
}

std::optional<Sentence> speak_of_unknown_water(Litres all, const Style& style) {
    if (all.value <= 0) return std::nullopt;
    return Sentence{Level::note,
                    compose(style.say("All {0} of new water count as RO water and come off the "
                                      "store: nothing says how much of it was tap water."),
                            {format(all, style)})};
}

std::optional<Sentence> speak_of_too_much_tap(Litres tap, Litres all, const Style& style) {
    if (tap.value <= all.value) return std::nullopt;
    return Sentence{
        Level::caution,
        compose(style.say(
                    "{0} of tap water is more than all the new water, {1}. Put one of them right."),
                {format(tap, style), format(all, style)})};
}

Sentence speak_of_other_measure(const std::string& what, const std::string& dosed,
                                const std::string& stock_unit, const Style& style) {
    return {
        Level::caution,
        compose(
            style.say(
                "{0}: {1} does not come off the stock, which is in {2}. Write it in that unit."),
            {what, dosed, stock_unit})};
}

std::optional<Sentence> speak_of_habits(const std::vector<std::string>& left, const Style& style) {
    if (left.empty()) return std::nullopt;
    return Sentence{
        Level::note,
        compose(style.say("Done at every visit lately and not written down this time: {0}."),
                {row_of(left)})};
}

std::optional<Sentence> speak_of_not_done(const std::string& tank,
                                          const std::vector<std::string>& left,
                                          const Style& style) {
    if (left.empty()) return std::nullopt;
    return Sentence{Level::caution, compose(style.say("{0}: still planned and not marked as done: "
                                                      "{1}. Do it now, or move it to another day."),
                                            {tank, row_of(left)})};
}

} // namespace wetsleeve::round
