#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "ringtrue/logic/drive.hpp"
#include "tests/logic/panel.hpp"

namespace ringtrue::logic {

/// Outputs of `logic_panel` driven by a program's text.
class DriveLogic : public testing::Test {
 protected:
  Drive drive(const std::string& text, const DriveLimits& limits = {}) {
    const auto program = parse_logic(text, "p.st", panel_);
    EXPECT_TRUE(program) << (program ? "" : to_text(program.error().front()));
    return drive_output(*program, k_lamp, graph_, fittings_, limits);
  }
  static std::optional<NoPair> cause(const Drive& drive, std::uint32_t variable) {
    for (const Unpaired& unpaired : drive.deciding.unpaired)
      if (unpaired.variable == variable) return unpaired.cause;
    return std::nullopt;
  }
  /// Input states `ABC` of both members of a variable's pair.
  static std::pair<std::string, std::string> pair_of(const Drive& drive, std::uint32_t variable) {
    const auto& tests = drive.deciding.tests;
    for (const Pair& pair : drive.deciding.pairs)
      if (pair.variable == variable)
        return std::minmax(text(tests[pair.first].steps.front().choice),
                           text(tests[pair.second].steps.front().choice));
    return {};
  }
  static std::string text(const Choice& choice) {
    std::string digits;
    for (const std::uint16_t option : choice) digits += static_cast<char>('0' + option);
    return digits;
  }

  Netlist panel_ = logic_panel();
  ConductionGraph graph_{panel_};
  Fittings fittings_ = fittings_of(graph_, nullptr);
};

/// Sources that differ.
inline std::size_t distance(const Choice& a, const Choice& b) {
  std::size_t sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] != b[i] ? 1 : 0;
  return sum;
}

}  // namespace ringtrue::logic
