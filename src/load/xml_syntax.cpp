#include "load/xml_syntax.hpp"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <iterator>
#include <new>
#include <pugixml.hpp>

#include "load/text.hpp"

namespace ringtrue::load {

namespace {

/// Source: XML 1.0, fifth edition, production [2] Char.
bool is_xml_character(std::uint32_t code) {
  return code == 0x9 || code == 0xA || code == 0xD || (code >= 0x20 && code <= 0xD7FF) ||
         (code >= 0xE000 && code <= 0xFFFD) || (code >= 0x10000 && code <= 0x10FFFF);
}

/// `digits` is what stands between `&#` and `;`.
bool is_character_reference(std::string_view digits) {
  const bool is_hex = digits.substr(0, 1) == "x";
  if (is_hex) digits.remove_prefix(1);
  std::uint32_t code = 0;
  const char* const end = digits.data() + digits.size();
  const auto [stop, problem] = std::from_chars(digits.data(), end, code, is_hex ? 16 : 10);
  return problem == std::errc() && stop == end && is_xml_character(code);
}

/// `text` starts behind the `&`.
bool is_allowed_reference(std::string_view text) {
  constexpr std::size_t k_longest = 12;
  const std::size_t semicolon = text.substr(0, k_longest).find(';');
  if (semicolon == text.npos) return false;
  const std::string_view name = text.substr(0, semicolon);
  for (const std::string_view predefined : {"amp", "lt", "gt", "quot", "apos"})
    if (name == predefined) return true;
  return name.substr(0, 1) == "#" && is_character_reference(name.substr(1));
}

/// End of the comment that `at` lies in; nothing if it lies in none.
std::optional<std::size_t> end_of_comment_around(std::string_view text, std::size_t at) {
  const std::size_t start = text.rfind("<!--", at);
  if (start == text.npos) return std::nullopt;
  const std::size_t end = text.find("-->", start + 4);
  if (end < at) return std::nullopt;
  return std::min(end, text.size());
}

/// The reference as far as a message should show it: `&fan;`, or the `&` with what follows.
std::string shown_reference(std::string_view text) {
  const std::size_t end = text.find_first_of("; \t\r\n\"'<>", 1);
  return excerpt(text.substr(0, end != text.npos && text[end] == ';' ? end + 1 : end));
}

struct Meaning {
  pugi::xml_parse_status status;
  std::string_view message, expected;
};

constexpr Meaning k_meanings[] = {
    {pugi::status_unrecognized_tag, "a \"<\" is not followed by the name of an element",
     "&lt; for a plain <"},
    {pugi::status_bad_pi, "a declaration is broken", "<? ... ?>"},
    {pugi::status_bad_comment, "a comment is broken or not closed before the end of the file",
     "<!-- ... -->"},
    {pugi::status_bad_cdata, "a CDATA section is broken or not closed before the end of the file",
     "only elements"},
    {pugi::status_bad_doctype, "a DOCTYPE stands in the file, which is not read",
     "a netlist without DOCTYPE"},
    {pugi::status_bad_pcdata, "the text between two elements is broken", "only elements"},
    {pugi::status_bad_start_element, "the start tag of an element is broken", "<name attribute=\"value\">"},
    {pugi::status_bad_attribute, "an attribute is broken", "name=\"value\", apart from the next by a blank"},
    {pugi::status_bad_end_element, "the end tag of an element is broken", "</name>"},
    {pugi::status_end_element_mismatch, "an end tag closes another element than the one that is open",
     "each element closed before the one around it"},
    {pugi::status_no_document_element, "the file holds no XML element", "one element around everything"},
};

/// Whether the tags simply stop: the parser gave up at the end of the text, or in a tag that nothing closes
/// any more.
bool is_cut_short(const pugi::xml_parse_result& result, std::string_view text) {
  constexpr pugi::xml_parse_status k_in_tags[] = {
      pugi::status_unrecognized_tag, pugi::status_bad_start_element, pugi::status_bad_attribute,
      pugi::status_bad_end_element, pugi::status_end_element_mismatch};
  const auto offset = static_cast<std::size_t>(result.offset);
  return (offset + 1 >= text.size() || text.find('>', offset) == text.npos) &&
         std::find(std::begin(k_in_tags), std::end(k_in_tags), result.status) != std::end(k_in_tags);
}

}  // namespace

std::optional<XmlMistake> find_bad_reference(std::string_view text) {
  for (std::size_t at = text.find('&'); at != text.npos; at = text.find('&', at + 1)) {
    if (is_allowed_reference(text.substr(at + 1))) continue;
    if (const auto end = end_of_comment_around(text, at)) {
      at = *end;
      continue;
    }
    return XmlMistake{at, "a \"&\" starts no character that is known here", shown_reference(text.substr(at)),
                      "&amp; for a plain &"};
  }
  return std::nullopt;
}

std::optional<XmlMistake> find_broken_syntax(const pugi::xml_parse_result& result, std::string_view text,
                                             std::string_view root) {
  if (result.status == pugi::status_ok) return std::nullopt;
  if (result.status == pugi::status_out_of_memory) throw std::bad_alloc();
  if (is_cut_short(result, text))
    return XmlMistake{text.size(), "the file ends before every element is closed; it seems to be cut short",
                      "", "</" + std::string(root) + ">"};
  const auto offset = static_cast<std::size_t>(result.offset);
  for (const Meaning& meaning : k_meanings)
    if (meaning.status == result.status)
      return XmlMistake{offset, std::string(meaning.message), "", std::string(meaning.expected)};
  return XmlMistake{offset, "the XML is broken: " + std::string(result.description()), "", ""};
}

}  // namespace ringtrue::load
