#pragma once
#include <cstdint>
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/report/text_sink.hpp"

namespace ringtrue::report {

/// Writes a JSON text in the order of the calls: straight into one string, or part by part to a sink.
///
/// A report of a plant lists half a million elements, so nothing is built first and then printed, and
/// brackets are counted in one word instead of a stack. The outer levels take a line per item, deeper ones
/// stay on the line. The caller keeps begin and end in pairs, at most 63 deep, and gives a key before each
/// value of an object.
class JsonWriter {
 public:
  JsonWriter() = default;
  explicit JsonWriter(TextSink sink) : sink_(std::move(sink)) {}

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
  /// `{"lo": 0, "hi": 0.2}`; an infinite end is null.
  JsonWriter& interval(OhmInterval ohms);

  /// An object of texts at once, for lists too long for a call per key. The keys are plain ASCII.
  struct Field {
    std::string_view key, value;
  };
  JsonWriter& object(std::initializer_list<Field> fields);

  /// The whole text, where there is no sink.
  [[nodiscard]] std::string take() {
    out_ += '\n';
    return std::move(out_);
  }
  /// Hands the rest of it to the sink.
  void finish() {
    out_ += '\n';
    pass_on();
  }

 private:
  JsonWriter& begin(char bracket);
  JsonWriter& end(char bracket);
  JsonWriter& object_of_any_text(std::initializer_list<Field> fields);
  void before_value();
  void pass_on();
  void new_line();
  void append_quoted(std::string_view value);
  [[nodiscard]] bool has_items() const { return (items_ >> depth_ & 1u) != 0; }
  /// Brackets down to this depth put each item on a line of its own.
  [[nodiscard]] bool is_lined() const { return depth_ <= 2; }

  static constexpr std::size_t k_part_bytes = 1 << 18;
  TextSink sink_;
  std::string out_;
  std::uint64_t items_ = 0;  ///< bit d: the open bracket at depth d holds an item already
  unsigned depth_ = 0;       ///< open brackets
  bool after_key_ = false;
};

}  // namespace ringtrue::report
