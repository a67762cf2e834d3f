#include "core/book/book.hpp"

#include "core/book/checks.hpp"
#include "core/book/fields.hpp"
#include "core/book/gate.hpp"
#include "core/model/number.hpp"

namespace wetsleeve::record {

namespace {

using json::Value;
using json::Writer;

constexpr const char* too_deep =
    "This is no book: its parts lie deeper in each other than those of any book.";

constexpr const char* kinds[] = {"bottle", "salt", "soil", "stone", "tool"};
constexpr const char* whats[] = {"read", "reckoned", "done", "dosed"};
constexpr const char* wears[] = {"cartridge", "membrane", "lamp", "skimmer"};
constexpr const char* due_kinds[] = {"task", "visit", "change", "trim"};
constexpr const char* days_counted_from[] = {"planned", "done"};

template <class Kind> const char* word_of(Kind kind) {
    return words_of<Kind>()[static_cast<std::size_t>(kind)];
}
template <class Kind> bool find_word(std::string_view word, Kind& kind) {
    const auto words = words_of<Kind>();
    const auto found = std::find(words.begin(), words.end(), word);
    if (found == words.end()) return false;
    kind = static_cast<Kind>(found - words.begin());
    return true;
}

// ---- earlier forms ------------------------------------------------------------------------------

// A kept slip by itself. The same file always makes the same tank, so that taking it up twice adds
// nothing.
Book book_of_slip(const Value& slip) {
    Book book;
    Tank& tank = book.tanks.emplace_back();
    tank.slip = as_json(slip);
    static constexpr char digits[] = "0123456789abcdef";
    tank.id = "slip-";
    const std::uint32_t crc = crc32(tank.slip);
    for (unsigned shift = 32; shift > 0; shift -= 4) tank.id += digits[crc >> (shift - 4) & 15U];
    tank.name = "Tank";
    return book;
}

} // namespace

template <> std::span<const char* const> words_of<ItemKind>() { return kinds; }
template <> std::span<const char* const> words_of<What>() { return whats; }
template <> std::span<const char* const> words_of<Wears>() { return wears; }
template <> std::span<const char* const> words_of<DueKind>() { return due_kinds; }
template <> std::span<const char* const> words_of<CountedFrom>() { return days_counted_from; }
const char* word(ItemKind kind) { return word_of(kind); }
const char* word(What what) { return word_of(what); }
const char* word(Wears kind) { return word_of(kind); }
const char* word(DueKind kind) { return word_of(kind); }
const char* word(CountedFrom from) { return word_of(from); }
bool read_word(std::string_view word, ItemKind& kind) { return find_word(word, kind); }
bool read_word(std::string_view word, What& what) { return find_word(word, what); }
bool read_word(std::string_view word, Wears& kind) { return find_word(word, kind); }
bool read_word(std::string_view word, DueKind& kind) { return find_word(word, kind); }
bool read_word(std::string_view word, CountedFrom& from) { return find_word(word, from); }

std::string read_book(std::string_view text, Book& book, std::vector<Aside>& aside) {
    if (text.size() > limit::file_bytes)
        return compose("This file is larger than a book can be ({0} MB): it was not taken up.",
                       {std::to_string(limit::file_bytes >> 20U)});
    const std::size_t depth = nesting(text);
    if (depth > limit::nesting) return too_deep;
    rapidjson::Document document;
    if (!json::parse(document, text, json::Halves::let_in) || !document.IsObject())
        return "This is no book: the text cannot be read.";
    std::vector<Aside> apart;
    Fields fields(apart);
    Book found;
    if (json::find(document, "version") == nullptr &&
        json::find(document, "wetsleeve") != nullptr) {
        if (depth + slip_depth > limit::nesting) return too_deep;
        std::string problem = slip_problem(as_json(document));
        if (!problem.empty()) return problem;
        found = book_of_slip(document);
    } else {
        const Value* form = json::find(document, "version");
        if (form == nullptr || !form->IsInt() || form->GetInt() < 1)
            return "This is no book: it does not say its version.";
        if (form->GetInt() > form_of_book)
            return "This book was kept by a newer version of the program: update it, then open the "
                   "book again.";
        read(fields, document, found);
        if (fields.given_up())
            return compose("This is no book: more than {0} of its parts are damaged.",
                           {std::to_string(limit::asides)});
    }
    book = std::move(found);
    aside = std::move(apart);
    return {};
}

std::string read_book(std::string_view text, Book& book) {
    Book found;
    std::vector<Aside> aside;
    std::string problem = read_book(text, found, aside);
    if (problem.empty() && !aside.empty()) problem = aside[0].why;
    if (problem.empty()) book = std::move(found);
    return problem;
}

std::string read_what_stands(std::string_view text, Book& book) {
    std::vector<Aside> aside;
    return read_book(text, book, aside);
}

std::string write_book(const Book& book) {
    return json::written([&](Writer& to) { write(to, book); });
}

std::string add_visit(Book& book, Visit visit) {
    std::string problem = problem_of(visit);
    if (problem.empty()) problem = room_problem({.visits = book.visits.size() + 1});
    if (!problem.empty()) return problem;
    if (with_id(book.visits, visit.id) != nullptr)
        return "There is a visit of this id already: it stays as it is.";
    book.visits.push_back(std::move(visit));
    return {};
}

} // namespace wetsleeve::record
