#include "core/model/number.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>

#include <clocale>
#include <cmath>

namespace wetsleeve {

namespace {

const Style point{System::metric, '.'};
const Style comma{System::metric, ','};

Typed length(const char* text, const Style& style = point) {
    return read_quantity(text, dimension::length, dimension::length.base(), style);
}
double number(const char* text, char decimal = '.') {
    std::string_view rest = text;
    double value = 0;
    std::string problem;
    CHECK(read_number(rest, {System::metric, decimal}, value, problem));
    CHECK(problem.empty());
    return value;
}

} // namespace

TEST_CASE("numbers are read as people write them") {
    CHECK(number("12.5") == 12.5);
    CHECK(number("12,5") == 12.5);
    CHECK(number("12,5", ',') == 12.5);
    CHECK(number(".5") == 0.5);
    CHECK(number("-3") == -3);
    CHECK(number("−3") == -3);
    CHECK(number("0.1") == 0.1); // correctly rounded
    CHECK(number("0.3") == 0.3);
    CHECK(number("123456.789012345") == 123456.789012345);
    CHECK(number("1e3") == 1000);
    CHECK(number("23 5/8") == 23.625);
    CHECK(number("23½") == 23.5);
    CHECK(number("5/8") == 0.625);
    CHECK(number("1.250") == 1.25);  // the reader's own mark
    CHECK(number("0,125") == 0.125); // no thousands begin with 0
    CHECK(number("1,250", ',') == 1.25);
}

TEST_CASE("a slipped mark is refused, not guessed") {
    for (const auto& [text, decimal] :
         {std::pair{"1,250", '.'}, {"1.250", ','}, {"1,250.5", '.'}, {"1.250.000", ','}}) {
        std::string_view rest = text;
        double value = 0;
        std::string problem;
        INFO(text);
        CHECK_FALSE(read_number(rest, {System::metric, decimal}, value, problem));
        CHECK(problem.find("two ways") != std::string::npos);
    }
    CHECK(length("twelve").problem == "“twelve” is not a number.");
    CHECK(length("").problem == "Type a number.");
    CHECK(length("12 L").problem == "“L” is not a unit of length: use cm, mm, m, in, ft.");
    CHECK(length("1 2").problem.find("without a unit") != std::string::npos);
    CHECK(length("1234567890123456").problem.find("at most 15 digits") != std::string::npos);
    CHECK(length("5/0").problem.empty() == false);
}

TEST_CASE("blanks of every kind are blanks") { // as they come from a pasted text
    for (const char* text : {"12 cm", "12\u00a0cm", "12\u202fcm", "12\tcm", "\u00a012 cm\u00a0",
                             "\t12 cm \t", "+12 cm", "12"}) {
        INFO(text);
        CHECK(length(text).value == 12);
        CHECK(length(text).problem.empty());
    }
}

TEST_CASE("exponents and fractions stop where they are none") {
    CHECK(number("2.5e-2") == 0.025);
    CHECK(number("2.5E+2") == 250);
    CHECK(number("7/8 ") == 0.875);
    CHECK(number("-1 1/2") == -1.5);
    CHECK(number("12.") == 12);
    CHECK(length("1e").problem == "“e” is not a unit of length: use cm, mm, m, in, ft.");
    CHECK(!length("1e123").problem.empty()); // three digits of exponent
    CHECK(length("1e99").problem.find("at most 15 digits") != std::string::npos);
    for (const char* wrong : {"5/", "5/1000", "5/1234 in", "1000/5", ".", "-", "1,000,000"}) {
        INFO(wrong);
        CHECK(!length(wrong).problem.empty());
    }
    CHECK(read_quantity("7.2 pH", dimension::acidity, dimension::acidity.base(), point).problem ==
          "“pH” does not belong here: type the number alone.");
}

TEST_CASE("a sentence begins with a capital, also one with a mark") {
    CHECK(sentence("{0} rises.", {"water"}) == "Water rises.");
    CHECK(sentence("{0} falls.", {"pH"}) == "pH falls.");
    CHECK(sentence("{0}", {"x"}) == "x");
    CHECK(sentence("{0}", {"água"}) == "Água");
    CHECK(sentence("{0}", {"éclairage"}) == "Éclairage");
    CHECK(sentence("{0}", {"œufs"}) == "Œufs");
    CHECK(sentence("{0}", {"ősz"}) == "Ősz");
    CHECK(sentence("{0}", {"űr"}) == "Űr");
    CHECK(sentence("{0}", {"÷ 2"}) == "÷ 2");
    CHECK(sentence("{0}", {"ßen"}) == "ßen");
    CHECK(sentence("{0}", {"Öl"}) == "Öl");
    CHECK(sentence("{0}", {"š"}) == "š");
    CHECK(sentence("{0}", {"{1}"}) == "{1}");
    CHECK(compose("{0} {x} {9} {", {"a"}) == "a {x} {9} {");
}

TEST_CASE("units are read in the spellings of the trade") {
    CHECK_THAT(length("48in").value, Catch::Matchers::WithinRel(121.92, 1e-15));
    CHECK_THAT(length("3 ft 6 in").value, Catch::Matchers::WithinRel(106.68, 1e-15));
    CHECK_THAT(length("3' 6\"").value, Catch::Matchers::WithinRel(106.68, 1e-15));
    CHECK_THAT(length("23 5/8 in").value, Catch::Matchers::WithinRel(60.0075, 1e-15));
    CHECK_THAT(length("12,5 mm", comma).value, Catch::Matchers::WithinRel(1.25, 1e-15));
    const auto volume = [](const char* text, System system) {
        return read_quantity(text, dimension::volume, dimension::volume.base(), {system, '.'});
    };
    CHECK(volume("5 gal", System::us).value == 5 * 3.785411784);
    CHECK(volume("5 gal", System::imperial).value == 5 * 4.54609);
    CHECK(volume("5 gal", System::metric).problem ==
          "“gal” differs between countries: write US or imp before it.");
    CHECK(volume("5 gallons", System::us).value == 5 * 3.785411784);
    CHECK(volume("1 Gallon", System::imperial).value == 4.54609);
    CHECK(volume("10 fl oz", System::us).value == volume("10 US fl oz", System::metric).value);
    CHECK(volume("10 floz", System::imperial).value ==
          volume("10 imp fl oz", System::metric).value);
    CHECK(volume("10 fl oz", System::metric).problem ==
          "“fl oz” differs between countries: write US or imp before it.");
    CHECK(volume("5 pints", System::us).problem.find("is not a unit of volume") !=
          std::string::npos);
    CHECK(volume("5 usgal", System::metric).value == 5 * 3.785411784);
    CHECK(volume("5 US gal", System::metric).value == 5 * 3.785411784);
    CHECK(volume("5\u00a0US\u00a0gal\u202f", System::metric).value == 5 * 3.785411784);
    CHECK(read_quantity("0.81 m2", dimension::area, dimension::area.base(), point).value == 0.81);
    CHECK(read_quantity("140 ppm", dimension::concentration, dimension::concentration.base(), point)
              .value == 140);
}

TEST_CASE("1 °dH is 17.848 mg/L CaCO3") { // DIN 38409-6: 10 mg/L CaO; see REFERENCES: GNU units,
                                          // IUPAC weights
    const Typed typed =
        read_quantity("17.848 mg/L CaCO₃", dimension::hardness, dimension::hardness.base(), point);
    CHECK_THAT(typed.value, Catch::Matchers::WithinRel(1.0, 1e-5));
}

TEST_CASE("times of day are read in the forms of the trade") {
    CHECK(read_clock("18:30", {}).value == 18 * 60 + 30);
    CHECK(read_clock("7", {}).value == 7 * 60);
    CHECK(read_clock("18h30", {}).value == 18 * 60 + 30);
    CHECK(read_clock("18.30", {}).value == 18 * 60 + 30);
    CHECK(read_clock("6:30 pm", {}).value == 18 * 60 + 30);
    CHECK(read_clock("12am", {}).value == 0);
    CHECK(read_clock("12 pm", {}).value == 12 * 60);
    CHECK(read_clock("24:00", {}).value == 0);
    CHECK(read_clock("18h", {}).value == 18 * 60);
    for (const char* wrong : {"25:00", "12:60", "noon", "", "13pm", "0am", "1:2:3", "24:01", "123",
                              "12:123", "12:pm5"}) {
        INFO(wrong);
        CHECK_FALSE(read_clock(wrong, {}).problem.empty());
    }
}

TEST_CASE("numbers are written with the digits they deserve") {
    CHECK(write_significant(143.5, 3, '.') == "144");
    CHECK(write_significant(17.716, 3, ',') == "17,7");
    CHECK(write_significant(9.996, 3, '.') == "10.0");
    CHECK(write_significant(1234.5, 3, '.') == "1234");
    CHECK(write_significant(0.04567, 3, '.') == "0.0457");
    CHECK(write_significant(0, 3, '.') == "0");
    CHECK(write_shortest(50, 10, '.') == "50");
    CHECK(write_shortest(23.625, 10, ',') == "23,625");
    CHECK(write_shortest(0.1 + 0.2, 10, '.') == "0.3");
    CHECK(write_fixed(-0.001, 2, '.') == "0.00");
    CHECK(write_clock(1110) == "18:30");
    CHECK(write_clock(1439.7) == "00:00");
    CHECK(write_clock(-30) == "23:30");
}

TEST_CASE("what is no number is written as a dash") {
    for (const double value : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
        CHECK(write_fixed(value, 2, '.') == "–");
        CHECK(write_significant(value, 3, ',') == "–");
        CHECK(write_shortest(value, 10, '.') == "–");
        CHECK(write_clock(value) == "–");
    }
}

TEST_CASE("a host's decimal comma changes nothing") {
    const char* set = nullptr;
    for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "hu_HU.UTF-8", "fr_FR.UTF-8"})
        if (set == nullptr) set = std::setlocale(LC_ALL, name);
    if (set == nullptr) SKIP("no locale with a decimal comma on this machine");
    CHECK(number("12.5") == 12.5);
    CHECK(write_fixed(12.5, 1, '.') == "12.5");
    std::setlocale(LC_ALL, "C");
}

} // namespace wetsleeve
