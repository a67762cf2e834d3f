#include "core/book/things.hpp"

#include "core/jobs/keys.hpp"

#include <algorithm>
#include <utility>

namespace wetsleeve::record {

namespace {

using Marks = Things::Marks;

// Marks, beside a slot's by its key and a line's by its id. No key has a blank in it.
constexpr const char* of_shelf = "of the shelf";      // some thing of it
constexpr const char* of_dosing = "of a dosing line"; // no word of which thing

constexpr const char* waters[] = {round::key::ro, round::key::tap};

std::string line_mark(std::string_view id) { return "line " + std::string(id); }

bool has(const Marks& marks, std::string_view mark) {
    return std::find(marks.begin(), marks.end(), mark) != marks.end();
}
void add(Marks& to, std::string mark) {
    if (!has(to, mark)) to.push_back(std::move(mark));
}
bool meet(const Marks& a, const Marks& b) {
    return std::any_of(a.begin(), a.end(), [&](const std::string& mark) { return has(b, mark); });
}

// In small letters, with one blank between words. What has no small letters stays.
std::string words_of(std::string_view text) {
    std::string words;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto c = static_cast<unsigned char>(text[i]);
        const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : 0);
        const bool hard_blank = c == 0xC2 && next == 0xA0;
        if (hard_blank || c == ' ' || c == '\t' || c == '\n') {
            if (!words.empty() && words.back() != ' ') words += ' ';
            if (hard_blank) ++i;
        } else if (c >= 'A' && c <= 'Z') {
            words += static_cast<char>(c - 'A' + 'a');
        } else if (c == 0xC3 && next >= 0x80 && next <= 0x9E && next != 0x97) { // À to Þ, but for ×
            words += text[i++];
            words += static_cast<char>(next + 0x20);
        } else {
            words += text[i];
        }
    }
    const std::string all = words;
    while (!words.empty() && (words.back() == ' ' || words.back() == '.')) words.pop_back();
    return words.empty() ? all : words;
}

// Both waters go by a slot of the blend, and by themselves.
std::string mark_of(const Line& line, const Slot& slot) {
    const std::string_view id = slot.id;
    const bool water = std::string_view(line.about.id) == water::Blend::about.id &&
                       std::find(std::begin(waters), std::end(waters), id) != std::end(waters);
    return slot.travels || water ? std::string(id) : line.about.id + ("/" + std::string(id));
}

// Of a dose that a line reckons nobody knows which thing it is of.
bool may_be_of_shelf(const Line& line, const Slot& slot) {
    return slot.answer && (doses(line) || slot.dimension == &dimension::mass);
}

// A change of water is of both waters, and each of them is part of one.
void add_waters(Marks& says) {
    static constexpr const char* change_marks[] = {
        round::key::refill, round::key::share, round::key::change_share, round::key::change_drop};
    const std::string change_line = line_mark(water::Change::about.id);
    const auto said = [&](const char* mark) { return has(says, mark); };
    const bool change = has(says, change_line) ||
                        std::any_of(std::begin(change_marks), std::end(change_marks), said);
    if (!change && std::none_of(std::begin(waters), std::end(waters), said)) return;
    if (change)
        for (const char* water : waters) add(says, water);
    for (const char* mark : change_marks) add(says, mark);
    add(says, change_line);
}

} // namespace

bool doses(const Line& line) { return std::string_view(line.about.id).starts_with("dosing."); }

Things::Things(const Book& book, const Style& style) : style_(style) {
    static constexpr std::pair<const char*, const char*> plain[] = {
        {round::key::ro, round::key::ro},       {"RO water", round::key::ro},
        {round::key::blend_ro, round::key::ro}, {round::key::tap, round::key::tap},
        {"tap water", round::key::tap},         {round::key::blend_tap, round::key::tap},
        {"plants trimmed", round::key::trim},   {round::key::refill, round::key::refill},
        {round::key::share, round::key::share}};
    for (const auto& [name, mark] : plain) {
        plain_words_.emplace(words_of(name), mark);
        plain_words_.emplace(words_of(style.say(name)), mark);
    }
    for (const char* title : {water::Change::about.title, style.say(water::Change::about.title)})
        plain_words_.emplace(words_of(title), line_mark(water::Change::about.id));
    for (const Item& item : book.shelf) {
        const std::string mark = "thing " + words_of(item.name);
        add(shelf_[item.id], mark);
        add(shelf_[words_of(item.name)], mark);
    }
}

Things::Things(const Book& book, const Session& session) : Things(book, session.style()) {
    catalogue_.assign(session.catalogue().begin(), session.catalogue().end());
    for (const Line* line : catalogue_) {
        learn(line->about.title, {line, nullptr});
        for (const Slot& slot : line->slots)
            if (!slot.figure()) learn(slot.name, {line, &slot});
    }
}

void Things::learn(const char* name, Ref ref) {
    refs_[words_of(name)].push_back(ref);
    if (const char* own = style_.say(name); own != name) refs_[words_of(own)].push_back(ref);
}

const std::vector<Things::Ref>& Things::called_so(const std::string& words) const {
    static const std::vector<Ref> none;
    const auto found = refs_.find(words);
    return found == refs_.end() ? none : found->second;
}

Things::Named Things::made(std::string_view name) const {
    const std::string words = words_of(name);
    Named named;
    const auto add_to_all = [&](const std::string& mark) {
        for (Marks* marks : {&named.called, &named.asks, &named.says}) add(*marks, mark);
    };
    add_to_all("words " + words);
    if (const auto plain = plain_words_.find(words); plain != plain_words_.end())
        add_to_all(plain->second);
    if (words.starts_with(round::key::trim) || words.starts_with(words_of(style_.say("trim"))))
        add_to_all(round::key::trim);
    for (const std::string& key : {std::string(name), words})
        if (const auto things = shelf_.find(key); things != shelf_.end()) {
            for (const std::string& mark : things->second) add_to_all(mark);
            add(named.asks, of_dosing);
            add(named.says, of_shelf);
        }

    const auto add_slot = [&](const Line& line, const Slot& slot) {
        add_to_all(mark_of(line, slot));
        if (slot.answer) add(named.says, line_mark(line.about.id));
        if (!may_be_of_shelf(line, slot)) return;
        add(named.asks, of_shelf);
        add(named.says, of_dosing);
    };
    const std::size_t slash = name.find('/');
    for (const Line* line : catalogue_) {
        if (slash != std::string_view::npos && name.substr(0, slash) != line->about.id) continue;
        for (const Slot& slot : line->slots)
            if (slot.travels == (slash == std::string_view::npos) &&
                name.substr(slash + 1) == slot.id)
                add_slot(*line, slot);
    }
    for (const Ref& ref : called_so(words)) {
        if (ref.slot != nullptr) {
            add_slot(*ref.line, *ref.slot);
            continue;
        }
        add(named.asks, line_mark(ref.line->about.id));
        add(named.says, line_mark(ref.line->about.id));
        for (const Slot& slot : ref.line->slots) {
            if (!slot.answer || slot.figure()) continue;
            add(named.says, mark_of(*ref.line, slot));
            if (!may_be_of_shelf(*ref.line, slot)) continue;
            add(named.asks, of_shelf);
            add(named.says, of_dosing);
        }
    }
    // "Dose by label: dose", as quantity_name has it.
    if (const std::size_t colon = words.find(": "); colon != std::string::npos)
        for (const Ref& title : called_so(words.substr(0, colon)))
            for (const Ref& ref : called_so(words.substr(colon + 2)))
                if (title.slot == nullptr && ref.slot != nullptr && ref.line == title.line)
                    add_slot(*ref.line, *ref.slot);
    add_waters(named.says);
    return named;
}

const Things::Named& Things::known(std::string_view name) const {
    const auto found = known_.find(std::string(name));
    return found != known_.end() ? found->second : known_.emplace(name, made(name)).first->second;
}

bool Things::same(std::string_view a, std::string_view b) const {
    return a == b || meet(known(a).called, known(b).called);
}

bool Things::says(std::string_view written, std::string_view asked) const {
    return written == asked || meet(known(written).says, known(asked).asks);
}

} // namespace wetsleeve::record
