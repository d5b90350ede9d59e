#include <random>

#include "ringtrue/serve/serve.hpp"

namespace ringtrue {

std::string make_token() {
  constexpr std::string_view k_digits = "abcdefghijklmnopqrstuvwxyz234567";  // base 32: five bits each
  std::random_device random;
  std::string token;
  for (int i = 0; i < 26; ++i) token += k_digits[random() % k_digits.size()];
  return token;
}

}  // namespace ringtrue
