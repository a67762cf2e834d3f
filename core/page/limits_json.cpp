#include "core/page/limits_json.hpp"

#include "core/book/json.hpp"
#include "core/jobs/day.hpp"
#include "core/link/handover.hpp"

namespace wetsleeve::record {

std::string limits_json() {
    return json::written([](json::Writer& to) {
        const auto most = [&](const char* name, std::size_t count) {
            json::key(to, name);
            to.Uint64(count);
        };
        to.StartObject();
        json::key(to, "link");
        to.StartObject();
        most("tanks", limit::handover_tanks);
        most("items", limit::handover_items);
        to.EndObject();
        json::key(to, "days");
        to.StartArray();
        for (const round::Day day : {round::first_day, round::last_day})
            json::text(to, round::write_day(day));
        to.EndArray();
        to.EndObject();
    });
}

} // namespace wetsleeve::record
