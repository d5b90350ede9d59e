#pragma once
#include <algorithm>
#include <random>
#include <string>
#include <vector>

namespace ringtrue::testing {

/// Makes netlists of copper alone as text for `netlist()`: wires, bridges, and terminals with two sides among
/// the pins of devices.
class CopperMaker {
 public:
  explicit CopperMaker(unsigned seed) : random_(seed) {}

  [[nodiscard]] std::string text() const { return text_; }
  [[nodiscard]] unsigned below(unsigned limit) { return static_cast<unsigned>(random_() % limit); }

  /// A fuse, or a disconnect terminal, and its sides.
  std::vector<std::string> place_to_open() {
    const std::string name = "X2:" + std::to_string(++places_);
    text_ += "part " + name + (below(2) == 0 ? " fuse int ext\n" : " disconnect\n");
    ++elements_;
    return {name + ".int", name + ".ext"};
  }
  /// A pin of a device, or a terminal whose body is an element; a terminal is listed as a part or not.
  std::vector<std::string> place(bool is_terminal) {
    const std::string number = std::to_string(++places_);
    if (!is_terminal) return {"D" + std::to_string(places_ % 3) + ":" + number};
    const std::string name = "X1:" + number;
    if (below(4) != 0) text_ += "part " + name + " terminal\n";
    ++elements_;
    return {name + ".int", name + ".ext"};
  }
  void join(const std::string& a, const std::string& b, bool is_bridge) {
    text_ += (is_bridge ? "b" : "") + std::to_string(++conductors_) + " " + a + " " + b +
             (is_bridge ? " bridge\n" : "\n");
    ++elements_;
  }
  [[nodiscard]] unsigned elements() const { return elements_; }
  const std::string& some(const std::vector<std::string>& of) {
    return of[below(static_cast<unsigned>(of.size()))];
  }

 private:
  std::mt19937 random_;
  std::string text_;
  unsigned places_ = 0, conductors_ = 0, elements_ = 0;
};

/// One to three trees: stars, paths, caterpillars, and such as chance has it.
inline std::string random_trees(unsigned seed) {
  CopperMaker maker(seed);
  for (unsigned nets = 1 + maker.below(3); nets > 0; --nets) {
    const unsigned shape = maker.below(4), places = 2 + maker.below(14);
    std::vector<std::vector<std::string>> made = {maker.place(maker.below(2) == 0)};
    while (made.size() < places) {
      const auto count = static_cast<unsigned>(made.size());
      // A caterpillar's spine is place 0 and those of odd number; each other one is a leg.
      const unsigned on_spine = count % 2 == 0 || count == 1 ? count - 1 : count - 2;
      const unsigned parents[] = {0, count - 1, on_spine, maker.below(count)};
      made.push_back(maker.place(maker.below(2) == 0));
      maker.join(maker.some(made[parents[shape]]), maker.some(made.back()), maker.below(4) == 0);
    }
  }
  return maker.text();
}

/// Up to ten elements thrown at random, so that rings, parallel conductors and loose parts occur.
inline std::string random_copper(unsigned seed) {
  CopperMaker maker(seed);
  std::vector<std::string> points;
  for (unsigned places = 2 + maker.below(5); places > 0; --places)
    for (const std::string& point : maker.place(maker.below(3) == 0)) points.push_back(point);
  const unsigned joints = static_cast<unsigned>(points.size()) - maker.elements();
  const unsigned elements = std::min(10u, maker.elements() + joints - 1 + maker.below(4));
  while (maker.elements() < elements) {
    const std::string a = maker.some(points), b = maker.some(points);
    if (a != b) maker.join(a, b, maker.below(3) == 0);
  }
  return maker.text();
}

/// What else than wires is in a ring.
enum class Ring { wires, bridges, fuses };

/// A ring, or two points joined by three ways, of up to ten elements, with branches on it. With `bridges`
/// some of the elements are such and a terminal's body, which can't be lifted; with `fuses` some can be taken
/// out.
inline std::string random_ring(unsigned seed, Ring ring) {
  CopperMaker maker(seed);
  const unsigned ways = 2 + maker.below(2);
  const auto join = [&](const std::string& a, const std::string& b) {
    maker.join(a, b, ring != Ring::wires && maker.below(3) == 0);
  };
  const std::vector<std::string> one =
      ring == Ring::fuses ? maker.place_to_open() : maker.place(ring == Ring::bridges && maker.below(4) == 0);
  const std::vector<std::string> other = maker.place(false);
  std::vector<std::string> points = one;
  points.push_back(other.front());
  for (unsigned way = 0; way < ways; ++way) {
    std::string at = maker.some(one);
    for (unsigned between = maker.below(ways == 2 ? 3 : 2); between > 0; --between) {
      const bool opens = ring == Ring::fuses && maker.elements() < 6 && maker.below(3) == 0;
      const std::vector<std::string> next = opens ? maker.place_to_open() : maker.place(false);
      points.insert(points.end(), next.begin(), next.end());
      join(at, next.front());
      at = next.back();
    }
    join(at, other.front());
  }
  while (maker.elements() < 8 && maker.below(2) == 0) {
    const std::string at = maker.some(points);
    points.push_back(maker.place(false).front());
    join(at, points.back());
  }
  return maker.text();
}

}  // namespace ringtrue::testing
