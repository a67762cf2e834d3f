#include "core/book/slip_json.hpp"

#include "core/book/book.hpp"
#include "core/book/json.hpp"
#include "core/jobs/day.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <span>
#include <unordered_map>
#include <utility>

namespace wetsleeve {

namespace limit = record::limit;

namespace {

using Entered = Session::Entered;
using json::Value;
using json::Writer;

constexpr int version = 3;
constexpr int steps_whole = 1; // the form whose steps are each whole
// A slip that is kept can be taken up again: as large as `now` and what was handed over with it may
// get, they stay far below the one half, and steps only fill up the other.
constexpr std::size_t with_steps = limit::slip_bytes / 2;
constexpr std::size_t most_terms_bytes = limit::slip_bytes / 4;
constexpr std::size_t most_steps = 200;
constexpr std::size_t most_terms = 4000; // lines, or quantities: there are not nearly as many

// What is kept of a cell; nothing: it is blank, usual, or follows.
std::optional<double> kept_value(const Entered& entered, std::size_t c) {
    const Slip::Cell& cell = entered.slip->cells()[c];
    const double value = entered.state.given[c];
    if (cell.answered || !std::isfinite(value) || value == cell.slot->usual) return std::nullopt;
    return value;
}

bool same(double a, double b) { return a == b && std::signbit(a) == std::signbit(b); }

bool same_lines(const Slip& a, const Slip& b) {
    if (&a == &b) return true;
    if (a.size() != b.size()) return false;
    for (std::size_t l = 0; l < a.size(); ++l)
        if (&a.line(l) != &b.line(l)) return false;
    return true;
}

// For each cell of one slip that of another which has the same key, or none.
std::vector<std::size_t> cells_in(const Slip& slip, const Slip& other) {
    std::vector<std::size_t> match(slip.cells().size(), Slip::none);
    if (same_lines(slip, other)) {
        for (std::size_t c = 0; c < match.size(); ++c) match[c] = c;
        return match;
    }
    std::unordered_map<std::string, std::size_t> cell_of;
    for (std::size_t c = 0; c < other.cells().size(); ++c) cell_of.emplace(other.key(c), c);
    for (std::size_t c = 0; c < match.size(); ++c)
        if (const auto found = cell_of.find(slip.key(c)); found != cell_of.end())
            match[c] = found->second;
    return match;
}

// An object that is left out when it has no members, where that may be.
class Members {
  public:
    Members(Writer& to, const char* name, bool always) : to_(to), name_(name) {
        if (always) begin();
    }
    ~Members() {
        if (begun_) to_.EndObject();
    }
    Members(const Members&) = delete;
    Members& operator=(const Members&) = delete;

    Writer& key(std::string_view name) {
        begin();
        json::key(to_, name);
        return to_;
    }

  private:
    void begin() {
        if (begun_) return;
        json::key(to_, name_);
        to_.StartObject();
        begun_ = true;
    }

    Writer& to_;
    const char* name_;
    bool begun_ = false;
};

void write_lines(Writer& to, const Slip& slip) {
    json::key(to, "lines");
    to.StartArray();
    for (std::size_t l = 0; l < slip.size(); ++l) json::text(to, slip.line(l).about.id);
    to.EndArray();
}

// Whole, or as the difference from the step beside it.
std::string step_text(const Entered& entered, const Entered* beside) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    const Slip& slip = *entered.slip;
    const Entered nothing{.slip = std::make_shared<const Slip>(std::span<const Line* const>()),
                          .state = {},
                          .unit = {},
                          .measured = {}};
    const bool whole = beside == nullptr;
    const Entered& from = whole ? nothing : *beside;
    const Slip& was = *from.slip;
    const std::vector<std::size_t> match = cells_in(slip, was);
    std::vector<std::size_t> gone; // cells that only the other has
    if (!same_lines(slip, was)) {
        std::vector<bool> met(was.cells().size(), false);
        for (const std::size_t c : match)
            if (c != Slip::none) met[c] = true;
        for (std::size_t c = 0; c < met.size(); ++c)
            if (!met[c]) gone.push_back(c);
    }

    to.StartObject();
    if (whole || !same_lines(slip, was)) write_lines(to, slip);
    {
        Members given(to, "given", whole);
        for (std::size_t c = 0; c < match.size(); ++c) {
            const auto value = kept_value(entered, c);
            const auto before =
                match[c] == Slip::none ? std::optional<double>() : kept_value(from, match[c]);
            if (value.has_value() && !(before.has_value() && same(*value, *before)))
                json::number(given.key(slip.key(c)), *value);
            else if (!value.has_value() && before.has_value()) given.key(slip.key(c)).Null();
        }
        for (const std::size_t c : gone)
            if (kept_value(from, c).has_value()) given.key(was.key(c)).Null();
    }
    {
        Members held(to, "held", whole);
        for (std::size_t l = 0; l < slip.size(); ++l) {
            const Slip::Hold& hold = entered.state.hold[l];
            const std::size_t then = was.find_line(slip.line(l).about.id);
            const Slip::Hold before = then == Slip::none ? Slip::Hold() : from.state.hold[then];
            if (hold.slot == before.slot &&
                (hold.slot == Slip::none || same(hold.value, before.value)))
                continue;
            Writer& into = held.key(slip.line(l).about.id);
            if (hold.slot == Slip::none) {
                into.Null();
                continue;
            }
            into.StartObject();
            json::field(into, "slot", slip.line(l).slots[hold.slot].id);
            json::field(into, "value", hold.value);
            into.EndObject();
        }
        for (std::size_t l = 0; l < was.size(); ++l)
            if (from.state.hold[l].slot != Slip::none &&
                slip.find_line(was.line(l).about.id) == Slip::none)
                held.key(was.line(l).about.id).Null();
    }
    {
        Members units(to, "units", whole);
        for (std::size_t c = 0; c < match.size(); ++c) {
            const Unit* unit = entered.unit[c];
            const Unit* before = match[c] == Slip::none ? nullptr : from.unit[match[c]];
            if (unit == before) continue;
            if (unit == nullptr) units.key(slip.key(c)).Null();
            else json::text(units.key(slip.key(c)), unit->symbol);
        }
        for (const std::size_t c : gone)
            if (from.unit[c] != nullptr) units.key(was.key(c)).Null();
    }
    {
        Members measured(to, "measured", false);
        const auto day_of = [](const Entered& step, std::size_t c) {
            return c == Slip::none ? no_day : step.measured[c];
        };
        for (std::size_t c = 0; c < match.size(); ++c) {
            const int day = day_of(entered, c);
            if (day == day_of(from, match[c])) continue;
            if (day == no_day) measured.key(slip.key(c)).Null();
            else json::text(measured.key(slip.key(c)), round::write_day(round::day_numbered(day)));
        }
        for (const std::size_t c : gone)
            if (from.measured[c] != no_day) measured.key(was.key(c)).Null();
    }
    to.EndObject();
    return {buffer.GetString(), buffer.GetSize()};
}

void write_terms(Writer& to, const Terms& terms) {
    const auto list = [&](const char* name, const std::vector<std::string>& texts) {
        json::key(to, name);
        to.StartArray();
        for (const std::string& text : texts) json::text(to, text);
        to.EndArray();
    };
    if (terms.locked) {
        json::key(to, "locked");
        to.Bool(true);
        list("open", terms.open);
    }
    if (!terms.shown.empty()) list("show", terms.shown);
}

bool fits(const Slot& slot, const Value& value) {
    if (!value.IsNumber()) return false;
    const double x = value.GetDouble();
    if (slot.kind == Kind::choice)
        return x >= 0 && x < static_cast<double>(slot.options.size()) && x == std::floor(x);
    return x >= slot.range.low && x <= slot.range.high &&
           (slot.kind != Kind::count || x == std::floor(x));
}

constexpr const char* not_a_step =
    "The kept slip is damaged: a part that should hold a slip holds something else.";

using SharedSlip = std::shared_ptr<const Slip>;

// The lines that a step names, as far as this version knows them; those of `otherwise` when it
// names none. Null: damaged. `before` is shared when it has the same lines, as most steps do.
SharedSlip read_lines(const Session& session, const Value& from, const SharedSlip& otherwise,
                      const SharedSlip& before) {
    const Value* lines = json::find(from, "lines");
    if (lines == nullptr) return otherwise;
    if (!lines->IsArray()) return nullptr;
    std::vector<const Line*> chosen;
    for (const Line* line : session.catalogue())
        for (const Value& id : lines->GetArray())
            if (id.IsString() && json::view(id) == line->about.id) {
                chosen.push_back(line);
                break;
            }
    const bool same = before->size() == chosen.size() &&
                      std::all_of(chosen.begin(), chosen.end(), [&](const Line* line) {
                          return before->find_line(line->about.id) != Slip::none;
                      });
    if (same) return before;
    return std::make_shared<const Slip>(chosen);
}

// What a step has of the one beside it before its own differences are looked at.
Entered begin_step(const SharedSlip& slip, const Entered* beside) {
    if (beside != nullptr && beside->slip == slip) return *beside;
    Entered entered{.slip = slip,
                    .state = slip->blank_state(),
                    .unit = std::vector<const Unit*>(slip->cells().size(), nullptr),
                    .measured = std::vector<int>(slip->cells().size(), no_day)};
    if (beside == nullptr) return entered;
    const std::vector<std::size_t> match = cells_in(*slip, *beside->slip);
    for (std::size_t c = 0; c < match.size(); ++c) {
        if (match[c] == Slip::none) continue;
        entered.unit[c] = beside->unit[match[c]];
        entered.measured[c] = beside->measured[match[c]];
        if (const auto value = kept_value(*beside, match[c]); value.has_value())
            entered.state.given[c] = *value;
    }
    for (std::size_t l = 0; l < slip->size(); ++l)
        if (const std::size_t then = beside->slip->find_line(slip->line(l).about.id);
            then != Slip::none)
            entered.state.hold[l] = beside->state.hold[then];
    return entered;
}

std::string read_given(const Value& given, Entered& entered, bool may_end) {
    const Slip& slip = *entered.slip;
    if (!given.IsObject()) return not_a_step;
    for (const auto& member : given.GetObject()) {
        const std::size_t c = slip.find_cell(json::view(member.name));
        if (c == Slip::none || slip.cells()[c].answered) continue;
        const Slot& slot = *slip.cells()[c].slot;
        if (may_end && member.value.IsNull()) {
            entered.state.given[c] = slot.usual;
            continue;
        }
        if (!fits(slot, member.value))
            return compose(
                "The kept slip is damaged: {0} must be {1}.",
                {slot.name, slot.kind == Kind::choice
                                ? "one of its choices"
                                : show_range(slot, slot.range, slot.dimension->base(), {})});
        entered.state.given[c] = member.value.GetDouble();
    }
    return {};
}

std::string read_held(const Value& held, Entered& entered, bool may_end) {
    const Slip& slip = *entered.slip;
    if (!held.IsObject()) return not_a_step;
    for (const auto& member : held.GetObject()) {
        const std::size_t l = slip.find_line(json::view(member.name));
        if (l == Slip::none) continue;
        if (may_end && member.value.IsNull()) {
            entered.state.hold[l] = {};
            continue;
        }
        if (!member.value.IsObject()) return not_a_step;
        const Value* id = json::find(member.value, "slot");
        const Value* value = json::find(member.value, "value");
        if (id == nullptr || !id->IsString() || value == nullptr) return not_a_step;
        const std::size_t s = slip.line(l).find(json::view(*id));
        if (s == Line::npos) {
            entered.state.hold[l] = {};
            continue;
        }
        const Slot& slot = slip.line(l).slots[s];
        if (!slot.answer || slot.figure() || !fits(slot, *value)) return not_a_step;
        entered.state.hold[l] = {s, value->GetDouble()};
    }
    return {};
}

std::string read_units(const Value& units, Entered& entered) {
    const Slip& slip = *entered.slip;
    if (!units.IsObject()) return not_a_step;
    for (const auto& member : units.GetObject()) {
        const std::size_t c = slip.find_cell(json::view(member.name));
        if (c == Slip::none) continue;
        if (member.value.IsNull()) entered.unit[c] = nullptr;
        const Dimension* dimension = slip.cells()[c].slot->dimension;
        if (dimension != nullptr && member.value.IsString())
            entered.unit[c] = dimension->find(json::view(member.value));
    }
    return {};
}

std::string read_measured(const Value& days, Entered& entered) {
    const Slip& slip = *entered.slip;
    if (!days.IsObject()) return not_a_step;
    for (const auto& member : days.GetObject()) {
        const std::size_t c = slip.find_cell(json::view(member.name));
        if (c == Slip::none) continue;
        if (member.value.IsNull()) entered.measured[c] = no_day;
        if (member.value.IsString())
            if (const auto day = round::read_day(json::view(member.value)); day.has_value())
                entered.measured[c] = round::number_of(*day);
    }
    return {};
}

// Whole, of the lines of `otherwise` where it names none, or as the difference from the step beside
// it. `before` is shared when it has the same lines.
std::string read_step(const Session& session, const SharedSlip& otherwise, const SharedSlip& before,
                      const Entered* beside, const Value& from, Entered& entered) {
    if (!from.IsObject()) return not_a_step;
    const SharedSlip slip = read_lines(session, from, otherwise, before);
    if (slip == nullptr) return not_a_step;
    entered = begin_step(slip, beside);
    std::string problem;
    const bool may_end = beside != nullptr;
    if (const Value* given = json::find(from, "given"); given != nullptr)
        problem = read_given(*given, entered, may_end);
    if (const Value* held = json::find(from, "held"); held != nullptr && problem.empty())
        problem = read_held(*held, entered, may_end);
    if (const Value* units = json::find(from, "units"); units != nullptr && problem.empty())
        problem = read_units(*units, entered);
    if (const Value* days = json::find(from, "measured"); days != nullptr && problem.empty())
        problem = read_measured(*days, entered);
    return problem;
}

// Of a longer list the newest are worth most.
std::string read_steps(const Session& session, const Entered& now, bool whole, const Value* from,
                       std::vector<Entered>& steps) {
    if (from == nullptr || !from->IsArray()) return {};
    const std::size_t skip = from->Size() > most_steps ? from->Size() - most_steps : 0;
    for (std::size_t i = from->Size(); i > skip; --i) {
        const Entered& beside = steps.empty() ? now : steps.back();
        Entered entered;
        std::string problem = read_step(session, whole ? now.slip : beside.slip, beside.slip,
                                        whole ? nullptr : &beside,
                                        (*from)[static_cast<rapidjson::SizeType>(i - 1)], entered);
        if (!problem.empty()) return problem;
        steps.push_back(std::move(entered));
    }
    std::reverse(steps.begin(), steps.end());
    return {};
}

bool read_texts(const Value* from, std::vector<std::string>& texts) {
    if (from == nullptr) return true;
    if (!from->IsArray() || from->Size() > most_terms) return false;
    for (const Value& text : from->GetArray()) {
        if (!text.IsString()) return false;
        texts.emplace_back(json::view(text));
    }
    return true;
}

bool read_terms(const Value& from, const Entered& now, Terms& terms) {
    const Value* locked = json::find(from, "locked");
    const Value* open = json::find(from, "open");
    if (locked != nullptr && !locked->IsBool()) return false;
    if (!read_texts(json::find(from, "show"), terms.shown)) return false;
    if (locked != nullptr && locked->GetBool()) {
        terms.locked = true;
        if (open == nullptr) terms.open = Session::blanks(now);
        if (!read_texts(open, terms.open)) return false;
    }
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    to.StartObject();
    write_terms(to, terms);
    return buffer.GetSize() <= most_terms_bytes;
}

// The version that a kept text says it is of; 0 when it is none, with the reason.
int read_form(std::string_view kept, rapidjson::Document& document, const char*& problem) {
    if (kept.size() > limit::slip_bytes) {
        problem = "This text is far longer than any slip: it was not taken up.";
        return 0;
    }
    if (!json::parse(document, kept) || !document.IsObject()) {
        problem = "This is not a kept slip: the text cannot be read.";
        return 0;
    }
    const Value* form = json::find(document, "wetsleeve");
    if (form == nullptr || !form->IsInt() || form->GetInt() < steps_whole) {
        problem = "This is not a kept slip: it does not say its version.";
        return 0;
    }
    return form->GetInt();
}

} // namespace

std::string save_json(const Session& session) {
    const std::string now = step_text(session.entered(), nullptr);
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    to.StartObject();
    json::key(to, "wetsleeve");
    to.Int(version);
    write_terms(to, session.terms());
    json::key(to, "now");
    to.RawValue(now.data(), now.size(), rapidjson::kObjectType);

    struct Side {
        const char* name;
        std::span<const Entered> steps; // oldest first: the last is beside now
        std::vector<std::string> texts{};
        bool full = false;
    };
    Side sides[] = {{"past", session.past()}, {"future", session.future()}};
    std::size_t bytes = buffer.GetSize() + sizeof R"(,"past":[],"future":[]})";
    bool more = true;
    while (more) {
        more = false;
        for (Side& side : sides) {
            const std::size_t done = side.texts.size();
            if (side.full || done == side.steps.size()) continue;
            const std::size_t place = side.steps.size() - done - 1;
            std::string text = step_text(side.steps[place],
                                         done == 0 ? &session.entered() : &side.steps[place + 1]);
            bytes += text.size() + 1;
            side.full = bytes > with_steps;
            if (!side.full) side.texts.push_back(std::move(text));
            more = true;
        }
    }
    for (const Side& side : sides) {
        json::key(to, side.name);
        to.StartArray();
        for (std::size_t i = side.texts.size(); i > 0; --i)
            to.RawValue(side.texts[i - 1].data(), side.texts[i - 1].size(), rapidjson::kObjectType);
        to.EndArray();
    }
    to.EndObject();
    return {buffer.GetString(), buffer.GetSize()};
}

bool is_later_slip(std::string_view kept) {
    rapidjson::Document document;
    const char* problem = nullptr;
    return read_form(kept, document, problem) > version;
}

std::string load_json(Session& session, std::string_view kept) {
    rapidjson::Document document;
    const char* problem_of_form = nullptr;
    const int form = read_form(kept, document, problem_of_form);
    if (form == 0) return problem_of_form;
    if (form > version)
        return "This slip was kept by a newer version of the page: update the page, then open it "
               "again.";
    const Value* now = json::find(document, "now");
    if (now == nullptr) return "The kept slip is damaged: its values are missing.";

    Entered entered;
    std::vector<Entered> past;
    std::vector<Entered> future;
    // Slips kept before lines could be chosen name none: they had those that a new slip has.
    const auto usual = Session::blank_entry(session.begin_with()).slip;
    const bool whole = form == steps_whole;
    std::string problem = read_step(session, usual, usual, nullptr, *now, entered);
    if (problem.empty())
        problem = read_steps(session, entered, whole, json::find(document, "past"), past);
    if (problem.empty())
        problem = read_steps(session, entered, whole, json::find(document, "future"), future);
    if (!problem.empty()) return problem;
    Terms terms;
    if (!read_terms(document, entered, terms))
        return "The kept slip is damaged: what is locked or shown cannot be read.";
    if (!session.restore(std::move(entered), std::move(past), std::move(future), std::move(terms)))
        return "The kept slip is damaged: its typed-over answers run in a circle.";
    return {};
}

} // namespace wetsleeve
