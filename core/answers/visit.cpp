#include "core/answers/visit.hpp"

#include "core/book/things.hpp"
#include "core/jobs/day.hpp"
#include "core/jobs/keys.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::record {

namespace {

bool is_amount(const Slot& slot) { return slot.kind == Kind::number || slot.kind == Kind::count; }

} // namespace

std::string quantity_name(const Session& session, std::string_view quantity) {
    const std::size_t slash = quantity.find('/');
    for (const Line* line : session.catalogue()) {
        if (slash != std::string_view::npos && quantity.substr(0, slash) != line->about.id)
            continue;
        for (const Slot& slot : line->slots)
            if (slot.travels == (slash == std::string_view::npos) &&
                quantity.substr(slash + 1) == slot.id)
                return slot_name(*line, slot, session.style());
    }
    if (quantity == round::key::ro) return session.say("RO water");
    if (quantity == round::key::tap) return session.say("tap water");
    if (quantity == round::key::trim) return session.say("plants trimmed");
    return std::string(quantity);
}

std::vector<Noted> visit_entries(const Session& session) {
    const Slip& slip = session.slip();
    std::vector<Noted> noted;
    std::vector<std::size_t> seen; // cells
    const auto note = [&](std::size_t l, std::size_t s, const SlotView& view, What what, What as) {
        const std::size_t c = slip.cell(l, s);
        if (std::find(seen.begin(), seen.end(), c) != seen.end()) return;
        std::string_view text = view.shown.number;
        double value = 0;
        std::string problem;
        // As it is shown: what a person poured is 6.5 mL, not what 6.5 was rounded from.
        if (!read_number(text, session.style(), value, problem)) return;
        seen.push_back(c);
        const bool elsewhen = view.measured != no_day && view.measured != session.today();
        noted.push_back(
            {{.what = what,
              .quantity = slip.key(c),
              .value = value,
              .unit = view.shown.unit,
              .day = elsewhen ? round::write_day(round::day_numbered(view.measured)) : ""},
             what == What::read && view.measured == no_day,
             slot_name(slip.line(l), slip.line(l).slots[s], session.style()),
             as});
    };
    for (const std::size_t l : session.order()) {
        const Line& line = slip.line(l);
        if (line.about.settles) continue;
        const LineView view = session.view(l);
        std::size_t amount = Line::npos;
        for (const Piece& piece : view.pieces) {
            if (piece.slot == Line::npos || !is_amount(line.slots[piece.slot])) continue;
            const Slot& slot = line.slots[piece.slot];
            const SlotView& shown = view.slots[piece.slot];
            if (slot.answer) {
                if (amount == Line::npos && !piece.quiet) amount = piece.slot;
            } else if (slot.read && shown.role != Role::gave_way &&
                       (shown.value != slot.usual || shown.measured != no_day) &&
                       !slip.cells()[slip.cell(l, piece.slot)].answered) {
                note(l, piece.slot, shown, What::read, What::read);
            }
        }
        if (amount != Line::npos && view.standing == Slip::Standing::done)
            note(l, amount, view.slots[amount], What::reckoned,
                 doses(line) ? What::dosed : What::done);
        if (noted.size() >= limit::entries) break;
    }
    if (noted.size() > limit::entries) noted.resize(limit::entries);
    return noted;
}

} // namespace wetsleeve::record
