// What a reckoning gives back: a value or the reason why not; and the remarks that go with it.
#pragma once

#include "core/model/constants.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace wetsleeve {

// A sentence in which {slot} stands for a slot's value. Always a literal: it is also the message's
// key for translation, and faces put the numbers in by their reader's units.
using Template = const char*;

struct Refusal {
    Template why;
};

template <class T> class [[nodiscard]] Result {
  public:
    constexpr Result(const T& value) : value_(value) {}      // NOLINT(google-explicit-constructor)
    constexpr Result(Refusal refusal) : why_(refusal.why) {} // NOLINT(google-explicit-constructor)

    constexpr explicit operator bool() const { return why_ == nullptr; }
    constexpr const T& operator*() const { return value_; }
    constexpr const T* operator->() const { return &value_; }
    constexpr Template why() const { return why_; }

  private:
    T value_{};
    Template why_ = nullptr;
};

// How loudly a line speaks up: good to know, think first, do not do it.
enum class Level : std::uint8_t { note, caution, stop };

struct Remark {
    Level level = Level::note;
    Template text = nullptr;
};

// A handful of remarks without the heap. More than fit are a mistake in the line, which a test
// finds. In their texts {0} is the limit for one lift, in the reader's words.
class Remarks {
  public:
    explicit Remarks(double most_lifted_g = lift_limit_g) : most_lifted_g_(most_lifted_g) {}

    // For one person.
    bool too_heavy(double grams) const { return grams > most_lifted_g_; }
    void note(Template text) { add({Level::note, text}); }
    void caution(Template text) { add({Level::caution, text}); }
    void stop(Template text) { add({Level::stop, text}); }

    const Remark* begin() const { return items_.data(); }
    const Remark* end() const { return items_.data() + size_; }
    std::size_t size() const { return size_; }
    bool overflowed() const { return overflowed_; }

  private:
    void add(Remark remark) {
        if (size_ == items_.size()) {
            overflowed_ = true;
            return;
        }
        items_[size_++] = remark;
    }

    double most_lifted_g_;
    std::array<Remark, 8> items_{};
    std::size_t size_ = 0;
    bool overflowed_ = false;
};

} // namespace wetsleeve
