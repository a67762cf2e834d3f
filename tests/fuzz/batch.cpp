// One request of the terminal's batch: an answer as JSON, or a sentence.
#include "core/book/json.hpp"
#include "core/cli/request.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace wetsleeve;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size); // NOLINT
    cli::Request request;
    std::string said = cli::read_request(text, request);
    if (said.empty()) {
        const cli::Answer answer(request);
        said = answer.problem().empty() ? answer.json() : cli::problem_json(answer.problem());
        if (answer.problem().empty()) {
            (void)answer.sentences();
            (void)answer.working();
        }
    } else {
        said = cli::problem_json(said);
    }
    rapidjson::Document document;
    if (!json::parse(document, said) || !document.IsObject()) std::abort();
    return 0;
}
