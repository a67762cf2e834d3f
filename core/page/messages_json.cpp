#include "core/page/messages_json.hpp"

#include "core/book/json.hpp"

namespace wetsleeve {

std::string messages_rows(std::string_view text, std::string& problem) {
    rapidjson::Document document;
    std::string rows;
    if (!json::parse(document, text) || !document.IsObject()) {
        problem = "This is no file of messages: it must be a JSON object of groups.";
        return {};
    }
    for (const auto& group : document.GetObject()) {
        if (!group.value.IsObject()) continue; // the language's name
        for (const auto& message : group.value.GetObject()) {
            if (!message.value.IsString()) {
                problem = "This file of messages is damaged: each message must be a text.";
                return {};
            }
            rows += Messages::row(json::view(message.name), json::view(message.value));
        }
    }
    return rows;
}

std::string read_messages(std::string_view text, Messages& messages) {
    std::string problem;
    const std::string rows = messages_rows(text, problem);
    if (problem.empty() && !messages.add(rows))
        problem = "This file of messages is damaged: a text could not be taken.";
    return problem;
}

} // namespace wetsleeve
