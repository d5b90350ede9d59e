#pragma once
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <vector>

namespace ringtrue {

/// Members by key: those of a key stand from `start[key]` of `members` on, up to `start[key + 1]`, in their
/// order. `for_each_backwards(visit)` calls `visit(key, member)` for all members, the last one first, and
/// does so twice.
template <class Member, class ForEachBackwards>
void group_by_key(std::size_t keys, ForEachBackwards for_each_backwards, std::vector<std::uint32_t>& start,
                  std::vector<Member>& members) {
  start.assign(keys + 1, 0);
  for_each_backwards([&](std::size_t key, Member) { ++start[key]; });
  std::partial_sum(start.begin(), start.end(), start.begin());
  members.resize(start.back());
  // Where each key's members end is where the next one to come begins, in the end its first.
  for_each_backwards([&](std::size_t key, Member member) { members[--start[key]] = member; });
}

}  // namespace ringtrue
