#include "core/model/text.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

namespace {

constexpr int typed_digits = 10;
constexpr int converted_at = 7;
constexpr int converted_digits = 5;
constexpr int exact_digits = 4;
constexpr int doubtful_digits = 3; // a syringe, a tape and a bucket read no better

// Calls words(text) and slot(index) in turn.
template <class Words, class AtSlot>
void walk(const Line& line, std::string_view text, Words&& words, AtSlot&& at_slot) {
    while (!text.empty()) {
        const std::size_t open = text.find('{');
        const std::size_t close = open == std::string_view::npos ? open : text.find('}', open);
        if (close == std::string_view::npos) break;
        const std::size_t slot = line.find(text.substr(open + 1, close - open - 1));
        const std::size_t end = slot == Line::npos ? close + 1 : open; // what is no slot stays
        if (end > 0) words(text.substr(0, end));
        if (slot != Line::npos) at_slot(slot);
        text.remove_prefix(close + 1);
    }
    if (!text.empty()) words(text);
}

} // namespace

const Unit& habitual_unit(const Dimension& dimension, const Habit& shown, System system) {
    const char* symbol = shown.in(system);
    const Unit* unit = symbol == nullptr ? nullptr : dimension.find(symbol);
    if (unit == nullptr) unit = dimension.find(dimension.habit.in(system));
    return unit == nullptr ? dimension.base() : *unit;
}

const Unit& habitual_unit(const Slot& slot, System system) {
    return habitual_unit(*slot.dimension, slot.shown, system);
}

std::string slot_name(const Line& line, const Slot& slot, const Style& style) {
    const std::string name = style.say(slot.name);
    return slot.travels ? name : compose("{0}: {1}", {style.say(line.about.title), name});
}

Shown show(const Slot& slot, double value, const Unit& unit, const Style& style, Digits digits) {
    if (!std::isfinite(value)) return {"", slot.kind == Kind::choice ? "" : unit.symbol};
    if (slot.kind == Kind::choice)
        return {style.say(slot.options[static_cast<std::size_t>(value)]), ""};
    if (slot.kind == Kind::clock) return {write_clock(value), ""};
    if (slot.kind == Kind::count) return {write_fixed(value, 0, style.decimal), ""};
    const double number = (value - unit.offset) / unit.factor;
    if (digits == Digits::doubtful)
        return {write_significant(number, doubtful_digits, style.decimal), unit.symbol};
    if (digits == Digits::exact)
        return {write_shortest(number, exact_digits, style.decimal), unit.symbol};
    // Nobody types more digits than that: a longer number came about by another unit, and is
    // rounded.
    const bool in_typed_unit = write_shortest(number, converted_at, style.decimal) ==
                               write_shortest(number, typed_digits, style.decimal);
    return {write_shortest(number, in_typed_unit ? typed_digits : converted_digits, style.decimal),
            unit.symbol};
}

std::string axis_text(const Axis& axis, double value, const Style& style) {
    Slot slot;
    slot.dimension = axis.dimension;
    slot.kind = detail::kind_read(axis.dimension->reading);
    const Unit& unit = habitual_unit(*axis.dimension, axis.shown, style.system);
    return show(slot, value, unit, style, Digits::exact).both();
}

std::string cell_text(const Column& column, const Cell& cell, const Style& style) {
    if (column.dimension == nullptr) return style.say(cell.text);
    return axis_text({column.name, column.dimension, column.shown}, cell.value, style);
}

std::string show_plus_minus(const Slot& slot, double plus_minus, const Unit& unit,
                            const Style& style) {
    if (!std::isfinite(plus_minus) || plus_minus <= 0.0 || slot.kind == Kind::choice) return {};
    if (slot.kind == Kind::clock)
        return plus_minus < 0.5 ? std::string()
                                : "±" + write_fixed(plus_minus, 0, style.decimal) + "\u00a0min";
    const double number = plus_minus / unit.factor;
    if (slot.kind == Kind::count)
        return number < 0.5 ? std::string() : "±" + write_fixed(number, 0, style.decimal);
    if (number < 1e-6) return {};
    // One digit of doubt is enough, two where it begins with 1.
    const double lead = number / std::pow(10.0, std::floor(std::log10(number)));
    return "±" + write_shortest(number, lead < 1.95 ? 2 : 1, style.decimal) + "\u00a0" +
           unit.symbol;
}

std::string show_range(const Slot& slot, Range range, const Unit& unit, const Style& style) {
    if (slot.kind == Kind::clock) return compose(style.say("{0} to {1}"), {"00:00", "23:59"});
    const auto end = [&](double value) {
        Shown shown = show(slot, value, unit, style, Digits::typed);
        shown.number = slot.kind == Kind::number
                           ? write_shortest((value - unit.offset) / unit.factor, 4, style.decimal)
                           : shown.number;
        return shown.both();
    };
    return compose(style.say("{0} to {1}"), {end(range.low), end(range.high)});
}

std::vector<Piece> pieces_of(const Line& line, const char* sentence) {
    std::vector<Piece> pieces;
    bool quiet = false;
    walk(
        line, sentence,
        [&](std::string_view words) {
            const std::size_t turn = words.find('\n');
            if (turn != std::string_view::npos) {
                if (turn > 0)
                    pieces.push_back({std::string(words.substr(0, turn)), Line::npos, quiet});
                quiet = true;
                words.remove_prefix(turn + 1);
            }
            if (!words.empty()) pieces.push_back({std::string(words), Line::npos, quiet});
        },
        [&](std::size_t slot) {
            pieces.push_back({{}, slot, quiet});
        });
    return pieces;
}

std::string fill(const Line& line, std::string_view text,
                 const std::function<std::string(std::size_t)>& with) {
    std::string out;
    walk(
        line, text, [&](std::string_view words) { out += words; },
        [&](std::size_t slot) { out += with(slot); });
    return out;
}

} // namespace wetsleeve
