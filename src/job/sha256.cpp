#include "job/sha256.hpp"

#include <openssl/evp.h>
#include <array>
#include <stdexcept>

namespace ringtrue::job {

std::string sha256(std::string_view bytes) {
  std::array<unsigned char, 32> digest{};
  unsigned length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1)
    throw std::runtime_error("libcrypto has no SHA-256");
  constexpr std::string_view k_digits = "0123456789abcdef";
  std::string text;
  for (const unsigned char byte : digest) {
    text += k_digits[byte >> 4];
    text += k_digits[byte & 15];
  }
  return text;
}

}  // namespace ringtrue::job
