#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "marks.hpp"
#include "svg.hpp"
#include "text_fit.hpp"

namespace ringtrue::picture {

// Fonts and spaces of all pictures, in px.
inline constexpr int k_font = 13;
inline constexpr int k_line = 17;  ///< from one line of text to the next
inline constexpr int k_heading_font = 19;
inline constexpr int k_margin = 14;
inline constexpr int k_sign_room = 18;  ///< of a sign before a word

/// A line of text.
struct Line {
  std::string text;
  Weight weight = Weight::regular;
};
using Lines = std::vector<Line>;

/// A line of text at a base; `anchor` is SVG's: start, middle or end.
void draw_text(Svg& svg, int x, int y, const Line& line, int font_px, std::string_view anchor);

/// What belongs together, with its mark as its class. `said` is all of it read aloud.
void begin_group(Svg& svg, Mark mark, std::string_view said);

/// A picture that grows downwards: its height is known only at the end, when the frame is put around it.
class Page {
 public:
  explicit Page(int width) : width_(width) {}

  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] Svg& body() { return body_; }
  void paragraph(std::string_view words, int font, Weight weight);
  /// A line across, with room above it.
  void rule();
  /// The whole picture. The texts must be `readable`.
  [[nodiscard]] std::string framed(std::string_view title, std::string_view description);

  int y = k_margin;  ///< down to where it is drawn

 private:
  int width_;
  Svg body_;
};

}  // namespace ringtrue::picture
