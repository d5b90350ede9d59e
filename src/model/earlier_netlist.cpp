#include "ringtrue/model/earlier_netlist.hpp"

#include <algorithm>
#include <charconv>

namespace ringtrue {

namespace {

constexpr std::size_t k_digits = 12;

bool is_hexadecimal(char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); }

}  // namespace

std::string NetlistMark::text() const { return std::to_string(number) + ' ' + sha256.substr(0, k_digits); }

std::optional<NetlistMark> netlist_mark(std::string_view text) {
  NetlistMark mark;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), mark.number);
  const std::string_view rest = text.substr(static_cast<std::size_t>(end - text.data()));
  if (error != std::errc{} || mark.number == 0 || rest.size() != k_digits + 1 || rest[0] != ' ' ||
      !std::all_of(rest.begin() + 1, rest.end(), is_hexadecimal))
    return std::nullopt;
  mark.sha256 = rest.substr(1);
  return mark;
}

}  // namespace ringtrue
