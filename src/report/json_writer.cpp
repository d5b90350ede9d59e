#include "json_writer.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

namespace ringtrue::report {

namespace {

/// By byte: printed as it is, inside quotes.
constexpr std::array<bool, 256> k_is_plain = [] {
  std::array<bool, 256> plain{};
  for (std::size_t c = 0x20; c < 0x7F; ++c) plain[c] = c != '"' && c != '\\';
  return plain;
}();

bool is_plain(std::string_view text) {
  bool plain = true;
  for (const char c : text) plain &= k_is_plain[static_cast<unsigned char>(c)];
  return plain;
}

}  // namespace

void JsonWriter::new_line() {
  out_ += '\n';
  out_.append(std::size_t{2} * depth_, ' ');
}

void JsonWriter::pass_on() {
  sink_(out_);
  out_.clear();
}

void JsonWriter::before_value() {
  if (out_.size() >= k_part_bytes && sink_) pass_on();
  if (after_key_) {
    after_key_ = false;
    return;
  }
  if (depth_ == 0) return;
  const bool follows = has_items();
  if (follows) out_ += ',';
  items_ |= std::uint64_t{1} << depth_;
  if (is_lined())
    new_line();
  else if (follows)
    out_ += ' ';
}

JsonWriter& JsonWriter::begin(char bracket) {
  before_value();
  out_ += bracket;
  ++depth_;
  items_ &= ~(std::uint64_t{1} << depth_);
  return *this;
}

JsonWriter& JsonWriter::end(char bracket) {
  const bool lined = has_items() && is_lined();
  --depth_;
  if (lined) new_line();
  out_ += bracket;
  return *this;
}

void JsonWriter::append_quoted(std::string_view value) {
  if (is_plain(value)) {
    out_ += '"';
    out_ += value;
    out_ += '"';
    return;
  }
  using nlohmann::json;
  out_ += json(std::string(value)).dump(-1, ' ', false, json::error_handler_t::replace);
}

JsonWriter& JsonWriter::object(std::initializer_list<Field> fields) {
  before_value();
  // Put together on the stack, and in one go with the look for what must be escaped: texts are a few bytes
  // long, and there may be hundreds of thousands of them.
  char buffer[512];
  std::size_t used = 0;
  bool plain = true;
  const auto put = [&](std::string_view text, bool is_value) {
    for (const char c : text) {
      plain &= !is_value || k_is_plain[static_cast<unsigned char>(c)];
      buffer[used++] = c;
    }
  };
  std::string_view before = "{\"";
  for (const Field& field : fields) {
    const bool fits = used + field.key.size() + field.value.size() + 16 <= sizeof buffer;
    if (!fits) return object_of_any_text(fields);
    put(before, false);
    put(field.key, false);
    put("\": \"", false);
    put(field.value, true);
    before = "\", \"";
  }
  put(fields.size() == 0 ? "{}" : "\"}", false);
  if (!plain) return object_of_any_text(fields);
  out_.append(buffer, used);
  return *this;
}

JsonWriter& JsonWriter::object_of_any_text(std::initializer_list<Field> fields) {
  after_key_ = true;  // `object` has already put what stands before the value
  begin_object();
  for (const Field& field : fields) key(field.key).text(field.value);
  return end_object();
}

JsonWriter& JsonWriter::key(std::string_view name) {
  before_value();
  append_quoted(name);
  out_ += ": ";
  after_key_ = true;
  return *this;
}

JsonWriter& JsonWriter::text(std::string_view value) {
  before_value();
  append_quoted(value);
  return *this;
}

JsonWriter& JsonWriter::number(std::size_t value) {
  before_value();
  out_ += std::to_string(value);
  return *this;
}

JsonWriter& JsonWriter::number(double value) {
  if (!std::isfinite(value)) return null();
  before_value();
  char buffer[32];
  const auto written = std::to_chars(buffer, buffer + sizeof buffer, value);
  out_.append(buffer, written.ptr);
  return *this;
}

JsonWriter& JsonWriter::boolean(bool value) {
  before_value();
  out_ += value ? "true" : "false";
  return *this;
}

JsonWriter& JsonWriter::null() {
  before_value();
  out_ += "null";
  return *this;
}

JsonWriter& JsonWriter::interval(OhmInterval ohms) {
  return begin_object().key("lo").number(ohms.lo.value).key("hi").number(ohms.hi.value).end_object();
}

JsonWriter& JsonWriter::texts(std::span<const std::string> values) {
  begin_array();
  for (const std::string& value : values) text(value);
  return end_array();
}

}  // namespace ringtrue::report
