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
  } else {
    for (std::size_t i = 0; i < left; ++i) first = first << 8 | static_cast<unsigned char>(bytes[i]);
  }
  return mixed(mixed(hash ^ first, k_step), second ^ k_seed);
}

}  // namespace

NameTable::NameTable(std::size_t expected_names) {
  std::size_t slots = 64;
  while (slots < expected_names * 2) slots *= 2;
  slots_.resize(slots);
  names_.reserve(expected_names);
}

std::uint32_t NameTable::find(std::string_view name) const { return find(name, hash_of(name)); }

void NameTable::find_all(std::span<const std::string_view> names, std::span<std::uint32_t> numbers) const {
  constexpr std::size_t k_ahead = 64;
  std::array<std::uint64_t, k_ahead> hashes;
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t first = 0; first < names.size(); first += k_ahead) {
    const std::size_t count = std::min(k_ahead, names.size() - first);
    for (std::size_t i = 0; i < count; ++i) {
      hashes[i] = hash_of(names[first + i]);
      __builtin_prefetch(&slots_[hashes[i] & mask]);
    }
    for (std::size_t i = 0; i < count; ++i)
      if (const Slot& slot = slots_[hashes[i] & mask]; slot.number != k_absent)
        __builtin_prefetch(&names_[slot.number]);
    for (std::size_t i = 0; i < count; ++i)
      if (const Slot& slot = slots_[hashes[i] & mask]; slot.number != k_absent)
        __builtin_prefetch(names_[slot.number].data());
    for (std::size_t i = 0; i < count; ++i) numbers[first + i] = find(names[first + i], hashes[i]);
  }
}

std::uint32_t NameTable::find(std::string_view name, std::uint64_t hash) const {
  const auto tag = static_cast<std::uint32_t>(hash >> 32);
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t i = hash & mask; slots_[i].number != k_absent; i = (i + 1) & mask)
    if (slots_[i].tag == tag && names_[slots_[i].number] == name) return slots_[i].number;
  return k_absent;
}

std::uint32_t NameTable::intern(std::string_view name) {
  if (names_.size() * 2 >= slots_.size()) grow(slots_.size() * 2);
  const std::uint64_t hash = hash_of(name);
  const auto tag = static_cast<std::uint32_t>(hash >> 32);
  const std::size_t mask = slots_.size() - 1;
  std::size_t i = hash & mask;
  for (; slots_[i].number != k_absent; i = (i + 1) & mask)
    if (slots_[i].tag == tag && names_[slots_[i].number] == name) return slots_[i].number;
  const auto number = static_cast<std::uint32_t>(names_.size());
  slots_[i] = {tag, number};
  names_.push_back(name);
  return number;
}

void NameTable::grow(std::size_t slots) {
  std::vector<Slot> grown(slots);
  const std::size_t mask = slots - 1;
  for (std::uint32_t number = 0; number < names_.size(); ++number) {
    const std::uint64_t hash = hash_of(names_[number]);
    std::size_t i = hash & mask;
    while (grown[i].number != k_absent) i = (i + 1) & mask;
    grown[i] = {static_cast<std::uint32_t>(hash >> 32), number};
  }
  slots_ = std::move(grown);
}

}  // namespace ringtrue
