#include "core/link/meeting.hpp"

#include "core/book/fields.hpp"
#include "core/book/slip_json.hpp"
#include "core/book/tables.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace wetsleeve::record {

namespace {

// The lines of a slip and what was typed into them, on a session of its own; of a tank without a
// slip, or with one that cannot be read, nothing.
class Typed {
  public:
    Typed(const Tank& tank, std::span<const Line* const> catalogue, const Style& style)
        : session_(catalogue, {}) {
        session_.set_style(style);
        if (!tank.slip.empty()) (void)load_json(session_, tank.slip);
    }

    const Slip& slip() const { return session_.slip(); }
    bool locked() const { return session_.terms().locked; }
    // Of one cell by its key.
    std::optional<double> value(std::string_view key) const {
        const std::size_t c = slip().find_cell(key);
        return c == Slip::none ? std::nullopt : entered_value(session_.entered(), c);
    }
    // The unit in which the cell is read here, if it is on the slip.
    const Unit* unit(std::string_view key) const {
        const std::size_t c = slip().find_cell(key);
        return c == Slip::none ? nullptr : session_.entered().unit[c];
    }

  private:
    Session session_;
};

void compare_texts(const Tank& handed, const Tank& ours, const Style& style,
                   std::vector<std::string>& differs) {
    each_field<Tank>([&](const auto& field) {
        if constexpr (std::is_same_v<std::decay_t<decltype(field.kind)>, kind::Text>) {
            const std::string& there = handed.*field.at;
            const std::string& here = ours.*field.at;
            // One's own words are nobody's to take away, and a tank may have a name of one's own.
            if (field.link < 0 || there == here || (field.own && there.empty()) ||
                std::string_view(field.name) == "name")
                return;
            const char* label = field.asked.label != nullptr ? field.asked.label : field.kind.what;
            const char* const sentence = there.empty()  ? style.say("{0}: only here")
                                         : here.empty() ? style.say("{0}: only in the link")
                                                        : style.say("{0}: another text");
            differs.push_back(compose(sentence, {style.say(label)}));
        }
    });
}

void compare_lines(const Slip& slip, const Slip& other, const char* sentence, const Style& style,
                   std::vector<std::string>& differs) {
    for (std::size_t l = 0; l < slip.size(); ++l)
        if (const About& about = slip.line(l).about; other.find_line(about.id) == Slip::none)
            differs.push_back(compose(sentence, {style.say(about.title)}));
}

void compare_numbers(const Typed& handed, const Typed& ours, const Style& style,
                     std::vector<std::string>& differs) {
    std::set<std::string, std::less<>> told;
    for (const Typed* typed : {&handed, &ours}) {
        const Slip& slip = typed->slip();
        for (std::size_t c = 0; c < slip.cells().size(); ++c) {
            const std::string key = slip.key(c);
            const std::optional<double> here = ours.value(key);
            const std::optional<double> there = handed.value(key);
            if (here == there || !told.insert(key).second) continue;
            const Slip::Cell& cell = slip.cells()[c];
            const Unit* chosen = ours.unit(key);
            const Unit& unit =
                chosen != nullptr ? *chosen : habitual_unit(*cell.slot, style.system);
            // What nobody typed follows, or has its usual value.
            const auto shown = [&](const std::optional<double>& value) -> std::string {
                if (cell.answered && !value) return style.say("worked out");
                const double number = value.value_or(cell.slot->usual);
                if (std::isnan(number)) return style.say("nothing");
                return show(*cell.slot, number, unit, style, Digits::typed).both();
            };
            differs.push_back(compose(
                style.say("{0}: {1} here, {2} in the link"),
                {slot_name(slip.line(cell.home), *cell.slot, style), shown(here), shown(there)}));
        }
    }
}

// What a link says nothing of stays as it is.
std::vector<std::string> differences(const Tank& handed, const Tank& ours,
                                     std::span<const Line* const> catalogue, const Style& style) {
    std::vector<std::string> differs;
    compare_texts(handed, ours, style, differs);
    if (handed.slip.empty()) return differs;
    const Typed there(handed, catalogue, style);
    const Typed here(ours, catalogue, style);
    if (there.locked() != here.locked())
        differs.emplace_back(there.locked() ? style.say("Its numbers are locked in the link.")
                                            : style.say("Its numbers are not locked in the link."));
    compare_lines(there.slip(), here.slip(), style.say("{0}: only in the link"), style, differs);
    compare_lines(here.slip(), there.slip(), style.say("{0}: only here"), style, differs);
    compare_numbers(there, here, style, differs);
    return differs;
}

bool is_same(const Tank& handed, const Tank& ours, const std::string& shop) {
    if (!ours.handed_over || ours.handed_over->shop != shop) return false;
    const std::string& theirs = ours.handed_over->name;
    return handed.name == (theirs.empty() ? ours.name : theirs);
}

} // namespace

std::vector<Meeting> meetings(const Handover& handover, const std::vector<Tank>& ours,
                              std::span<const Line* const> catalogue, const Style& style) {
    std::vector<Meeting> met;
    if (handover.shop.empty()) return met;
    const auto is_met = [&](const Tank& tank) {
        return std::any_of(met.begin(), met.end(),
                           [&](const Meeting& meeting) { return meeting.ours == tank.id; });
    };
    for (std::size_t i = 0; i < handover.tanks.size(); ++i) {
        std::optional<Meeting> nearest;
        for (const Tank& tank : ours) {
            if (!is_same(handover.tanks[i], tank, handover.shop) || is_met(tank)) continue;
            Meeting meeting{i, tank.id, differences(handover.tanks[i], tank, catalogue, style)};
            if (!nearest || meeting.differs.size() < nearest->differs.size())
                nearest = std::move(meeting);
        }
        if (nearest) met.push_back(*std::move(nearest));
    }
    return met;
}

} // namespace wetsleeve::record
