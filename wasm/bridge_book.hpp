// What the page's script may call of the book (core/book). These come with the lines that no new
// slip has (ws_offer): nothing may call one before. later.py knows them by their names.
//
// Strings as in bridge.hpp. A function answers "=" and what was asked for, or "!" and one sentence
// that says why not. Bytes are written in hexadecimal digits.
#pragma once

extern "C" {

// A file of any form to a book of this one (core/book/book.hpp), and what cannot be kept of it:
// { "book": {…}, "aside": [ {"part": "band", "why": "…", "text": "{…}", "of": "t1"} … ] }
// All others below that look at a book work with what there is of it, in silence.
const char* ws_book_read(const char* text);
// What of that which is to be kept must not be (core/book/gate.hpp). Nothing is to be kept that
// was not asked here.
const char* ws_book_gate(const char* asked);

// What taking another book in would change, and both together with what gave way, as JSON
// (core/page/merge_json.hpp).
const char* ws_book_preview(const char* ours, const char* theirs);
const char* ws_book_merge(const char* ours, const char* theirs, bool take_theirs);

const char* ws_book_csv(const char* book);
// All that is due. today: as "2026-05-04"; now: in UTC, as "20260504T120000Z".
const char* ws_book_calendar(const char* book, const char* today, const char* now);

// The history of one quantity at a tank, what is due, and a look over one visit of the book before
// leaving, as JSON (core/page/history_json.hpp).
const char* ws_book_history(const char* book, const char* tank, const char* quantity,
                            const char* since);
const char* ws_book_due(const char* book, const char* today);
const char* ws_book_sense(const char* book, const char* visit);

// What a visit notes of the slip that is open (core/answers/visit.hpp), as entries of a book.
const char* ws_book_visit();

// The slip that is open as a tank to build (core/answers/build_list.hpp):
// { "steps": [ {"line": "geometry.soil", "title": "Soil", "standing": "done", "sentence": "…",
//     "trouble": "", "blank": ["front"], "remarks": […]} … ],    as LINE has them in bridge.hpp
//   "wares": [ {"line": "geometry.soil", "what": "Soil", "amount": "3", "unit": "bags",
//     "details": "…"} … ] }
const char* ws_book_build();
const char* ws_book_build_text(const char* tank);
const char* ws_book_build_csv();

// A hand-over (core/link/handover.hpp) as a book to the bytes to compress, and back.
const char* ws_book_hand_over(const char* book);
const char* ws_book_opened(const char* bytes);
// Compressed bytes to the fragment of a link, and back.
const char* ws_book_wrap(const char* compressed);
const char* ws_book_unwrap(const char* link);
// The round of the day (core/page/rounds_json.hpp): the plan and what it says; the book's round
// once the van has left; what the book's last visit takes off shelf and store, `now` being like
// "2026-05-04T10:20"; what comes back when a visit is taken out of the book; and the tanks that are
// due by a day or within so many after it.
const char* ws_book_round(const char* book);
const char* ws_book_begin(const char* book);
const char* ws_book_taken(const char* book, const char* now);
const char* ws_book_untaken(const char* book, const char* visit);
const char* ws_book_due_tanks(const char* book, const char* day, int days_after);

// What to say of bytes that do not inflate, and of those that are more than the limit.
const char* ws_book_damaged_link();
const char* ws_book_too_long_link();

} // extern "C"
