#include "core/book/json.hpp"

#include "core/model/decimal.hpp"

#include <rapidjson/encodings.h>
#include <rapidjson/memorystream.h>
#include <rapidjson/reader.h>

#include <algorithm>
#include <charconv>
#include <cstdint>

namespace wetsleeve::json {

namespace {

template <class Whole> bool read_whole(std::string_view number, Whole& value) {
    const char* foot = number.data() + number.size();
    const auto [end, error] = std::from_chars(number.data(), foot, value);
    return error == std::errc{} && end == foot;
}

// Fills a document, but for numbers: RapidJSON 1.1.0 reads those that are very long, very large, or
// a nought with an exponent in ways that C++ does not define. Nor does it mind an escaped half of a
// surrogate pair.
class Filler {
  public:
    Filler(rapidjson::Document& document, Halves halves) : document_(document), halves_(halves) {}

    bool RawNumber(const char* text, rapidjson::SizeType length, bool) {
        const std::string_view number(text, length);
        std::int64_t whole = 0;
        std::uint64_t large = 0;
        double value = 0;
        if (read_whole(number, whole)) return document_.Int64(whole);
        if (read_whole(number, large)) return document_.Uint64(large);
        return read_decimal(number, value) && document_.Double(value);
    }
    bool Null() { return document_.Null(); }
    bool Bool(bool b) { return document_.Bool(b); }
    bool Int(int i) { return document_.Int(i); }
    bool Uint(unsigned i) { return document_.Uint(i); }
    bool Int64(std::int64_t i) { return document_.Int64(i); }
    bool Uint64(std::uint64_t i) { return document_.Uint64(i); }
    bool Double(double d) { return document_.Double(d); }
    bool String(const char* text, rapidjson::SizeType length, bool copy) {
        return may_be({text, length}) && document_.String(text, length, copy);
    }
    bool StartObject() { return document_.StartObject(); }
    bool Key(const char* text, rapidjson::SizeType length, bool copy) {
        return may_be({text, length}) && document_.Key(text, length, copy);
    }
    bool EndObject(rapidjson::SizeType members) { return document_.EndObject(members); }
    bool StartArray() { return document_.StartArray(); }
    bool EndArray(rapidjson::SizeType elements) { return document_.EndArray(elements); }

  private:
    // Written again half a pair could not be read.
    bool may_be(std::string_view text) const {
        return halves_ == Halves::let_in || half_in(text) == std::string_view::npos;
    }

    rapidjson::Document& document_;
    Halves halves_;
};

bool is_utf8(std::string_view text) {
    const auto is_plain = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
    const char* const foot = text.data() + text.size();
    unsigned c = 0;
    for (const char* at = text.data();;) {
        at = std::find_if_not(at, foot, is_plain);
        if (at == foot) return true;
        rapidjson::MemoryStream from(at, static_cast<std::size_t>(foot - at));
        if (!rapidjson::UTF8<>::Decode(from, &c)) return false;
        at += from.Tell();
    }
}

// The code unit of "\uD83C" at a place; 0 when there is none.
unsigned unit_at(std::string_view text, std::size_t at) {
    unsigned unit = 0;
    if (at + 6 > text.size() || text[at] != '\\' || text[at + 1] != 'u') return 0;
    const auto [end, error] = std::from_chars(text.data() + at + 2, text.data() + at + 6, unit, 16);
    return error == std::errc{} && end == text.data() + at + 6 ? unit : 0;
}

// RapidJSON takes an escaped second half that stands alone, but no first one: those are put as they
// will stand in the document. False: there are none.
bool put_first_halves(std::string_view text, std::string& out) {
    std::size_t from = 0;
    for (std::size_t at = text.find('\\'); at != std::string_view::npos;) {
        const unsigned unit = unit_at(text, at);
        const unsigned next = unit == 0 ? 0 : unit_at(text, at + 6);
        const bool first = unit >= 0xd800 && unit < 0xdc00;
        if (first && next >= 0xdc00 && next < 0xe000) {
            at += 12;
        } else if (first) {
            out += text.substr(from, at - from);
            out += '\xED';
            out += static_cast<char>(0x80U | (unit >> 6U & 63U));
            out += static_cast<char>(0x80U | (unit & 63U));
            from = at += 6;
        } else {
            at += 2;
        }
        at = text.find('\\', at);
    }
    if (from == 0) return false;
    out += text.substr(from);
    return true;
}

} // namespace

std::size_t half_in(std::string_view text, std::size_t from) {
    for (std::size_t at = text.find('\xED', from); at != std::string_view::npos;
         at = text.find('\xED', at + 1))
        if (at + 1 < text.size() && static_cast<unsigned char>(text[at + 1]) >= 0xA0) return at;
    return std::string_view::npos;
}

bool parse(rapidjson::Document& document, std::string_view text, Halves halves) {
    bool good = false;
    std::string put;
    if (!is_utf8(text)) return false;
    if (halves == Halves::let_in && put_first_halves(text, put)) text = put;
    const auto read = [&](rapidjson::Document& into) {
        rapidjson::MemoryStream bytes(text.data(), text.size());
        rapidjson::EncodedInputStream<rapidjson::UTF8<>, rapidjson::MemoryStream> from(bytes);
        rapidjson::Reader reader;
        Filler filler(into, halves);
        good = !reader
                    .Parse<rapidjson::kParseNumbersAsStringsFlag | rapidjson::kParseIterativeFlag>(
                        from, filler)
                    .IsError() &&
               // A zero byte is the end to RapidJSON.
               bytes.Tell() == text.size();
        return good;
    };
    document.Populate(read);
    return good;
}

namespace {

void merge_into(Value& whole, const Value& patch, rapidjson::Document::AllocatorType& memory) {
    if (!patch.IsObject()) {
        whole.CopyFrom(patch, memory);
        return;
    }
    if (!whole.IsObject()) whole.SetObject();
    for (const auto& field : patch.GetObject()) {
        auto own = whole.FindMember(field.name);
        if (field.value.IsNull()) {
            if (own != whole.MemberEnd()) whole.EraseMember(own);
            continue;
        }
        if (own == whole.MemberEnd()) {
            whole.AddMember(Value(field.name, memory), Value(), memory);
            own = whole.MemberEnd() - 1;
        }
        merge_into(own->value, field.value, memory);
    }
}

} // namespace

void merge_patch(rapidjson::Document& whole, const Value& patch) {
    merge_into(whole, patch, whole.GetAllocator());
}

} // namespace wetsleeve::json
