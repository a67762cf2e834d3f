// What a person does to a book, as one small record, and what becomes of the book by it.
//
// A change has steps, which are taken together or not at all:
//
//   { "at": 57, "steps": [
//       { "do": "add",    "key": "tank/t1", "text": "{…}" },   a tank, a thing or a due date
//       { "do": "set",    "key": "tank/t1", "fields": {"name": "Front window", "note": null} },
//                                                              a JSON Merge Patch (RFC 7396)
//       { "do": "bring",  "key": "item/b1", "amount": 500 },     on top of its stock, in its unit
//       { "do": "visit",  "key": "visit/t1/000000000057-0", "text": "{…}",
//                         "now": "2026-05-04T10:20" },
//       { "do": "remove", "key": "tank/t1", "with": ["visit/t1/000000000003-0"] },
//                                                              with the visits known of it
//       { "do": "put",    "key": "slip/t1", "text": "{…}" } ] }  any record whole; null: it goes
//
// or takes an earlier one back: { "at": 58, "back": 57 }.
//
// A device says who it is as well: "at": [57, "kx3…"]. Records that say something else after its
// change bear that stamp, or one that is later than the one they had, which may be another
// device's; what comes whole with a later one of its own keeps it.
//
// A step with "stays": true is what the step after it found already so, as that the van has left:
// it is not taken back with the rest.
#pragma once

#include "core/book/json.hpp"
#include "core/book/records.hpp"
#include "core/model/number.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

enum class Do : std::uint8_t { add, set, bring, visit, remove, put };

struct Step {
    Do act = Do::put;
    std::string key{};
    std::optional<std::string> text{}; // of "set" the patch
    double amount = 0;                 // of "bring"
    std::string now{};                 // of "visit": the moment by the clock on the wall
    std::vector<std::string> with{};   // of "remove"
    bool stays = false;
    bool operator==(const Step&) const = default;
};

struct Change {
    Stamp at{};
    std::vector<Step> steps{};
    std::optional<Stamp> back{}; // the change that is taken back; then there are no steps
    bool operator==(const Change&) const = default;
};

// A sentence when a step cannot be taken on what is there, and no record is changed; or "", and
// `before` has the records that are changed, as they were. `staying`: only the steps that stay.
//
// What is brought comes on top of a stock that is known: whoever counts it or takes of it
// meanwhile, it is the sum. A visit takes what was dosed off the shelf and its RO water out of the
// store, marks its stop of the day as done, and names only a visit that is there as the one it
// corrects. A tank goes with its slip, due dates and visits, but not with a visit that the step
// does not name. An order names the tanks that there are.
std::string apply(const Change& change, Records& records, std::vector<Record>& before,
                  const Style& style, bool staying = false);
void put_back(const std::vector<Record>& before, Records& records);
// Why a tank of this id cannot go.
std::string kept_by_visits(const std::string& tank, const Records& records, const Style& style);

// As above. On failure the sentence says so, and `change` is as before.
std::string read_change(const json::Value& from, Change& change);

} // namespace wetsleeve::record
