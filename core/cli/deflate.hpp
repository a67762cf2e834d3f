// Raw DEFLATE (RFC 1951) by the system's zlib: the terminal's part of hand-over links. Of its own,
// because the page uses its browser's.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace wetsleeve::cli {

// Each returns one sentence when it cannot be, or "".
std::string deflate_raw(std::string_view bytes, std::string& compressed);
// Stops as soon as more than `most` bytes come out.
std::string inflate_raw(std::string_view compressed, std::size_t most, std::string& bytes);

} // namespace wetsleeve::cli
