#include "natural_order.hpp"

#include <algorithm>
#include <compare>

namespace ringtrue::picture {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Takes a run of digits, or of anything else, off the front.
std::string_view take_run(std::string_view& text) {
  std::size_t end = 1;
  while (end < text.size() && is_digit(text[end]) == is_digit(text[0])) ++end;
  const std::string_view run = text.substr(0, end);
  text.remove_prefix(end);
  return run;
}

std::strong_ordering by_value(std::string_view a, std::string_view b) {
  const auto value = [](std::string_view digits) {
    return digits.substr(std::min(digits.find_first_not_of('0'), digits.size()));
  };
  if (const auto order = value(a).size() <=> value(b).size(); order != 0) return order;
  return value(a).compare(value(b)) <=> 0;
}

}  // namespace

bool comes_before(std::string_view a, std::string_view b) {
  std::string_view rest_a = a, rest_b = b;
  while (!rest_a.empty() && !rest_b.empty()) {
    const std::string_view run_a = take_run(rest_a), run_b = take_run(rest_b);
    const bool are_numbers = is_digit(run_a[0]) && is_digit(run_b[0]);
    const auto order = are_numbers ? by_value(run_a, run_b) : run_a.compare(run_b) <=> 0;
    if (order != 0) return order < 0;
  }
  if (rest_a.empty() != rest_b.empty()) return rest_a.empty();
  return a < b;  // `01` and `1`
}

}  // namespace ringtrue::picture
