#include "core/page/rounds_json.hpp"

#include "core/answers/day_round.hpp"
#include "core/book/fields.hpp"
#include "core/model/number.hpp"
#include "core/model/text.hpp"
#include "core/model/words.hpp"
#include "core/page/view_json.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_set>

namespace wetsleeve::record {

using json::Writer;
using round::format;

namespace {

// `like`: what tells whether it is weighed.
std::string told_of(const round::Portion& portion, const Style& style, const round::Portion& like) {
    return like.grams.value != 0 ? format(portion.grams, style) : format(portion.litres, style);
}

void flag(Writer& to, const char* name, bool value) {
    json::key(to, name);
    to.Bool(value);
}

template <class Row> void rows(Writer& to, const char* name, std::size_t count, Row&& row) {
    json::key(to, name);
    to.StartArray();
    for (std::size_t i = 0; i < count; ++i) {
        to.StartObject();
        row(i);
        to.EndObject();
    }
    to.EndArray();
}

void write_amounts(Writer& to, const char* name, const round::Amounts& amounts,
                   const Style& style) {
    json::key(to, name);
    to.StartObject();
    json::field(to, "ro", format(amounts.ro, style));
    json::field(to, "tap", format(amounts.tap, style));
    rows(to, "shelf", amounts.shelf.size(), [&](std::size_t i) {
        json::field(to, "item", amounts.shelf[i].item);
        json::field(to, "amount", told_of(amounts.shelf[i], style, amounts.shelf[i]));
    });
    to.EndObject();
}

// In what the reader writes down van and store, against what the book keeps them in.
void write_units(Writer& to, const Style& style) {
    json::key(to, "units");
    to.StartObject();
    const auto unit = [&](const char* name, const Dimension& dimension, const char* kept,
                          const Habit& habit) {
        const Unit& own = habitual_unit(dimension, habit, style.system);
        const Unit& book = *dimension.find(kept);
        json::key(to, name);
        to.StartObject();
        json::field(to, "symbol", own.symbol);
        json::field(to, "factor", own.factor / book.factor);
        json::field(to, "offset", (own.offset - book.offset) / book.factor);
        to.EndObject();
    };
    unit("mass", dimension::mass, "kg", {"kg", "lb", "kg"});
    unit("volume", dimension::volume, "L", {});
    unit("temperature", dimension::temperature, "°C", {});
    to.EndObject();
}

bool differ(const round::Amounts& one, const round::Amounts& other) {
    constexpr double drop = 1e-6;
    const auto sum = [](const round::Amounts& amounts, const std::string& item) {
        double all = 0;
        for (const round::Portion& portion : amounts.shelf)
            if (portion.item == item) all += portion.grams.value + portion.litres.value;
        return all;
    };
    const auto apart = [&](const std::vector<round::Portion>& portions) {
        return std::any_of(portions.begin(), portions.end(), [&](const round::Portion& portion) {
            return std::fabs(sum(one, portion.item) - sum(other, portion.item)) > drop;
        });
    };
    return std::fabs(one.ro.value - other.ro.value) > drop ||
           std::fabs(one.tap.value - other.tap.value) > drop || apart(one.shelf) ||
           apart(other.shelf);
}

void write_stops(Writer& to, const Book& book, const DayRound& day,
                 const std::vector<std::size_t>& leave_out, const Style& style) {
    const std::string on = book.round.has_value() ? book.round->today.day : "";
    rows(to, "stops", day.stops.size(), [&](std::size_t s) {
        const round::Stop& stop = day.in.stops[s];
        const bool left_out = std::find(leave_out.begin(), leave_out.end(), s) != leave_out.end();
        json::field(to, "tank", day.stops[s]->tank);
        if (const auto today = round::read_day(on); stop.due.has_value() && today.has_value()) {
            json::field(to, "due", round::write_day(*stop.due));
            json::field(to, "when", round::when(*today, *stop.due, style));
        }
        json::field(to, "standing",
                    stop.done.has_value() ? "done"
                    : left_out            ? "leave out"
                                          : "to come");
        write_amounts(to, "needs", stop.needs, style);
        if (stop.done.has_value()) {
            write_amounts(to, "used", stop.done->used, style);
            flag(to, "differs", differ(stop.needs, stop.done->used));
        }
        json::field(to, "minutes",
                    format(stop.done.has_value() ? stop.done->took : stop.work, style));
        json::key(to, "entries");
        to.StartArray();
        for (const Entry& entry : entries_of(book, stop.needs)) write(to, entry);
        to.EndArray();
    });
}

void write_loads(Writer& to, const DayRound& day, const round::Plan& plan, const Style& style) {
    const round::RoundIn& in = day.in;
    rows(to, "loads", plan.loads.size(), [&](std::size_t l) {
        const round::Load& load = plan.loads[l];
        json::field(to, "litres", format(load.litres, style));
        json::field(to, "at",
                    write_clock(std::fmod(in.leave.value + load.at.value, minutes_per_day)));
        if (load.stop < day.stops.size()) json::field(to, "tank", day.stops[load.stop]->tank);
        rows(to, "vessels", load.vessels.size(), [&](std::size_t v) {
            const round::Filled& filled = load.vessels[v];
            const round::Vessel& vessel = in.van.vessels[filled.vessel];
            json::field(to, "name", vessel.name);
            json::key(to, "count");
            to.Int(filled.count);
            json::field(to, "each", format(filled.each, style));
            json::field(to, "weighs",
                        format(round::filled_mass(vessel, filled.each, in.water), style));
            flag(to, "lifted", vessel.lifted);
        });
    });
}

void write_plan(Writer& to, const DayRound& day, const round::Plan& plan, const Style& style) {
    const auto missing = [](const round::ShelfSum& sum) {
        constexpr double drop = 1e-9;
        return sum.left.has_value() &&
               (sum.left->grams.value < -drop || sum.left->litres.value < -drop);
    };
    rows(to, "shelf", plan.shelf.size(), [&](std::size_t i) {
        const round::ShelfSum& sum = plan.shelf[i];
        const round::Portion& like = sum.needed.grams.value != 0 ? sum.needed : sum.used;
        json::field(to, "item", sum.item);
        json::field(to, "needed", told_of(sum.needed, style, like));
        json::field(to, "rest", told_of(sum.rest, style, like));
        json::field(to, "left", sum.left.has_value() ? told_of(*sum.left, style, like) : "");
        flag(to, "missing", missing(sum));
    });
    json::key(to, "said");
    to.StartArray();
    for (const round::Sentence& sentence : speak(day.in, plan, style)) {
        to.StartObject();
        json::field(to, "level", word(sentence.level));
        json::field(to, "text", sentence.text);
        to.EndObject();
    }
    to.EndArray();
    write_loads(to, day, plan, style);
    json::key(to, "van");
    to.StartObject();
    json::field(to, "carries", format(plan.at_departure, style));
    json::field(to, "payload", format(day.in.van.payload, style));
    json::field(to, "spare", format(plan.spare, style));
    to.EndObject();
    json::key(to, "lift");
    to.StartObject();
    json::field(to, "heaviest", format(plan.heaviest_lift, style));
    json::field(to, "most", format(day.in.lift.most, style));
    json::field(to, "standard", day.in.lift.standard);
    to.EndObject();
    json::field(to, "minutes", format(plan.minutes, style));
    json::key(to, "store");
    to.StartObject();
    json::field(to, "morning", format(plan.morning, style));
    json::field(to, "left", format(plan.left, style));
    const bool fills = plan.full_after.has_value();
    json::field(to, "full_at", fills ? write_clock(plan.full_at.value) : "");
    json::field(to, "full_after", fills ? format(*plan.full_after, style) : "");
    to.EndObject();
    json::key(to, "leave_out");
    to.StartArray();
    for (const std::size_t s : plan.leave_out) json::text(to, day.stops[s]->tank);
    to.EndArray();
}

} // namespace

std::string round_json(const Book& book, std::span<const Line* const> lines, const Style& style) {
    const DayRound day = day_round(book, lines, style);
    std::string trouble = not_ready(book, day, style);
    std::optional<round::Plan> plan;
    if (trouble.empty()) {
        const auto planned = round::plan_round(day.in);
        if (planned) plan = *planned;
        else trouble = style.say(planned.why());
    }
    round::Amounts needed;
    round::Amounts rest;
    Minutes water{};
    for (const round::Stop& stop : day.in.stops)
        for (round::Amounts* sum : {&needed, &rest}) {
            if (sum == &rest && stop.done.has_value()) continue;
            sum->ro.value += stop.needs.ro.value;
            sum->tap.value += stop.needs.tap.value;
            if (sum == &rest) water.value += drain_and_fill(stop.needs, book.round->usual).value;
        }

    return json::written([&](Writer& to) {
        to.StartObject();
        json::field(to, "trouble", trouble);
        write_stops(to, book, day, plan.has_value() ? plan->leave_out : std::vector<std::size_t>(),
                    style);
        write_amounts(to, "needed", needed, style);
        write_amounts(to, "rest", rest, style);
        write_units(to, style);
        json::field(to, "water_time", water.value > 0 ? format(water, style) : "");
        flag(to, "begun", book.round.has_value() && book.round->today.store_l.has_value());
        if (plan.has_value()) write_plan(to, day, *plan, style);
        to.EndObject();
    });
}

std::string due_tanks_json(const Book& book, std::string_view day, int days_after,
                           const Style& style) {
    return json::written([&](Writer& to) {
        to.StartArray();
        if (const auto today = round::read_day(day); today.has_value()) {
            std::unordered_set<std::string> seen;
            for (const round::DueItem& item : due_items(book, *today, {}, style)) {
                if (item.tank.empty() || item.day > *today + std::chrono::days{days_after} ||
                    !seen.insert(item.tank).second)
                    continue;
                to.StartObject();
                json::field(to, "tank", item.tank);
                json::field(to, "day", round::write_day(item.day));
                json::field(to, "when", round::when(*today, item.day, style));
                json::field(to, "what", item.what);
                to.EndObject();
            }
        }
        to.EndArray();
    });
}

std::string begun_json(const Book& book, std::span<const Line* const> lines, const Style& style) {
    return json::written([&](Writer& to) { write(to, begin_round(book, lines, style)); });
}

std::string left_json(const Book& book, const Visit& visit, std::span<const Line* const> lines,
                      const Style& style) {
    const std::optional<Rounds> left = left_for(book, visit, lines, style);
    if (!left.has_value()) return "null";
    return json::written([&](Writer& to) { write(to, *left); });
}

} // namespace wetsleeve::record
