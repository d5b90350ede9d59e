#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// Which revision of the netlist was the newest in a job when a row was added: its number there, from 1, and
/// the first twelve digits of its SHA-256. Written `2 9f86d081884c`.
struct NetlistMark {
  std::uint32_t number = 1;
  std::string sha256;
  [[nodiscard]] std::string text() const;
};
/// Nothing if the text is no mark.
[[nodiscard]] std::optional<NetlistMark> netlist_mark(std::string_view text);

/// A revision before the newest, and the step to the next one.
struct EarlierNetlist {
  std::uint32_t number = 1;
  Netlist netlist;
  /// The next one writes down what was there already: no clamp was opened for it.
  bool next_is_as_built = false;
};

}  // namespace ringtrue
