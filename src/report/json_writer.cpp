#include "json_writer.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

namespace ringtrue::report {

namespace {

constexpr std::size_t k_lined_depth = 2;  ///< brackets up to this depth put each item on a line of its own

bool is_plain(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte >= 0x20 && byte < 0x7F && c != '"' && c != '\\';
}

}  // namespace

void JsonWriter::new_line(std::size_t depth) {
  out_ += '\n';
  out_.append(2 * depth, ' ');
}

void JsonWriter::before_value() {
  if (after_key_) {
    after_key_ = false;
    return;
  }
  if (has_items_.empty()) return;
  const bool follows = has_items_.back();
  if (follows) out_ += ',';
  has_items_.back() = true;
  if (has_items_.size() <= k_lined_depth) new_line(has_items_.size());
  else if (follows) out_ += ' ';
}

JsonWriter& JsonWriter::begin(char bracket) {
  before_value();
  out_ += bracket;
  has_items_.push_back(false);
  return *this;
}

JsonWriter& JsonWriter::end(char bracket) {
  const bool lined = has_items_.back() && has_items_.size() <= k_lined_depth;
  has_items_.pop_back();
  if (lined) new_line(has_items_.size());
  out_ += bracket;
  return *this;
}

void JsonWriter::append_quoted(std::string_view value) {
  if (std::all_of(value.begin(), value.end(), is_plain)) {
    out_ += '"';
    out_ += value;
    out_ += '"';
    return;
  }
  using nlohmann::json;
  out_ += json(std::string(value)).dump(-1, ' ', false, json::error_handler_t::replace);
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

JsonWriter& JsonWriter::texts(std::span<const std::string> values) {
  begin_array();
  for (const std::string& value : values) text(value);
  return end_array();
}

}  // namespace ringtrue::report
