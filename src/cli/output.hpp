#pragma once
#include <string_view>

#include "exit_status.hpp"

namespace ringtrue::cli {

/// A result on its way to stdout, part by part, that makes sure that it arrives: a report cut short by a full
/// disk must not pass for one. Control characters of the drawing don't reach the terminal; JSON has none.
class ResultStream {
 public:
  void put(std::string_view part);
  /// @return `status`, or `bad_input` (with a message) if the result could not be written whole.
  [[nodiscard]] ExitStatus finish(ExitStatus status);

 private:
  int error_ = 0;  ///< errno of the first part that could not be written
};

/// The same for a result in one piece.
[[nodiscard]] ExitStatus write_result(std::string_view text, ExitStatus status);

}  // namespace ringtrue::cli
