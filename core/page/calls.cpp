#include "core/page/calls.hpp"

#include "core/book/json.hpp"
#include "core/book/slip_json.hpp"
#include "core/jobs/day.hpp"
#include "core/model/number.hpp"
#include "core/model/search.hpp"
#include "core/model/words.hpp"
#include "core/page/late_calls.hpp"
#include "core/page/reply.hpp"
#include "core/page/view_json.hpp"
#include "core/page/words_json.hpp"
#include "core/registry.hpp"

#include <array>
#include <cstddef>
#include <iterator>
#include <type_traits>
#include <utility>

namespace wetsleeve::page {

Reply reply(Json json) { return {.json = std::move(json.text), .problem = {}}; }
Reply reply(bool yes) { return reply(Json{yes ? "true" : "false"}); }
Reply reply(std::uint32_t number) { return reply(Json{std::to_string(number)}); }
Reply reply(std::string_view text) {
    return reply(Json{json::written([&](json::Writer& to) { json::text(to, text); })});
}

namespace {

// ---- the slip -----------------------------------------------------------------------------------

namespace slip {

std::uint32_t revision(Page& page) { return page.session.revision(); }
Json state(Page& page) { return {view_json(page.session)}; }
std::string words(Page& page, std::string_view words) { return learn_words(page.session, words); }
bool messages(Page& page, std::string_view rows) {
    Messages messages;
    const bool whole = messages.add(rows);
    page.session.speak(std::move(messages));
    return whole;
}
std::string say(Page& page, std::string_view english) {
    return page.session.say(std::string(english).c_str());
}

bool has(Page& page, int line, int slot) {
    const Slip& slip = page.session.slip();
    return line >= 0 && slot >= 0 && static_cast<std::size_t>(line) < slip.size() &&
           static_cast<std::size_t>(slot) < slip.line(static_cast<std::size_t>(line)).slots.size();
}
constexpr const char* no_such_slot = "There is no such slot.";

std::string enter(Page& page, int line, int slot, std::string_view text) {
    if (!has(page, line, slot)) return no_such_slot;
    return page.session.enter(static_cast<std::size_t>(line), static_cast<std::size_t>(slot), text);
}
std::string show_in(Page& page, int line, int slot, std::string_view unit) {
    if (!has(page, line, slot)) return no_such_slot;
    return page.session.show_in(static_cast<std::size_t>(line), static_cast<std::size_t>(slot),
                                unit);
}
Reply number(Page& page, std::string_view text) {
    const Typed typed =
        read_quantity(text, dimension::plain, dimension::plain.base(), page.session.style());
    if (!typed.problem.empty()) return refused(typed.problem);
    return reply(Json{json::written([&](json::Writer& to) { json::number(to, typed.value); })});
}
Json find(Page& page, std::string_view words) {
    return {json::written([&](json::Writer& to) {
        to.StartArray();
        for (const Line* line : find_lines(page.session, words)) json::text(to, line->about.id);
        to.EndArray();
    })};
}
void offer(Page& page) { page.session.offer(all_lines()); }
std::string choose(Page& page, std::string_view id, bool on) {
    for (const Line* line : page.session.catalogue())
        if (id == line->about.id) return page.session.choose(*line, on);
    return {};
}
void set_style(Page& page, std::string_view system, std::string_view decimal) {
    Style style = page.session.style();
    for (const System each : {System::metric, System::us, System::imperial})
        if (system == word(each)) style.system = each;
    if (decimal == "." || decimal == ",") style.decimal = decimal[0];
    page.session.set_style(style);
}
void set_today(Page& page, std::string_view day) {
    if (const auto read = round::read_day(day); read.has_value())
        page.session.set_today(round::number_of(*read));
}
void set_lift(Page& page, double most_kg, std::string_view standard) {
    constexpr double grams_in_kg = 1000;
    page.session.set_lift(most_kg > 0 ? most_kg * grams_in_kg : lift_limit_g,
                          most_kg > 0 ? standard : lift_standard);
}
std::string usual_lift(Page& page) { return page.session.usual_lift(); }
void clear(Page& page) { page.session.clear(); }
void undo(Page& page) { page.session.undo(); }
void redo(Page& page) { page.session.redo(); }
Json save(Page& page) { return {save_json(page.session)}; }
std::string load(Page& page, std::string_view kept) { return load_json(page.session, kept); }
bool is_later(Page&, std::string_view kept) { return is_later_slip(kept); }

} // namespace slip

// ---- the canvas face ----------------------------------------------------------------------------

namespace canvas {

using Text = std::string_view;

bool start(Page& page) { return page.canvas.start(); }
void resize(Page& page, double width, double height, double ratio, double top, double right,
            double bottom, double left) {
    page.canvas.resize(width, height, ratio, top, right, bottom, left);
}
void look(Page& page, int shade, Text chosen, double text, bool still, bool left) {
    page.canvas.look(shade, chosen, text, still, left);
}
void tank(Page& page, Text name, double wide) { page.canvas.tank(name, wide); }
std::string tank_place(Page& page) { return page.canvas.tank_place(); }
void find(Page& page, Text words) { page.canvas.find(words); }
void languages(Page& page, Text rows) { page.canvas.languages(rows); }
void pointer(Page& page, int phase, int kind, double x, double y, double milliseconds) {
    page.canvas.pointer(phase, kind, x, y, milliseconds);
}
void wheel(Page& page, double dx, double dy) { page.canvas.wheel(dx, dy); }
bool key(Page& page, Text key, bool shift) { return page.canvas.key(key, shift); }
bool frame(Page& page, double milliseconds) { return page.canvas.frame(milliseconds); }
void restored(Page& page) { page.canvas.restored(); }
std::string wish(Page& page) { return page.canvas.wish(); }
Json targets(Page& page) { return {page.canvas.targets()}; }
std::string tightest(Page& page) { return page.canvas.tightest(); }

} // namespace canvas

// ---- the table ----------------------------------------------------------------------------------

struct Given {
    double number = 0; // of a truth 1 or 0
    std::string_view text{};
};

template <class T> struct Takes;
template <> struct Takes<int> {
    static constexpr char kind = 'i';
    static int of(const Given& given) { return static_cast<int>(given.number); }
};
template <> struct Takes<double> {
    static constexpr char kind = 'd';
    static double of(const Given& given) { return given.number; }
};
template <> struct Takes<bool> {
    static constexpr char kind = 'b';
    static bool of(const Given& given) { return given.number != 0; }
};
template <> struct Takes<std::string_view> {
    static constexpr char kind = 's';
    static std::string_view of(const Given& given) { return given.text; }
};

bool read(char kind, const json::Value& value, Given& given) {
    switch (kind) {
    case 'i':
        if (!value.IsInt()) return false;
        given.number = value.GetInt();
        return true;
    case 'd':
        if (!value.IsNumber()) return false;
        given.number = value.GetDouble();
        return true;
    case 'b':
        if (!value.IsBool()) return false;
        given.number = value.GetBool() ? 1 : 0;
        return true;
    default:
        if (!value.IsString()) return false;
        given.text = json::view(value);
        return true;
    }
}

using Run = Reply (*)(Page&, const Given*);

template <auto function> struct Bound;
template <class Result, class... Args, Result (*function)(Page&, Args...)> struct Bound<function> {
    static constexpr char kinds[] = {Takes<Args>::kind..., '\0'};
    template <std::size_t... at>
    static Reply with(Page& page, [[maybe_unused]] const Given* given, std::index_sequence<at...>) {
        if constexpr (std::is_void_v<Result>) {
            function(page, Takes<Args>::of(given[at])...);
            return reply(Json{"null"});
        } else {
            return reply(function(page, Takes<Args>::of(given[at])...));
        }
    }
    static Reply run(Page& page, const Given* given) {
        return with(page, given, std::index_sequence_for<Args...>());
    }
};

struct Call {
    std::string_view name;
    std::string_view kinds;
    Run run;
};
struct Row {
    Call call;
    std::string_view takes; // names, with a blank between them
    std::string_view gives; // a type of the page
};
constexpr std::size_t most_taken = 8;

constexpr std::size_t words_in(std::string_view text) {
    std::size_t count = text.empty() ? 0 : 1;
    for (const char c : text)
        if (c == ' ') ++count;
    return count;
}
// Not constant: to call it does not compile, and the compiler says its name.
inline void takes_more_or_fewer_than_it_names() {}
template <auto function>
consteval Row row(std::string_view name, std::string_view takes, std::string_view gives) {
    const std::string_view kinds = Bound<function>::kinds;
    if (kinds.size() != words_in(takes) || kinds.size() > most_taken)
        takes_more_or_fewer_than_it_names();
    return {{name, kinds, &Bound<function>::run}, takes, gives};
}

constexpr Row rows[] = {
    row<slip::revision>("revision", "", "number"),
    row<slip::state>("state", "", "State"),
    // The words of the workings (core/page/words_json.hpp), which do not come along.
    row<slip::words>("words", "words", "Problem"),
    // Speaks another language from now on (core/model/messages.hpp); "" is English. False: damaged.
    row<slip::messages>("messages", "rows", "boolean"),
    row<slip::say>("say", "english", "string"),
    // Types text into a slot, whatever its role; "" clears it, which also lets a held answer go.
    row<slip::enter>("enter", "line slot text", "Problem"),
    row<slip::show_in>("show_in", "line slot unit", "Problem"),
    // A number alone, read as a slot reads one and by the reader's decimal mark.
    row<slip::number>("number", "text", "number"),
    // The ids of the lines that fit these words, the best first.
    row<slip::find>("find", "words", "string[]"),
    // Says that wetsleeve-lines.wasm is in place, which holds the lines that no new slip has. Until
    // then the catalogue has only those of a new slip, and a kept slip with others must wait.
    row<slip::offer>("offer", "", "void"),
    // Puts a line of the catalogue on the slip, or takes it off. Of a slip that was handed over
    // locked (core/book/slip_json.hpp), this and whatever was handed over refuses.
    row<slip::choose>("choose", "id on", "Problem"),
    row<slip::set_style>("set_style", "system decimal", "void"),
    // The day that is kept with what is read and typed from now on.
    row<slip::set_today>("set_today", "day", "void"),
    // The shop's own limit for one lift; 0: the usual one.
    row<slip::set_lift>("set_lift", "most_kg standard", "void"),
    row<slip::usual_lift>("usual_lift", "", "string"),
    row<slip::clear>("clear", "", "void"),
    row<slip::undo>("undo", "", "void"),
    row<slip::redo>("redo", "", "void"),
    // What to keep, and how to take it up again: versioned, undo steps included.
    row<slip::save>("save", "", "unknown"),
    row<slip::load>("load", "kept", "Problem"),
    // Whether what "load" refuses was kept by a later version of the page, and is not damaged.
    row<slip::is_later>("is_later", "kept", "boolean"),

    row<canvas::start>("canvas_start", "", "boolean"),
    row<canvas::resize>("canvas_resize", "width height ratio top right bottom left", "void"),
    row<canvas::look>("canvas_look", "shade chosen text still left", "void"),
    row<canvas::tank>("canvas_tank", "name wide", "void"),
    row<canvas::tank_place>("canvas_tank_place", "", "string"),
    row<canvas::find>("canvas_find", "words", "void"),
    row<canvas::languages>("canvas_languages", "rows", "void"),
    row<canvas::pointer>("canvas_pointer", "phase kind x y milliseconds", "void"),
    row<canvas::wheel>("canvas_wheel", "dx dy", "void"),
    row<canvas::key>("canvas_key", "key shift", "boolean"),
    row<canvas::frame>("canvas_frame", "milliseconds", "boolean"),
    row<canvas::restored>("canvas_restored", "", "void"),
    row<canvas::wish>("canvas_wish", "", "string"),
    row<canvas::targets>("canvas_targets", "", "Target[]"),
    row<canvas::tightest>("canvas_tightest", "", "string"),

    row<late::read_book>("read_book", "text", "WithAsides"),
    row<late::gate>("gate", "puts", "Wrong[]"),
    row<late::change>("change", "asked", "Became"),
    row<late::preview>("preview", "ours theirs", "Preview"),
    row<late::merge>("merge", "ours theirs take_theirs", "WithAsides"),
    row<late::visits_csv>("visits_csv", "book", "string"),
    row<late::due_calendar>("due_calendar", "book today now", "string"),
    row<late::history>("history", "book tank quantity since", "History"),
    row<late::due>("due", "book today", "DueItem[]"),
    row<late::due_done>("due_done", "book id today", "DueDone"),
    row<late::look_over>("look_over", "book visit", "Said[]"),
    row<late::corrected>("corrected", "book", "Corrected[]"),
    row<late::plan_round>("plan_round", "book", "Plan"),
    row<late::begin_round>("begin_round", "book", "Round"),
    row<late::left>("left", "book", "Round | null"),
    row<late::due_tanks>("due_tanks", "book day days_after", "DueTank[]"),
    row<late::visit_entries>("visit_entries", "", "Noted[]"),
    row<late::build>("build", "", "Build"),
    row<late::build_text>("build_text", "tank", "string"),
    row<late::build_csv>("build_csv", "", "string"),
    row<late::hand_over>("hand_over", "book", "Bytes"),
    row<late::opened>("opened", "bytes", "Handover"),
    row<late::meetings>("meetings", "ours handed", "Meeting[]"),
    row<late::wrap>("wrap", "compressed", "string"),
    row<late::unwrap>("unwrap", "link", "Bytes"),
    row<late::damaged_link>("damaged_link", "", "string"),
    row<late::too_long_link>("too_long_link", "", "string"),
};

// What the page need not carry stays behind.
template <std::size_t... at>
constexpr std::array<Call, sizeof...(at)> calls_of(std::index_sequence<at...>) {
    return {rows[at].call...};
}
constexpr auto calls = calls_of(std::make_index_sequence<std::size(rows)>());

constexpr const char* type_of(char kind) {
    return kind == 's' ? "string" : kind == 'b' ? "boolean" : "number";
}

} // namespace

Reply ask(Page& page, std::string_view asked) {
    constexpr const char* not_a_call = "The core was asked for something that it does not know.";
    rapidjson::Document document;
    if (!json::parse(document, asked) || !document.IsArray() || document.Empty() ||
        !document[0].IsString())
        return refused(not_a_call);
    for (const Call& call : calls) {
        if (call.name != json::view(document[0])) continue;
        if (document.Size() != call.kinds.size() + 1) break;
        std::array<Given, most_taken> given;
        rapidjson::SizeType fit = 0;
        for (const char kind : call.kinds) {
            if (!read(kind, document[fit + 1], given[fit])) return refused(not_a_call);
            ++fit;
        }
        return call.run(page, given.data());
    }
    return refused(not_a_call);
}

std::string calls_json() {
    return json::written([&](json::Writer& to) {
        to.StartArray();
        for (const Row& row : rows) {
            to.StartObject();
            json::field(to, "name", row.call.name);
            json::key(to, "takes");
            to.StartArray();
            std::string_view rest = row.takes;
            for (const char kind : row.call.kinds) {
                const std::size_t end = rest.find(' ');
                to.StartObject();
                json::field(to, "name", rest.substr(0, end));
                json::field(to, "type", std::string_view(type_of(kind)));
                to.EndObject();
                rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
            }
            to.EndArray();
            json::field(to, "gives", row.gives);
            to.EndObject();
        }
        to.EndArray();
    });
}

} // namespace wetsleeve::page
