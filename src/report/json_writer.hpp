#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ringtrue::report {

/// Writes a JSON text straight into one string, in the order of the calls.
///
/// A report of a plant lists hundreds of thousands of elements; building a tree of values first took about eight
/// times as long as writing. The outer three levels take a line per item, deeper ones stay on the line.
/// The caller keeps begin and end in pairs and gives a key before each value of an object.
class JsonWriter {
 public:
  JsonWriter& begin_object() { return begin('{'); }
  JsonWriter& end_object() { return end('}'); }
  JsonWriter& begin_array() { return begin('['); }
  JsonWriter& end_array() { return end(']'); }

  JsonWriter& key(std::string_view name);
  JsonWriter& text(std::string_view value);  ///< bytes that are no UTF-8 become U+FFFD
  JsonWriter& number(std::size_t value);
  JsonWriter& number(double value);  ///< shortest form that reads back the same; null if it is not finite
  JsonWriter& boolean(bool value);
  JsonWriter& null();
  JsonWriter& texts(std::span<const std::string> values);

  [[nodiscard]] std::string take() { return std::move(out_) + "\n"; }

 private:
  JsonWriter& begin(char bracket);
  JsonWriter& end(char bracket);
  void before_value();
  void new_line(std::size_t depth);
  void append_quoted(std::string_view value);

  std::string out_;
  std::vector<bool> has_items_;  ///< per open bracket
  bool after_key_ = false;
};

}  // namespace ringtrue::report
