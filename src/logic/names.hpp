#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "ringtrue/logic/program.hpp"

namespace ringtrue::logic {

/// What a name stands for, in capitals, since Structured Text doesn't tell cases apart.
struct Meaning {
  enum class What : std::uint8_t {
    variable,
    block,
    real,           ///< a constant
    time,           ///< a constant, in ms
    analog_output,  ///< a channel that logic of this kind doesn't set
    several,        ///< tags that differ in case alone
  } what = What::variable;
  std::uint32_t index = 0;
  double number = 0;
};

/// The names a program may use: tags and addresses of the channels, and what it declares. Variables of
/// channels come first in the program, in the order of the channel list.
class Names {
 public:
  Names(const Netlist& netlist, Program& program);

  [[nodiscard]] std::optional<Meaning> find(std::string_view name) const;
  [[nodiscard]] std::vector<std::string> nearest(std::string_view name) const;
  /// False if the name is taken.
  bool declare(std::string_view name, const Meaning& meaning);

 private:
  struct Known {
    std::string shown;
    Meaning meaning;
  };
  std::unordered_map<std::string, Known> known_;
};

}  // namespace ringtrue::logic
