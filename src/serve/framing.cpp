#include "serve/framing.hpp"

#include <algorithm>
#include <array>

namespace ringtrue::serve {

namespace {

constexpr std::array<std::string_view, 3> k_without_body = {"GET", "HEAD", "OPTIONS"};
constexpr std::array<std::string_view, 3> k_with_body = {"POST", "PUT", "PATCH"};
constexpr std::string_view k_delete = "DELETE";

template <std::size_t n>
bool holds(const std::array<std::string_view, n>& methods, std::string_view method) {
  return std::find(methods.begin(), methods.end(), method) != methods.end();
}

bool is_number(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

bool is_above(std::string_view number, std::size_t most) {
  std::size_t value = 0;
  for (const char c : number) {
    value = value * 10 + static_cast<std::size_t>(c - '0');
    if (value > most) return true;
  }
  return false;
}

}  // namespace

std::optional<Answer> refused_framing(const Framing& framing, std::size_t most_bytes) {
  const bool may_have_body = holds(k_with_body, framing.method) || framing.method == k_delete;
  if (!may_have_body && !holds(k_without_body, framing.method))
    return refusal(501, "no address here knows this method", framing.method);
  if (!framing.odd_field.empty())
    return refusal(400, "a header field has a name that is none", framing.odd_field,
                   "letters and digits up to its colon");
  if (framing.hosts.size() != 1)
    return refusal(400, "Host must be there once", std::to_string(framing.hosts.size()), "one");
  if (framing.is_transfer_coded || (framing.lengths.empty() && holds(k_with_body, framing.method)))
    return refusal(411, "the length of the body isn't said", "", "Content-Length");
  if (framing.lengths.empty()) return std::nullopt;
  const std::string& length = framing.lengths.front();
  if (framing.lengths.size() > 1 || !is_number(length))
    return refusal(400, "Content-Length must be one number", length, "one number");
  if (!may_have_body && is_above(length, 0))
    return refusal(400, "this method takes no body", framing.method, "no body");
  if (framing.is_content_coded)
    return refusal(415, "the body is compressed", "", "application/json as it is");
  if (is_above(length, most_bytes))
    return refusal(413, "the body of the request is too long", length,
                   "at most " + std::to_string(most_bytes) + " bytes");
  return std::nullopt;
}

}  // namespace ringtrue::serve
