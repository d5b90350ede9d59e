#include <cstdio>
#include <exception>
#include <new>

#include "command_line.hpp"

// The only place that catches what was not turned into an error where it arose: broken invariants and lack of
// memory.
int main(int argc, char** argv) {
  using ringtrue::cli::ExitStatus;
  try {
    return static_cast<int>(ringtrue::cli::run_command_line(argc, argv));
  } catch (const std::bad_alloc&) {
    std::fputs("ringtrue: out of memory\n", stderr);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "ringtrue: a fault of the tool, please report it: %s\n", error.what());
  } catch (...) {
    std::fputs("ringtrue: a fault of the tool, please report it\n", stderr);
  }
  return static_cast<int>(ExitStatus::fault);
}
