// What all tanks share: plans offset by the thickness of the glass, and what stands on them.
//
// Every function takes and gives centimetres and square centimetres as plain doubles. A plan is
// offset by moving each wall along its own normal, which keeps corners sharp: glass panes are cut
// so. Areas: elementary mensuration (source::mensuration), each found again by numerical
// integration in tests/oracles/geometry_shapes.py.
#pragma once

#include "core/lines/geometry/sources.hpp"
#include "core/quantities.hpp"
#include "core/sources.hpp"

#include <cmath>
#include <numbers>
#include <vector>

namespace wetsleeve::geometry {

enum class Measured : int { outside, inside };

namespace plan {

inline constexpr double pi = std::numbers::pi;

// x − sin x without loss where they nearly cancel; x >= 0.
inline double minus_sine(double x) {
    if (x > 0.3) return x - std::sin(x);
    const double x2 = x * x;
    return x * x2 / 6 * (1 - x2 / 20 * (1 - x2 / 42 * (1 - x2 / 72)));
}

// Of a disc of this radius, the part beyond a chord; half_chord <= radius, at most a half disc.
inline double segment_area(double radius, double half_chord) {
    return radius * radius / 2 * minus_sine(2 * std::asin(half_chord / radius));
}
// How far the arc over a chord rises above it.
inline double rise(double radius, double half_chord) {
    return half_chord * half_chord /
           (radius + std::sqrt(radius * radius - half_chord * half_chord));
}

// Of a disc, the part at y >= from; |from| <= radius.
inline double half_round_area(double radius, double from) {
    return radius * radius * std::acos(from / radius) -
           from * std::sqrt(radius * radius - from * from);
}

// Of a disc, the part at x >= from and y >= from; from <= radius / √2.
inline double quarter_round_area(double radius, double from) {
    const double far = std::sqrt(radius * radius - from * from);
    return radius * radius * (pi / 4 - std::asin(from / radius)) - from * far + from * from;
}

// A square with one corner cut off by a triangle of this leg.
inline double five_sided_area(double side, double leg) { return side * side - leg * leg / 2; }

// A regular polygon around a circle of this diameter.
inline double polygon_area(double sides, double across_flats) {
    return sides * across_flats * across_flats / 4 * std::tan(pi / sides);
}

// ---- outlines: the same plans from above, cm, the wall behind at the top, counterclockwise ------

struct Corner {
    double x_cm, y_cm;
};
using Outline = std::vector<Corner>;

// A tank's own origin is where its measured back wall begins, or its middle when it is round.
inline Outline box_outline(double length, double width, double inwards) {
    const double right = length - inwards;
    const double front = inwards - width;
    return {{inwards, front}, {right, front}, {right, -inwards}, {inwards, -inwards}};
}

inline constexpr double turn = 2 * pi;
inline void add_arc(Outline& to, Corner middle, double radius, double from, double until,
                    int steps = 48) {
    for (int i = 0; i <= steps; ++i) {
        const double angle = from + (until - from) * i / steps;
        to.push_back(
            {middle.x_cm + radius * std::cos(angle), middle.y_cm + radius * std::sin(angle)});
    }
}

// Of many sides with a flat one in front: around a circle of this diameter.
inline Outline polygon_outline(double sides, double across_flats) {
    Outline outline;
    const double half = pi / sides;
    add_arc(outline, {0, 0}, across_flats / 2 / std::cos(half), half - turn / 4,
            turn - half - turn / 4, static_cast<int>(sides) - 1);
    return outline;
}

inline Outline circle_outline(double diameter) {
    Outline outline;
    add_arc(outline, {0, 0}, diameter / 2, 0, turn * 95 / 96, 95);
    return outline;
}

inline Outline half_round_outline(double radius, double from) {
    Outline outline;
    const double end = std::asin(from / radius);
    add_arc(outline, {0, 0}, radius, turn / 2 + end, turn - end);
    return outline;
}

inline Outline quarter_round_outline(double radius, double from) {
    Outline outline{{from, -from}};
    const double end = std::asin(from / radius);
    add_arc(outline, {0, 0}, radius, turn * 3 / 4 + end, turn - end);
    return outline;
}

// `inwards`: of the walls; the front runs where it cuts this leg off both.
inline Outline five_sided_outline(double side, double leg, double inwards) {
    const double far = inwards + side;
    return {
        {inwards, -inwards}, {inwards, -far}, {far - leg, -far}, {far, leg - far}, {far, -inwards}};
}

// A front that bows out by `bow` over the whole length, measured without `inwards`.
inline Outline bow_front_outline(double length, double middle, double bow, double inwards) {
    if (bow < 1e-9 * length) return box_outline(length, middle, inwards);
    const double outer = (length * length / 4 + bow * bow) / (2 * bow);
    const double half_angle = std::asin((length / 2 - inwards) / (outer - inwards));
    Outline outline{{length - inwards, -inwards}, {inwards, -inwards}};
    add_arc(outline, {length / 2, outer - middle}, outer - inwards, turn * 3 / 4 - half_angle,
            turn * 3 / 4 + half_angle);
    return outline;
}

inline double area(const Outline& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Corner& a = outline[i];
        const Corner& b = outline[(i + 1) % outline.size()];
        twice += a.x_cm * b.y_cm - b.x_cm * a.y_cm;
    }
    return twice / 2;
}

} // namespace plan

// What every tank answers to the lines that come after.
struct Tank {
    Litres inside_volume;
    Centimetres inside_width, water_height;
    SquareMetres inside_floor;
    Grams glass_mass;
};

namespace plan {

struct Walls {
    Measured measured;
    double height_cm, glass_cm, gap_cm;

    // How far the inner and the outer face lie inside the faces that were measured.
    double inner_cm() const { return measured == Measured::outside ? glass_cm : 0.0; }
    double outer_cm() const { return inner_cm() - glass_cm; }
};

// Fills a tank whose walls stand straight on this plan. Refuses by slots {glass}, {gap}, {height}.
inline Result<Tank> fill(const Walls& walls, double inner_cm2, double outer_cm2, double depth_cm) {
    if (!(inner_cm2 > 0 && depth_cm > 0))
        return Refusal{"Glass of {glass} leaves no room inside: look at the sizes again."};
    const double inside_cm = walls.height_cm - walls.inner_cm();
    const double water_cm = inside_cm - walls.gap_cm;
    if (water_cm <= 0)
        return Refusal{
            "A gap of {gap} leaves no water in a tank {height} high: make the gap smaller."};
    const double glass_cm3 = outer_cm2 * (inside_cm + walls.glass_cm) - inner_cm2 * inside_cm;
    return Tank{.inside_volume = {inner_cm2 * water_cm / 1000},
                .inside_width = {depth_cm},
                .water_height = {water_cm},
                .inside_floor = {inner_cm2 / 10000},
                .glass_mass = {2.5 * glass_cm3}};
}

inline void speak(double gap_cm, double glass_g, Remarks& say) {
    if (gap_cm == 0)
        say.note(
            "It is filled to the very rim: leave some room for hands, plants and a lively filter.");
    if (say.too_heavy(glass_g))
        say.caution("Empty it weighs {glass_mass}, and one person should lift {0} at most: bring "
                    "enough hands, and gloves.");
}

// Phrases and slots that are the same for every tank.
inline constexpr const char* straight =
    "Walls are straight, and the bottom glass is as thick as the sides, under all of them.";
inline constexpr const char* height_from =
    "Height is from the underside of the bottom glass (outside) or its top (inside) to the rim.";
inline constexpr const char* water_height_outside = "0|{water_height} = {height} − {glass} − {gap}";
inline constexpr const char* water_height_inside = "1|{water_height} = {height} − {gap}";
inline constexpr const char* volume = "{inside_volume} = {inside_floor} × {water_height}";
inline constexpr const char* weight =
    "{glass_mass} = 2.5 kg/L × (plan outside × height outside − {inside_floor} × height inside)";

inline constexpr SlotSpec measured{.id = "measured",
                                   .name = "where it was measured",
                                   .usual = 0,
                                   .options = {"outside the glass", "inside the glass"}};
inline constexpr SlotSpec height{
    .id = "height", .name = "height", .range = {5, 500}, .tolerance = quantity::tape};
inline constexpr SlotSpec gap{.id = "gap",
                              .name = "gap below the rim",
                              .range = {0, 400},
                              .usual = 3,
                              .tolerance = quantity::tape};
constexpr SlotSpec size(const char* id, const char* name, double least = 5) {
    return {.id = id, .name = name, .range = {least, 1000}, .tolerance = quantity::tape};
}

} // namespace plan

} // namespace wetsleeve::geometry
