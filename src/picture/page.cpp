#include "page.hpp"

namespace ringtrue::picture {

void draw_text(Svg& svg, int x, int y, const Line& line, int font_px, std::string_view anchor) {
  svg.text_leaf("text", line.text,
                {{"x", x},
                 {"y", y},
                 {"font-size", font_px},
                 {"font-weight", line.weight == Weight::bold ? "bold" : "normal"},
                 {"text-anchor", anchor}});
}

void begin_group(Svg& svg, Mark mark, std::string_view said) {
  if (mark == Mark::none)
    svg.open("g");
  else
    svg.open("g", {{"class", word(mark)}});
  svg.text_leaf("title", said);
}

void Page::paragraph(std::string_view words, int font, Weight weight) {
  for (std::string& line : wrapped(words, width_ - 2 * k_margin, font, weight)) {
    y += font + 4;
    draw_text(body_, k_margin, y, {std::move(line), weight}, font, "start");
  }
}

void Page::rule() {
  y += k_margin;
  body_.leaf("line", {{"x1", k_margin},
                      {"y1", y},
                      {"x2", width_ - k_margin},
                      {"y2", y},
                      {"stroke", "currentColor"},
                      {"stroke-width", 1}});
  y += 4;
}

std::string Page::framed(std::string_view title, std::string_view description) {
  Svg frame;
  const int height = y + k_margin;
  frame.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                     {"version", "1.1"},
                     {"width", width_},
                     {"height", height},
                     {"viewBox", "0 0 " + std::to_string(width_) + ' ' + std::to_string(height)},
                     {"role", "img"},
                     {"font-family", "sans-serif"},
                     {"fill", "currentColor"}});
  frame.text_leaf("title", title).text_leaf("desc", description).put(body_.take()).close();
  return frame.take() + '\n';
}

}  // namespace ringtrue::picture
