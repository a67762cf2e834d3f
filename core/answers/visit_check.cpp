#include "core/answers/visit_check.hpp"

#include "core/answers/rounds.hpp"
#include "core/answers/visit.hpp"
#include "core/book/entries.hpp"
#include "core/book/stock.hpp"
#include "core/book/things.hpp"
#include "core/jobs/history.hpp"
#include "core/jobs/keys.hpp"
#include "core/jobs/visit_check.hpp"

#include <algorithm>
#include <span>

namespace wetsleeve::record {

namespace {

bool happened(const Entry& entry) { return entry.what == What::done || entry.what == What::dosed; }

// Whether this was done or dosed, under any of its names.
bool has(const Things& things, const Visit& visit, const Entry& like) {
    return std::any_of(visit.entries.begin(), visit.entries.end(), [&](const Entry& entry) {
        return happened(entry) && things.same(subject(entry), subject(like));
    });
}

// Whether anything that is written down may be this. What was left as reckoned, or noted in words,
// may well have been done: whoever wrote it down did not forget it.
bool tells_of(const Things& things, const Visit& visit, std::string_view asked) {
    return std::any_of(visit.entries.begin(), visit.entries.end(),
                       [&](const Entry& entry) { return things.says(subject(entry), asked); });
}

// Values of the same thing at other visits, in the unit of this one, oldest first.
std::vector<double> earlier_values(const Things& things, const Tank& tank,
                                   const std::vector<const Visit*>& others, const Entry& like) {
    std::vector<double> values;
    const auto look = [&](const auto& entry) {
        if (!entry.value.has_value() || !things.same(subject(entry), subject(like))) return;
        if (const auto value = in_unit(*entry.value, entry.unit, like.unit); value.has_value())
            values.push_back(*value);
    };
    if (like.what == What::read)
        for (const Reading& reading : tank.readings) look(reading);
    for (const Visit* visit : others)
        for (const Entry& entry : visit->entries)
            if (entry.what == like.what) look(entry);
    if (values.size() > round::most_readings)
        values.erase(values.begin(),
                     values.end() - static_cast<std::ptrdiff_t>(round::most_readings));
    return values;
}

// The slot of the catalogue that goes by this key, where there is one with a range.
const Slot* slot_of(const Session& session, std::string_view quantity) {
    for (const Line* line : session.catalogue())
        for (const Slot& slot : line->slots)
            if (slot.travels && slot.id == quantity && slot.dimension != nullptr) return &slot;
    return nullptr;
}

std::optional<round::Sentence> out_of_range(const Session& session, const Entry& entry,
                                            const std::string& name) {
    const Slot* slot = slot_of(session, subject(entry));
    if (slot == nullptr || entry.what != What::read) return std::nullopt;
    const auto base = in_base(entry, *slot->dimension);
    if (!base.has_value()) return std::nullopt;
    const Unit* named = slot->dimension->find(entry.unit);
    const Unit& unit = named == nullptr ? slot->dimension->base() : *named;
    const auto shown = [&](double value) {
        return Shown{
            write_shortest((value - unit.offset) / unit.factor, 4, session.style().decimal),
            entry.unit}
            .both();
    };
    return round::speak_of_range(
        name, shown(*base), shown(slot->range.low), shown(slot->range.high),
        *base < slot->range.low || *base > slot->range.high, session.style());
}

std::string name_of(const Session& session, const Book& book, std::string_view quantity) {
    const Item* item = with_id(book.shelf, quantity);
    return item != nullptr ? item->name : quantity_name(session, quantity);
}

// What was done or dosed at each of the last visits and is not at this one, by its name.
std::vector<std::string> missing_habits(const Session& session, const Book& book,
                                        const Things& things,
                                        const std::vector<const Visit*>& others,
                                        const Visit& visit) {
    std::vector<std::string> left;
    if (others.size() < visits_for_habit) return left;
    const auto newest = std::span(others).last(visits_for_habit);
    std::vector<std::string_view> said;
    for (const Entry& entry : newest.back()->entries) {
        if (!happened(entry) || tells_of(things, visit, subject(entry))) continue;
        if (std::any_of(said.begin(), said.end(), [&](std::string_view quantity) {
                return things.same(quantity, subject(entry));
            }))
            continue;
        if (std::all_of(newest.begin(), newest.end(),
                        [&](const Visit* each) { return has(things, *each, entry); })) {
            said.push_back(subject(entry));
            left.push_back(name_of(session, book, subject(entry)));
        }
    }
    return left;
}

bool say(round::Sentences& said, std::optional<round::Sentence> sentence) {
    if (!sentence.has_value()) return false;
    said.push_back(std::move(*sentence));
    return true;
}

// What of a visit comes off store and shelf in another way than it looks.
void speak_of_stock(const Session& session, const Book& book, const Visit& visit,
                    round::Sentences& said) {
    const Style& style = session.style();
    const auto waters = new_water_at(visit);
    const bool stored = book.round.has_value() && book.round->store.holds_l.has_value();
    if (stored && waters.has_value() && !waters->said)
        say(said, round::speak_of_unknown_water({waters->all_l()}, style));
    const auto all = amount_at(visit.entries, round::key::refill, dimension::volume);
    if (waters.has_value() && all.has_value())
        say(said, round::speak_of_too_much_tap({waters->tap_l}, {*all}, style));

    const Shelf shelf(book);
    for (const Entry& entry : visit.entries) {
        const Item* item = shelf.find(entry);
        if (entry.what != What::dosed || item == nullptr || !item->amount.has_value()) continue;
        const auto used = portion_of({}, entry.value, entry.unit);
        const auto counted = portion_of({}, 1, item->unit);
        if (!used.has_value() || !counted.has_value()) continue;
        if ((used->grams.value > 0 && counted->grams.value <= 0) ||
            (used->litres.value > 0 && counted->litres.value <= 0))
            said.push_back(round::speak_of_other_measure(
                item->name,
                Shown{write_shortest(*entry.value, 6, style.decimal), entry.unit}.both(),
                item->unit, style));
    }
}

} // namespace

round::Sentences before_leaving(const Session& session, const Book& book, const Visit& visit) {
    round::Sentences said;
    const Tank* tank = with_id(book.tanks, visit.tank);
    const auto day = round::read_day(visit.day);
    if (tank == nullptr || !day.has_value()) return said;
    std::vector<const Visit*> others = standing_visits(book, tank->id);
    std::erase_if(others, [&](const Visit* each) { return each->id == visit.id; });

    const Things things(book, session);
    for (const Entry& entry : visit.entries) {
        if (entry.what == What::reckoned || !entry.value.has_value()) continue;
        const std::string name = name_of(session, book, subject(entry));
        if (!say(said, out_of_range(session, entry, name)))
            say(said, round::speak_of_value(name, entry.unit,
                                            earlier_values(things, *tank, others, entry),
                                            *entry.value, session.style()));
    }

    speak_of_stock(session, book, visit, said);

    // What this visit did is due later already.
    std::vector<std::string> due;
    for (const round::DueItem& item : due_items(book, *day, usual_lead, session.style()))
        if (item.tank == tank->id && item.kind != round::Kind::visit && item.day <= *day &&
            !tells_of(things, visit, item.what))
            due.push_back(item.what);
    say(said, round::speak_of_not_done(tank->name, due, session.style()));
    say(said, round::speak_of_habits(missing_habits(session, book, things, others, visit),
                                     session.style()));
    return said;
}

} // namespace wetsleeve::record
