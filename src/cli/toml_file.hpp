#pragma once
#include <toml++/toml.h>
#include <filesystem>
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"

namespace ringtrue::cli {

/// Reads a TOML file. `what` names it in a message, such as `the settings file`.
/// @errors file_unreadable; bad_text for broken TOML.
[[nodiscard]] Result<toml::table> parse_toml_file(const std::filesystem::path& path, std::string_view what);

/// A value as it may have been written.
[[nodiscard]] std::string text_of(const toml::node& node);

}  // namespace ringtrue::cli
