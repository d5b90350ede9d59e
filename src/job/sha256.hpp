#pragma once
#include <string>
#include <string_view>

namespace ringtrue::job {

/// SHA-256 of the bytes in 64 small hexadecimal digits, as sha256sum prints it. Source: FIPS 180-4.
[[nodiscard]] std::string sha256(std::string_view bytes);

}  // namespace ringtrue::job
