#include "toml_file.hpp"

#include <charconv>
#include <fstream>
#include <iterator>
#include <sstream>

namespace ringtrue::cli {

Result<toml::table> parse_toml_file(const std::filesystem::path& path, std::string_view what) {
  std::ifstream file(path, std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  if (!file)
    return fail({ErrorCode::file_unreadable,
                 std::string(what) + " is missing or cannot be read",
                 {path.string(), 0, "", ""},
                 "",
                 "",
                 {}});
  try {
    return toml::parse(text, path.string());
  } catch (const toml::parse_error& error) {
    return fail({ErrorCode::bad_text,
                 "not TOML: " + std::string(error.description()),
                 {path.string(), error.source().begin.line, "", ""},
                 "",
                 "",
                 {}});
  }
}

// The library prints 0.6 as 0.59999999999999998.
std::string text_of(const toml::node& node) {
  if (const auto* number = node.as_floating_point()) {
    char buffer[32];
    return {buffer, std::to_chars(buffer, buffer + sizeof buffer, number->get()).ptr};
  }
  std::ostringstream text;
  text << toml::node_view<const toml::node>(node);
  return text.str();
}

}  // namespace ringtrue::cli
