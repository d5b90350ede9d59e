#include "load/bridges.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

#include "load/text.hpp"

namespace ringtrue {

template <>
std::span<const FieldOf<load::BridgeRow>> fields_of<load::BridgeRow>() {
  using R = load::BridgeRow;
  static constexpr FieldOf<R> fields[] = {
      {"strip", &R::strip, true},  {"terminals", &R::terminals, true},  {"side", &R::side, false},
      {"sheet", &R::sheet, false}, {"potential", &R::potential, false}, {"note", &R::note, false}};
  return fields;
}

namespace load {

namespace {

std::optional<unsigned> whole_number(std::string_view text) {
  unsigned number = 0;
  const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || problem != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

/// `3-7`; false if it is no range.
bool add_range(std::string_view text, std::vector<std::string>& terminals) {
  constexpr unsigned k_most = 1000;
  const std::size_t dash = text.find('-');
  if (dash == text.npos) return false;
  const auto first = whole_number(trimmed(text.substr(0, dash)));
  const auto last = whole_number(trimmed(text.substr(dash + 1)));
  if (!first || !last || *last <= *first || *last - *first > k_most) return false;
  for (unsigned number = *first; number <= *last; ++number) terminals.push_back(std::to_string(number));
  return true;
}

bool is_terminal(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
  });
}

}  // namespace

std::vector<std::string> bridged_terminals(std::string_view text) {
  std::vector<std::string> terminals;
  while (!text.empty()) {
    const std::size_t stop = std::min(text.find_first_of(",;+"), text.size());
    const std::string_view one = trimmed(text.substr(0, stop));
    if (is_terminal(one))
      terminals.emplace_back(one);
    else if (!add_range(one, terminals))
      return {};
    text.remove_prefix(std::min(text.size(), stop + 1));
  }
  return terminals.size() < 2 ? std::vector<std::string>{} : terminals;
}

}  // namespace load

}  // namespace ringtrue
