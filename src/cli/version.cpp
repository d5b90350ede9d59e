#include "version.hpp"

// The number stands once, in project() of CMakeLists.txt, which hands it to this file, as it does the
// libraries that it found.
#if !defined(RINGTRUE_VERSION) || !defined(RINGTRUE_LIBRARIES)
#error "RINGTRUE_VERSION and RINGTRUE_LIBRARIES must be defined by the build"
#endif

namespace ringtrue::cli {

std::string_view version_number() { return RINGTRUE_VERSION; }

std::string version_text() {
#ifdef NDEBUG
  const std::string assertions = "without assertions";
#else
  const std::string assertions = "with assertions";
#endif
  return "ringtrue " RINGTRUE_VERSION " (compiler " __VERSION__ ", " + assertions +
         ")\nBuilt with " RINGTRUE_LIBRARIES;
}

}  // namespace ringtrue::cli
