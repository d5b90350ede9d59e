#pragma once
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>

namespace ringtrue::testing {

/// Seed of the random tests, printed once; RINGTRUE_TEST_SEED sets it.
inline unsigned test_seed() {
  static const unsigned seed = [] {
    const char* given = std::getenv("RINGTRUE_TEST_SEED");
    const unsigned value = given != nullptr ? static_cast<unsigned>(std::atoi(given)) : 1u;
    std::printf("RINGTRUE_TEST_SEED=%u\n", value);
    return value;
  }();
  return seed;
}

/// Appends wires numbered from 1 between different points that `some_point()` gives.
template <class SomePoint>
void throw_wires(std::string& text, unsigned wires, SomePoint&& some_point) {
  for (unsigned i = 1; i <= wires; ++i) {
    std::string a = some_point(), b = some_point();
    while (a == b) b = some_point();
    text += std::to_string(i) + " " + a + " " + b + "\n";
  }
}

/// A small panel as text for `netlist()`: a relay with a contact or a changeover, a fuse terminal, plain
/// terminals, a bridge, and 5 to 9 wires thrown at random (so rings, parallel wires and loose parts occur).
inline std::string random_netlist(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&](auto... names) {
    const char* all[] = {names...};
    return std::string(all[random() % sizeof...(names)]);
  };
  std::string text = "part K1 coil A1 A2 400\npart K1 contact-no 11 14\n";
  if (random() % 2 == 0) text += "part K1 contact-nc 11 12\n";
  text += "part X1:1 fuse int ext\npart X1:2 terminal\npart X1:3 terminal\n";
  const auto some_point = [&] {
    return pick("K1:A1", "K1:A2", "K1:11", "K1:12", "K1:14", "X1:1.int", "X1:1.ext", "X1:2.int", "X1:2.ext",
                "X1:3.int", "X1:3.ext", "S1:13", "S1:14");
  };
  text += "- X1:2.int X1:3.int bridge\n";
  throw_wires(text, static_cast<unsigned>(5 + random() % 5), some_point);
  return text;
}

}  // namespace ringtrue::testing
