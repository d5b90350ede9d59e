#pragma once
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace ringtrue {

/// A list of views that takes 8 bytes for each instead of 16: a place near the first text, and a length.
/// Texts that lie more than 2 GiB from the first, so in other memory, cost 24. Whoever adds a text keeps its
/// bytes alive.
class TextList {
 public:
  [[nodiscard]] std::size_t size() const { return places_.size(); }
  [[nodiscard]] bool empty() const { return places_.empty(); }
  /// The text as it was added; without bytes where it was empty.
  [[nodiscard]] std::string_view operator[](std::size_t i) const {
    const Place place = places_[i];
    if (place.length == k_far) return far_[place.at];
    if (place.length == 0) return {};
    return {reinterpret_cast<const char*>(origin_ + place.at), place.length};
  }
  /// Asks for the memory in which the place of a text stands.
  void prefetch(std::size_t i) const { __builtin_prefetch(&places_[i]); }

  void reserve(std::size_t texts) { places_.reserve(texts); }
  /// New texts are empty.
  void resize(std::size_t texts) { places_.resize(texts); }
  void push_back(std::string_view text) { places_.push_back(place_for(text)); }
  void replace(std::size_t i, std::string_view text) { places_[i] = place_for(text); }

 private:
  struct Place {
    std::uint32_t at = 0;  ///< from `origin_`; for a far text its index
    std::uint32_t length = 0;
  };
  static constexpr std::uint32_t k_far = 0xFFFFFFFFu;
  static constexpr std::uintptr_t k_reach = 0x80000000u;

  [[nodiscard]] Place place_for(std::string_view text) {
    if (text.empty()) return {};
    const auto address = reinterpret_cast<std::uintptr_t>(text.data());
    if (origin_ == 0) origin_ = address - k_reach;  // may wrap, and then wraps back
    const std::uintptr_t at = address - origin_;
    if (at < 2 * k_reach && text.size() < k_far)
      return {static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(text.size())};
    return place_for_far(text);
  }
  [[nodiscard]] Place place_for_far(std::string_view text);

  std::uintptr_t origin_ = 0;
  std::vector<Place> places_;
  std::vector<std::string_view> far_;
};

}  // namespace ringtrue
