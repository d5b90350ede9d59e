#include "text_layout.hpp"

#include <algorithm>
#include <charconv>

namespace ringtrue::report {

std::size_t shown_width(std::string_view text) {
  // Bytes 10xxxxxx continue a code point.
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

std::string padded(std::string_view text, std::size_t width) {
  std::string result(text);
  const std::size_t shown = shown_width(text);
  if (shown < width) result.append(width - shown, ' ');
  return result;
}

namespace {

void append_from(std::string& out, std::string_view text, std::size_t column, std::size_t hanging) {
  bool at_line_start = true;
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, blank);
    text.remove_prefix(std::min(blank + 1, text.size()));
    if (word.empty()) continue;
    const std::size_t width = shown_width(word);
    if (!at_line_start && column + 1 + width > k_line_width) {
      out += '\n';
      out.append(hanging, ' ');
      column = hanging;
      at_line_start = true;
    }
    if (!at_line_start) {
      out += ' ';
      ++column;
    }
    out += word;
    column += width;
    at_line_start = false;
  }
  out += '\n';
}

}  // namespace

void append_wrapped(std::string& out, std::string_view text, std::size_t indent, std::size_t hanging) {
  out.append(indent, ' ');
  append_from(out, text, indent, hanging);
}

void append_entry(std::string& out, std::size_t indent, std::string_view label, std::size_t width,
                  std::string_view text) {
  const std::string column = padded(label, width) + " ";
  out.append(indent, ' ');
  out += column;
  append_from(out, text, indent + shown_width(column), indent + width + 1);
}

void append_walk(std::string& out, std::size_t indent, std::span<const WalkRow> rows) {
  std::size_t from = 0, element = 0, to = 0, sheet = 0;
  for (const WalkRow& row : rows) {
    from = std::max(from, shown_width(row.from));
    element = std::max(element, shown_width(row.element));
    to = std::max(to, shown_width(row.to));
    if (!row.sheet.empty()) sheet = std::max(sheet, shown_width(row.sheet) + 8);
  }
  for (const WalkRow& row : rows) {
    std::string line = padded(row.from, from) + "  --  " + padded(row.element, element) + "  ->  ";
    line += padded(row.to, to) + padded(row.sheet.empty() ? "" : "  sheet " + row.sheet, sheet);
    if (!row.value.empty()) line += "  " + row.value;
    line.erase(line.find_last_not_of(' ') + 1);
    out.append(indent, ' ').append(line) += '\n';
  }
}

std::string counted(std::size_t number, std::string_view noun) {
  std::string text = std::to_string(number) + " ";
  text += noun;
  if (number != 1) text += 's';
  return text;
}

std::string number_text(double number) {
  char buffer[32];
  const auto written = std::to_chars(buffer, buffer + sizeof buffer, number, std::chars_format::general, 3);
  std::string text(buffer, written.ptr);
  const std::size_t exponent = text.find("e-0");
  if (exponent != std::string::npos) text.erase(exponent + 2, 1);
  return text;
}

std::string joined(std::span<const std::string> texts, std::string_view between) {
  std::string result;
  for (const std::string& text : texts) {
    if (!result.empty()) result += between;
    result += text;
  }
  return result;
}

std::string any_of(std::span<const std::string> texts) {
  if (texts.size() < 2) return joined(texts);
  return joined(texts.first(texts.size() - 1)) + " or " + texts.back();
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace ringtrue::report
