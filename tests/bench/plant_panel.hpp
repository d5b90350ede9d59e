// The wiring of one panel of the generated plant, as drawn.
//
// One panel has 2,000 conductors. Its nets, with P for the panel's number:
//   plus common   G{P}01:+ to XP01, whose 200 terminals are bridged on the panel side, a core from each;
//                 from its first terminal a feed to a ring through the plus pins of 35 modules
//                 (200 inner + 200 outer sides + 200 device pins + 35 + 1 = 636 points)
//   minus common  G{P}01:- to XP02:1, then a daisy chain through 220 coils to one module (223 points
//                 with the outer side of the terminal)
//   point to point: 560 module pins to XP11..XP24 and a core from each outer side to its device;
//                 220 coils to XP03; two wires from the breaker to the supply
// Each of the 560 module pins is an input, whose field terminal is the outer side of its terminal.
// Every conductor but the ring's is alone in joining its ends, so each fault below changes the reading of
// the conductors it touches and of no other.
#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bench {

inline constexpr int k_panel_conductors = 2000;
inline constexpr int k_plus_terminals = 200;
inline constexpr int k_coils = 220;
inline constexpr int k_modules = 35;
inline constexpr int k_module_pins = 16;
inline constexpr int k_signals = k_modules * k_module_pins;
inline constexpr int k_strip_terminals = 40;
static_assert(2 * k_plus_terminals + (k_coils + 2) + (k_modules + 1) + 2 * k_signals + k_coils + 2 ==
              k_panel_conductors);

struct Conductor {
  std::string wire, from, to;
  std::string_view kind;
  int sheet = 0;
  bool in_ring = false;
  // A signal wire from a module pin to a strip: its place among the signals, else -1.
  int signal = -1;
};

inline std::string padded(int number, int digits) {
  std::string text = std::to_string(number);
  return std::string(text.size() < static_cast<std::size_t>(digits) ? digits - text.size() : 0, '0') + text;
}

// All names carry the panel's number and end in a fixed count of digits, so no two panels share one.
class Panel {
 public:
  explicit Panel(int number) : number_(std::to_string(number)) {}

  std::vector<Conductor> conductors() {
    rows_.reserve(k_panel_conductors);
    plus_common();
    minus_common();
    ring();
    signals();
    coil_feeds();
    add("wire", device("Q", 1, 2) + ":2", device("G", 1, 2) + ":L", 1);
    add("wire", device("Q", 1, 2) + ":4", device("G", 1, 2) + ":N", 1);
    return std::move(rows_);
  }

 private:
  std::string device(const char* letter, int index, int digits) const {
    return letter + number_ + padded(index, digits);
  }
  std::string terminal(int strip, int index, const char* side) const {
    return device("X", strip, 2) + ":" + std::to_string(index) + side;
  }
  Conductor& add(std::string_view kind, std::string from, std::string to, int sheet) {
    Conductor& row = rows_.emplace_back();
    if (kind != "bridge") row.wire = "W" + number_ + padded(++wires_, 4);
    row.kind = kind;
    row.from = std::move(from);
    row.to = std::move(to);
    row.sheet = sheet;
    return row;
  }

  void plus_common() {
    add("wire", device("G", 1, 2) + ":+", terminal(1, 1, ".int"), 2);
    for (int i = 1; i < k_plus_terminals; ++i)
      add("bridge", terminal(1, i, ".int"), terminal(1, i + 1, ".int"), 2);
    for (int i = 1; i <= k_plus_terminals; ++i)
      add("core", terminal(1, i, ".ext"), device("B", i, 3) + ":2", 3 + i / 20);
  }

  void minus_common() {
    add("wire", device("G", 1, 2) + ":-", terminal(2, 1, ".int"), 2);
    add("wire", terminal(2, 1, ".int"), device("K", 1, 3) + ":A2", 14);
    for (int i = 1; i < k_coils; ++i)
      add("wire", device("K", i, 3) + ":A2", device("K", i + 1, 3) + ":A2", 14 + i / 20);
    add("wire", device("K", k_coils, 3) + ":A2", device("A", 1, 2) + ":M", 25);
  }

  void ring() {
    add("wire", terminal(1, 1, ".int"), device("A", 1, 2) + ":L+", 26);
    for (int i = 1; i <= k_modules; ++i)
      add("wire", device("A", i, 2) + ":L+", device("A", i % k_modules + 1, 2) + ":L+", 26).in_ring = true;
  }

  void signals() {
    for (int i = 0; i < k_signals; ++i) {
      const int pin = i % k_module_pins;
      const std::string pin_name = ":" + std::to_string(pin / 8) + "." + std::to_string(pin % 8);
      const int sheet = 30 + i / k_module_pins;
      add("wire", device("A", 1 + i / k_module_pins, 2) + pin_name, signal_terminal(i, ".int"), sheet)
          .signal = i;
    }
    for (int i = 0; i < k_signals; ++i)
      add("core", signal_terminal(i, ".ext"), device("B", 1 + i, 3) + ":1", 30 + i / k_module_pins);
  }
  std::string signal_terminal(int i, const char* side) const {
    return terminal(11 + i / k_strip_terminals, 1 + i % k_strip_terminals, side);
  }

  void coil_feeds() {
    for (int i = 1; i <= k_coils; ++i)
      add("wire", device("K", i, 3) + ":A1", terminal(3, i, ".int"), 70 + i / 20);
  }

  std::string number_;
  std::vector<Conductor> rows_;
  int wires_ = 0;
};

}  // namespace bench
