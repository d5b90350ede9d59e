#pragma once
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"

namespace ringtrue::serve {

/// What goes back to a client, free of any HTTP library.
struct Answer {
  int status = 200;
  std::string body;
  std::string_view type = "application/json";
};

/// `{"error": {...}}` with the status that the error asks for (RFC 9110): 409 for an id that is taken, 507
/// for a full disk, 503 for a job that can't be written at the moment, else 422.
[[nodiscard]] Answer refusal(const Errors& errors);
/// The same for what no error code stands for.
[[nodiscard]] Answer refusal(int status, std::string_view text, std::string_view found = {},
                             std::string_view expected = {});

}  // namespace ringtrue::serve
