// As much of CBOR (RFC 8949) as hand-over links take: whole numbers, texts, arrays, maps, null,
// true, and finite numbers. Written as its section 4.2.1 wants (shortest heads, definite lengths),
// read only so. A number that is not whole is the shortest of half, single and double float and
// decimal fraction (tag 4); of two as short, the float.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace wetsleeve::record::cbor {

class Writer {
  public:
    void whole(std::uint64_t n) { head(0, n); }
    void text(std::string_view text) {
        head(3, text.size());
        bytes_ += text;
    }
    void array(std::size_t items) { head(4, items); }
    void map(std::size_t pairs) { head(5, pairs); }
    void yes() { bytes_ += '\xf5'; }
    void null() { bytes_ += '\xf6'; }
    void number(double value); // finite
    void append(const Writer& items) { bytes_ += items.bytes_; }

    const std::string& bytes() const { return bytes_; }

  private:
    void head(unsigned major, std::uint64_t n);
    void big_endian(std::uint64_t n, unsigned bytes);

    std::string bytes_;
};

// Takes one item after the other off the front. Whatever is not as asked makes it bad: then
// everything it gives is empty or 0, and all lists have ended.
class Reader {
  public:
    explicit Reader(std::string_view bytes) : rest_(bytes) {}

    bool bad() const { return bad_; }
    bool at_end() const { return rest_.empty(); }

    bool next_is_text() const { return major() == 3; }
    bool next_is_array() const { return major() == 4; }
    bool next_is_null() const { return !rest_.empty() && rest_[0] == '\xf6'; }

    std::uint64_t whole() { return head(0); }
    std::string_view text();
    // Never more than there are bytes left.
    std::size_t array() { return list(4, 1); }
    std::size_t map() { return list(5, 2); }
    void yes();
    void null();
    double number();
    void skip(int depth = 8); // whatever comes next
    void fail() {
        bad_ = true;
        rest_ = {};
    }

  private:
    unsigned major() const {
        return rest_.empty() ? 8 : static_cast<unsigned char>(rest_[0]) >> 5U;
    }
    std::uint64_t head(unsigned wanted);
    std::uint64_t argument();
    std::uint64_t big_endian(unsigned bytes);
    std::size_t list(unsigned wanted, std::size_t least_bytes);
    double integer();

    std::string_view rest_;
    bool bad_ = false;
};

} // namespace wetsleeve::record::cbor
