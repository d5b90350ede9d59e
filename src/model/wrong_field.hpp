#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

#include "ringtrue/base/error.hpp"

namespace ringtrue {

/// Says what is wrong with a field of one row.
class WrongField {
 public:
  WrongField(std::string_view file, std::uint32_t line) : file_(file), line_(line) {}

  [[nodiscard]] auto operator()(ErrorCode code, std::string message, std::string_view field,
                                std::string_view found, std::string expected) const {
    return fail({code,
                 std::move(message),
                 {std::string(file_), line_, "", std::string(field)},
                 std::string(found),
                 std::move(expected),
                 {}});
  }

 private:
  std::string_view file_;
  std::uint32_t line_;
};

}  // namespace ringtrue
