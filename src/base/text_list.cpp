#include "ringtrue/base/text_list.hpp"

namespace ringtrue {

void TextList::push_back(std::string_view text) { places_.push_back(place_for(text)); }

TextList::Place TextList::place_for(std::string_view text) {
  if (text.empty()) return {};
  constexpr std::uintptr_t k_reach = 0x80000000u;
  const auto address = reinterpret_cast<std::uintptr_t>(text.data());
  if (origin_ == 0) origin_ = address - k_reach;  // may wrap, and then wraps back
  const std::uintptr_t at = address - origin_;
  if (at < 2 * k_reach && text.size() < k_far)
    return {static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(text.size())};
  far_.push_back(text);
  return {static_cast<std::uint32_t>(far_.size() - 1), k_far};
}

}  // namespace ringtrue
