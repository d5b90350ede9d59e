#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace ringtrue::picture {

/// An attribute of an element; numbers are whole pixels.
struct Attribute {
  Attribute(std::string_view key, std::string_view text) : name(key), value(text) {}
  Attribute(std::string_view key, int number) : name(key), value(std::to_string(number)) {}
  std::string_view name;
  std::string value;
};
using Attributes = std::initializer_list<Attribute>;

/// Puts numbers into a path: `path_data("M", 3, 4, "h", 5)`.
template <class... Parts>
[[nodiscard]] std::string path_data(const Parts&... parts) {
  std::string text;
  const auto add = [&text](const auto& part) {
    if (!text.empty()) text += ' ';
    if constexpr (std::is_convertible_v<decltype(part), std::string_view>)
      text += part;
    else
      text += std::to_string(part);
  };
  (add(parts), ...);
  return text;
}

/// Writes nested elements one after the other. Texts and values are escaped, and must be UTF-8 as `readable`
/// gives it.
class Svg {
 public:
  Svg& open(std::string_view tag, Attributes attributes = {});
  Svg& close();
  Svg& leaf(std::string_view tag, Attributes attributes);
  Svg& text_leaf(std::string_view tag, std::string_view text, Attributes attributes = {});

  /// A stroke along a path in SVG's path syntax.
  Svg& path(std::string_view data, Attributes attributes = {});
  Svg& circle(int x, int y, int radius, std::string_view fill);
  /// What another writer has drawn.
  Svg& put(std::string_view drawn);

  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  void begin(std::string_view tag, Attributes attributes, Attributes more = {});
  void append_escaped(std::string_view text);
  void new_line();

  std::string out_;
  std::vector<std::string> open_;
};

}  // namespace ringtrue::picture
