#include "output.hpp"

#include <cerrno>
#include <cstdio>
#include <string>
#include <system_error>

#include "messages.hpp"
#include "ringtrue/base/utf8.hpp"

namespace ringtrue::cli {

namespace {

/// Layout may be among them, which is shown as it is.
bool has_controls(std::string_view text) {
  bool has = false;
  for (const char c : text) has |= static_cast<unsigned char>(c) < 0x20 && c != '\n';
  return has;
}

}  // namespace

void ResultStream::put(std::string_view part) {
  if (error_ != 0) return;
  const std::string shown = has_controls(part) ? with_controls_shown(part) : std::string();
  const std::string_view text = shown.empty() ? part : std::string_view(shown);
  errno = 0;
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) error_ = errno != 0 ? errno : EIO;
}

ExitStatus ResultStream::finish(ExitStatus status) {
  errno = 0;
  if (error_ == 0 && std::fflush(stdout) == 0) return status;
  const std::string reason = std::generic_category().message(error_ != 0 ? error_ : errno);
  say("could not write the result to stdout: " + reason);
  return ExitStatus::bad_input;
}

ExitStatus write_result(std::string_view text, ExitStatus status) {
  ResultStream result;
  result.put(text);
  return result.finish(status);
}

}  // namespace ringtrue::cli
