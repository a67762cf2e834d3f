// The slip as every face shows it, as JSON: for the plain face and for tests. The form is told in
// wasm/bridge.hpp.
#pragma once

#include "core/model/session.hpp"
#include "core/record/json.hpp"

#include <string>
#include <vector>

namespace wetsleeve {

std::string view_json(const Session& session);

// "remarks": [ {"level": "caution", "text": "…"} … ] of an object that is being written.
void write_remarks(json::Writer& to, const std::vector<SpokenRemark>& remarks);

// Words for what the JSON forms say; also the terminal's.
const char* word(Level level);
const char* word(Kind kind);
const char* word(Role role);
const char* word(Slip::Standing standing);
const char* word(System system);

} // namespace wetsleeve
