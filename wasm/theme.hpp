// Colours and sizes of the canvas face. The plain face has the same colours in web/style.css.
#pragma once

#include "wasm/face.hpp"

#include <cstdint>

namespace wetsleeve {

// As Dear ImGui packs it: 0xAABBGGRR.
using Colour = std::uint32_t;

constexpr Colour colour(std::uint32_t rgb, std::uint32_t alpha = 0xFF) {
    return alpha << 24U | (rgb & 0xFFU) << 16U | (rgb & 0xFF00U) | rgb >> 16U;
}

// What a colour is for. Texts keep 4.5:1 and better on paper, card and every field.
enum class Ink : std::uint8_t {
    paper,
    card, // sheets that lie on the paper
    text,
    quiet, // text that may be passed over
    rule,  // hairlines
    edge,  // borders of controls, 3:1 and better
    deep,  // what can be pressed
    on_deep,
    answer, // fields, by the role of the slot
    given,
    fed,
    held,
    held_edge,
    note,
    caution,
    stop,
    water, // the tank
    drained,
    soil,
    stone,
    glass,
    lamp,
    count
};

struct Palette {
    Colour of[static_cast<std::size_t>(Ink::count)];
    Colour operator[](Ink ink) const { return of[static_cast<std::size_t>(ink)]; }
};

inline constexpr Palette light_palette{
    {colour(0xf4f6f1), colour(0xfdfefb), colour(0x17211f), colour(0x4a5753), colour(0xcfd7d1),
     colour(0x75827d), colour(0x0b5552), colour(0xffffff), colour(0xddeee9), colour(0xffffff),
     colour(0xeceff0), colour(0xfbedcb), colour(0x8a5a00), colour(0x335f86), colour(0x7a4b00),
     colour(0xa3231c), colour(0xb9dcdf), colour(0xe3f0f0), colour(0x6d5a47), colour(0x8c908c),
     colour(0x5d6b68), colour(0xa87c14)}};
inline constexpr Palette dark_palette{
    {colour(0x101817), colour(0x18221f), colour(0xe8eeea), colour(0xb1bdb7), colour(0x33423d),
     colour(0x84938c), colour(0x8ad6c8), colour(0x08211f), colour(0x1d3c38), colour(0x0d1413),
     colour(0x222d2b), colour(0x3f3010), colour(0xe2b352), colour(0x9cc7ea), colour(0xf0c173),
     colour(0xff9b90), colour(0x24545c), colour(0x17302f), colour(0x7c6650), colour(0x8d948f),
     colour(0x93a39d), colour(0xe2b352)}};

// For a phone in the sun: black on white, nothing pale.
inline constexpr Palette sun_palette{
    {colour(0xffffff), colour(0xffffff), colour(0x000000), colour(0x1d2623), colour(0x8d9692),
     colour(0x2c3532), colour(0x003c39), colour(0xffffff), colour(0xbfe6dc), colour(0xffffff),
     colour(0xe3e6e5), colour(0xffe08a), colour(0x5a3a00), colour(0x0f3557), colour(0x573200),
     colour(0x7d0f0a), colour(0x8fcbd2), colour(0xd8eeee), colour(0x4d3b2a), colour(0x5f635f),
     colour(0x2c3532), colour(0x8a6200)}};

constexpr const Palette& palette_of(Shade shade) {
    return shade == Shade::dark ? dark_palette : shade == Shade::sun ? sun_palette : light_palette;
}

// Four cuts of letter: enough for an order that is seen at once, and few pixels to bake.
enum class Type : std::uint8_t { small, body, strong, large };
inline constexpr std::size_t type_count = 4;

namespace size {
// CSS pixels at text 1; letters grow with the reader's text, targets and margins do not.
inline constexpr float type[type_count] = {16, 18, 18, 28};
inline constexpr float target = 48; // least height and width of what can be tapped
inline constexpr float bar = 56;
inline constexpr float key = 50;
inline constexpr float gap = 6; // between keys
inline constexpr float margin = 20;
inline constexpr float inset = 16;   // inside the edge of a sheet or picture
inline constexpr float widest = 640; // of text
inline constexpr float slop = 10;    // a finger that moves further does not tap
inline constexpr float radius = 9;
} // namespace size

} // namespace wetsleeve
