#include "core/registry.hpp"

namespace wetsleeve {

std::span<const Line* const> everyday_lines() {
    static const std::vector<const Line*> lines = [] {
        std::vector<const Line*> chosen;
        for (const Line* line : all_lines())
            if (line->about.everyday) chosen.push_back(line);
        return chosen;
    }();
    return lines;
}

std::vector<const Line*> lines_of(const Family& family, std::span<const Line* const> lines) {
    std::vector<const Line*> chosen;
    for (const Line* line : lines) {
        const std::string_view id = line->about.id;
        if (id.substr(0, id.find('.')) == family.id) chosen.push_back(line);
    }
    return chosen;
}

} // namespace wetsleeve
