// One question to one line: what the terminal face and its batch mode are made of.
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace wetsleeve::cli {

struct Request {
    std::string line;
    // Slot id and what to put in: text as a person types it, or a number in base units.
    struct Entry {
        std::string slot;
        std::string text;
        double value = blank; // used when text is empty
    };
    std::vector<Entry> entries;
    Style style;
    std::string id{}; // a text or a number as JSON, which the answer repeats; or empty
};

// A line reckoned alone, or one sentence that says what is wrong and what is allowed.
class Answer {
  public:
    explicit Answer(const Request& request);

    const std::string& problem() const { return problem_; }
    std::string sentences() const; // what a person reads: sentence, what gave way, tables, remarks
    std::string working() const;
    std::string json() const; // one object on one line; its form: main.cpp, `usage`

  private:
    const Line* line_ = nullptr;
    std::string id_;
    std::string problem_;
    std::vector<Session> session_; // none or one: a Session needs its line first
};

const Line* find_line(std::string_view id);

// {"line": "water.change", "given": {"share": 50, "net_water": "287 L"}, "system": "us", "decimal":
// ","} A number is in the slot's base unit. On failure returns the sentence, and of `request` only
// the id is of use.
std::string read_request(std::string_view text, Request& request);

std::string problem_json(const std::string& problem, const std::string& id = {});

} // namespace wetsleeve::cli
