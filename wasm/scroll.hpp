// One scrolling region under a finger or a wheel: follows, glides on, and comes to rest.
#pragma once

namespace wetsleeve {

class Scroll {
  public:
    float at() const { return at_; }
    void limit(float most);
    // Without a glide: keeps what is on the screen where it is when rows above change.
    void shift(float by);
    void jump(float to);
    void glide(float to, bool still);
    // A finger: `by` is how far the content goes up.
    void drag(float by, double milliseconds);
    void let_go(double milliseconds, bool still);
    // True when it was gliding: the touch that stops it is no tap.
    bool stop();
    // To the time of a frame. True: wants another.
    bool step(double milliseconds);

  private:
    float at_ = 0, most_ = 0;
    float speed_ = 0; // CSS pixels a millisecond
    bool gliding_ = false, aimed_ = false;
    float from_ = 0, to_ = 0;
    double since_ = 0, last_ = -1;
};

} // namespace wetsleeve
