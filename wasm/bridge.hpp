// Everything that the page's script may call, and all that it needs to know; bridge_book.hpp has
// what it may call of the book.
//
// Strings are UTF-8. A returned string belongs to the module and is good until the next call.
// A function that can refuse returns one sentence that says why, or "" when all is well.
// State lives in one core Session that the canvas face and the plain face share; after any call or
// frame the script compares ws_revision() and, when it has changed, keeps ws_save() and renews the
// plain face from ws_state().
#pragma once

#include <cstdint>

extern "C" {

// ---- the slip -----------------------------------------------------------------------------------

std::uint32_t ws_revision();

// The whole slip as JSON, as every face shows it (core/page/view_json.hpp):
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
const char* ws_state();

// The words of the workings (core/page/words_json.hpp), which the module does not bring along.
const char* ws_words(const char* words);
// Speaks another language from now on (core/model/messages.hpp); "" is English. False: damaged.
bool ws_messages(const char* rows);
// A text of the program in the reader's language.
const char* ws_say(const char* english);
// Types text into a slot, whatever its role; "" clears it, which also lets a held answer go.
const char* ws_enter(int line, int slot, const char* text);
const char* ws_show_in(int line, int slot, const char* unit);
// A number alone, read as a slot reads one and by the reader's decimal mark: "=1234.5" as JSON has
// it, or "!" and one sentence that says what is wrong.
const char* ws_number(const char* text);
// The ids of the lines that fit these words, a row each, the best first.
const char* ws_find(const char* words);
// Says that wetsleeve-lines.wasm is in place, which holds the lines that no new slip has. Until
// then the catalogue has only those of a new slip, and a kept slip with others must wait.
void ws_offer();
// Puts a line of the catalogue on the slip, or takes it off. Of a slip that was handed over locked
// (core/book/slip_json.hpp), this and whatever was handed over refuses.
const char* ws_choose(const char* id, bool on);
void ws_set_style(const char* system, const char* decimal);
void ws_clear();
void ws_undo();
void ws_redo();

// What to keep, and how to take it up again: JSON, versioned, undo steps included.
const char* ws_save();
const char* ws_load(const char* kept);
// Whether what ws_load refuses was kept by a later version of the page, and is not damaged.
bool ws_slip_is_later(const char* kept);

// ---- the canvas face ----------------------------------------------------------------------------

// Makes the window on <canvas id="canvas">. False when there is no WebGL.
bool ws_canvas_start();
// Sizes in CSS pixels; ratio is device pixels per CSS pixel; insets keep clear of notches.
void ws_canvas_resize(float width, float height, float ratio, float top, float right, float bottom,
                      float left);
// shade: 0 light, 1 dark, 2 for bright sun; chosen: "device", "light", "dark" or "sun". text: 1 is
// a root font of 16 px, 2 is 200 %. still: no motion, please.
void ws_canvas_look(int shade, const char* chosen, float text, bool still, bool left);
// The name of the tank whose slip this is, the way to the others; "": none is shown. A name with
// characters that the face's font lacks is written by the page, `wide` CSS pixels wide, at the
// place that the face tells after each frame: "x y w h", and from where down to where it is in
// sight, " top foot"; "" when there is nothing to write.
void ws_canvas_tank(const char* name, float wide);
const char* ws_canvas_tank_place();
// Looks for lines by these words while the sheet with all lines is open.
void ws_canvas_find(const char* words);
// The languages there are: rows of code, tab, name.
void ws_canvas_languages(const char* rows);
// phase: 0 down, 1 move, 2 up, 3 cancel. kind: 0 touch or pen, 1 mouse. CSS pixels.
void ws_canvas_pointer(int phase, int kind, float x, float y, double milliseconds);
void ws_canvas_wheel(float dx, float dy);
// key as in KeyboardEvent.key. True when the face used it.
bool ws_canvas_key(const char* key, bool shift);
// Draws one frame. True: it wants another one without waiting for input.
bool ws_canvas_frame(double milliseconds);
// The context came back: device objects are made anew.
void ws_canvas_restored();
// What the face wants of the page since last asked: "plain" (the switch was tapped), "language de",
// "look sun" or "hand left" (chosen on the sheet), "tanks" (the tank's name was tapped), "words" (a
// working was opened), "find on" (the field for words to look for is wanted), "find WORD" (this
// goes into it), "find off", "tick" (a key was tapped), or "".
const char* ws_canvas_wish();
// The targets on the screen as JSON, for tests:
// [ {"id": "slot water.change share", "x": …, "y": …, "w": …, "h": …}, {"id": "key 7", …}, … ]
const char* ws_canvas_targets();
// The text that fitted worst since last asked, for tests: its room as a share of what it needs (1:
// all fitted), a tab, the text. Labels are made smaller to fit, other texts stand out.
const char* ws_canvas_tightest();

} // extern "C"
