#pragma once
#include <nlohmann/json.hpp>
#include <string>

namespace ringtrue::serve {

using Json = nlohmann::ordered_json;

/// On one line; bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] inline std::string text_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace ringtrue::serve
