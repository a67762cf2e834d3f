// Calls of the page that come with the lines that no new slip has ("offer"): nothing may ask one
// before. wasm/choose_late_functions.py knows them by their namespace.
//
// Books and hand-overs are JSON text, and need hold no more than what is asked about. Bytes are
// written in hexadecimal digits.
#pragma once

#include "core/page/calls.hpp"

#include <string_view>

namespace wetsleeve::page::late {

using Text = std::string_view;

// A file of any form to a book of this one (core/book/book.hpp), and what cannot be kept of it:
// { "book": {…}, "aside": [ {"part": "band", "why": "…", "text": "{…}", "of": "t1"} … ] }
// All others that look at a book work with what there is of it, in silence.
Reply read_book(Page& page, Text text);
// What of that which is to be kept must not be (core/book/gate.hpp). Changes ask
// by themselves.
Reply gate(Page& page, Text puts);
// core/page/changes_json.hpp
Reply change(Page& page, Text asked);

// What taking another book in would change, and both together with what gave way
// (core/page/merge_json.hpp).
Reply preview(Page& page, Text ours, Text theirs);
Reply merge(Page& page, Text ours, Text theirs, bool take_theirs);

Reply visits_csv(Page& page, Text book);
// All that is due. today: as "2026-05-04"; now: in UTC, as "20260504T120000Z".
Reply due_calendar(Page& page, Text book, Text today, Text now);

// core/page/history_json.hpp
Reply history(Page& page, Text book, Text tank, Text quantity, Text since);
Reply due(Page& page, Text book, Text today);
Reply due_done(Page& page, Text book, Text id, Text today);
Reply look_over(Page& page, Text book, Text visit);
// The visits that do not count, and of each the one that counts in its place.
Reply corrected(Page& page, Text book);

// core/page/rounds_json.hpp; `left` by the last visit of the book
Reply plan_round(Page& page, Text book);
Reply begin_round(Page& page, Text book);
Reply left(Page& page, Text book);
Reply due_tanks(Page& page, Text book, Text day, int days_after);

// What a visit notes of the slip that is open (core/answers/visit.hpp):
// [ {"entry": {…}, "day_unknown": true} … ], the latter left out where it is known.
Reply visit_entries(Page& page);

// The slip that is open as a tank to build (core/answers/build_list.hpp):
// { "steps": [ {"line": "geometry.soil", "title": "Soil", "standing": "done", "sentence": "…",
//     "trouble": "", "blank": ["front"], "remarks": […]} … ],    as LINE in core/page/view_json.hpp
//   "wares": [ {"line": "geometry.soil", "what": "Soil", "amount": "3", "unit": "bags",
//     "details": "…"} … ] }
Reply build(Page& page);
Reply build_text(Page& page, Text tank);
Reply build_csv(Page& page);

// A hand-over (core/link/handover.hpp) as a book to the bytes to compress, and back.
Reply hand_over(Page& page, Text book);
Reply opened(Page& page, Text bytes);
// How its tanks stand to those of a book (core/link/meeting.hpp):
// [ {"handed": 0, "ours": "t1", "differs": ["…" …]} … ]
Reply meetings(Page& page, Text ours, Text handed);
// Compressed bytes to the fragment of a link, and back.
Reply wrap(Page& page, Text compressed);
Reply unwrap(Page& page, Text link);
// What to say of bytes that do not inflate, and of those that are more than the limit.
Reply damaged_link(Page& page);
Reply too_long_link(Page& page);

} // namespace wetsleeve::page::late
