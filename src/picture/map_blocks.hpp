#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "marks.hpp"

namespace ringtrue::picture {

struct MapCell {
  std::string pin;
  std::string said;
  Mark mark = Mark::none;
};

/// A device, module or strip.
struct MapBlock {
  std::string_view name;
  PartPlace place = PartPlace::panel;
  /// The points of a place: one, or the panel side and the field side.
  std::vector<std::vector<MapCell>> columns;
  MarkCounts counts{};
  Mark worst = Mark::none;
  [[nodiscard]] bool has_sides() const;
};

/// All blocks: by place, then with the worst first, then by name.
[[nodiscard]] std::vector<MapBlock> map_blocks(const ConductionGraph& graph, const Findings* findings);

}  // namespace ringtrue::picture
