#include "serve/taken.hpp"

#include "ringtrue/model/readings.hpp"

namespace ringtrue::serve {

Answer taken(Appended appended, const Json& body) {
  constexpr int k_created = 201, k_ok = 200;
  return {appended == Appended::added ? k_created : k_ok, text_of(body)};
}

Result<void> check_time(std::string_view time) {
  if (seconds_of_time(time)) return {};
  return fail({ErrorCode::bad_time,
               "it is no time",
               {"", 0, "", "time"},
               std::string(time),
               "one such as 2026-03-02T07:15:00.123Z (RFC 3339)",
               {}});
}

}  // namespace ringtrue::serve
