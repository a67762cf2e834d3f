// A new tank in the order of its building, and what to get for it: pure functions of what is
// entered into its slip. Its water is reckoned for the first fill: all of it is new, whatever share
// a later change takes. All texts are in the session's language.
#pragma once

#include "core/model/session.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

struct BuildStep {
    enum class Standing : std::uint8_t {
        done,
        waiting, // something is blank
        stuck,   // the numbers do not go together
        absent,  // not on the slip
    };
    std::string line; // its id
    std::string title;
    Standing standing = Standing::absent;
    std::string sentence;             // done: what the line says, without what it stands on
    std::string trouble;              // waiting, stuck: what is wrong and what to do
    std::vector<std::string> blank{}; // ids of the slots of this line to fill in
    std::vector<SpokenRemark> cautions{};
};

struct Ware {
    std::string line; // id of the line that says how much
    std::string what;
    double amount = 0; // as it is shown, in `unit`
    std::string number, unit;
    std::string details; // "bag size: 9 L; soil as poured: 24.6 L"; may be empty
};

struct BuildList {
    std::vector<BuildStep> steps{};
    std::vector<Ware> wares{};
};

// Lines that were handed over hidden are not in it.
BuildList build_list(const Session& session);

// For a message or a sheet of paper.
std::string build_text(const Session& session, const BuildList& list, std::string_view tank);
// A row for each ware (core/export/csv.hpp): line item amount unit details cautions
std::string build_csv(const Session& session, const BuildList& list);

const char* word(BuildStep::Standing standing);

} // namespace wetsleeve::record
