// Slots that several lines about hoses ask for, each under its own name.
#pragma once

#include "core/model/line.hpp"

#include "presets/hoses.hpp"

namespace wetsleeve::circulation {

constexpr SlotSpec length_slot(const char* id, const char* name) {
    return {.id = id,
            .name = name,
            .range = {10, 50000},
            .tolerance = {0.0, 0.05},
            .shown = {"m", "ft"}};
}

constexpr SlotSpec bore_slot(const char* id, const char* name) {
    return {.id = id,
            .name = name,
            .range = {0.2, 50},
            .tolerance = {0.02, 0.0},
            .shown = {"mm", "in"},
            .offers = preset::hoses::bore};
}

constexpr SlotSpec flow_slot(const char* id, const char* name, const char* way) {
    return {.id = id, .name = name, .range = {0, 1000000}, .gives_way = {way}};
}

} // namespace wetsleeve::circulation
