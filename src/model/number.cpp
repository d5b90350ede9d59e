#include "ringtrue/model/number.hpp"

#include <charconv>
#include <cmath>
#include <limits>
#include <string>

namespace ringtrue {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view k_blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(k_blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(k_blanks) - first + 1);
}

std::optional<double> parse_number(std::string_view text) {
  std::string with_point;
  if (const std::size_t comma = text.find(','); comma != std::string_view::npos) {
    with_point = text;
    with_point[comma] = '.';
    text = with_point;
  }
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<int> as_int(double number) {
  using Limits = std::numeric_limits<int>;  // outside of them the cast has no defined value
  if (!(number >= Limits::min() && number <= Limits::max())) return std::nullopt;
  const int whole = static_cast<int>(number);
  return whole == number ? std::optional(whole) : std::nullopt;
}

std::optional<std::int64_t> parse_whole_number(std::string_view text, std::int64_t least) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool is_whole = error == std::errc{} && end == text.data() + text.size() && number >= least;
  return is_whole ? std::optional(number) : std::nullopt;
}

std::optional<int> parse_awg(std::string_view text) {
  const bool is_aught = text.ends_with("/0");
  const std::string_view digits = is_aught ? text.substr(0, text.size() - 2) : text;
  int number = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  if (error != std::errc{} || end != digits.data() + digits.size()) return std::nullopt;
  if (is_aught) return number >= 1 && number <= 4 ? std::optional(1 - number) : std::nullopt;
  return number >= 0 && number <= 40 ? std::optional(number) : std::nullopt;
}

}  // namespace ringtrue
