// Cells of a CSV file, as RFC 4180 has it. Lines end in CR LF; texts are quoted, numbers are not.
#pragma once

#include <string>
#include <string_view>

namespace wetsleeve::record {

// A text that a spreadsheet would take for a formula (it begins with = + - @, one of the wide forms
// of them, a tab or a line break) gets an apostrophe before it.
std::string csv_text(std::string_view text);
// The fewest digits that read back as the same number, with a decimal point.
std::string csv_number(double value);

} // namespace wetsleeve::record
