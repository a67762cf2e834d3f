// What the keys do. How they look is in keypad_draw.cpp.
#include "wasm/keypad.hpp"

#include "core/model/constants.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace wetsleeve {

namespace {

constexpr std::size_t longest = 16;
constexpr double clock_step = 15;

} // namespace

void Keypad::open_at(const Session& session, std::size_t line, std::size_t slot) {
    open_ = true;
    line_ = line;
    slot_ = slot;
    fresh_ = true;
    listing_ = false;
    list_.scroll().jump(0);
    refresh(session);
}

void Keypad::refresh(const Session& session) {
    if (!open_ || !fresh_) return;
    problem_.clear();
    unit_ = &session.unit(line_, slot_);
    text_ = session.view(line_).slots[slot_].shown.number;
}

bool Keypad::fractions() const {
    const std::string_view symbol = unit_->symbol;
    return symbol == "in" || symbol == "ft";
}

void Keypad::type(char c) {
    if (fresh_) text_.clear();
    fresh_ = false;
    problem_.clear();
    const bool second_mark = (c == '.' || c == ',') && text_.find(c) != std::string::npos;
    if (text_.size() < longest && !second_mark) text_ += c;
}

void Keypad::back() {
    fresh_ = false;
    problem_.clear();
    if (!text_.empty()) text_.pop_back();
}

void Keypad::clear() {
    fresh_ = false;
    problem_.clear();
    text_.clear();
}

void Keypad::sign() {
    fresh_ = false;
    problem_.clear();
    if (text_.starts_with('-')) text_.erase(0, 1);
    else text_.insert(0, 1, '-');
}

// False: nothing typed, or nothing that is a number.
bool Keypad::number(const Session& session, double& in_unit) const {
    if (text_.empty()) return false;
    const Slot& slot = slot_of(session);
    const Typed typed = slot.kind == Kind::clock
                            ? read_clock(text_, session.style())
                            : read_quantity(text_, *slot.dimension, *unit_, session.style());
    in_unit = (typed.value - unit_->offset) / unit_->factor;
    return typed.problem.empty();
}

// About a twentieth of what is there, in a round number.
double Keypad::step_size(const Session& session) const {
    const Slot& slot = slot_of(session);
    if (slot.kind == Kind::clock) return clock_step;
    double value = 0;
    if (!number(session, value) || value == 0) return 1;
    const double ten = std::pow(10.0, std::floor(std::log10(std::fabs(value)) + 1e-9));
    const double lead = std::fabs(value) / ten;
    const double step = ten * (lead < 1.999 ? 0.1 : lead < 4.999 ? 0.2 : 0.5);
    return slot.kind == Kind::count ? std::max(1.0, std::round(step)) : step;
}

void Keypad::step(const Session& session, int direction) {
    const Slot& slot = slot_of(session);
    double value = 0;
    const bool known = number(session, value);
    const double size = step_size(session);
    if (slot.kind == Kind::clock) {
        value =
            std::fmod((known ? value : 720) + direction * size + minutes_per_day, minutes_per_day);
        text_ = write_clock(value);
    } else {
        // On whole steps, so that they can be taken back.
        value = known ? (std::round(value / size) + direction) * size : 0;
        value = std::clamp(value, (slot.range.low - unit_->offset) / unit_->factor,
                           (slot.range.high - unit_->offset) / unit_->factor);
        text_ = write_shortest(value, 6, session.style().decimal);
    }
    fresh_ = false;
    problem_.clear();
}

void Keypad::pick_unit(Session& session, const Unit& unit) {
    if (!fresh_ && !text_.empty()) {
        unit_ = &unit;
        problem_.clear();
        return;
    }
    problem_ = &unit == &session.unit(line_, slot_) ? std::string()
                                                    : session.show_in(line_, slot_, unit.symbol);
    if (!problem_.empty()) return;
    fresh_ = true;
    refresh(session);
}

bool Keypad::pick_option(Session& session, std::size_t option) {
    const Slot& slot = slot_of(session);
    const double value =
        slot.kind == Kind::choice ? static_cast<double>(option) : slot.offers[option].value;
    problem_ = session.view(line_).slots[slot_].value == value
                   ? std::string()
                   : session.enter_value(line_, slot_, value);
    if (problem_.empty()) fresh_ = true;
    return problem_.empty();
}

bool Keypad::lists(const Session& session) const {
    return open_ && (listing_ || slot_of(session).kind == Kind::choice);
}

std::vector<Row> Keypad::rows(const Session& session) const {
    const Slot& slot = slot_of(session);
    const double now = session.view(line_).slots[slot_].value;
    std::vector<Row> rows;
    const auto add = [&](std::string words, std::string aside, bool on) {
        rows.push_back({"option " + std::to_string(rows.size()), std::move(words), std::move(aside),
                        Row::Mark::ring, on});
    };
    for (const char* option : slot.options)
        add(session.say(option), "", now == static_cast<double>(rows.size()));
    for (const Offer& offer : slot.offers)
        add(session.say(offer.name),
            show(slot, offer.value, *unit_, session.style(), Digits::exact).both(),
            now == offer.value);
    return rows;
}

bool Keypad::enter(Session& session) {
    if (fresh_ || slot_of(session).kind == Kind::choice) return true;
    const SlotView now = session.view(line_).slots[slot_];
    std::string text = text_;
    const bool same_unit = unit_ == &session.unit(line_, slot_);
    if (same_unit && text == now.shown.number) return true;
    if (!text.empty() && !same_unit) text = text + " " + unit_->symbol;
    problem_ = session.enter(line_, slot_, text);
    if (!problem_.empty()) return false;
    fresh_ = true;
    return true;
}

// Which slot changes when this one is typed over; a fed slot's number is typed into its own line.
std::string Keypad::way(const Session& session) const {
    const Slip& slip = session.slip();
    const Slip::Cell& cell = slip.cells()[slip.cell(line_, slot_)];
    if (!cell.answered) return {};
    const Line& home = slip.line(cell.home);
    const std::size_t way = session.gives_way(cell.home, home.find(cell.slot->id));
    if (way == Line::npos) return {};
    const char* name = session.say(home.slots[way].name);
    return cell.home == line_ ? sentence(session.say("{0} will give way."), {name})
                              : sentence(session.say("{0} will give way in “{1}”."),
                                         {name, session.say(home.about.title)});
}

bool Keypad::key(Session& session, const std::string& key, Want& want) {
    const Slot& slot = slot_of(session);
    if (key == "Escape" && listing_) listing_ = false;
    else if (key == "Escape") want = Want::close;
    else if (key == "Enter") want = enter(session) ? Want::close : Want::nothing;
    else if (slot.kind == Kind::choice) {
        const std::size_t option = key.size() == 1 ? static_cast<std::size_t>(key[0] - '1') : 99;
        if (option >= slot.options.size()) return false;
        if (pick_option(session, option)) want = Want::close;
    } else if (key == "Backspace") back();
    else if (key == "Delete") clear();
    else if (key == "ArrowUp") step(session, 1);
    else if (key == "ArrowDown") step(session, -1);
    else if (key.size() == 1 &&
             std::string_view("0123456789.,/: -").find(key[0]) != std::string_view::npos)
        type(key[0]);
    else return false;
    return true;
}

} // namespace wetsleeve
