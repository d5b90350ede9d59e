#pragma once
#include <vector>

#include "page.hpp"
#include "strip_rows.hpp"

namespace ringtrue::picture {

inline constexpr int k_body = 248;          ///< width of a terminal
inline constexpr int k_body_text = 96;      ///< of the texts left and right of its symbol
inline constexpr int k_landing_above = 13;  ///< room of a landing above its line

/// Where one side of the strip is drawn. Outwards is to the left on the panel side.
struct SideColumns {
  int edge = 0;                     ///< of the terminals
  int way = 1;                      ///< outwards: -1 or 1
  int begin = 0;                    ///< of the texts, from the terminals outwards
  int what = 0, far = 0, mark = 0;  ///< widths of the three texts of a landing
  int far_at = 0, mark_at = 0;      ///< how far from `begin` the second and third stand; 0: below each other
  [[nodiscard]] int lane(std::size_t number) const { return edge + way * 12 * static_cast<int>(number + 1); }
};

struct StripColumns {
  int width = 0;  ///< of the picture
  SideColumns internal, external;
};
/// The picture is as wide as is wanted, or as the lanes ask for.
[[nodiscard]] StripColumns strip_columns(const StripRows& strip, int wanted);

/// A landing, or the lower end of a bridge, in its row.
struct Slot {
  const Landing* landing = nullptr;  ///< null for the lower end of a bridge
  const Bridge* bridge = nullptr;
  int y = 0, height = 0;  ///< of its line below the top of the row; room below `y - k_landing_above`
  Lines what, far, mark;
};

/// A terminal with its landings, or a part of them where they take more than a page.
struct RowLayout {
  std::size_t row = 0;
  bool is_continued = false;  ///< from the part before
  int height = 0;
  int y = 0;  ///< of the terminal's own line below the top of the row
  Lines number, reasons;
  std::vector<Slot> internal, external;
};
/// In order; no part is higher than `most` unless it is by a single landing. 0: nothing is parted.
[[nodiscard]] std::vector<RowLayout> strip_layout(const StripRows& strip, const StripColumns& columns,
                                                  const ConductionGraph& graph, int most);

}  // namespace ringtrue::picture
