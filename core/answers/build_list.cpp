#include "core/answers/build_list.hpp"

#include "core/export/csv.hpp"
#include "core/export/sentence.hpp"
#include "core/lines/carbonate/cylinder.hpp"
#include "core/lines/carbonate/room.hpp"
#include "core/lines/carbonate/supply.hpp"
#include "core/lines/circulation/hose.hpp"
#include "core/lines/circulation/media.hpp"
#include "core/lines/circulation/turnover.hpp"
#include "core/lines/geometry/box.hpp"
#include "core/lines/geometry/curved_front.hpp"
#include "core/lines/geometry/cylinder.hpp"
#include "core/lines/geometry/five_sided.hpp"
#include "core/lines/geometry/half_round.hpp"
#include "core/lines/geometry/polygon.hpp"
#include "core/lines/geometry/quarter_round.hpp"
#include "core/lines/geometry/soil.hpp"
#include "core/lines/geometry/stone.hpp"
#include "core/lines/geometry/wood.hpp"
#include "core/lines/heat/chiller.hpp"
#include "core/lines/heat/heater.hpp"
#include "core/lines/light/footprint.hpp"
#include "core/lines/light/new_tank.hpp"
#include "core/lines/livestock/cups.hpp"
#include "core/lines/structure/bottom_pane.hpp"
#include "core/lines/structure/floor.hpp"
#include "core/lines/structure/side_pane.hpp"
#include "core/lines/structure/tilt.hpp"
#include "core/lines/structure/weight.hpp"
#include "core/lines/water/blend.hpp"
#include "core/lines/water/change.hpp"
#include "core/lines/water/dechlorinate.hpp"
#include "core/lines/water/net_water.hpp"
#include "core/lines/water/recipe.hpp"
#include "core/lines/water/remineralise.hpp"

#include <cmath>
#include <initializer_list>
#include <type_traits>

namespace wetsleeve::record {

namespace {

constexpr const char* refill_key = slot_id<water::Change, &water::Change::Out::refill>;
constexpr const char* glass_mass = slot_id<geometry::Box, &geometry::Box::Out::glass_mass>;

struct Place {
    const char* line;
    bool offered = true; // missing from the slip, it is worth a word
};

// Common practice, no source: first what must stand before it is full, last what lives in it.
constexpr Place places[] = {
    {geometry::Box::about.id},
    {geometry::BowFront::about.id, false},
    {geometry::Cylinder::about.id, false},
    {geometry::FiveSided::about.id, false},
    {geometry::HalfRound::about.id, false},
    {geometry::Polygon::about.id, false},
    {geometry::QuarterRound::about.id, false},
    {structure::SidePane::about.id},
    {structure::BottomPane::about.id},
    {geometry::Soil::about.id},
    {geometry::Stone::about.id},
    {geometry::Wood::about.id},
    {water::NetWater::about.id},
    {structure::Weight::about.id},
    {structure::Floor::about.id},
    {structure::Tilt::about.id},
    {circulation::HoseFlow::about.id},
    {circulation::Media::about.id},
    {circulation::Turnover::about.id},
    {heat::Heater::about.id},
    {heat::Chiller::about.id, false},
    {light::Footprint::about.id},
    {light::NewTank::about.id},
    {carbonate::Supply::about.id},
    {carbonate::Cylinder::about.id},
    {carbonate::Room::about.id},
    {water::Blend::about.id},
    {water::Recipe::about.id, false},
    {water::Remineralise::about.id},
    {water::Dechlorinate::about.id, false},
    {livestock::Cups::about.id},
};

// The tank filled at once: a change of all of its water. The slip is a copy, so nothing in it is
// locked; and nothing here is refused, since all of it is in range.
Session first_fill(const Session& session) {
    Session filled = session;
    const Line* change = nullptr;
    for (const Line* line : filled.catalogue())
        if (std::string_view(line->about.id) == water::Change::about.id) change = line;
    if (change == nullptr || !filled.restore(session.entered(), {}, {})) return session;
    (void)filled.choose(*change, true);
    const auto refill = [&] { return filled.slip().find_cell(refill_key); };
    (void)filled.enter_value(filled.slip().find_line(change->about.id),
                             change->find(slot_id<water::Change, &water::Change::In::share>), 100);
    if (std::isfinite(filled.outcome().value[refill()])) return filled;
    // The change cannot tell how far the level falls, but net water may be known.
    const std::size_t net =
        filled.slip().find_cell(slot_key<water::Change, &water::Change::In::net_water>);
    const double net_l = filled.outcome().value[net];
    (void)filled.choose(*change, false);
    if (refill() == Slip::none || !std::isfinite(net_l)) return filled;
    const std::size_t reader = filled.slip().cells()[refill()].home;
    (void)filled.enter_value(reader, filled.slip().line(reader).find(refill_key), net_l);
    return filled;
}

struct One {};
constexpr One one;

class Builder {
  public:
    explicit Builder(const Session& session) : entered_(session), filled_(first_fill(session)) {}

    BuildList list{};

    void steps() {
        for (const Place& place : places) step(place);
    }
    void wares();

  private:
    const Session& entered_;
    const Session filled_;

    const char* say(const char* english) const { return entered_.say(english); }
    // The line on the slip, if it is in sight there.
    std::size_t find(std::string_view id) const {
        const std::size_t l = filled_.slip().find_line(id);
        return l != Slip::none && entered_.in_sight(filled_.slip().line(l)) ? l : Slip::none;
    }
    void step(const Place& place);
    bool crowded_out(const Line& line) const;
    void get(const char* line, const char* what, const char* amount,
             std::initializer_list<const char*> details = {});
    void own_salts();
    // An amount of a line, or one of it, with what else of the line tells which.
    template <class L, auto Amount, auto... Details> void get(const char* what) {
        if constexpr (std::is_same_v<std::remove_const_t<decltype(Amount)>, One>)
            get(L::about.id, what, nullptr, {slot_id<L, Details>...});
        else get(L::about.id, what, slot_id<L, Amount>, {slot_id<L, Details>...});
    }
    template <class L, auto Slot> std::size_t choice() const { // 0 when the line is not there
        return choice(L::about.id, slot_id<L, Slot>);
    }
    template <class L, auto Slot> const char* phrase() const {
        return phrase(L::about.id, slot_id<L, Slot>);
    }
    std::size_t choice(const char* line, const char* slot) const;
    const char* phrase(const char* line, const char* slot) const;
    std::string format(std::size_t line, std::size_t slot, const SlotView& view) const;
    std::string sizes(const char* line) const;
};

// Another line on the slip stands in its place.
bool Builder::crowded_out(const Line& line) const {
    const Slip& slip = filled_.slip();
    for (std::size_t l = 0; l < slip.size(); ++l)
        if (Slip::rivals(slip.line(l), line)) return true;
    return std::string_view(line.about.id) == water::Remineralise::about.id &&
           slip.find_line(water::Recipe::about.id) != Slip::none;
}

void Builder::step(const Place& place) {
    const std::size_t l = find(place.line);
    if (l == Slip::none) {
        if (!place.offered) return;
        for (const Line* line : filled_.catalogue())
            if (std::string_view(line->about.id) == place.line && !filled_.on_slip(*line) &&
                !crowded_out(*line))
                list.steps.push_back({.line = place.line,
                                      .title = say(line->about.title),
                                      .sentence = "",
                                      .trouble = ""});
        return;
    }
    const Line& line = filled_.slip().line(l);
    const LineView view = filled_.view(l);
    BuildStep made{.line = place.line,
                   .title = say(line.about.title),
                   .standing = view.standing == Slip::Standing::done ? BuildStep::Standing::done
                               : view.standing == Slip::Standing::waiting
                                   ? BuildStep::Standing::waiting
                                   : BuildStep::Standing::stuck,
                   .sentence = "",
                   .trouble = view.trouble};
    if (made.standing == BuildStep::Standing::done) made.sentence = sentence_in_words(filled_, l);
    if (made.standing == BuildStep::Standing::waiting)
        for (const Piece& piece : view.pieces)
            if (piece.slot != Line::npos && view.slots[piece.slot].role == Role::given &&
                view.slots[piece.slot].shown.number.empty())
                made.blank.emplace_back(line.slots[piece.slot].id);
    for (const SpokenRemark& remark : view.remarks)
        if (remark.level != Level::note) made.cautions.push_back(remark);
    list.steps.push_back(std::move(made));
}

std::string Builder::format(std::size_t line, std::size_t slot, const SlotView& view) const {
    const std::string value = view.shown.both();
    return value.empty()
               ? value
               : compose(say("{0}: {1}"), {say(filled_.slip().line(line).slots[slot].name), value});
}

void add(std::string& to, const std::string& detail) {
    if (detail.empty()) return;
    if (!to.empty()) to += "; ";
    to += detail;
}

// Without `what` it goes by the line's title; without `amount` there is one of it. What there is
// none of need not be got.
void Builder::get(const char* line, const char* what, const char* amount,
                  std::initializer_list<const char*> details) {
    const std::size_t l = find(line);
    if (l == Slip::none) return;
    const LineView view = filled_.view(l);
    if (view.standing != Slip::Standing::done) return;
    Ware ware{.line = line,
              .what = what == nullptr ? say(filled_.slip().line(l).about.title) : what,
              .amount = 1,
              .number = "1",
              .unit = "",
              .details = ""};
    if (amount != nullptr) {
        const std::size_t s = filled_.slip().line(l).find(amount);
        const Shown& shown = view.slots[s].shown;
        std::string_view text = ware.number = shown.number;
        std::string problem;
        if (!read_number(text, filled_.style(), ware.amount, problem) || !(ware.amount > 0)) return;
        ware.unit = shown.unit.empty() ? say(filled_.slip().line(l).slots[s].name) : shown.unit;
    }
    if (details.size() == 0) ware.details = sizes(line);
    for (const char* id : details) {
        const std::size_t s = filled_.slip().line(l).find(id);
        add(ware.details,
            std::string_view(id) == refill_key
                ? compose(say("for the first fill of {0}"), {view.slots[s].shown.both()})
                : format(l, s, view.slots[s]));
    }
    list.wares.push_back(std::move(ware));
}

// What the line is told before it says how much.
std::string Builder::sizes(const char* line) const {
    const std::size_t l = find(line);
    const LineView view = filled_.view(l);
    std::string text;
    for (const Piece& piece : view.pieces)
        if (!piece.quiet && piece.slot != Line::npos &&
            !filled_.slip().line(l).slots[piece.slot].answer)
            add(text, format(l, piece.slot, view.slots[piece.slot]));
    return text;
}

void Builder::wares() {
    for (const Place& place : places) // the tank itself
        if (const std::size_t l = find(place.line); l != Slip::none)
            for (const Slot& slot : filled_.slip().line(l).answer_slots())
                if (std::string_view(slot.id) == glass_mass) get(place.line, nullptr, nullptr);
    using circulation::HoseFlow, circulation::Media, geometry::Soil, geometry::Stone,
        geometry::Wood, heat::Chiller, heat::Heater, light::Footprint, livestock::Cups,
        water::Blend, water::Dechlorinate, water::Remineralise;
    get<structure::SidePane, one>(nullptr);
    get<structure::BottomPane, one>(nullptr);
    get<Soil, &Soil::Out::bags, &Soil::In::bag, &Soil::Out::soil_bulk>(nullptr);
    get<Stone, &Stone::In::stone_mass, &Stone::In::density>(nullptr);
    get<Wood, &Wood::In::mass, &Wood::In::density>(nullptr);
    get<HoseFlow, &HoseFlow::In::hose_length, &HoseFlow::In::hose_bore>(say("Hose"));
    get<HoseFlow, one, &HoseFlow::In::pump_flow, &HoseFlow::In::pump_head>(say("Filter pump"));
    get<Media, &Media::Out::media, &Media::Out::mass>(nullptr);
    get<Heater, &Heater::Out::watts, &Heater::In::water_temperature>(nullptr);
    get<Chiller, &Chiller::Out::moves, &Chiller::In::chilled>(nullptr);
    get<Footprint, &Footprint::In::lamp_power, &Footprint::In::efficacy,
        &Footprint::Out::at_plants>(say("Lamp"));
    get<carbonate::Cylinder, &carbonate::Cylinder::In::co2_filling,
        &carbonate::Cylinder::Out::lasts>(nullptr);
    get<Blend, &Blend::Out::ro, &Blend::In::refill, &Blend::In::ro_tds>(
        sentence(say("RO water"), {}).c_str());
    own_salts();
    get<Remineralise, &Remineralise::Out::grams, &Remineralise::In::refill>(say("Mineral salt"));
    get<Dechlorinate, &Dechlorinate::Out::grams, &Dechlorinate::In::refill>(
        phrase<Dechlorinate, &Dechlorinate::In::with>());
    get<Cups, &Cups::Out::cups, &Cups::Out::portions, &Cups::In::spacing>(say("Plants"));
}

// By the names that the salts have in every line, for each of this one's three sentences.
void Builder::own_salts() {
    using water::Recipe;
    constexpr const char* calcium[] = {"calcium sulfate dihydrate (gypsum)",
                                       "calcium chloride dihydrate", "calcium chloride dihydrate"};
    constexpr const char* magnesium[] = {"magnesium sulfate heptahydrate (Epsom salt)",
                                         "magnesium chloride hexahydrate",
                                         "magnesium sulfate heptahydrate (Epsom salt)"};
    constexpr const char* potassium[] = {"potassium sulfate", "potassium chloride",
                                         "potassium sulfate"};
    const std::size_t with = choice<Recipe, &Recipe::In::with>();
    get<Recipe, &Recipe::Out::ca_salt, &Recipe::In::refill>(say(calcium[with]));
    get<Recipe, &Recipe::Out::mg_salt, &Recipe::In::refill>(say(magnesium[with]));
    get<Recipe, &Recipe::Out::kh_salt, &Recipe::In::refill>(phrase<Recipe, &Recipe::In::kh_with>());
    get<Recipe, &Recipe::Out::k_salt, &Recipe::In::refill>(say(potassium[with]));
}

std::size_t Builder::choice(const char* line, const char* slot) const {
    const std::size_t l = find(line);
    if (l == Slip::none) return 0;
    const Slip& slip = filled_.slip();
    return static_cast<std::size_t>(filled_.outcome().value[slip.cell(l, slip.line(l).find(slot))]);
}

const char* Builder::phrase(const char* line, const char* slot) const {
    const std::size_t l = find(line);
    if (l == Slip::none) return "";
    const Line& on = filled_.slip().line(l);
    return say(on.slots[on.find(slot)].options.begin()[choice(line, slot)]);
}

std::string heading(const Session& session, Level level) {
    return level == Level::stop ? session.say("Stop") : session.say("Caution");
}

std::string amount_of(const Ware& ware) {
    return ware.unit.empty() ? ware.number : ware.number + "\u00a0" + ware.unit;
}

} // namespace

const char* word(BuildStep::Standing standing) {
    constexpr const char* words[] = {"done", "waiting", "stuck", "absent"};
    return words[static_cast<std::size_t>(standing)];
}

BuildList build_list(const Session& session) {
    Builder builder(session);
    builder.steps();
    builder.wares();
    return std::move(builder.list);
}

std::string build_text(const Session& session, const BuildList& list, std::string_view tank) {
    const auto say = [&](const char* english) { return session.say(english); };
    std::string text = std::string(tank) + "\n";
    if (!list.wares.empty()) text += std::string("\n") + say("To get") + "\n";
    for (const Ware& ware : list.wares)
        text += "- " + compose(say("{0}: {1}"), {ware.what, amount_of(ware)}) +
                (ware.details.empty() ? "" : " (" + ware.details + ")") + "\n";
    std::string blank;
    int number = 0;
    for (const BuildStep& step : list.steps) {
        if (step.standing == BuildStep::Standing::waiting ||
            step.standing == BuildStep::Standing::stuck)
            blank += "- " + compose(say("{0}: {1}"), {step.title, step.trouble}) + "\n";
        if (step.standing != BuildStep::Standing::done) continue;
        if (++number == 1) text += std::string("\n") + say("To build, in this order") + "\n";
        text += std::to_string(number) + ". " +
                compose(say("{0}: {1}"), {step.title, step.sentence}) + "\n";
        for (const SpokenRemark& remark : step.cautions)
            text += "   " +
                    compose(say("{0}: {1}"), {heading(session, remark.level), remark.text}) + "\n";
    }
    if (!blank.empty()) text += std::string("\n") + say("Still open") + "\n" + blank;
    return text;
}

std::string build_csv(const Session& session, const BuildList& list) {
    std::string out = "line,item,amount,unit,details,cautions\r\n";
    for (const Ware& ware : list.wares) {
        std::string cautions;
        for (const BuildStep& step : list.steps)
            if (step.line == ware.line)
                for (const SpokenRemark& remark : step.cautions)
                    cautions += (cautions.empty() ? "" : " ") +
                                compose(session.say("{0}: {1}"),
                                        {heading(session, remark.level), remark.text});
        out += csv_text(ware.line) + "," + csv_text(ware.what) + "," + csv_number(ware.amount) +
               "," + csv_text(ware.unit) + "," + csv_text(ware.details) + "," + csv_text(cautions) +
               "\r\n";
    }
    return out;
}

} // namespace wetsleeve::record
