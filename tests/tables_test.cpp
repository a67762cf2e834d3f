// Every line against numbers that this project did not make: tests/lines/<domain>/<name>.csv.
//
//   # source: where the numbers come from
//   # kind: published | library | practice | memory
//   # allowed: 1e-9 relative, and why that much
//   length [ft], width [ft], measured, inside_volume? [L]
//   3, 3, 1, 382.277
//
// With WETSLEEVE_CHECKS set to a file's name, all of them are written there as one table: source,
// its value, ours, difference, and how much is allowed and why.
//
// A column with ? is expected, one with ! is an answer typed over, all others are typed in. A new
// "# source:" begins a new block with columns of its own.
#include "core/model/session.hpp"
#include "core/registry.hpp"
#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>

namespace wetsleeve {

namespace {

struct TableColumn {
    std::size_t slot = 0;
    bool expected = false;
    const Unit* unit = nullptr; // null: text as typed
};

struct Block {
    std::string source, kind, why; // why: of the allowed difference
    double allowed = -1.0;
    std::vector<TableColumn> columns;
    std::size_t rows = 0;
};

// The table of all checks, for people.
class Report {
  public:
    Report() {
        const char* path = std::getenv("WETSLEEVE_CHECKS"); // NOLINT(concurrency-mt-unsafe)
        if (path == nullptr) return;
        file_.open(path);
        file_ << "line\tslot\tkind\tsource\tits value\tours\tunit\tdifference\tallowed\twhy\n";
    }
    void add(const Line& line, const Slot& slot, const Block& block, const std::string& theirs,
             const std::string& ours, const char* unit, double difference) {
        if (!file_.is_open()) return;
        file_ << line.about.id << '\t' << slot.id << '\t' << block.kind << '\t' << block.source
              << '\t' << theirs << '\t' << ours << '\t' << unit << '\t' << difference << '\t'
              << block.allowed << '\t' << block.why << '\n';
    }

  private:
    std::ofstream file_;
};

TableColumn read_column(const Line& line, const std::string& text) {
    TableColumn column;
    const std::size_t bracket = text.find('[');
    std::string id = test::trim(text.substr(0, bracket));
    column.expected = id.ends_with('?');
    const bool typed_over = id.ends_with('!');
    if (column.expected || typed_over) id.pop_back();
    column.slot = line.find(id);
    INFO("column " << text);
    REQUIRE(column.slot != Line::npos);
    const Slot& slot = line.slots[column.slot];
    if (!column.expected) REQUIRE(slot.answer == typed_over);
    if (bracket != std::string::npos) {
        REQUIRE(slot.dimension != nullptr);
        column.unit = slot.dimension->find(text.substr(bracket + 1, text.find(']') - bracket - 1));
        REQUIRE(column.unit != nullptr);
    } else {
        REQUIRE(slot.kind != Kind::number);
    }
    return column;
}

void check_row(const Line& line, const Block& block, const std::string& row, Report& report) {
    INFO(block.source << "\nrow " << row);
    const std::vector<std::string> cells = test::split(row, ',');
    REQUIRE(cells.size() == block.columns.size());
    const Line* const one[] = {&line};
    Session session(one);
    for (const bool answers : {false, true})
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const TableColumn& column = block.columns[i];
            if (column.expected || line.slots[column.slot].answer != answers) continue;
            const std::string unit =
                column.unit == nullptr ? "" : " " + std::string(column.unit->symbol);
            const std::string problem = session.enter(0, column.slot, test::trim(cells[i]) + unit);
            CHECK(problem.empty());
            CAPTURE(problem);
        }
    const LineView view = session.view(0);
    INFO(view.trouble);
    REQUIRE(view.standing == Slip::Standing::done);
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const TableColumn& column = block.columns[i];
        if (!column.expected) continue;
        const std::string cell = test::trim(cells[i]);
        CAPTURE(line.slots[column.slot].id);
        if (column.unit == nullptr) {
            const std::string& got = view.slots[column.slot].shown.number;
            CHECK(got == cell);
            report.add(line, line.slots[column.slot], block, cell, got, "", got == cell ? 0 : 1);
            continue;
        }
        const double expected = std::strtod(cell.c_str(), nullptr);
        const double got =
            (view.slots[column.slot].value - column.unit->offset) / column.unit->factor;
        CHECK_THAT(got, Catch::Matchers::WithinRel(expected, block.allowed) ||
                            Catch::Matchers::WithinAbs(expected, expected == 0 ? 1e-12 : 0));
        report.add(line, line.slots[column.slot], block, cell, write_shortest(got, 12, '.'),
                   column.unit->symbol,
                   expected == 0 ? std::fabs(got) : std::fabs(got / expected - 1));
    }
}

std::string table_of(const Line& line) {
    std::string path = line.about.id;
    path.replace(path.find('.'), 1, "/");
    return "lines/" + path + ".csv";
}

} // namespace

TEST_CASE("every line holds against its table of outside checks") {
    static const std::set<std::string> kinds{"published", "library", "practice", "memory"};
    Report report;
    for (const Line* line : test::lines()) {
        const std::string path = table_of(*line);
        INFO(path);
        std::vector<Block> blocks;
        for (const std::string& raw : test::split(test::read_file(path), '\n')) {
            const std::string text = test::trim(raw);
            if (text.empty()) continue;
            if (text.starts_with("# source:")) {
                blocks.push_back({test::trim(text.substr(9)), "", "", -1.0, {}, 0});
            } else if (text.starts_with("# kind:")) {
                blocks.back().kind = test::trim(text.substr(7));
            } else if (text.starts_with("# allowed:")) {
                char* rest = nullptr;
                blocks.back().allowed = std::strtod(text.c_str() + 10, &rest);
                blocks.back().why = test::trim(*rest == ',' ? rest + 1 : rest);
            } else if (text.starts_with('#')) {
                continue;
            } else if (blocks.back().columns.empty()) {
                for (const std::string& column : test::split(text, ','))
                    blocks.back().columns.push_back(read_column(*line, column));
            } else {
                ++blocks.back().rows;
                check_row(*line, blocks.back(), text, report);
            }
        }
        REQUIRE(!blocks.empty());
        std::set<std::size_t> answered;
        for (const Block& block : blocks) {
            INFO(block.source);
            CHECK(!block.source.empty());
            CHECK(kinds.contains(block.kind));
            CHECK((block.allowed >= 0 && block.allowed <= 0.01));
            CHECK(!block.why.empty());
            CHECK(block.rows > 0);
            std::size_t expected = 0;
            for (const TableColumn& column : block.columns)
                if (column.expected) {
                    ++expected;
                    answered.insert(column.slot);
                }
            CHECK(expected > 0);
        }
        for (std::size_t s = line->givens; s < line->slots.size(); ++s) {
            INFO("answer without an outside check: " << line->slots[s].id);
            CHECK((line->slots[s].figure() || answered.contains(s)));
        }
    }
}

// A fault that a source shares with this project goes unseen wherever that source is the only one.
// So these must stay, each at its lines: words by which its blocks' "# source:" is known, and the
// lines whose tables must have a block of it. "The same" is counted for none.
TEST_CASE("outside checks come from many independent kinds of sources") {
    struct SourceKind {
        const char* name;
        std::vector<std::string> words;
        std::vector<std::string> lines;
    };
    static const std::vector<SourceKind> kinds{
        {"TEOS-10", {"gsw"}, {"carbonate.oxygen", "osmosis.output", "water.refill_temperature"}},
        {"moist-air library", {"psychrolib"}, {"heat.evaporation", "heat.fan"}},
        {"pipe-network solver", {"EPANET"}, {"circulation.hose", "circulation.two_inlets"}},
        {"finite-element plate", {"CalculiX"}, {"structure.bottom_pane", "structure.side_pane"}},
        {"tables for plates", {"Roark", "Timoshenko"}, {"structure.bottom_pane"}},
        {"tables for oxygen", {"Standard Methods 4500-O"}, {"carbonate.oxygen"}},
        {"tables for ammonia", {"Emerson"}, {"livestock.ammonia"}},
        {"tables for conductivity",
         {"Wu, Koch & Pratt", "quivalent conductivity", "Standard Methods 2510"},
         {"water.conductivity", "water.salted", "water.tap_report"}},
        {"tables for solubility", {"handbook solubilities"}, {"dosing.stock"}},
        {"tables for water and steam", {"python3-iapws"}, {"heat.heater", "heat.steady"}},
        {"geometry library", {"Shapely"}, {"geometry.bow_front", "geometry.polygon"}},
        {"molar masses", {"periodictable"}, {"dosing.salt", "water.recipe"}},
    };
    std::vector<std::set<std::string>> at(kinds.size());
    std::vector<int> blocks(kinds.size());
    for (const Line* line : all_lines()) {
        std::string source;
        bool columns = false;
        for (const std::string& raw : test::split(test::read_file(table_of(*line)), '\n')) {
            const std::string text = test::trim(raw);
            if (text.starts_with("# source:")) {
                source = text;
                columns = false;
            }
            if (text.empty() || text[0] == '#') continue;
            if (!columns) {
                columns = true;
                continue;
            }
            std::string counted; // with its first row, once a block
            for (std::size_t k = 0; k < kinds.size(); ++k)
                for (const std::string& word : kinds[k].words) {
                    if (source.find(word) == std::string::npos) continue;
                    INFO(source << " is counted as " << counted << " and as " << kinds[k].name);
                    CHECK((counted.empty() || counted == kinds[k].name));
                    if (counted.empty()) ++blocks[k];
                    counted = kinds[k].name;
                    at[k].insert(line->about.id);
                }
            source.clear();
        }
    }
    std::string listed;
    std::size_t found = 0;
    for (std::size_t k = 0; k < kinds.size(); ++k) {
        listed += std::string(kinds[k].name) + ": " + std::to_string(blocks[k]) + " blocks\n";
        if (blocks[k] > 0) ++found;
    }
    INFO(listed);
    CHECK(found >= 8);
    for (std::size_t k = 0; k < kinds.size(); ++k)
        for (const std::string& line : kinds[k].lines) {
            INFO(line << " has no block of " << kinds[k].name);
            CHECK(at[k].contains(line));
        }
}

TEST_CASE("no table of outside checks is left over") {
    std::set<std::string> wanted;
    for (const Line* line : all_lines()) wanted.insert(table_of(*line));
    for (const Line* line : all_lines()) {
        const std::string domain =
            std::string(line->about.id).substr(0, std::string(line->about.id).find('.'));
        for (const auto& entry :
             std::filesystem::directory_iterator(std::string(WETSLEEVE_TESTS) + "/lines/" + domain))
            if (entry.path().extension() == ".csv")
                CHECK(wanted.contains("lines/" + domain + "/" + entry.path().filename().string()));
    }
}

} // namespace wetsleeve
