#include "core/link/meeting.hpp"

#include "core/book/fields.hpp"
#include "core/book/slip_json.hpp"
#include "core/book/tables.hpp"

#include <algorithm>
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
    // Of one cell by its key.
    std::optional<double> value(std::string_view key) const {
        const std::size_t c = cell(key);
        return c == Slip::none ? std::nullopt : entered_value(session_.entered(), c);
    }
    // The unit in which the cell is read here, if it is on the slip.
    const Unit* unit(std::string_view key) const {
        const std::size_t c = cell(key);
        return c == Slip::none ? nullptr : session_.entered().unit[c];
    }

  private:
    std::size_t cell(std::string_view key) const {
        for (std::size_t c = 0; c < slip().cells().size(); ++c)
            if (slip().key(c) == key) return c;
        return Slip::none;
    }

    Session session_;
};

void compare_texts(const Tank& handed, const Tank& ours, const Style& style,
                   std::vector<std::string>& differs) {
    each_field<Tank>([&](const auto& field) {
        if constexpr (std::is_same_v<std::decay_t<decltype(field.kind)>, kind::Text>) {
            const std::string& there = handed.*field.at;
            const std::string& here = ours.*field.at;
            // One's own words are nobody's to take away.
            if (field.link < 0 || there == here || (field.own && there.empty())) return;
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
            const auto shown = [&](const std::optional<double>& value) {
                return value ? show(*cell.slot, *value, unit, style, Digits::typed).both()
                             : style.say("nothing");
            };
            differs.push_back(compose(
                style.say("{0}: {1} here, {2} in the link"),
                {slot_name(slip.line(cell.home), *cell.slot, style), shown(here), shown(there)}));
        }
    }
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
        const Tank& handed = handover.tanks[i];
        const auto same = std::find_if(ours.begin(), ours.end(), [&](const Tank& tank) {
            return tank.name == handed.name && tank.handed_over &&
                   tank.handed_over->shop == handover.shop && !is_met(tank);
        });
        if (same == ours.end()) continue;
        Meeting& meeting = met.emplace_back(Meeting{i, same->id, {}});
        compare_texts(handed, *same, style, meeting.differs);
        // What a link says nothing of gives way to nothing.
        if (handed.slip.empty()) continue;
        const Typed there(handed, catalogue, style);
        const Typed here(*same, catalogue, style);
        compare_lines(there.slip(), here.slip(), style.say("{0}: only in the link"), style,
                      meeting.differs);
        compare_lines(here.slip(), there.slip(), style.say("{0}: only here"), style,
                      meeting.differs);
        compare_numbers(there, here, style, meeting.differs);
    }
    return met;
}

} // namespace wetsleeve::record
