#include "load/text.hpp"

#include <algorithm>

namespace ringtrue::load {

namespace {

constexpr std::string_view k_nbsp = "\xC2\xA0";

bool is_blank(char c) { return c == ' ' || c == '\t'; }

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

std::string_view trimmed(std::string_view text) {
  for (;;) {
    if (!text.empty() && is_blank(text.front()))
      text.remove_prefix(1);
    else if (text.substr(0, 2) == k_nbsp)
      text.remove_prefix(2);
    else
      break;
  }
  for (;;) {
    if (!text.empty() && is_blank(text.back()))
      text.remove_suffix(1);
    else if (text.size() >= 2 && text.substr(text.size() - 2) == k_nbsp)
      text.remove_suffix(2);
    else
      break;
  }
  return text;
}

bool equal_without_case(std::string_view a, std::string_view b) {
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) { return lower(x) == lower(y); });
}

std::uint32_t count_line_ends(std::string_view text) {
  std::uint32_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_lone_cr = text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n');
    if (text[i] == '\n' || is_lone_cr) ++count;
  }
  return count;
}

std::string excerpt(std::string_view text) {
  constexpr std::size_t k_longest = 60;
  std::string result(text.substr(0, k_longest));
  if (text.size() > k_longest) {
    std::size_t cut = k_longest;
    while (cut > 0 && (static_cast<unsigned char>(text[cut]) & 0xC0) == 0x80) --cut;
    result.resize(cut);
    result += "...";
  }
  std::replace_if(
      result.begin(), result.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
  return result;
}

LineIndex::LineIndex(std::string_view text) : starts_{0} {
  for (std::size_t at = text.find('\n'); at < text.size(); at = text.find('\n', at + 1))
    if (at + 1 < text.size()) starts_.push_back(static_cast<std::uint32_t>(at + 1));
}

std::uint32_t LineIndex::line_of(std::size_t offset) const {
  const auto is_before = [&](std::size_t line) { return line < starts_.size() && starts_[line] <= offset; };
  if (is_before(last_) && is_before(last_ + 1)) ++last_;
  if (!is_before(last_) || is_before(last_ + 1)) {
    const auto after = std::upper_bound(starts_.begin(), starts_.end(), offset);
    last_ = static_cast<std::size_t>(after - starts_.begin()) - 1;
  }
  return static_cast<std::uint32_t>(last_ + 1);
}

}  // namespace ringtrue::load
