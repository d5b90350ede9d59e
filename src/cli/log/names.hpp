#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/model/netlist.hpp"

namespace ringtrue::cli::log {

/// What the word before the cursor can become.
struct Completion {
  std::size_t begin = 0;             ///< where the word begins in the line
  std::string text;                  ///< takes its place: what all choices begin with, in their own case
  std::vector<std::string> choices;  ///< in order; a single one is in `text` already, with a blank behind it
};

/// The names that can be typed: points, wire numbers, tags and addresses, commands at the beginning of a
/// line; behind `when` what can be operated, pulled and so on, and the states; behind a channel what a test
/// shows.
class Names {
 public:
  explicit Names(const Netlist& netlist);
  /// @param line  up to the cursor.
  [[nodiscard]] Completion complete(std::string_view line) const;

 private:
  [[nodiscard]] bool names_channel(std::string_view line) const;

  std::vector<std::string> points_;   ///< and wires, tags, addresses
  std::vector<std::string> objects_;  ///< of conditions
  std::vector<std::string> channels_;
  std::vector<std::string> seen_;  ///< what stands behind a channel that was tried
};

}  // namespace ringtrue::cli::log
