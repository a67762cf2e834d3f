#include "core/lines/timing/ribbon.hpp"

#include "core/model/quantity.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::timing {

namespace {

constexpr double day = minutes_per_day;
constexpr double longest_lead_min = 180.0; // common practice, no source

struct Piece {
    double from = 0.0, until = 0.0;
};

// A window cut at midnight; a piece without length is none.
std::array<Piece, 2> pieces(const Window& window) {
    const double length = std::fmin(window.length_min, day);
    if (!(length > 0)) return {};
    const double until = window.from_min + length;
    if (until <= day) return {Piece{window.from_min, until}, {}};
    return {Piece{window.from_min, day}, {0.0, until - day}};
}

double wrapped(double minute) {
    const double in_day = std::fmod(minute, day);
    return in_day < 0 ? in_day + day : in_day;
}

template <class Do> void each_overlap(const Window& a, const Window& b, Do&& use) {
    for (const Piece& x : pieces(a))
        for (const Piece& y : pieces(b)) {
            const double from = std::fmax(x.from, y.from);
            const double until = std::fmin(x.until, y.until);
            if (from < until) use(from, until);
        }
}

} // namespace

Window between(double from_min, double until_min) {
    const double length = wrapped(until_min - from_min);
    return {from_min, length > 0 ? length : day};
}

bool holds(const Window& window, double minute) {
    const auto both = pieces(window);
    return std::any_of(both.begin(), both.end(), [&](const Piece& piece) {
        return minute >= piece.from && minute < piece.until;
    });
}

double overlap_min(const Window& a, const Window& b) {
    double sum = 0.0;
    each_overlap(a, b, [&](double from, double until) { sum += until - from; });
    return sum;
}

Window rest_of_day(const Window& window) {
    const double length = std::clamp(window.length_min, 0.0, day);
    return {wrapped(window.from_min + length), day - length};
}

Ribbon::Ribbon(const DayPlan& plan) {
    if (plan.break_min > 0) {
        const double half = plan.light_min / 2;
        add("light", {plan.lights_on_min, half});
        add("light", {wrapped(plan.lights_on_min + half + plan.break_min), half});
    } else {
        add("light", {plan.lights_on_min, plan.light_min});
    }
    add("CO2", plan.co2);
    add("skimmer", plan.skimmer);
    add("UV", plan.uv);
    add("heater", plan.heater);
    add("cooler", plan.cooler);
    if (plan.dose_min >= 0) spans_[span_count_++] = {"dose", plan.dose_min, plan.dose_min};
    if (plan.feed_min >= 0) spans_[span_count_++] = {"feed", plan.feed_min, plan.feed_min};

    Window early = plan.lit_day(); // with the lead that CO2 may have
    if (early.length_min > 0)
        early = {wrapped(early.from_min - longest_lead_min), early.length_min + longest_lead_min};
    meet(Clash::co2_and_skimmer, plan.co2, plan.skimmer);
    meet(Clash::co2_in_the_dark, plan.co2, rest_of_day(early));
    meet(Clash::heater_and_cooler, plan.heater, plan.cooler);
    const auto point = [&](Clash clash, double minute, const Window& window) {
        if (holds(window, minute)) add(clash, minute, minute);
    };
    point(Clash::dose_and_skimmer, plan.dose_min, plan.skimmer);
    point(Clash::dose_and_uv, plan.dose_min, plan.uv);
    point(Clash::feed_and_skimmer, plan.feed_min, plan.skimmer);
}

bool Ribbon::has(Clash clash) const {
    const auto all = clashes();
    return std::any_of(all.begin(), all.end(),
                       [&](const ClashSpan& span) { return span.clash == clash; });
}

void Ribbon::add(const char* name, const Window& window) {
    for (const Piece& piece : pieces(window))
        if (piece.from < piece.until) spans_[span_count_++] = {name, piece.from, piece.until};
}

void Ribbon::add(Clash clash, double from_min, double until_min) {
    static constexpr const char* names[] = {
        "CO2 while the skimmer runs",     "CO2 without light",
        "dose while the skimmer runs",    "dose while the UV lamp burns",
        "feeding while the skimmer runs", "heater against cooler"};
    clashes_[clash_count_++] = {clash, names[static_cast<std::size_t>(clash)], from_min, until_min};
}

void Ribbon::meet(Clash clash, const Window& a, const Window& b) {
    each_overlap(a, b, [&](double from, double until) { add(clash, from, until); });
}

} // namespace wetsleeve::timing
