#include "core/page/merge_json.hpp"

#include "core/book/gate.hpp"
#include "core/book/json.hpp"

#include <utility>

namespace wetsleeve::record {

namespace {

using json::Writer;

void write(Writer& to, const char* name, const Difference& difference) {
    json::key(to, name);
    to.StartObject();
    for (const auto& [word, count] :
         {std::pair{"fresh", difference.fresh}, std::pair{"same", difference.same},
          std::pair{"changed", difference.changed}, std::pair{"absent", difference.absent}}) {
        json::key(to, word);
        to.Uint64(count);
    }
    to.EndObject();
}

} // namespace

std::string preview_json(std::string_view our_text, std::string_view their_text,
                         std::string& json) {
    Book ours;
    Book theirs;
    std::string problem = read_what_stands(our_text, ours);
    if (problem.empty()) problem = read_what_stands(their_text, theirs);
    if (!problem.empty()) return problem;
    const Preview all = preview(ours, theirs);
    json = json::written([&](Writer& to) {
        to.StartObject();
        write(to, "tanks", all.tanks);
        write(to, "shelf", all.shelf);
        write(to, "visits", all.visits);
        write(to, "due", all.due);
        json::field(to, "round", word(all.round));
        json::key(to, "corrected_in_both");
        to.Uint64(all.corrected_in_both);
        to.EndObject();
    });
    return {};
}

std::string merge_json(std::string_view our_text, std::string_view their_text, Changed changed,
                       const Style& style, std::string& json) {
    Book ours;
    Book theirs;
    Book merged;
    std::vector<Aside> aside;
    std::vector<Aside> more;
    std::vector<GaveWay> gave_way;
    std::string problem = read_book(our_text, ours, aside);
    if (problem.empty()) problem = read_book(their_text, theirs, more);
    if (problem.empty()) problem = merge(ours, theirs, changed, merged, &gave_way);
    if (!problem.empty()) return problem;
    aside.insert(aside.end(), more.begin(), more.end());
    for (const GaveWay& each : gave_way)
        aside.push_back(
            {.part = each.part, .why = in_words(each, style), .text = each.text, .of = {}});
    json = R"({"book":)" + write_book(merged) + R"(,"aside":)" + write_asides(aside) + "}";
    return {};
}

} // namespace wetsleeve::record
