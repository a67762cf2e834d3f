#include "core/book/fold.hpp"

#include <algorithm>
#include <utility>

namespace wetsleeve::record {

Fold::Fold(Records records, std::vector<Taken> taken, Style style)
    : records_(std::move(records)), taken_(std::move(taken)), style_(style) {}

std::size_t Fold::place_of(const Stamp& at) const {
    const auto found = std::lower_bound(
        taken_.begin(), taken_.end(), at,
        [](const Taken& each, const Stamp& stamp) { return each.change.at < stamp; });
    return static_cast<std::size_t>(found - taken_.begin());
}

const Fold::Taken* Fold::find(const Stamp& at) const {
    const std::size_t place = place_of(at);
    return place < taken_.size() && taken_[place].change.at == at ? &taken_[place] : nullptr;
}

void Fold::rewind(std::size_t place) {
    for (std::size_t i = taken_.size(); i > place; --i) {
        put_back(taken_[i - 1].before, records_);
        taken_[i - 1].before.clear();
    }
}

void Fold::take_from(std::size_t place) {
    for (std::size_t i = place; i < taken_.size(); ++i) {
        Taken& each = taken_[i];
        if (!each.change.back.has_value())
            each.why = apply(each.change, records_, each.before, style_, each.taken_back);
    }
}

// Why a change stays on which another one was built.
std::string Fold::built_on(std::size_t place, std::size_t by) const {
    for (const Step& step : taken_[by].change.steps)
        for (const Step& under : taken_[place].change.steps) {
            if (step.act != Do::visit) continue;
            if (under.act == Do::visit)
                return style_.say("This visit has been corrected since then, so both stay. Correct "
                                  "it once more instead.");
            if (key::part(under.key) == Part::tank)
                return kept_by_visits(under.key.substr(key::tank.size()), records_, style_);
        }
    return style_.say("It has been changed since then, so it stays as it is now.");
}

// Those that stood with the change stand without it, or it stays.
void Fold::take_back(std::size_t place) {
    std::string& why = taken_[place].why;
    const Stamp& target = *taken_[place].change.back;
    const std::size_t of = place_of(target);
    why = of < place && taken_[of].change.at == target && !taken_[of].taken_back &&
                  taken_[of].why.empty() && !taken_[of].change.back.has_value()
              ? ""
              : style_.say("It has been changed since then, so it stays as it is now.");
    if (!why.empty()) return;
    const auto stands = [](const Taken& each) {
        return each.why.empty() || each.change.back.has_value();
    };
    std::vector<bool> stood(taken_.size());
    std::transform(taken_.begin(), taken_.end(), stood.begin(), stands);
    const auto take_anew = [&](bool taken_back) {
        rewind(of);
        taken_[of].taken_back = taken_back;
        take_from(of);
    };
    take_anew(true);
    std::size_t by = of + 1;
    while (by < taken_.size() && (!stood[by] || stands(taken_[by]))) ++by;
    if (by == taken_.size()) return;
    take_anew(false);
    taken_[place].why = built_on(of, by);
}

void Fold::add(Change change) {
    if (find(change.at) != nullptr) return;
    // Where something is taken back all is weighed anew: what comes may have been built on it.
    const std::size_t place = place_of(change.at);
    std::size_t from = place;
    const auto weigh = [&](const Change& each) {
        if (each.back.has_value()) from = std::min(from, place_of(*each.back));
    };
    weigh(change);
    for (const Taken& each : taken_) weigh(each.change);
    rewind(from);
    taken_.insert(taken_.begin() + static_cast<std::ptrdiff_t>(place),
                  {.change = std::move(change)});
    for (std::size_t i = from; i < taken_.size(); ++i) taken_[i].taken_back = false;
    take_from(from);
    for (std::size_t i = from; i < taken_.size(); ++i)
        if (taken_[i].change.back.has_value()) take_back(i);
}

} // namespace wetsleeve::record
