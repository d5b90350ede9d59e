#include "ringtrue/base/name_table.hpp"

#include <algorithm>
#include <array>
#include <cstring>

namespace ringtrue {

namespace {

__extension__ using Wide = unsigned __int128;

std::uint64_t mixed(std::uint64_t x, std::uint64_t y) {
  const Wide product = static_cast<Wide>(x) * y;
  return static_cast<std::uint64_t>(product) ^ static_cast<std::uint64_t>(product >> 64);
}

/// Multiply-and-fold over 8-byte words, the last two overlapping. Names are short (5 to 25 bytes), so the
/// cost is the start and the end, not the loop. Method: folded multiplication as in wyhash (Wang Yi, public
/// domain; from memory).
std::uint64_t hash_of(std::string_view text) {
  constexpr std::uint64_t k_seed = 0x9E3779B97F4A7C15u, k_step = 0xD6E8FEB86659FD93u;
  const char* bytes = text.data();
  std::size_t left = text.size();
  std::uint64_t hash = k_seed ^ left, first = 0, second = 0;
  for (; left > 16; left -= 8, bytes += 8) {
    std::memcpy(&first, bytes, 8);
    hash = mixed(hash ^ first, k_step);
  }
  if (left >= 8) {
    std::memcpy(&first, bytes, 8);
    std::memcpy(&second, bytes + left - 8, 8);
  } else if (left >= 4) {
    std::memcpy(&first, bytes, 4);
    std::memcpy(&second, bytes + left - 4, 4);
  } else {
    for (std::size_t i = 0; i < left; ++i) first = first << 8 | static_cast<unsigned char>(bytes[i]);
  }
  return mixed(mixed(hash ^ first, k_step), second ^ k_seed);
}

}  // namespace

void NameTable::reserve(std::size_t names) {
  constexpr std::size_t k_least = 64;
  const std::size_t slots = std::max(k_least, names + names / 2);
  if (slots > slots_.size()) spread_over(slots);
  names_.reserve(names);
}

std::size_t NameTable::home(std::uint64_t hash) const {
  return static_cast<std::size_t>(static_cast<Wide>(hash) * slots_.size() >> 64);
}

std::size_t NameTable::slot_of(std::string_view name, std::uint64_t hash) const {
  const auto tag = static_cast<std::uint32_t>(hash);
  std::size_t at = home(hash);
  while (slots_[at].number != k_absent && (slots_[at].tag != tag || names_[slots_[at].number] != name))
    at = after(at);
  return at;
}

std::uint32_t NameTable::find(std::string_view name, std::uint64_t hash) const {
  return slots_[slot_of(name, hash)].number;
}

std::uint32_t NameTable::find(std::string_view name) const { return find(name, hash_of(name)); }

std::uint32_t NameTable::intern(std::string_view name, std::uint64_t hash) {
  if (names_.size() + names_.size() / 4 >= slots_.size()) spread_over(slots_.size() * 2);
  Slot& slot = slots_[slot_of(name, hash)];
  if (slot.number == k_absent) {
    slot = {static_cast<std::uint32_t>(hash), static_cast<std::uint32_t>(names_.size())};
    names_.push_back(name);
  }
  return slot.number;
}

std::uint32_t NameTable::intern(std::string_view name) { return intern(name, hash_of(name)); }

template <class Take>
void NameTable::for_each_ahead(std::span<const std::string_view> names, Take take) const {
  constexpr std::size_t k_ahead = 64;
  std::array<std::uint64_t, k_ahead> hashes;
  for (std::size_t first = 0; first < names.size(); first += k_ahead) {
    const std::size_t count = std::min(k_ahead, names.size() - first);
    for (std::size_t i = 0; i < count; ++i) {
      hashes[i] = hash_of(names[first + i]);
      __builtin_prefetch(&slots_[home(hashes[i])]);
    }
    for (std::size_t i = 0; i < count; ++i)
      if (const Slot& slot = slots_[home(hashes[i])]; slot.number != k_absent) names_.prefetch(slot.number);
    for (std::size_t i = 0; i < count; ++i)
      if (const Slot& slot = slots_[home(hashes[i])]; slot.number != k_absent)
        __builtin_prefetch(names_[slot.number].data());
    for (std::size_t i = 0; i < count; ++i) take(first + i, hashes[i]);
  }
}

void NameTable::find_all(std::span<const std::string_view> names, std::span<std::uint32_t> numbers) const {
  for_each_ahead(names, [&](std::size_t i, std::uint64_t hash) { numbers[i] = find(names[i], hash); });
}

void NameTable::intern_all(std::span<const std::string_view> names, std::span<std::uint32_t> numbers) {
  for_each_ahead(names, [&](std::size_t i, std::uint64_t hash) { numbers[i] = intern(names[i], hash); });
}

void NameTable::spread_over(std::size_t slots) {
  slots_.assign(slots, {});
  for (std::uint32_t number = 0; number < names_.size(); ++number) {
    const std::uint64_t hash = hash_of(names_[number]);
    std::size_t at = home(hash);
    while (slots_[at].number != k_absent) at = after(at);
    slots_[at] = {static_cast<std::uint32_t>(hash), number};
  }
}

}  // namespace ringtrue
