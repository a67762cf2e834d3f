// The numbers by which hand-over links name lines and slots: core/link/handover_names.txt.
//
// Of that list the program carries the lines' ids alone, since each name is downloaded: a slot's
// number is its place in its line. Where a line's slots no longer stand as they joined, `moved`
// says how they did; the tests hold all of it against the list.
#pragma once

#include "core/model/line.hpp"

#include <cstddef>
#include <span>
#include <string_view>

namespace wetsleeve::record {

inline constexpr std::size_t no_number = static_cast<std::size_t>(-1);

struct MovedSlots {
    const char* line;
    Texts slots[3]; // ids in the order of joining, eight a piece
};
// None has yet.
inline constexpr std::span<const MovedSlots> moved{};

std::size_t line_number(std::string_view id);
std::string_view line_numbered(std::size_t number); // "": a later version's

std::size_t slot_number(const Line& line, std::size_t slot,
                        std::span<const MovedSlots> moved_slots = moved);
// Line::npos: none, or no more.
std::size_t slot_numbered(const Line& line, std::size_t number,
                          std::span<const MovedSlots> moved_slots = moved);

} // namespace wetsleeve::record
