// The quantities of slips that a book's sums ask for by name, as entries of visits name them.
#pragma once

#include "core/lines/water/blend.hpp"
#include "core/lines/water/change.hpp"

namespace wetsleeve::round::key {

inline constexpr const char* refill = slot_key<water::Change, &water::Change::Out::refill>;
inline constexpr const char* net_water = slot_key<water::Change, &water::Change::In::net_water>;
inline constexpr const char* tap_tds = slot_key<water::Blend, &water::Blend::In::tap_tds>;
inline constexpr const char* ro_tds = slot_key<water::Blend, &water::Blend::In::ro_tds>;
// How much of the water was changed: of the line, and as other programs write it.
inline constexpr const char* change_share = slot_key<water::Change, &water::Change::In::share>;
inline constexpr const char* change_drop = slot_key<water::Change, &water::Change::Out::drop>;
inline constexpr const char* share = slot_id<water::Change, &water::Change::In::share>;
// Both waters, which the round writes without their line.
inline constexpr const char* blend_ro = slot_key<water::Blend, &water::Blend::Out::ro>;
inline constexpr const char* blend_tap = slot_key<water::Blend, &water::Blend::Out::tap>;
inline constexpr const char* ro = slot_id<water::Blend, &water::Blend::Out::ro>;
inline constexpr const char* tap = slot_id<water::Blend, &water::Blend::Out::tap>;
// No slot of a line: plants were trimmed.
inline constexpr const char* trim = "trim";

} // namespace wetsleeve::round::key
