#include "lines.hpp"

#include <unistd.h>
#include <iostream>

namespace ringtrue::cli::log {

namespace {

class PipedLines : public Lines {
 public:
  std::optional<std::string> next(const std::string&) override {
    std::string line;
    if (!std::getline(std::cin, line)) return std::nullopt;
    return line;
  }
};

}  // namespace

bool is_output_terminal() { return isatty(STDOUT_FILENO) != 0; }

bool is_terminal() { return isatty(STDIN_FILENO) != 0 && is_output_terminal(); }

std::unique_ptr<Lines> piped_lines() { return std::make_unique<PipedLines>(); }

}  // namespace ringtrue::cli::log
