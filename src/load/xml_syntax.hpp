#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace pugi {
struct xml_parse_result;
}

namespace ringtrue::load {

/// A mistake in the XML as such, told without the parser's jargon.
struct XmlMistake {
  std::size_t offset = 0;
  std::string message, found, expected;
};

/// The first `&` that starts neither one of the five predefined entities nor a reference to a character that
/// XML allows. The parser would leave it in the text as it stands, and an entity of a DOCTYPE too. To be
/// called before the text is parsed in place.
[[nodiscard]] std::optional<XmlMistake> find_bad_reference(std::string_view text);

/// What pugixml found broken, or nothing. `text` is what it read, parsed in place or not: behind the mistake
/// it is as it was, which tells a broken file from one cut short. `root` is the element around everything.
[[nodiscard]] std::optional<XmlMistake> find_broken_syntax(const pugi::xml_parse_result& result,
                                                           std::string_view text, std::string_view root);

}  // namespace ringtrue::load
