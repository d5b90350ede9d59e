#pragma once
#include <string>
#include <string_view>

namespace ringtrue::cli {

/// `0.1.0`
[[nodiscard]] std::string_view version_number();

/// `ringtrue 1.2.3`, and how this binary was built.
[[nodiscard]] std::string version_text();

}  // namespace ringtrue::cli
