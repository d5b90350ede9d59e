#include "output.hpp"

#include <cerrno>
#include <cstdio>
#include <string>
#include <system_error>

#include "messages.hpp"
#include "ringtrue/base/utf8.hpp"

namespace ringtrue::cli {

ExitStatus write_result(std::string_view text, ExitStatus status) {
  const std::string shown = with_controls_shown(text);
  errno = 0;
  const bool written =
      std::fwrite(shown.data(), 1, shown.size(), stdout) == shown.size() && std::fflush(stdout) == 0;
  if (written) return status;
  const std::string reason = std::generic_category().message(errno);
  say("could not write the result to stdout: " + reason);
  return ExitStatus::bad_input;
}

}  // namespace ringtrue::cli
