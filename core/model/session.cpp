#include "core/model/session.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace wetsleeve {

using Standing = Slip::Standing;

std::size_t LineView::held() const {
    for (std::size_t i = 0; i < slots.size(); ++i)
        if (slots[i].role == Role::held) return i;
    return Line::npos;
}

Session::Session(std::span<const Line* const> catalogue, std::span<const Line* const> begin_with)
    : catalogue_(catalogue.begin(), catalogue.end()),
      begin_with_(begin_with.begin(), begin_with.end()), entered_(blank_entry(begin_with)) {
    (void)slip().reckon(entered_.state, outcome_); // nothing is held yet, so there is an order
    put_in_order();
}

void Session::put_in_order() {
    order_.clear();
    const auto shown = [&](std::size_t l) {
        return std::find(terms_.shown.begin(), terms_.shown.end(), slip().line(l).about.id) !=
               terms_.shown.end();
    };
    bool any_shown = false;
    for (std::size_t l = 0; l < slip().size(); ++l) any_shown = any_shown || shown(l);
    bool settled = true;
    for (std::size_t l = 0; l < slip().size(); ++l)
        if (slip().line(l).about.settles)
            settled = settled && outcome_.line[l].standing == Standing::done;
    for (const bool settles : {!settled, settled})
        for (std::size_t l = 0; l < slip().size(); ++l)
            if (slip().line(l).about.settles == settles && (!any_shown || shown(l)))
                order_.push_back(l);
}

Session::Entered Session::blank_entry(std::span<const Line* const> lines) {
    Entered entry;
    entry.slip = std::make_shared<const Slip>(lines);
    entry.state = entry.slip->blank_state();
    entry.unit.assign(entry.slip->cells().size(), nullptr);
    entry.measured.assign(entry.slip->cells().size(), no_day);
    return entry;
}

void Session::offer(std::span<const Line* const> catalogue) {
    catalogue_.assign(catalogue.begin(), catalogue.end());
    ++revision_;
}

bool Session::on_slip(const Line& line) const {
    return slip().find_line(line.about.id) != Slip::none;
}

bool Session::in_sight(const Line& line) const {
    return std::any_of(order_.begin(), order_.end(),
                       [&](std::size_t l) { return &slip().line(l) == &line; });
}

std::string Session::choose(const Line& line, bool on) {
    if (in_sight(line) == on) return {};
    if (terms_.locked)
        return say("The lines of this tank were handed over and stay as they are: make a copy of "
                   "the tank to choose others.");
    if (on && !terms_.shown.empty()) terms_.shown.emplace_back(line.about.id);
    if (on_slip(line) == on) {
        put_in_order();
        ++revision_;
        return {};
    }
    std::vector<const Line*> lines;
    for (const Line* each : catalogue_)
        if (each == &line ? on : on_slip(*each) && !(on && Slip::rivals(*each, line)))
            lines.push_back(each);

    Entered next = blank_entry(lines);
    const Slip& to = *next.slip;
    for (std::size_t c = 0; c < to.cells().size(); ++c) {
        const std::size_t before = slip().find_cell(to.key(c));
        if (before == Slip::none) continue;
        next.unit[c] = entered_.unit[before];
        next.measured[c] = entered_.measured[before];
        if (to.cells()[c].answered) continue;
        const double value = outcome_.value[before];
        const Range& range = to.cells()[c].slot->range;
        if (!slip().cells()[before].answered) next.state.given[c] = entered_.state.given[before];
        else if (value >= range.low && value <= range.high) next.state.given[c] = value;
    }
    for (std::size_t l = 0; l < to.size(); ++l) {
        const std::size_t before = slip().find_line(to.line(l).about.id);
        if (before != Slip::none) next.state.hold[l] = entered_.state.hold[before];
    }
    // Held answers that now would run in a circle are let go.
    Slip::Outcome outcome;
    if (!to.reckon(next.state, outcome))
        std::fill(next.state.hold.begin(), next.state.hold.end(), Slip::Hold{});
    commit(std::move(next));
    return {};
}

const Unit& Session::unit(std::size_t line, std::size_t slot) const {
    const Slot& s = slip().line(line).slots[slot];
    if (s.dimension == nullptr) return dimension::count.base();
    const Unit* chosen = entered_.unit[slip().cell(line, slot)];
    return chosen != nullptr ? *chosen : habitual_unit(s, style_.system);
}

std::size_t Session::gives_way(std::size_t l, std::size_t slot) const {
    const Line& line = slip().line(l);
    if (!line.slots[slot].answer || line.slots[slot].figure()) return Line::npos;
    const double choice =
        line.variant == Line::npos ? 0.0 : entered_.state.given[slip().cell(l, line.variant)];
    return line.gives_way(slot, choice);
}

std::string Session::range(std::size_t line, std::size_t slot) const {
    const Slot& s = slip().line(line).slots[slot];
    return s.kind == Kind::choice ? std::string()
                                  : show_range(s, s.range, unit(line, slot), style_);
}

std::string Session::enter(std::size_t line, std::size_t slot, std::string_view text) {
    const Slot& s = slip().line(line).slots[slot];
    if (s.figure()) return say("This follows from the numbers of the line and cannot be typed.");
    if (text.find_first_not_of(" \t") == std::string_view::npos)
        return put(line, slot, blank, nullptr);
    if (s.kind == Kind::choice) {
        std::string options;
        for (std::size_t i = 0; i < s.options.size(); ++i) {
            if (text == s.options[i] || text == say(s.options[i]) || text == std::to_string(i))
                return enter_value(line, slot, static_cast<double>(i));
            options += compose("{0}“{1}”", {i == 0 ? "" : say(" or "), say(s.options[i])});
        }
        return compose(say("“{0}” is no choice here: it can be {1}."),
                       {std::string(text), options});
    }
    for (const Offer& offer : s.offers)
        if (text == offer.name || text == say(offer.name))
            return enter_value(line, slot, offer.value);
    Typed typed = s.kind == Kind::clock
                      ? read_clock(text, style_)
                      : read_quantity(text, *s.dimension, unit(line, slot), style_);
    if (!typed.problem.empty()) return typed.problem;
    return put(line, slot, typed.value, typed.unit);
}

std::string Session::enter_value(std::size_t line, std::size_t slot, double value) {
    const Slot& s = slip().line(line).slots[slot];
    if (s.figure()) return say("This follows from the numbers of the line and cannot be typed.");
    if (s.kind == Kind::choice && !(value >= 0.0 && value < static_cast<double>(s.options.size()) &&
                                    value == std::floor(value)))
        return sentence(say("{0} has {1} choices, counted from 0."),
                        {say(s.name), std::to_string(s.options.size())});
    return put(line, slot, value, nullptr);
}

// value NaN clears.
std::string Session::put(std::size_t line, std::size_t slot, double value, const Unit* typed_in) {
    const Slot& s = slip().line(line).slots[slot];
    const std::size_t c = slip().cell(line, slot);
    const Slip::Cell& cell = slip().cells()[c];
    const bool clearing = std::isnan(value);

    if (is_locked(line, slot))
        return say("This was handed over with the tank and stays as it is: make a copy of the tank "
                   "to change it.");
    if (!clearing && s.kind != Kind::choice) {
        if (s.kind == Kind::count && value != std::floor(value))
            return sentence(say("{0}: only whole numbers count here."), {say(s.name)});
        if (!(value >= s.range.low && value <= s.range.high)) {
            const Unit& in = typed_in != nullptr ? *typed_in : unit(line, slot);
            return sentence(say("{0}: {1} is out of range; it can be {2}."),
                            {say(s.name), show(s, value, in, style_, Digits::typed).both(),
                             show_range(s, s.range, in, style_)});
        }
    }
    Entered next = entered_;
    if (typed_in != nullptr && s.kind == Kind::number) next.unit[c] = typed_in;

    // Whoever followed because of a held answer stays where it is once that answer is let go.
    const auto let_go = [&](std::size_t l) {
        Slip::Hold& hold = next.state.hold[l];
        if (hold.slot == Slip::none) return;
        const std::size_t way = slip().way_cell(next.state, l);
        if (std::isfinite(outcome_.value[way])) {
            next.state.given[way] = outcome_.value[way];
            next.measured[way] = no_day;
        }
        hold = {};
    };
    const auto let_go_of_way = [&](std::size_t way_cell, std::size_t but) {
        for (std::size_t l = 0; l < slip().size(); ++l) {
            if (l != but && slip().way_cell(next.state, l) == way_cell) let_go(l);
        }
    };

    std::size_t holder = Slip::none;
    if (cell.answered) {
        holder = cell.home;
        let_go(holder);
        if (!clearing) {
            const Line& home = slip().line(holder);
            next.state.hold[holder] = {home.find(cell.slot->id), value};
            let_go_of_way(slip().way_cell(next.state, holder), holder);
        }
    } else {
        let_go_of_way(c, Slip::none);
        next.state.given[c] = clearing ? cell.slot->usual : value;
        next.measured[c] = s.read && !clearing ? today_ : no_day;
    }

    Slip::Outcome outcome;
    if (!slip().reckon(next.state, outcome))
        return say("That would send two lines round in a circle: clear one of the answers that "
                   "were typed over first.");
    if (holder != Slip::none && !clearing &&
        outcome.line[holder].standing == Standing::unreachable) {
        const Slip::LineOutcome& o = outcome.line[holder];
        const Line& home = slip().line(holder);
        const Slot& answer = home.slots[next.state.hold[holder].slot];
        const Slot& way = home.slots[slip().way(next.state, holder)];
        const Unit& in = typed_in != nullptr ? *typed_in : unit(line, slot);
        const auto typed = [&](const Slot& of) {
            return show(of, value, in, style_, Digits::typed).both();
        };
        if (o.low > o.high)
            return sentence(say("{0} cannot come to {1} with the other numbers as they are, "
                                "whatever is put in for {2}."),
                            {say(answer.name), typed(answer), say(way.name)});
        return sentence(
            say("{0} cannot come to {1}: with the other numbers as they are it can be {2}."),
            {say(answer.name), typed(answer), show_range(answer, {o.low, o.high}, in, style_)});
    }
    commit(std::move(next));
    return {};
}

bool Session::commit(Entered next) {
    Slip::Outcome outcome;
    if (!next.slip->reckon(next.state, outcome)) return false;
    const bool other_lines = next.slip != entered_.slip;
    past_.push_back(std::move(entered_));
    if (past_.size() > steps_kept) past_.erase(past_.begin());
    future_.clear();
    entered_ = std::move(next);
    outcome_ = std::move(outcome);
    if (other_lines) put_in_order();
    ++revision_;
    return true;
}

std::string Session::show_in(std::size_t line, std::size_t slot, std::string_view symbol) {
    const Slot& s = slip().line(line).slots[slot];
    const Unit* unit = s.dimension == nullptr || s.figure() ? nullptr : s.dimension->find(symbol);
    if (unit == nullptr)
        return sentence(say("{0} cannot be shown in “{1}”."), {say(s.name), std::string(symbol)});
    Entered next = entered_;
    next.unit[slip().cell(line, slot)] = unit;
    commit(std::move(next));
    return {};
}

void Session::set_today(int day) {
    if (day == today_) return;
    today_ = day;
    ++revision_;
}

void Session::set_lift(double most_g, std::string_view standard) {
    if (most_g == most_lifted_g_ && standard == lift_standard_) return;
    most_lifted_g_ = most_g;
    lift_standard_ = standard;
    ++revision_;
}

std::string Session::usual_lift() const { return lift_in_words(lift_limit_g, lift_standard); }

std::string Session::lift_in_words(double most_g, const std::string& standard) const {
    const Unit& unit = habitual_unit(dimension::mass, {"kg", "lb"}, style_.system);
    const int digits = most_g == lift_limit_g ? 2 : 3; // the standard has 23 kg and 51 lb
    const std::string limit =
        Shown{write_shortest(most_g / unit.factor, digits, style_.decimal), unit.symbol}.both();
    return compose("{0} ({1})", {limit, standard.empty() ? say("own limit") : standard});
}

void Session::set_style(const Style& style) {
    if (style.system == style_.system && style.decimal == style_.decimal) return;
    // Another system is another habit for every slot; another decimal mark changes no unit.
    if (style.system != style_.system)
        std::fill(entered_.unit.begin(), entered_.unit.end(), nullptr);
    style_.system = style.system;
    style_.decimal = style.decimal;
    ++revision_;
}

void Session::speak(Messages messages) {
    messages_ =
        messages.size() == 0 ? nullptr : std::make_shared<const Messages>(std::move(messages));
    style_.messages = messages_.get();
    ++revision_;
}

void Session::clear() {
    Entered next = entered_;
    const Slip::State blank_state = slip().blank_state();
    for (std::size_t l = 0; l < slip().size(); ++l)
        if (!terms_.locked ||
            (next.state.hold[l].slot != Slip::none && is_open(slip().way_cell(next.state, l))))
            next.state.hold[l] = {};
    for (std::size_t c = 0; c < slip().cells().size(); ++c)
        if (is_open(c)) {
            next.state.given[c] = blank_state.given[c];
            next.measured[c] = no_day;
        }
    commit(std::move(next));
}

void Session::undo() { step(past_, future_); }

void Session::redo() { step(future_, past_); }

void Session::step(std::vector<Entered>& from, std::vector<Entered>& to) {
    if (from.empty()) return;
    to.push_back(std::move(entered_));
    entered_ = std::move(from.back());
    from.pop_back();
    (void)slip().reckon(entered_.state, outcome_); // it was reckoned before, so there is an order
    if (to.back().slip != entered_.slip) put_in_order();
    ++revision_;
}

bool Session::restore(Entered entered, std::vector<Entered> past, std::vector<Entered> future,
                      Terms terms) {
    Slip::Outcome outcome;
    for (const std::vector<Entered>* steps : {&past, &future})
        for (const Entered& step : *steps)
            if (!step.slip->reckon(step.state, outcome)) return false;
    if (!entered.slip->reckon(entered.state, outcome)) return false;
    entered_ = std::move(entered);
    past_ = std::move(past);
    future_ = std::move(future);
    outcome_ = std::move(outcome);
    terms_ = std::move(terms);
    for (std::vector<Entered>* steps : {&past_, &future_})
        std::erase_if(*steps, [&](const Entered& step) { return !keeps_locked(step); });
    put_in_order();
    ++revision_;
    return true;
}

void Session::hand_over(bool locked, std::vector<std::string> shown) {
    terms_ = {locked, locked ? blanks(entered_) : std::vector<std::string>(), std::move(shown)};
    past_.clear();
    future_.clear();
    put_in_order();
    ++revision_;
}

std::vector<std::string> Session::blanks(const Entered& entered) {
    const Slip& slip = *entered.slip;
    std::vector<std::string> keys;
    for (std::size_t c = 0; c < slip.cells().size(); ++c) {
        bool follows = slip.cells()[c].answered;
        for (std::size_t l = 0; l < slip.size(); ++l)
            follows = follows || slip.way_cell(entered.state, l) == c;
        if (!follows && std::isnan(entered.state.given[c])) keys.push_back(slip.key(c));
    }
    return keys;
}

bool Session::is_open(std::size_t cell) const {
    return !terms_.locked ||
           std::find(terms_.open.begin(), terms_.open.end(), slip().key(cell)) != terms_.open.end();
}

// An answer is as open as what gives way to it.
bool Session::is_locked(std::size_t line, std::size_t slot) const {
    if (!terms_.locked || slip().line(line).slots[slot].figure()) return false;
    const std::size_t c = slip().cell(line, slot);
    const Slip::Cell& cell = slip().cells()[c];
    if (!cell.answered) return !is_open(c);
    const std::size_t way = gives_way(cell.home, slip().line(cell.home).find(cell.slot->id));
    return way == Line::npos || !is_open(slip().cell(cell.home, way)) ||
           (entered_.state.hold[cell.home].slot != Slip::none &&
            !is_open(slip().way_cell(entered_.state, cell.home)));
}

bool Session::keeps_locked(const Entered& step) const {
    if (!terms_.locked) return true;
    if (step.slip->size() != slip().size()) return false;
    for (std::size_t l = 0; l < slip().size(); ++l)
        if (&step.slip->line(l) != &slip().line(l)) return false;
    for (std::size_t c = 0; c < slip().cells().size(); ++c) {
        const double now = entered_.state.given[c];
        const double then = step.state.given[c];
        if (!slip().cells()[c].answered && now != then && !(std::isnan(now) && std::isnan(then)) &&
            !is_open(c))
            return false;
    }
    for (std::size_t l = 0; l < slip().size(); ++l) {
        if (step.state.hold[l] == entered_.state.hold[l]) continue;
        for (const Slip::State* state : {&step.state, &entered_.state})
            if (state->hold[l].slot != Slip::none && !is_open(slip().way_cell(*state, l)))
                return false;
    }
    return true;
}

LineView Session::view(std::size_t l) const {
    const Line& line = slip().line(l);
    const Slip::LineOutcome& o = outcome_.line[l];
    const Slip::Hold& hold = entered_.state.hold[l];
    const std::size_t way = slip().way(entered_.state, l);

    LineView view;
    view.standing = o.standing;
    for (std::size_t s = 0; s < line.slots.size(); ++s) {
        const Slot& slot = line.slots[s];
        SlotView& v = view.slots.emplace_back();
        if (slot.figure()) {
            v.role = Role::figure;
            continue;
        }
        const std::size_t c = slip().cell(l, s);
        const Slip::Cell& cell = slip().cells()[c];
        // A quantity that another line holds gave way there, wherever it is read.
        const auto& readers = cell.readers;
        const bool gave_way = std::any_of(readers.begin(), readers.end(), [&](std::size_t reader) {
            return slip().way_cell(entered_.state, reader) == c;
        });
        const bool held = cell.answered && entered_.state.hold[cell.home].slot != Slip::none &&
                          slip().cell(cell.home, entered_.state.hold[cell.home].slot) == c;
        v.role = slot.answer      ? (held ? Role::held : Role::answer)
                 : gave_way       ? Role::gave_way
                 : cell.home != l ? Role::fed
                                  : Role::given;
        v.value = outcome_.value[c];
        v.doubt = outcome_.plus_minus[c];
        v.unit = slot.dimension == nullptr ? nullptr : &unit(l, s);
        v.locked = is_locked(l, s);
        if (slot.read && !cell.answered && !gave_way) v.measured = entered_.measured[c];
        const bool typed = held || (!cell.answered && !gave_way);
        v.shown = show(slot, v.value, unit(l, s), style_,
                       typed         ? Digits::typed
                       : v.doubt > 0 ? Digits::doubtful
                                     : Digits::exact);
        v.plus_minus = show_plus_minus(slot, v.doubt, unit(l, s), style_);
    }

    std::array<double, Line::max_slots> given{};
    std::array<double, Line::max_slots> answers{};
    slip().gather(l, outcome_, given.data(), answers.data());
    view.pieces =
        pieces_of(line, say(line.sentence(line.variant == Line::npos ? 0.0 : given[line.variant])));

    const auto worded = [&](std::size_t s) {
        const std::string text = view.slots[s].shown.both();
        return view.slots[s].shown.number.empty() ? std::string(say(line.slots[s].name)) : text;
    };
    switch (o.standing) {
    case Standing::done: {
        Remarks remarks(most_lifted_g_);
        line.speak(given.data(), answers.data(), remarks);
        for (const Remark& remark : remarks)
            view.remarks.push_back(
                {remark.level, compose(fill(line, say(remark.text), worded).c_str(),
                                       {lift_in_words(most_lifted_g_, lift_standard_)})});
        for (const char* caution : line.about.always)
            view.remarks.push_back({Level::caution, say(caution)});
        break;
    }
    case Standing::waiting:
        view.trouble = compose(say("Needs {0}."), {say(line.slots[o.slot].name)});
        break;
    case Standing::refused:
        view.trouble = fill(line, say(o.why), worded);
        break;
    case Standing::unreachable: {
        const Slot& answer = line.slots[hold.slot];
        view.trouble = sentence(
            say("{0} cannot come to {1} any more, whatever is put in for {2}: type another, or "
                "clear it."),
            {say(answer.name), view.slots[hold.slot].shown.both(), say(line.slots[way].name)});
        break;
    }
    case Standing::outside: {
        const Slot& answer = line.slots[o.slot];
        view.trouble =
            sentence(say("{0}: the numbers give {1}, but it must be {2}. Look at them again."),
                     {say(answer.name),
                      show(answer, o.came_to, unit(l, o.slot), style_, Digits::exact).both(),
                      range(l, o.slot)});
        break;
    }
    }
    return view;
}

WorkingWords words_of(const Line& line, const Messages* messages) {
    const auto say = [&](const char* english) {
        return messages == nullptr ? english : messages->say(english);
    };
    WorkingWords words{.line = line.about.id,
                       .formula = {},
                       .assumes = {},
                       .sources = {},
                       .keywords = say(line.about.keywords)};
    for (const char* formula : line.about.formula) {
        const std::size_t mark = formula[0] != '\0' && formula[1] == '|' ? 2 : 0;
        words.formula.push_back(std::string(formula, mark) + say(formula + mark));
    }
    for (const char* each : line.about.assumes) words.assumes.emplace_back(say(each));
    for (const Source& source : line.about.sources)
        if (source.key != nullptr) words.sources.emplace_back(say(source.citation));
    return words;
}

Working Session::working(std::size_t l) const {
    const Line& line = slip().line(l);
    std::array<double, Line::max_slots> given{};
    std::array<double, Line::max_slots> answers{};
    slip().gather(l, outcome_, given.data(), answers.data());

    const WorkingWords* come = learned(line);
    WorkingWords words = come != nullptr ? *come : words_of(line, messages_.get());

    Working working;
    if (words.formula.empty())
        working.assumes.emplace_back(
            say("The formula is on its way: it comes once, over the network."));
    for (std::string_view formula : words.formula) {
        if (formula.size() > 1 && formula[1] == '|') { // of one sentence only
            if (formula[0] - '0' != static_cast<int>(given[line.variant])) continue;
            formula.remove_prefix(2);
        }
        working.in_names.push_back(fill(
            line, formula, [&](std::size_t s) { return std::string(say(line.slots[s].name)); }));
        working.in_numbers.push_back(fill(line, formula, [&](std::size_t s) {
            const std::size_t c = slip().cell(l, s);
            const Slot& slot = line.slots[s];
            if (c == Slip::none || !std::isfinite(outcome_.value[c])) return std::string("?");
            if (slot.kind != Kind::number)
                return show(slot, outcome_.value[c], unit(l, s), style_, Digits::typed).both();
            const Unit& base = slot.dimension->base();
            return Shown{write_shortest(outcome_.value[c], 6, style_.decimal), base.symbol}.both();
        }));
    }
    working.assumes.insert(working.assumes.end(), words.assumes.begin(), words.assumes.end());
    working.sources = std::move(words.sources);
    return working;
}

const WorkingWords* Session::learned(const Line& line) const {
    for (const WorkingWords& each : words_)
        if (each.line == line.about.id) return &each;
    return nullptr;
}

std::string_view Session::keywords(const Line& line) const {
    const WorkingWords* words = learned(line);
    return words != nullptr ? std::string_view(words->keywords) : say(line.about.keywords);
}

void Session::learn(std::vector<WorkingWords> words) {
    words_ = std::move(words);
    ++revision_;
}

Table Session::table(std::size_t l, std::size_t slot) const {
    if (outcome_.line[l].standing != Standing::done) return {};
    std::array<double, Line::max_slots> given{};
    std::array<double, Line::max_slots> answers{};
    slip().gather(l, outcome_, given.data(), answers.data());
    return slip().line(l).table(slot, given.data(), answers.data());
}

Curve Session::curve(std::size_t l, std::size_t slot) const {
    if (outcome_.line[l].standing != Standing::done) return {};
    std::array<double, Line::max_slots> given{};
    std::array<double, Line::max_slots> answers{};
    slip().gather(l, outcome_, given.data(), answers.data());
    return slip().line(l).curve(slot, given.data(), answers.data());
}

} // namespace wetsleeve
