#pragma once
#include <string>

namespace ringtrue::cli {

/// `ringtrue 1.2.3`, and how this binary was built.
[[nodiscard]] std::string version_text();

}  // namespace ringtrue::cli
