#include "wasm/text_flow.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

constexpr float row_gap = 6;

} // namespace

TextFlow::TextFlow(Letters& letters, float width, float indent)
    : letters_(letters), width_(width), indent_(indent), x_(indent) {}

void TextFlow::words(std::string_view text, Type type, Ink ink) {
    while (!text.empty()) {
        if (text.front() == ' ') {
            settle_cluster();
            space_ = std::max(space_, letters_.width(type, " "));
            text.remove_prefix(1);
            continue;
        }
        const std::size_t n = std::min(text.find(' '), text.size());
        const std::string_view word = text.substr(0, n);
        Atom atom{letters_.width(type, word), letters_.rise(type), letters_.fall(type), {}, -1};
        atom.runs.push_back({std::string(word), type, ink, {0, 0}});
        put(std::move(atom));
        text.remove_prefix(n);
    }
}

void TextFlow::box(const SlotBox& like, Flowed inside, float pad_x, float pad_y, float least_high) {
    Atom atom;
    atom.width = std::max(inside.width + 2 * pad_x, size::target - 4);
    const float high = std::max(inside.height + 2 * pad_y, least_high);
    const float over = (high - inside.height) / 2;
    const float left = (atom.width - inside.width) / 2;
    atom.rise = over + inside.first_baseline;
    atom.fall = high - atom.rise;
    for (Run& run : inside.runs) {
        run.baseline.x += left;
        run.baseline.y -= inside.first_baseline;
        atom.runs.push_back(std::move(run));
    }
    atom.box = static_cast<int>(out_.boxes.size());
    SlotBox box = like;
    box.rect = {0, -atom.rise, atom.width, high};
    const float more = std::max(0.0F, size::target - high) / 2;
    box.target = {box.rect.x - 2, box.rect.y - more, box.rect.w + 4, box.rect.h + 2 * more};
    out_.boxes.push_back(box);
    // Targets in rows that follow each other touch, but never overlap.
    atom.rise += std::max(0.0F, more - row_gap / 2);
    atom.fall += std::max(0.0F, more - row_gap / 2);
    put(std::move(atom));
}

void TextFlow::put(Atom atom) { cluster_.push_back(std::move(atom)); }

void TextFlow::settle_cluster() {
    if (cluster_.empty()) return;
    float wide = 0;
    for (const Atom& atom : cluster_) wide += atom.width;
    const std::vector<Atom> cluster = std::move(cluster_);
    cluster_.clear();
    if (!row_.empty() && x_ + space_ + wide > width_) end_row();
    if (!row_.empty()) x_ += space_;
    for (const Atom& atom : cluster) {
        // A cluster wider than the page is torn after all.
        if (!row_.empty() && x_ + atom.width > width_ && wide > width_ - indent_) end_row();
        row_.push_back(atom);
        row_x_.push_back(x_);
        x_ += atom.width;
    }
    space_ = 0;
}

void TextFlow::end_row() {
    settle_cluster();
    space_ = 0;
    if (!row_.empty()) {
        float rise = 0;
        float fall = 0;
        for (const Atom& atom : row_) {
            rise = std::max(rise, atom.rise);
            fall = std::max(fall, atom.fall);
        }
        if (any_row_) y_ += row_gap;
        // A cluster is torn between atoms only, so a long word or box may stand out.
        if (x_ > width_) {
            std::string words;
            for (const Atom& atom : row_)
                for (const Run& run : atom.runs) words += run.text;
            letters_.fitted(width_ / x_, words);
        }
        const float baseline = y_ + rise;
        if (!any_row_) out_.first_baseline = baseline;
        any_row_ = true;
        for (std::size_t i = 0; i < row_.size(); ++i) {
            for (Run run : row_[i].runs) {
                run.baseline.x += row_x_[i];
                run.baseline.y += baseline;
                out_.runs.push_back(std::move(run));
            }
            if (row_[i].box >= 0) {
                SlotBox& box = out_.boxes[static_cast<std::size_t>(row_[i].box)];
                box.rect = box.rect.moved(row_x_[i], baseline);
                box.target = box.target.moved(row_x_[i], baseline);
            }
            out_.width = std::max(out_.width, row_x_[i] + row_[i].width);
        }
        y_ = baseline + fall;
    }
    row_.clear();
    row_x_.clear();
    x_ = indent_;
}

void TextFlow::gap(float high) {
    end_row();
    y_ += high;
}

float TextFlow::foot() {
    end_row();
    return y_;
}

Flowed TextFlow::take() {
    end_row();
    out_.height = y_;
    return std::move(out_);
}

} // namespace wetsleeve
