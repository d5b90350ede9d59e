#include "logic/tokens.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "ringtrue/base/utf8.hpp"

namespace ringtrue::logic {

namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }
bool is_in_word(char c) { return is_letter(c) || is_digit(c); }

class Cutter {
 public:
  explicit Cutter(std::string_view text) : text_(text) {}

  Tokens cut() {
    while (skip_blanks() && at_ < text_.size()) one();
    if (!result_.bad) result_.tokens.push_back({TokenKind::end, text_.substr(text_.size()), line_});
    return std::move(result_);
  }

 private:
  [[nodiscard]] char ahead(std::size_t by = 0) const {
    return at_ + by < text_.size() ? text_[at_ + by] : '\0';
  }

  /// A line feed, or a carriage return without one.
  [[nodiscard]] bool is_line_end(std::size_t at) const {
    return text_[at] == '\n' || (text_[at] == '\r' && (at + 1 == text_.size() || text_[at + 1] != '\n'));
  }

  /// Also comments. False once something is wrong.
  bool skip_blanks() {
    while (!result_.bad && at_ < text_.size()) {
      if (is_blank(ahead()))
        line_ += is_line_end(at_++) ? 1u : 0u;
      else if (ahead() == '/' && ahead(1) == '/')
        at_ = std::min(text_.find_first_of("\r\n", at_), text_.size());
      else if (ahead() == '(' && ahead(1) == '*')
        skip_comment();
      else
        break;
    }
    return !result_.bad;
  }

  void skip_comment() {
    const std::size_t end = text_.find("*)", at_ + 2);
    if (end == text_.npos) {
      result_.bad = {line_, "a comment is not closed before the end of the file", "", "*)"};
      return;
    }
    for (; at_ < end; ++at_) line_ += is_line_end(at_) ? 1u : 0u;
    at_ = end + 2;
  }

  template <class Is>
  std::size_t end_of_run(std::size_t from, Is is) const {
    while (from < text_.size() && is(text_[from])) ++from;
    return from;
  }

  void take(TokenKind kind, std::size_t end) {
    result_.tokens.push_back({kind, text_.substr(at_, end - at_), line_});
    at_ = end;
  }

  void one() {
    if (is_letter(ahead())) return take_word();
    if (ahead() == '%')
      return take(TokenKind::address, end_of_run(at_ + 1, [](char c) { return is_in_word(c) || c == '.'; }));
    if (is_digit(ahead())) return take_number();
    for (const std::string_view sign : {":=", "<>", "<=", ">="})
      if (text_.substr(at_, 2) == sign) return take(TokenKind::sign, at_ + 2);
    if (std::string_view("();:,.=<>&-+*/").find(ahead()) != std::string_view::npos)
      return take(TokenKind::sign, at_ + 1);
    result_.bad = {line_, "a character that Structured Text does not know here", character(),
                   "a name, a number or an operator"};
  }

  /// The whole of a UTF-8 character; of anything that can't be shown its number.
  [[nodiscard]] std::string character() const {
    std::size_t end = at_ + 1;
    while (end < text_.size() && (static_cast<unsigned char>(text_[end]) & 0xC0u) == 0x80) ++end;
    std::string whole(text_.substr(at_, end - at_));
    const auto first = static_cast<unsigned char>(text_[at_]);
    if (first > 0x20 && first != 0x7F && !first_bad_utf8(whole)) return whole;
    constexpr std::string_view k_digits = "0123456789ABCDEF";
    return std::string("byte ") + k_digits[first >> 4u] + k_digits[first & 15u] + " (hexadecimal)";
  }

  void take_word() {
    const std::size_t end = end_of_run(at_, is_in_word);
    const std::string word = in_capitals(text_.substr(at_, end - at_));
    if ((word == "T" || word == "TIME") && end < text_.size() && text_[end] == '#')
      return take(TokenKind::time, end_of_run(end + 1, [](char c) { return is_in_word(c) || c == '.'; }));
    take(TokenKind::name, end);
  }

  void take_number() {
    const auto is_part = [](char c) { return is_digit(c) || c == '_'; };
    std::size_t end = end_of_run(at_, is_part);
    if (end + 1 < text_.size() && text_[end] == '.' && is_digit(text_[end + 1]))
      end = end_of_run(end + 1, is_part);
    if (end < text_.size() && (text_[end] == 'e' || text_[end] == 'E')) {
      const std::size_t digits =
          end + (end + 1 < text_.size() && (text_[end + 1] == '-' || text_[end + 1] == '+') ? 2 : 1);
      if (digits < text_.size() && is_digit(text_[digits])) end = end_of_run(digits, is_digit);
    }
    take(TokenKind::number, end);
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::uint32_t line_ = 1;
  Tokens result_;
};

double unit_ms(std::string_view unit) {
  if (unit == "MS") return 1;
  if (unit == "S") return 1000;
  if (unit == "M") return 60'000;
  if (unit == "H") return 3'600'000;
  if (unit == "D") return 86'400'000;
  return 0;
}

}  // namespace

Tokens tokens_of(std::string_view text) {
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  const std::string_view two = text.substr(0, 2);
  if (two == "\xFF\xFE" || two == "\xFE\xFF" || (two.size() == 2 && (two[0] == '\0') != (two[1] == '\0'))) {
    Tokens none;
    none.bad = {1, "the logic is not UTF-8", "UTF-16", "the file saved or exported again as UTF-8"};
    return none;
  }
  return Cutter(text).cut();
}

std::optional<std::uint32_t> milliseconds_of(std::string_view literal) {
  std::string text = in_capitals(literal.substr(literal.find('#') + 1));
  text.erase(std::remove(text.begin(), text.end(), '_'), text.end());
  double sum = 0;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t unit = text.find_first_not_of("0123456789.", at);
    if (unit == at || unit == text.npos) return std::nullopt;
    const std::size_t next = std::min(text.find_first_of("0123456789.", unit), text.size());
    const std::string digits = text.substr(at, unit - at);
    char* stop = nullptr;
    const double number = std::strtod(digits.c_str(), &stop);
    const double ms = unit_ms(std::string_view(text).substr(unit, next - unit));
    if (*stop != '\0' || ms <= 0) return std::nullopt;
    sum += number * ms;
    at = next;
  }
  constexpr double k_longest = 24.0 * 86'400'000;
  if (text.empty() || sum > k_longest || std::abs(sum - std::round(sum)) > 1e-6) return std::nullopt;
  return static_cast<std::uint32_t>(std::lround(sum));
}

std::string in_capitals(std::string_view text) {
  std::string capitals(text);
  for (char& c : capitals)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return capitals;
}

}  // namespace ringtrue::logic
