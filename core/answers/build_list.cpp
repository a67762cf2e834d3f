#include "core/answers/build_list.hpp"

#include "core/export/csv.hpp"
#include "core/export/sentence.hpp"

#include <cmath>
#include <initializer_list>

namespace wetsleeve::record {

namespace {

using Standing = BuildStep::Standing;

struct Place {
    const char* line;
    bool offered = true; // missing from the slip, it is worth a word
};

// Common practice, no source: first what must stand before it is full, last what lives in it.
constexpr Place places[] = {
    {"geometry.box"},
    {"geometry.bow_front", false},
    {"geometry.cylinder", false},
    {"geometry.five_sided", false},
    {"geometry.half_round", false},
    {"geometry.polygon", false},
    {"geometry.quarter_round", false},
    {"structure.side_pane"},
    {"structure.bottom_pane"},
    {"geometry.soil"},
    {"geometry.stone"},
    {"geometry.wood"},
    {"water.net"},
    {"structure.weight"},
    {"structure.floor"},
    {"structure.tilt"},
    {"circulation.hose"},
    {"circulation.media"},
    {"circulation.turnover"},
    {"heat.heater"},
    {"heat.chiller", false},
    {"light.footprint"},
    {"light.new_tank"},
    {"carbonate.supply"},
    {"carbonate.cylinder"},
    {"carbonate.room"},
    {"water.blend"},
    {"water.recipe", false},
    {"water.remineralise"},
    {"water.dechlorinate", false},
    {"livestock.cups"},
};

// The tank filled at once: a change of all of its water. The slip is a copy, so nothing in it is
// locked; and nothing here is refused, since all of it is in range.
Session first_fill(const Session& session) {
    Session filled = session;
    const Line* change = nullptr;
    for (const Line* line : filled.catalogue())
        if (std::string_view(line->about.id) == "water.change") change = line;
    if (change == nullptr || !filled.restore(session.entered(), {}, {})) return session;
    (void)filled.choose(*change, true);
    const auto refill = [&] { return filled.slip().find_cell("refill"); };
    (void)filled.enter_value(filled.slip().find_line(change->about.id), change->find("share"), 100);
    if (std::isfinite(filled.outcome().value[refill()])) return filled;
    // The change cannot tell how far the level falls, but net water may be known.
    const std::size_t net = filled.slip().find_cell("net_water");
    const double net_l = filled.outcome().value[net];
    (void)filled.choose(*change, false);
    if (refill() == Slip::none || !std::isfinite(net_l)) return filled;
    const std::size_t reader = filled.slip().cells()[refill()].home;
    (void)filled.enter_value(reader, filled.slip().line(reader).find("refill"), net_l);
    return filled;
}

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
    std::size_t choice(const char* line, const char* slot) const; // 0 when the line is not there
    const char* phrase(const char* line, const char* slot) const;
    std::string told(std::size_t line, std::size_t slot, const SlotView& view) const;
    std::string sizes(const char* line) const;
};

// Another line on the slip stands in its place.
bool Builder::crowded_out(const Line& line) const {
    const Slip& slip = filled_.slip();
    for (std::size_t l = 0; l < slip.size(); ++l)
        if (Slip::rivals(slip.line(l), line)) return true;
    return std::string_view(line.about.id) == "water.remineralise" &&
           slip.find_line("water.recipe") != Slip::none;
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
                   .standing = view.standing == Slip::Standing::done      ? Standing::done
                               : view.standing == Slip::Standing::waiting ? Standing::waiting
                                                                          : Standing::stuck,
                   .sentence = "",
                   .trouble = view.trouble};
    if (made.standing == Standing::done) made.sentence = sentence_in_words(filled_, l);
    if (made.standing == Standing::waiting)
        for (const Piece& piece : view.pieces)
            if (piece.slot != Line::npos && view.slots[piece.slot].role == Role::given &&
                view.slots[piece.slot].shown.number.empty())
                made.blank.emplace_back(line.slots[piece.slot].id);
    for (const SpokenRemark& remark : view.remarks)
        if (remark.level != Level::note) made.cautions.push_back(remark);
    list.steps.push_back(std::move(made));
}

std::string Builder::told(std::size_t line, std::size_t slot, const SlotView& view) const {
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
            std::string_view(id) == "refill"
                ? compose(say("for the first fill of {0}"), {view.slots[s].shown.both()})
                : told(l, s, view.slots[s]));
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
            add(text, told(l, piece.slot, view.slots[piece.slot]));
    return text;
}

void Builder::wares() {
    for (const Place& place : places) // the tank itself
        if (const std::size_t l = find(place.line); l != Slip::none)
            for (const Slot& slot : filled_.slip().line(l).answer_slots())
                if (std::string_view(slot.id) == "glass_mass") get(place.line, nullptr, nullptr);
    get("structure.side_pane", nullptr, nullptr);
    get("structure.bottom_pane", nullptr, nullptr);
    get("geometry.soil", nullptr, "bags", {"bag", "soil_bulk"});
    get("geometry.stone", nullptr, "stone_mass", {"density"});
    get("geometry.wood", nullptr, "mass", {"density"});
    get("circulation.hose", say("Hose"), "hose_length", {"hose_bore"});
    get("circulation.hose", say("Filter pump"), nullptr, {"pump_flow", "pump_head"});
    get("circulation.media", nullptr, "media", {"mass"});
    get("heat.heater", nullptr, "watts", {"water_temperature"});
    get("heat.chiller", nullptr, "moves", {"chilled"});
    get("light.footprint", say("Lamp"), "lamp_power", {"efficacy", "at_plants"});
    get("carbonate.cylinder", nullptr, "co2_filling", {"lasts"});
    get("water.blend", sentence(say("RO water"), {}).c_str(), "ro", {"refill", "ro_tds"});
    own_salts();
    get("water.remineralise", say("Mineral salt"), "grams", {"refill"});
    get("water.dechlorinate", phrase("water.dechlorinate", "with"), "grams", {"refill"});
    get("livestock.cups", say("Plants"), "cups", {"portions", "spacing"});
}

// By the names that the salts have in every line, for each of this one's three sentences.
void Builder::own_salts() {
    constexpr const char* recipe = "water.recipe";
    constexpr const char* calcium[] = {"calcium sulfate dihydrate (gypsum)",
                                       "calcium chloride dihydrate", "calcium chloride dihydrate"};
    constexpr const char* magnesium[] = {"magnesium sulfate heptahydrate (Epsom salt)",
                                         "magnesium chloride hexahydrate",
                                         "magnesium sulfate heptahydrate (Epsom salt)"};
    constexpr const char* potassium[] = {"potassium sulfate", "potassium chloride",
                                         "potassium sulfate"};
    const std::size_t with = choice(recipe, "with");
    get(recipe, say(calcium[with]), "ca_salt", {"refill"});
    get(recipe, say(magnesium[with]), "mg_salt", {"refill"});
    get(recipe, phrase(recipe, "kh_with"), "kh_salt", {"refill"});
    get(recipe, say(potassium[with]), "k_salt", {"refill"});
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

const char* word(Standing standing) {
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
        if (step.standing == Standing::waiting || step.standing == Standing::stuck)
            blank += "- " + compose(say("{0}: {1}"), {step.title, step.trouble}) + "\n";
        if (step.standing != Standing::done) continue;
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
