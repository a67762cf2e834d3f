// A hand-over: what a shop gives a customer in the fragment of a link, so that no server sees it.
//
// The fragment is "h1." and then, as base64url without padding (RFC 4648, section 5), a raw DEFLATE
// stream (RFC 1951) of CBOR (RFC 8949; core/link/cbor.hpp) followed by the CRC-32 of that CBOR,
// most significant byte first. The 1 is the version of all this. Whoever has a compressor at hand
// compresses: the page its CompressionStream("deflate-raw"), the terminal zlib.
//
// The CBOR is a map. Keys are whole numbers in rising order; what is empty, unknown or false
// is left out; keys that a reader does not know are passed over, and counted.
//
//   0  the shop's name, text            4  shelf: array of maps
//   1  how to reach it, text                 0  kind: 0 bottle, 1 salt, 2 soil, 3 stone, 4 tool
//   2  true: the slips are locked            1  name
//   3  tanks: array of maps                  2  the label's own words for strength
//        0  name                             3  amount, number
//        1  note for the customer            4  unit
//        4  slip: array, see below         5  the lines to show, array of line numbers; left out:
//        all 5  note of one's own
//
// A slip is an array of its lines in their order. Each is the line's number
// (core/link/handover_names.txt), followed, if anything of it was entered, by an array that holds
// for each slot its number, and its value in base units. A value of a slot that is an answer was
// typed over it. How numbers are written is the business of whoever reads them: earlier builds told
// in a tank's 2 and 3 the shop's units and decimal mark, and after a slot's value, which could then
// be null, the unit in which the shop read it; all of it is passed over.
// Values that are the usual ones are left out; steps to undo, readings and ids do not travel, and
// of a slip that is shown in part only its shown lines and those that feed them do, and whatever
// else is in such a link is left out of what is taken up.
//
// A link is somebody else's: nothing in it is believed. Its length, what it inflates to, depth,
// counts and texts have limits, and every value must be one that its slot takes.
#pragma once

#include "core/book/book.hpp"
#include "core/model/line.hpp"
#include "core/model/session.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

namespace limit {
inline constexpr std::size_t link = 8000; // characters of a fragment
// Whoever inflates must stop here: a small stream can hold gigabytes.
inline constexpr std::size_t handover_bytes = 256U << 10U;
inline constexpr std::size_t handover_tanks = 20;
inline constexpr std::size_t handover_items = 200;
} // namespace limit

struct Handover {
    std::string shop{}, contact{}; // of one row, and of many
    bool locked = false; // the slips are taken up locked (Terms of core/model/session.hpp)
    // For another device of one's own: one's own notes, and what is in stock, travel as well.
    // Whoever reads the link is not told.
    bool own = false;
    std::vector<Tank> tanks{}; // what travels of them and of the shelf: core/book/tables.hpp
    std::vector<Item> shelf{};
    std::vector<std::string> lines{}; // ids of those to show, as far as a slip has them; none: all
    // How many lines, numbers and fields of a link that was read this version does not know: they
    // are not among the rest.
    std::size_t unknown = 0;
    bool operator==(const Handover&) const = default;
};

// What of a slip travels of a cell: what was typed into it; nullopt: nothing, or the usual value.
std::optional<double> entered_value(const Session::Entered& entered, std::size_t cell);

// Each returns one sentence when it cannot be, or "".

// From what is handed over to the bytes to compress, and back.
std::string write_handover(const Handover& handover, std::span<const Line* const> catalogue,
                           std::string& bytes);
// Ids are left empty: a customer's book gives its own. Slips are as save_json writes them, and have
// `locked` and `lines` among their terms.
std::string read_handover(std::string_view bytes, std::span<const Line* const> catalogue,
                          Handover& handover);

// From the compressed bytes to the fragment, without its "#", and back. The latter takes a fragment
// or a whole link.
std::string write_fragment(std::string_view compressed, std::string& fragment);
std::string read_fragment(std::string_view link, std::string& compressed);

// What to say when the stream does not inflate, and when it passes limit::handover_bytes.
extern const char* const damaged_link;
extern const char* const too_long_link;

// The same as a book (core/book/book.hpp) that has "shop", "contact", "locked", "own", "lines"
// and "unknown" beside its tanks and shelf: how the page, which has no structs, takes and gives it.
// Each tank has who handed it over. Ids are t1, t2 … and s1, s2 …: whoever takes it up gives new
// ones before merging, so that nothing is written over.
std::string handover_as_book(const Handover& handover);
std::string handover_from_book(std::string_view text, Handover& handover);

} // namespace wetsleeve::record
