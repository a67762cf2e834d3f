#include "core/record/slip_json.hpp"

#include "core/record/json.hpp"
#include "core/record/view_json.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

namespace wetsleeve {

namespace {

using Entered = Session::Entered;
using json::Value;
using json::Writer;

constexpr int version = 1;
constexpr std::size_t largest_text = 1U << 20U; // kept slips stay far below; more is no slip
constexpr std::size_t most_steps = 200;
constexpr std::size_t most_terms = 4000; // lines, or quantities: there are not nearly as many

// A step says which lines it has only where they are not those of the slip as it is now.
void write_step(Writer& to, const Entered& entered, const Slip* now) {
    const Slip& slip = *entered.slip;
    to.StartObject();
    if (&slip != now) {
        json::key(to, "lines");
        to.StartArray();
        for (std::size_t l = 0; l < slip.size(); ++l) json::text(to, slip.line(l).about.id);
        to.EndArray();
    }
    json::field(to, "system", word(entered.style.system));
    json::field(to, "decimal", std::string_view(&entered.style.decimal, 1));
    json::key(to, "given");
    to.StartObject();
    for (std::size_t c = 0; c < slip.cells().size(); ++c) {
        const Slip::Cell& cell = slip.cells()[c];
        const double value = entered.state.given[c];
        if (!cell.answered && std::isfinite(value) && value != cell.slot->usual)
            json::field(to, slip.key(c), value);
    }
    to.EndObject();
    json::key(to, "held");
    to.StartObject();
    for (std::size_t l = 0; l < slip.size(); ++l) {
        const Slip::Hold& hold = entered.state.hold[l];
        if (hold.slot == Slip::none) continue;
        json::key(to, slip.line(l).about.id);
        to.StartObject();
        json::field(to, "slot", slip.line(l).slots[hold.slot].id);
        json::field(to, "value", hold.value);
        to.EndObject();
    }
    to.EndObject();
    json::key(to, "units");
    to.StartObject();
    for (std::size_t c = 0; c < slip.cells().size(); ++c)
        if (entered.unit[c] != nullptr) json::field(to, slip.key(c), entered.unit[c]->symbol);
    to.EndObject();
    to.EndObject();
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

std::string read_step(const Session& session, const SharedSlip& otherwise, const SharedSlip& before,
                      const Value& from, Entered& entered) {
    if (!from.IsObject()) return not_a_step;
    entered.slip = read_lines(session, from, otherwise, before);
    if (entered.slip == nullptr) return not_a_step;
    const Slip& slip = *entered.slip;
    entered.state = slip.blank_state();
    entered.unit.assign(slip.cells().size(), nullptr);
    entered.style = {};
    if (const Value* system = json::find(from, "system"); system != nullptr && system->IsString())
        for (const System s : {System::metric, System::us, System::imperial})
            if (json::view(*system) == word(s)) entered.style.system = s;
    if (const Value* decimal = json::find(from, "decimal");
        decimal != nullptr && decimal->IsString())
        entered.style.decimal = json::view(*decimal) == "," ? ',' : '.';

    if (const Value* given = json::find(from, "given"); given != nullptr) {
        if (!given->IsObject()) return not_a_step;
        for (const auto& member : given->GetObject()) {
            const std::size_t c = slip.find_cell(json::view(member.name));
            if (c == Slip::none || slip.cells()[c].answered) continue;
            const Slot& slot = *slip.cells()[c].slot;
            if (!fits(slot, member.value))
                return compose(
                    "The kept slip is damaged: {0} must be {1}.",
                    {slot.name, slot.kind == Kind::choice
                                    ? "one of its choices"
                                    : show_range(slot, slot.range, slot.dimension->base(), {})});
            entered.state.given[c] = member.value.GetDouble();
        }
    }
    if (const Value* held = json::find(from, "held"); held != nullptr) {
        if (!held->IsObject()) return not_a_step;
        for (const auto& member : held->GetObject()) {
            const std::size_t l = slip.find_line(json::view(member.name));
            if (l == Slip::none) continue;
            if (!member.value.IsObject()) return not_a_step;
            const Value* id = json::find(member.value, "slot");
            const Value* value = json::find(member.value, "value");
            if (id == nullptr || !id->IsString() || value == nullptr) return not_a_step;
            const std::size_t s = slip.line(l).find(json::view(*id));
            if (s == Line::npos) continue;
            const Slot& slot = slip.line(l).slots[s];
            if (!slot.answer || slot.figure() || !fits(slot, *value)) return not_a_step;
            entered.state.hold[l] = {s, value->GetDouble()};
        }
    }
    if (const Value* units = json::find(from, "units"); units != nullptr) {
        if (!units->IsObject()) return not_a_step;
        for (const auto& member : units->GetObject()) {
            const std::size_t c = slip.find_cell(json::view(member.name));
            if (c == Slip::none || !member.value.IsString()) continue;
            const Dimension* dimension = slip.cells()[c].slot->dimension;
            if (dimension != nullptr) entered.unit[c] = dimension->find(json::view(member.value));
        }
    }
    return {};
}

std::string read_steps(const Session& session, const SharedSlip& now, const Value* from,
                       std::vector<Entered>& steps) {
    if (from == nullptr || !from->IsArray()) return {};
    // Of a longer list the newest are worth most.
    const std::size_t skip = from->Size() > most_steps ? from->Size() - most_steps : 0;
    for (std::size_t i = skip; i < from->Size(); ++i) {
        Entered entered;
        std::string problem = read_step(session, now, steps.empty() ? now : steps.back().slip,
                                        (*from)[static_cast<rapidjson::SizeType>(i)], entered);
        if (!problem.empty()) return problem;
        steps.push_back(std::move(entered));
    }
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
    if (locked == nullptr || !locked->GetBool()) return true;
    terms.locked = true;
    if (open == nullptr) terms.open = Session::blanks(now);
    return read_texts(open, terms.open);
}

} // namespace

std::string save_json(const Session& session) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    to.StartObject();
    json::key(to, "wetsleeve");
    to.Int(version);
    write_terms(to, session.terms());
    json::key(to, "now");
    write_step(to, session.entered(), nullptr);
    for (const auto& [name, steps] :
         {std::pair{"past", session.past()}, std::pair{"future", session.future()}}) {
        json::key(to, name);
        to.StartArray();
        for (const Entered& step : steps) write_step(to, step, &session.slip());
        to.EndArray();
    }
    to.EndObject();
    return {buffer.GetString(), buffer.GetSize()};
}

std::string load_json(Session& session, std::string_view kept) {
    if (kept.size() > largest_text)
        return "This text is far longer than any slip: it was not taken up.";
    rapidjson::Document document;
    if (!json::parse(document, kept) || !document.IsObject())
        return "This is not a kept slip: the text cannot be read.";
    const Value* form = json::find(document, "wetsleeve");
    if (form == nullptr || !form->IsInt())
        return "This is not a kept slip: it does not say its version.";
    if (form->GetInt() != version)
        return "This slip was kept by a newer version of the page: update the page, then open it "
               "again.";
    const Value* now = json::find(document, "now");
    if (now == nullptr) return "The kept slip is damaged: its values are missing.";

    Entered entered;
    std::vector<Entered> past;
    std::vector<Entered> future;
    // Slips kept before lines could be chosen name none: they had those that a new slip has.
    const auto usual = Session::blank_entry(session.begin_with()).slip;
    std::string problem = read_step(session, usual, usual, *now, entered);
    if (problem.empty())
        problem = read_steps(session, entered.slip, json::find(document, "past"), past);
    if (problem.empty())
        problem = read_steps(session, entered.slip, json::find(document, "future"), future);
    if (!problem.empty()) return problem;
    Terms terms;
    if (!read_terms(document, entered, terms))
        return "The kept slip is damaged: what is locked or shown cannot be read.";
    if (!session.restore(std::move(entered), std::move(past), std::move(future), std::move(terms)))
        return "The kept slip is damaged: its typed-over answers run in a circle.";
    return {};
}

} // namespace wetsleeve
