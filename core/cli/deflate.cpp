#include "core/cli/deflate.hpp"

#include "core/link/handover.hpp"

#ifdef __EMSCRIPTEN__

namespace wetsleeve::cli {

namespace {

constexpr const char* native_only =
    "This build of the command has no compressor for links: use the native one.";

} // namespace

std::string deflate_raw(std::string_view, std::string&) { return native_only; }
std::string inflate_raw(std::string_view, std::size_t, std::string&) { return native_only; }

} // namespace wetsleeve::cli

#else

#include <zlib.h>

namespace wetsleeve::cli {

namespace {

constexpr int raw = -MAX_WBITS; // no header and no sum of zlib's own
constexpr int memory = 9;

// zlib reads through a pointer that is not const, but does not write there.
Bytef* bytes_of(std::string_view text) {
    return reinterpret_cast<Bytef*>(const_cast<char*>(text.data())); // NOLINT
}

} // namespace

std::string deflate_raw(std::string_view bytes, std::string& compressed) {
    z_stream stream{};
    if (deflateInit2(&stream, Z_BEST_COMPRESSION, Z_DEFLATED, raw, memory, Z_DEFAULT_STRATEGY) !=
        Z_OK)
        return "There is not enough memory to make a link.";
    std::string out(deflateBound(&stream, static_cast<uLong>(bytes.size())), '\0');
    stream.next_in = bytes_of(bytes);
    stream.avail_in = static_cast<uInt>(bytes.size());
    stream.next_out = bytes_of(out);
    stream.avail_out = static_cast<uInt>(out.size());
    const bool done = deflate(&stream, Z_FINISH) == Z_STREAM_END;
    out.resize(stream.total_out);
    deflateEnd(&stream);
    if (!done) return "The link could not be compressed.";
    compressed = std::move(out);
    return {};
}

std::string inflate_raw(std::string_view compressed, std::size_t most, std::string& bytes) {
    z_stream stream{};
    if (inflateInit2(&stream, raw) != Z_OK) return "There is not enough memory to open a link.";
    std::string out(most + 1, '\0');
    stream.next_in = bytes_of(compressed);
    stream.avail_in = static_cast<uInt>(compressed.size());
    stream.next_out = bytes_of(out);
    stream.avail_out = static_cast<uInt>(out.size());
    const int status = inflate(&stream, Z_FINISH);
    const std::size_t size = stream.total_out;
    const bool all = status == Z_STREAM_END && stream.avail_in == 0;
    inflateEnd(&stream);
    if (size > most) return record::too_long_link;
    if (!all) return record::damaged_link;
    out.resize(size);
    bytes = std::move(out);
    return {};
}

} // namespace wetsleeve::cli

#endif
