#include "core/book/gate.hpp"

#include "core/book/checks.hpp"
#include "core/book/fields.hpp"
#include "core/model/number.hpp"

#include <algorithm>
#include <iterator>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

constexpr const char* parts[] = {"tank", "slip", "item", "due", "visit", "round"};

template <class T> std::string problem_in(const Value& from) {
    std::vector<Aside> aside;
    Fields fields(aside);
    T part;
    fields.part(from, part);
    return aside.empty() ? fields.problem : aside[0].why;
}

std::string full(const char* what, std::size_t most, std::size_t count) {
    return count <= most ? std::string()
                         : compose("A book has room for {0} {1}, and this would make {2}: save a "
                                   "file of it, then remove what is no longer needed.",
                                   {std::to_string(most), what, std::to_string(count)});
}

} // namespace

const char* word(Part part) { return parts[static_cast<std::size_t>(part)]; }
bool read_word(std::string_view word, Part& part) {
    const auto* const found = std::find(std::begin(parts), std::end(parts), word);
    if (found == std::end(parts)) return false;
    part = static_cast<Part>(found - std::begin(parts));
    return true;
}

Counts counts_of(const Book& book) {
    return {.tanks = book.tanks.size(),
            .shelf = book.shelf.size(),
            .due = book.due.size(),
            .visits = book.visits.size(),
            .bytes = write_book(book).size()};
}

std::string part_problem(Part part, std::string_view json) {
    if (part == Part::slip) return slip_problem(json);
    const std::size_t outside = part == Part::round ? round_depth : element_depth;
    rapidjson::Document document;
    if (nesting(json) + outside > limit::nesting)
        return "This cannot be kept: its parts lie deeper in each other than those of any book.";
    if (!json::parse(document, json, json::Halves::let_in))
        return "This cannot be kept: the text cannot be read.";
    switch (part) {
    case Part::tank:
        return problem_in<Tank>(document);
    case Part::item:
        return problem_in<Item>(document);
    case Part::due:
        return problem_in<Due>(document);
    case Part::visit:
        return problem_in<Visit>(document);
    case Part::round:
        return problem_in<Rounds>(document);
    case Part::slip:
        break;
    }
    return {};
}

std::string room_problem(const Counts& after) {
    constexpr std::size_t megabyte = 1U << 20U;
    return first_of([&] { return full("tanks", limit::tanks, after.tanks); },
                    [&] { return full("things on the shelf", limit::shelf, after.shelf); },
                    [&] { return full("due dates", limit::due, after.due); },
                    [&] { return full("visits", limit::visits, after.visits); },
                    [&] {
                        return after.bytes <= limit::book_bytes
                                   ? std::string()
                                   : full("MB", limit::book_bytes / megabyte,
                                          after.bytes / megabyte + 1);
                    });
}

std::string gate_json(std::string_view asked, std::string& json) {
    constexpr const char* not_asked = "What is to be kept was not told as it must be.";
    rapidjson::Document puts;
    if (!json::parse(puts, asked) || !puts.IsArray()) return not_asked;
    bool told = true;
    std::string found = json::written([&](Writer& to) {
        to.StartArray();
        for (rapidjson::SizeType at = 0; at < puts.Size() && told; ++at) {
            const Value& put = puts[at];
            const Value* named = put.IsObject() ? json::find(put, "part") : nullptr;
            const Value* text = put.IsObject() ? json::find(put, "text") : nullptr;
            Part part{};
            told = named != nullptr && named->IsString() && read_word(json::view(*named), part) &&
                   text != nullptr && text->IsString();
            const std::string why = told ? part_problem(part, json::view(*text)) : std::string();
            if (why.empty()) continue;
            to.StartObject();
            json::key(to, "at");
            to.Uint(at);
            json::field(to, "why", why);
            to.EndObject();
        }
        to.EndArray();
    });
    if (!told) return not_asked;
    json = std::move(found);
    return {};
}

std::string write_asides(const std::vector<Aside>& asides) {
    return json::written([&](Writer& to) {
        to.StartArray();
        for (const Aside& aside : asides) {
            to.StartObject();
            json::field(to, "part", aside.part);
            json::field(to, "why", aside.why);
            json::field(to, "text", aside.text);
            unless_empty(to, "of", aside.of);
            to.EndObject();
        }
        to.EndArray();
    });
}

std::string read_book_json(std::string_view text, std::string& json) {
    Book book;
    std::vector<Aside> aside;
    std::string problem = read_book(text, book, aside);
    if (problem.empty())
        json = R"({"book":)" + write_book(book) + R"(,"aside":)" + write_asides(aside) + "}";
    return problem;
}

} // namespace wetsleeve::record
