// The slip as every face shows it, as JSON: for the plain face and for tests. The form is told in
// wasm/bridge.hpp.
#pragma once

#include "core/book/json.hpp"
#include "core/model/session.hpp"

#include <string>
#include <vector>

namespace wetsleeve {

std::string view_json(const Session& session);

// "remarks": [ {"level": "caution", "text": "…"} … ] of an object that is being written.
void write_remarks(json::Writer& to, const std::vector<SpokenRemark>& remarks);

} // namespace wetsleeve
