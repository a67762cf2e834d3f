// What the page's script may call of the book (core/record). These come with the lines that no new
// slip has (ws_offer): nothing may call one before. later.py knows them by their names.
//
// Strings as in bridge.hpp. A function answers "=" and what was asked for, or "!" and one sentence
// that says why not. Bytes are written in hexadecimal digits.
#pragma once

extern "C" {

// A file of any form to a book of this one, as JSON (core/record/book.hpp).
const char* ws_book_read(const char* text);

// What taking another book in would change:
// { "tanks": {"fresh": 1, "same": 2, "changed": 0, "absent": 0}, "shelf": …, "visits": …, "due": …
// }
const char* ws_book_preview(const char* ours, const char* theirs);
const char* ws_book_merge(const char* ours, const char* theirs, bool take_theirs);

const char* ws_book_csv(const char* book);
// now: in UTC, as "20260504T120000Z".
const char* ws_book_calendar(const char* book, const char* now);

// What a visit notes of the slip that is open (core/record/visit.hpp), as entries of a book.
const char* ws_book_visit();

// The slip that is open as a tank to build (core/record/build_list.hpp):
// { "steps": [ {"line": "geometry.soil", "title": "Soil", "standing": "done", "sentence": "…",
//     "trouble": "", "blank": ["front"], "remarks": […]} … ],    as LINE has them in bridge.hpp
//   "wares": [ {"line": "geometry.soil", "what": "Soil", "amount": "3", "unit": "bags",
//     "details": "…"} … ] }
const char* ws_book_build();
const char* ws_book_build_text(const char* tank);
const char* ws_book_build_csv();

// A hand-over (core/record/handover.hpp) as a book to the bytes to compress, and back.
const char* ws_book_hand_over(const char* book);
const char* ws_book_opened(const char* bytes);
// Compressed bytes to the fragment of a link, and back.
const char* ws_book_wrap(const char* compressed);
const char* ws_book_unwrap(const char* link);
// The round of the day (core/record/rounds_json.hpp): the plan and what it says; the book's round
// once the van has left; what the book's last visit takes off shelf and store, `now` being like
// "2026-05-04T10:20"; and the tanks that are due by a day or within so many after it.
const char* ws_book_round(const char* book);
const char* ws_book_begin(const char* book);
const char* ws_book_taken(const char* book, const char* now);
const char* ws_book_due_tanks(const char* book, const char* day, int days_after);

// What to say of bytes that do not inflate, and of those that are more than the limit.
const char* ws_book_damaged_link();
const char* ws_book_too_long_link();

} // extern "C"
