// All that the page may ask of the core. One table, in calls.cpp, has each call with its name, what
// it takes and what it gives; the page's types are made from it (web/types.mjs).
//
// What is asked is a JSON array, the name first: ["enter", 0, 2, "50"].
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>

namespace wetsleeve::page {

// The canvas face as the page drives it; wasm has the one there is. Sizes and places are in CSS
// pixels.
class Canvas {
  public:
    Canvas() = default;
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;
    virtual ~Canvas() = default;

    // Makes the window on <canvas id="canvas">. False when there is no WebGL.
    virtual bool start() = 0;
    // ratio is device pixels per CSS pixel; insets keep clear of notches.
    virtual void resize(double width, double height, double ratio, double top, double right,
                        double bottom, double left) = 0;
    // shade: 0 light, 1 dark, 2 for bright sun; chosen: "device", "light", "dark" or "sun". text: 1
    // is a root font of 16 px, 2 is 200 %. still: no motion, please. left: for the left hand.
    virtual void look(int shade, std::string_view chosen, double text, bool still, bool left) = 0;
    // The name of the tank whose slip this is, the way to the others; "": none is shown. A name
    // with characters that the face's font lacks is written by the page, `wide` pixels wide, at the
    // place that the face tells after each frame: "x y w h", and from where down to where it is in
    // sight, " top foot"; "" when there is nothing to write.
    virtual void tank(std::string_view name, double wide) = 0;
    virtual std::string tank_place() = 0;
    // Looks for lines by these words while the sheet with all lines is open.
    virtual void find(std::string_view words) = 0;
    // The languages there are: rows of code, tab, name.
    virtual void languages(std::string_view rows) = 0;
    // phase: 0 down, 1 move, 2 up, 3 cancel. kind: 0 touch or pen, 1 mouse.
    virtual void pointer(int phase, int kind, double x, double y, double milliseconds) = 0;
    virtual void wheel(double dx, double dy) = 0;
    // key as in KeyboardEvent.key. True when the face used it.
    virtual bool key(std::string_view key, bool shift) = 0;
    // Draws one frame. True: it wants another one without waiting for input.
    virtual bool frame(double milliseconds) = 0;
    // The context came back: device objects are made anew.
    virtual void restored() = 0;
    // What the face wants of the page since last asked: "plain" (the switch was tapped), "language
    // de", "look sun" or "hand left" (chosen on the sheet), "tanks" (the tank's name was tapped),
    // "words" (a working was opened), "find on" (the field for words to look for is wanted), "find
    // WORD" (this goes into it), "find off", "tick" (a key was tapped), or "".
    virtual std::string wish() = 0;
    // The targets on the screen as JSON, for tests:
    // [ {"id": "slot water.change share", "x": …, "y": …, "w": …, "h": …}, {"id": "key 7", …}, … ]
    virtual std::string targets() = 0;
    // The text that fitted worst since last asked, for tests: its room as a share of what it needs
    // (1: all fitted), a tab, the text. Labels are made smaller to fit, other texts stand out.
    virtual std::string tightest() = 0;
};

// What a call works on.
struct Page {
    Session& session;
    Canvas& canvas;
};

struct Reply {
    std::string json;
    std::string problem; // one sentence; then there is no answer
};
Reply ask(Page& page, std::string_view asked);

// The table, for whoever makes types of it; takes and gives are of TypeScript:
// [ {"name": "enter", "takes": [ {"name": "line", "type": "number"} … ], "gives": "string"} … ]
std::string calls_json();

} // namespace wetsleeve::page
