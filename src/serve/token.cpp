#include <arpa/inet.h>

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

bool is_loopback(const std::string& host) {
  if (host == "localhost") return true;
  in_addr v4{};
  if (inet_pton(AF_INET, host.c_str(), &v4) == 1) return (ntohl(v4.s_addr) >> 24) == 127;
  in6_addr v6{};
  return inet_pton(AF_INET6, host.c_str(), &v6) == 1 && IN6_IS_ADDR_LOOPBACK(&v6);
}

}  // namespace ringtrue
