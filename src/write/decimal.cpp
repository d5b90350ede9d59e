#include "write/decimal.hpp"

#include <array>
#include <charconv>

namespace ringtrue::write {

std::string decimal(double value) {
  std::array<char, 512> text;  // the longest is the least denormal number: some 340 characters
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  return {text.data(), end.ptr};
}

}  // namespace ringtrue::write
