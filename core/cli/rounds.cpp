#include "core/cli/rounds.hpp"

#include "core/answers/build_list.hpp"
#include "core/answers/day_round.hpp"
#include "core/answers/histories.hpp"
#include "core/answers/rounds.hpp"
#include "core/book/slip_json.hpp"
#include "core/model/number.hpp"
#include "core/registry.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::cli {

using namespace record;

namespace {

struct Known {
    std::string_view command;
    std::vector<std::string_view> options;
};
const std::vector<Known>& known() {
    static const std::vector<Known> all{
        {"round", {"--stops",    "--day",
                   "--done",     "--loaded",
                   "--vessel",   "--payload",
                   "--gear",     "--lift",
                   "--standard", "--stored",
                   "--capacity", "--output",
                   "--rated-at", "--feed-temperature",
                   "--until",    "--leave",
                   "--back",     "--travel",
                   "--work",     "--day-length"}},
        {"history", {"--adds", "--fresh", "--net-water", "--since", "--band", "--dose"}},
        {"due", {"--day", "--lead", "--ical", "--now"}},
        {"build", {"--csv"}}};
    return all;
}

std::vector<std::string> split(const std::string& text, char at) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t end = std::min(text.find(at, from), text.size());
        parts.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return parts;
}

// Reads options into numbers; the first that cannot be is the problem.
class Taker {
  public:
    explicit Taker(const Options& options) : options_(options) {}

    std::string problem;

    const std::string* text(std::string_view name) const {
        const auto found = std::find_if(options_.rbegin(), options_.rend(),
                                        [&](const auto& each) { return each.first == name; });
        return found == options_.rend() ? nullptr : &found->second;
    }
    template <const Dimension& D>
    bool take(std::string_view name, const char* unit, Amount<D>& to) {
        const std::string* typed = text(name);
        return typed != nullptr && read(name, *typed, unit, to);
    }
    template <const Dimension& D>
    bool read(std::string_view name, std::string_view typed, const char* unit, Amount<D>& to) {
        const Typed value = read_quantity(typed, D, *D.find(unit), {});
        std::string why = value.problem;
        // Of all that a round and a history ask for only degrees can be less than nothing.
        if (why.empty() && value.value < 0 && &D != &dimension::temperature)
            why = "this cannot be less than nothing.";
        if (why.empty()) to.value = value.value;
        else complain(name, why);
        return why.empty();
    }
    std::optional<round::Day> day(std::string_view name, std::string_view otherwise) {
        const std::string* typed = text(name);
        const auto day = round::read_day(typed == nullptr ? otherwise : std::string_view(*typed));
        if (!day.has_value() && (typed != nullptr || !otherwise.empty()))
            complain(name, "a day is written like 2026-05-04, from 1900 to 2999.");
        return day;
    }
    void complain(std::string_view name, const std::string& what) {
        if (problem.empty()) problem = compose("{0}: {1}", {std::string(name), what});
    }

  private:
    const Options& options_;
};

constexpr const char* heads[] = {"Note: ", "Caution: ", "Stop: "};

std::string in_words(const round::Sentences& said) {
    std::string text;
    for (const round::Sentence& sentence : said)
        text += "  " + std::string(heads[static_cast<std::size_t>(sentence.level)]) +
                sentence.text + "\n";
    return text;
}

// "6x25L/1.3kg" or "1x200L/9kg/fixed"
bool read_vessel(Taker& take, const std::string& typed, round::Vessel& vessel) {
    const std::vector<std::string> parts = split(typed, '/');
    const std::size_t times = parts[0].find('x');
    std::string_view count = std::string_view(parts[0]).substr(0, std::min(times, typed.size()));
    double number = 0;
    std::string problem;
    const bool plain = times != std::string::npos && parts.size() <= 3 &&
                       (parts.size() < 3 || parts[2] == "fixed") &&
                       read_number(count, {}, number, problem) && count.empty() && number >= 0 &&
                       number <= 1000 && number == std::floor(number);
    if (!plain) {
        take.complain("--vessel",
                      compose("“{0}” is no vessel: write it like 6x25L/1.3kg, or 1x200L/9kg/fixed.",
                              {typed}));
        return false;
    }
    vessel.count = static_cast<int>(number);
    vessel.lifted = parts.size() < 3;
    if (!take.read("--vessel", parts[0].substr(times + 1), "L", vessel.holds)) return false;
    if (parts.size() > 1 && !take.read("--vessel", parts[1], "kg", vessel.empty)) return false;
    vessel.name = "vessel of " + round::format(vessel.holds, {});
    return true;
}

std::string needs_told(const round::Amounts& needs) {
    std::string text = "RO " + round::format(needs.ro, {});
    if (needs.tap.value > 0) text += ", tap " + round::format(needs.tap, {});
    for (const round::Portion& portion : needs.shelf)
        text += ", " + portion.item + " " +
                (portion.grams.value > 0 ? round::format(portion.grams, {})
                                         : round::format(portion.litres, {}));
    return text;
}

// --done t1=52L: RO water that was really used; what was dosed is taken to be as planned.
void mark_done(Taker& take, const std::string& typed, const std::vector<std::string>& ids,
               round::RoundIn& in) {
    const std::size_t equals = typed.find('=');
    const auto id = std::find(ids.begin(), ids.end(), typed.substr(0, equals));
    if (equals == std::string::npos || id == ids.end())
        return take.complain(
            "--done",
            compose("“{0}” is no stop with its litres: write it like t1=52L, one of --stops.",
                    {typed}));
    round::Stop& stop = in.stops[static_cast<std::size_t>(id - ids.begin())];
    round::Stop::Done done{.used = stop.needs, .took = stop.work};
    if (take.read("--done", typed.substr(equals + 1), "L", done.used.ro)) stop.done = done;
}

// Over what the book has of them.
void take_van_and_store(Taker& take, const Options& options, round::RoundIn& in) {
    if (take.text("--vessel") != nullptr) in.van.vessels.clear();
    for (const auto& [name, typed] : options)
        if (round::Vessel vessel; name == "--vessel" && read_vessel(take, typed, vessel))
            in.van.vessels.push_back(vessel);
    take.take("--payload", "kg", in.van.payload);
    take.take("--gear", "kg", in.van.gear);
    if (take.take("--lift", "kg", in.lift.most)) in.lift.standard = "own limit";
    if (const std::string* standard = take.text("--standard"); standard != nullptr)
        in.lift.standard = *standard;
    if (take.take("--stored", "L", in.store.holds)) in.store.capacity = in.store.holds;
    take.take("--capacity", "L", in.store.capacity);
    take.take("--output", "L/h", in.store.rated_output);
    take.take("--rated-at", "°C", in.store.rated_at);
    take.take("--feed-temperature", "°C", in.store.feed);
    take.take("--until", "h", in.until);
    take.take("--back", "min", in.back_and_fill);
    if (const std::string* leave = take.text("--leave"); leave != nullptr) {
        const Typed clock = read_clock(*leave, {});
        if (clock.problem.empty()) in.leave = {clock.value};
        else take.complain("--leave", clock.problem);
    }
    if (Minutes length{}; take.take("--day-length", "h", length)) in.day_length = length;
    if (Litres loaded{}; take.take("--loaded", "L", loaded)) in.loaded = loaded;
}

} // namespace

bool knows_option(std::string_view command, std::string_view option) {
    return std::any_of(known().begin(), known().end(), [&](const Known& each) {
        return each.command == command &&
               std::find(each.options.begin(), each.options.end(), option) != each.options.end();
    });
}
bool takes_value(std::string_view option) { return option != "--ical" && option != "--csv"; }

Said round_of(std::string_view text, const Options& options, std::string_view today) {
    Book book;
    if (std::string problem = read_own_book(text, book); !problem.empty()) return {"", problem};
    Taker take(options);
    const auto day = take.day("--day", today);
    if (!take.problem.empty()) return {"", take.problem};
    Rounds& kept = book.round ? *book.round : book.round.emplace();
    if (const std::string* listed = take.text("--stops"); listed != nullptr) {
        kept.today = {};
        for (const std::string& id : split(*listed, ',')) kept.today.stops.push_back({.tank = id});
    }
    kept.today.day = round::write_day(*day);
    std::vector<std::string> ids;
    for (const PlannedStop& stop : kept.today.stops) {
        ids.push_back(stop.tank);
        if (std::none_of(book.tanks.begin(), book.tanks.end(),
                         [&](const Tank& tank) { return tank.id == stop.tank; }))
            return {"", compose("There is no tank “{0}” in the book.", {stop.tank})};
    }
    if (ids.empty())
        return {"", "round needs --stops: the ids of tanks in the order to drive, like t1,t2."};
    const auto lacks = [&](const char* option, bool there) {
        return !there && take.text(option) == nullptr;
    };
    if (lacks("--vessel", !kept.van.vessels.empty()) ||
        lacks("--payload", kept.van.payload_kg.has_value()) ||
        lacks("--stored", kept.store.holds_l.has_value()))
        return {"", "round needs --vessel, --payload and --stored: see wetsleeve round --help."};
    for (const auto& [option, minutes] :
         {std::pair{"--travel", &kept.usual.travel_min}, std::pair{"--work", &kept.usual.work_min}})
        if (Minutes typed{}; take.take(option, "min", typed)) *minutes = typed.value;

    round::RoundIn in = day_round(book, all_lines(), {}).in;
    take_van_and_store(take, options, in);
    for (const auto& [name, typed] : options)
        if (name == "--done") mark_done(take, typed, ids, in);
    if (!take.problem.empty()) return {"", take.problem};
    const auto plan = plan_round(in);
    if (!plan) return {"", plan.why()};

    std::string out = compose("Round of {0}, {1} stops:\n",
                              {round::write_day(*day), std::to_string(in.stops.size())});
    for (const round::Stop& stop : in.stops) {
        out += compose("  {0}: {1}", {stop.tank, needs_told(stop.needs)});
        if (stop.due.has_value()) out += "; due " + round::when(*day, *stop.due, {});
        if (stop.done.has_value())
            out += compose("; done with RO {0}", {round::format(stop.done->used.ro, {})});
        out += "\n";
    }
    out += compose("In all: RO {0}, tap {1}.\n",
                   {round::format(plan->needed.ro, {}), round::format(plan->needed.tap, {})});
    return {out + in_words(speak(in, *plan, {})), ""};
}

Said history_of(std::string_view text, const std::string& tank, const std::string& quantity,
                const Options& options) {
    Book book;
    if (std::string problem = read_own_book(text, book); !problem.empty()) return {"", problem};
    Taker take(options);
    HistoryAsked asked{.tank = tank, .quantity = quantity};
    if (MilligramsPerLitre fresh{}; take.take("--fresh", "mg/L", fresh)) asked.fresh = fresh;
    if (Litres net{}; take.take("--net-water", "L", net)) {
        if (net.value <= 0) take.complain("--net-water", "a tank holds more than nothing.");
        asked.net_water = net;
    }
    asked.since = take.day("--since", "");
    for (const auto& [name, typed] : options) {
        if (name != "--adds") continue;
        const std::size_t equals = typed.rfind('=');
        MilligramsPerLitre rise{};
        if (equals == std::string::npos || equals == 0)
            take.complain(
                name,
                compose(
                    "“{0}” does not tell what a millilitre or gram adds: write it like b1=0.05.",
                    {typed}));
        else if (const std::string id = typed.substr(0, equals); with_id(book.shelf, id) == nullptr)
            take.complain(name, compose("there is no “{0}” on the shelf.", {id}));
        else if (take.read(name, typed.substr(equals + 1), "mg/L", rise))
            asked.adds.emplace_back(id, rise);
    }
    if (const std::string* typed = take.text("--band"); typed != nullptr) {
        const std::vector<std::string> ends = split(*typed, ',');
        auto& band = asked.band.emplace();
        if (ends.size() != 2) take.complain("--band", "a band has two ends, like 5,20.");
        else if (take.read("--band", ends[0], "mg/L", band.low) &&
                 take.read("--band", ends[1], "mg/L", band.high) &&
                 band.low.value >= band.high.value)
            take.complain("--band", "the lower end comes first, and the other is higher.");
    }
    if (MilligramsPerLitreDay dose{}; take.take("--dose", "mg/L/d", dose)) asked.dose = dose;
    if (!take.problem.empty()) return {"", take.problem};
    asked.lines = all_lines();
    const HistoryAnswer told = tell_history(book, asked, quantity, {});
    if (told.found.lacks_net_water) return {"", told.trouble + " Or give it with --net-water."};
    return {told.trouble.empty() ? in_words(told.said) : "", told.trouble};
}

Said build_of(std::string_view text, const std::string& tank, const Options& options) {
    Book book;
    if (std::string problem = read_own_book(text, book); !problem.empty()) return {"", problem};
    const Tank* found = with_id(book.tanks, tank);
    if (found == nullptr) return {"", compose("There is no tank “{0}” in the book.", {tank})};
    Session session(all_lines(), everyday_lines());
    if (!found->slip.empty())
        if (std::string problem = load_json(session, found->slip); !problem.empty())
            return {"", problem};
    const BuildList list = build_list(session);
    const bool csv = Taker(options).text("--csv") != nullptr;
    return {csv ? build_csv(session, list) : build_text(session, list, found->name), ""};
}

Said due_of(std::string_view text, const Options& options, std::string_view today,
            std::string_view now) {
    Book book;
    if (std::string problem = read_own_book(text, book); !problem.empty()) return {"", problem};
    Taker take(options);
    const auto day = take.day("--day", today);
    Minutes lead{static_cast<double>(usual_lead.count()) * minutes_per_day};
    take.take("--lead", "d", lead);
    if (!(lead.value >= 0 && lead.value <= 3660 * minutes_per_day))
        take.complain("--lead", "the time for a new bottle to come is 0 to 3,660 days.");
    if (!take.problem.empty()) return {"", take.problem};
    const std::chrono::days lead_days{static_cast<int>(lead.value / minutes_per_day)};
    if (take.text("--ical") != nullptr) {
        const std::string* stamp = take.text("--now");
        Said said;
        said.problem =
            due_calendar(std::move(book), *day, lead_days,
                         stamp == nullptr ? now : std::string_view(*stamp), {}, said.text);
        return said;
    }
    std::string out;
    for (const round::DueItem& item : due_items(book, *day, lead_days, {})) {
        const Tank* tank = with_id(book.tanks, item.tank);
        out += compose("{0} ({1}): {2}{3}. {4}\n",
                       {round::write_day(item.day), round::when(*day, item.day, {}),
                        tank == nullptr ? "" : tank->name + ": ", item.what, item.why});
    }
    return {out.empty() ? "Nothing is due.\n" : out, ""};
}

} // namespace wetsleeve::cli
