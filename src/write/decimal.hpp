#pragma once
#include <string>

namespace ringtrue::write {

/// The shortest plain decimal, without an exponent, that reads as this very number.
[[nodiscard]] std::string decimal(double value);

}  // namespace ringtrue::write
