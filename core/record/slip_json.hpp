// What a person entered into a slip, as JSON for keeping, with the steps that undo and redo can
// take.
//
// { "wetsleeve": 1,                        // the form's version
//   "locked": true, "open": ["ph" …],      // Terms (core/model/session.hpp) of a slip that was
//   "show": ["water.change" …],            // handed over; left out: it is one's own, all of it
//                                          // shown. Locked without "open": what is blank is open
//   "now": STEP, "past": [STEP …], "future": [STEP …] }    oldest first
//
// Without "locked", "open" and "show" the same is a copy that is one's own.
//
// STEP: { "system": "metric", "decimal": ".",
//         "given": { "geometry.box/length": 90, "net_water": … },
//         "held": { "water.change": { "slot": "refill", "value": 120 } },
//         "units": { "geometry.box/length": "in" } }
//
// Values are in base units; a given quantity that is left out has its usual value.
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>

namespace wetsleeve {

std::string save_json(const Session& session);

// Takes up what was kept. Quantities that this version does not know are left out. Returns one
// sentence when the text cannot be taken up; then the session is as before.
std::string load_json(Session& session, std::string_view kept);

} // namespace wetsleeve
