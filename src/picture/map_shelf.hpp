#pragma once
#include <cstdint>

#include "map_blocks.hpp"
#include "svg.hpp"

namespace ringtrue::picture {

enum class Detail : std::uint8_t { cells, counts };

/// How large a block is drawn.
struct BlockSize {
  int width = 0, height = 0;
  int cell = 0;              ///< width of a cell; 0 where counts are drawn
  std::size_t per_band = 0;  ///< columns beside each other
};
[[nodiscard]] BlockSize size_of(const MapBlock& block, Detail detail, int most_width);
void draw_block(Svg& svg, const MapBlock& block, const BlockSize& size, int x, int y);

}  // namespace ringtrue::picture
