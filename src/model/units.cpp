#include "units.hpp"

#include "ringtrue/model/number.hpp"

namespace ringtrue {

std::string_view without_unit(std::string_view text, std::span<const std::string_view> units) {
  constexpr auto is_number = [](std::string_view word) {
    return word.find_first_not_of("0123456789.,/+-") == word.npos;
  };
  if (is_number(text)) return text;
  for (const std::string_view unit : units) {
    std::string_view number = text;
    if (text.ends_with(unit))
      number.remove_suffix(unit.size());
    else if (text.starts_with(unit))
      number.remove_prefix(unit.size());
    else
      continue;
    if (number = trimmed(number); !number.empty() && is_number(number)) return number;
  }
  return text;
}

}  // namespace ringtrue
