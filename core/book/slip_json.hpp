// What a person entered into a slip, as JSON for keeping, with the steps that undo and redo can
// take.
//
// { "wetsleeve": 3,                        // the form's version
//   "locked": true, "open": ["ph" …],      // Terms (core/model/session.hpp) of a slip that was
//   "show": ["water.change" …],            // handed over; left out: it is one's own, all of it
//                                          // shown. Locked without "open": what is blank is open
//   "now": STEP, "past": [CHANGE …], "future": [CHANGE …] }    the last of each is beside now
//
// Without "locked", "open" and "show" the same is a copy that is one's own.
//
// STEP: { "lines": ["geometry.box" …],     // left out: those of a new slip
//         "given": { "geometry.box/length": 90, "net_water": … },
//         "held": { "water.change": { "slot": "refill", "value": 120 } },
//         "units": { "geometry.box/length": "in" },
//         "measured": { "nitrate": "2026-05-04" } }      // what is read, and when it was typed
//
// CHANGE: what of a step is not as in the step beside it towards now: the lines, all of them, and
// of each other part what differs; null where that other step has something and this has nothing.
//
// Values are in base units; a given quantity that is left out has its usual value.
//
// Forms 1 and 2 name in each STEP how its reader wrote numbers ("system", "decimal"), which is the
// reader's device's business, and is passed over. In form 1 each of past and future is a STEP, with
// the lines of now where it names none; a form 1 without steps is how other programs write a slip.
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>

namespace wetsleeve {

// Never more than load_json takes: of very many steps the oldest are left out.
std::string save_json(const Session& session);

// Takes up what was kept. Quantities that this version does not know are left out. Returns one
// sentence when the text cannot be taken up; then the session is as before.
std::string load_json(Session& session, std::string_view kept);

// Whether a later version of the program kept it: then it is not damaged, and is to be left as it
// is.
bool is_later_slip(std::string_view kept);

} // namespace wetsleeve
