// The slip as every face shows it, as JSON: for the plain face and for tests.
#pragma once

#include "core/book/json.hpp"
#include "core/model/session.hpp"

#include <string>
#include <vector>

namespace wetsleeve {

// The whole slip:
//
//   { "revision": 7, "system": "metric", "decimal": ".", "undo": true, "redo": false,
//     "locked": false,
//     "lines": [ LINE … ], "order": [2, 0, 1],    the order to read them
//     "catalogue": [ {"family": "Water",
//                     "lines": [ {"id": "water.change", "title": "Water change", "on": true} … ]} …
//                     ] }
//
// LINE:
//   { "id": "water.change", "title": "Water change",
//     "standing": "done",            or "waiting", "refused", "unreachable", "outside"
//     "trouble": "Needs net water.", "" when there are answers
//     "sentence": [ {"text": "Drain "}, {"slot": 0}, {"text": " of ", "quiet": true} … ],
//     "slots": [ SLOT … ], "pictures": [ PICTURE … ],
//     "remarks": [ {"level": "caution", "text": "…"} … ],    levels: note, caution, stop
//     "working": {"names": ["…"], "numbers": ["…"], "assumes": ["…"], "sources": ["…"]} }
//
// SLOT, by its kind:
//   { "id": "share", "name": "share to drain",
//     "locked": true,                stays as it was handed over; else missing
//     "kind": "number",              or "count", "choice", "clock", "table", "curve"
//     "role": "given",               or "fed", "answer", "held", "gave_way", "figure"
//     "number": "50", "unit": "%",   number is "" when blank; a choice's is its phrase
//     "plus_minus": "±6 L",          or ""
//     "value": 50, "doubt": 0,       in the base unit; null when unknown
//     "units": ["%"], "range": "0 % to 100 %",
//     "offers": ["granite"],         names that may be typed instead of a number; may be missing
//     "gives_way": "share to drain", the slot that changes when this is typed over, or ""
//     "options": ["…"],                                                        choices
//     "columns": ["run", "on"], "rows": [["1", "22:00"]] }                     tables
//
// PICTURE, right and down from its left top corner:
//   { "name": "…", "summary": "…", "width": 340, "height": 200,
//     "shapes": [ {"part": "water", "d": "M0 0L10 0"} … ],   core/model/drawing.hpp names the parts
//     "words": [ {"x": 0, "y": 9, "anchor": "start", "text": "…"} … ] }    or "middle", "end"
std::string view_json(const Session& session);

// "remarks": [ {"level": "caution", "text": "…"} … ] of an object that is being written.
void write_remarks(json::Writer& to, const std::vector<SpokenRemark>& remarks);

} // namespace wetsleeve
