#pragma once
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "names.hpp"

namespace ringtrue::cli::log {

/// Where the lines come from.
class Lines {
 public:
  virtual ~Lines() = default;
  /// The next line without its end; nothing at the end of input.
  [[nodiscard]] virtual std::optional<std::string> next(const std::string& prompt) = 0;
};

/// Whether somebody reads what is said while lines come in, from wherever.
[[nodiscard]] bool is_output_terminal();

/// Whether somebody sits at both ends.
[[nodiscard]] bool is_terminal();

/// Lines of standard input as they are, without a prompt.
[[nodiscard]] std::unique_ptr<Lines> piped_lines();

/// Lines that are edited on the terminal, with those before for the arrow keys, and TAB for names.
[[nodiscard]] std::unique_ptr<Lines> edited_lines(std::function<Completion(std::string_view)> complete);

}  // namespace ringtrue::cli::log
