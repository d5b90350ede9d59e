#pragma once
#include <random>
#include <string>

#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {

/// A small panel of 6 to 14 conductors as text for `netlist()`, for trying every set of faults: a relay with
/// a coil of any value and one or two contacts, a fuse, terminals in a row or two modules side by side (so
/// that runs of wires and whole connectors can be shifted), sometimes a lamp, a diode, or electronics.
inline std::string random_small_panel(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&](auto... names) {
    const char* all[] = {names...};
    return std::string(all[random() % sizeof...(names)]);
  };
  const bool has_modules = random() % 3 == 0;
  std::string text = "part K1 coil A1 A2 " + pick("400", "160", "24", "12", "-") + "\n";
  text += "part K1 contact-no 11 14\n";
  if (random() % 2 == 0) text += "part K1 contact-nc 11 12\n";
  text += "part X1:1 fuse int ext\n";
  std::vector<std::string> points = {"K1:A1", "K1:A2", "K1:11", "K1:14", "X1:1.int", "X1:1.ext"};
  if (has_modules) {
    for (const char* part : {"A1", "A2"})
      for (const char* pin : {"1", "2", "3"}) points.push_back(std::string(part) + ":" + pin);
  } else {
    for (const char* number : {"2", "3", "4"}) {
      text += std::string("part X1:") + number + " terminal\n";
      points.push_back(std::string("X1:") + number + ".int");
    }
    points.push_back("X1:4.ext");
    if (random() % 2 == 0) text += "- X1:2.int X1:3.int bridge\n";
  }
  if (random() % 3 == 0) {
    text += "part P1 lamp x1 x2 " + pick("576", "57", "30") + "\n";
    points.insert(points.end(), {"P1:x1", "P1:x2"});
  }
  if (random() % 3 == 0) {
    text += "part V1 diode A K\n90 V1:K K1:A1\n91 V1:A " + pick("K1:A2", "K1:14") + "\n";
    points.push_back("V1:K");
  }
  if (random() % 5 == 0 && !has_modules) {
    text += "part A1 electronics 1 2\n";
    points.insert(points.end(), {"A1:1", "A1:2"});
  }
  throw_wires(text, static_cast<unsigned>(6 + random() % 6),
              [&] { return points[random() % points.size()]; });
  return text;
}

}  // namespace ringtrue::testing
