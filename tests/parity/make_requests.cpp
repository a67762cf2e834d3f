// Writes the requests that the native and the WebAssembly terminal face must answer alike: for
// every line, random givens over the whole range, every third with an answer typed over.
#include "core/book/json.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"

#include <cstdio>
#include <cstdlib>

namespace {

using namespace wetsleeve;

void write_request(const Line& line, test::Dice& dice, bool typed_over) {
    const auto given = test::roll_givens(line, dice);
    double answers[Line::max_slots]{};
    const bool done = line.reckon(given.data(), answers) == nullptr;
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    to.StartObject();
    json::field(to, "line", line.about.id);
    json::key(to, "given");
    to.StartObject();
    for (std::size_t s = 0; s < line.givens; ++s) json::field(to, line.slots[s].id, given[s]);
    if (typed_over && done) {
        const std::size_t s = line.givens + dice.below(line.slots.size() - line.givens);
        // Not quite what it is now, so that something has to give way.
        if (line.slots[s].kind == Kind::number)
            json::field(to, line.slots[s].id, answers[s - line.givens] * (0.5 + dice.unit()));
    }
    to.EndObject();
    to.EndObject();
    std::puts(buffer.GetString());
}

} // namespace

int main(int argc, char** argv) {
    const int each = argc > 1 ? std::atoi(argv[1]) : 100;
    test::Dice dice(8);
    for (const Line* line : all_lines())
        for (int i = 0; i < each; ++i) write_request(*line, dice, i % 3 == 0);
    return 0;
}
