#include "core/link/handover_names.hpp"

#include "link/handover_lines.hpp"

namespace wetsleeve::record {

std::size_t line_number(std::string_view id) {
    for (std::size_t i = 0; i < std::size(handover_lines); ++i)
        if (id == handover_lines[i]) return i;
    return no_number;
}

std::string_view line_numbered(std::size_t number) {
    return number < std::size(handover_lines) ? handover_lines[number] : std::string_view();
}

std::size_t slot_number(const Line& line, std::size_t slot,
                        std::span<const MovedSlots> moved_slots) {
    for (std::size_t n = 0; n < Line::max_slots; ++n)
        if (slot_numbered(line, n, moved_slots) == slot) return n;
    return no_number;
}

std::size_t slot_numbered(const Line& line, std::size_t number,
                          std::span<const MovedSlots> moved_slots) {
    for (const MovedSlots& as_joined : moved_slots)
        if (line.about.id == std::string_view(as_joined.line)) {
            if (number >= Line::max_slots) return Line::npos;
            const char* id = as_joined.slots[number / 8].text[number % 8];
            return id == nullptr ? Line::npos : line.find(id);
        }
    return number < line.slots.size() ? number : Line::npos;
}

} // namespace wetsleeve::record
