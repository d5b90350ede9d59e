// Symbols of conductors, terminals and switching devices in the manner of IEC 60617, written down from memory
// and simplified to what can be told apart on a small screen. All lie on the line, centred on the stretch.
#include "symbols.hpp"

#include <algorithm>

namespace ringtrue::picture {

namespace {

constexpr int k_half = 14;  ///< px from the middle of a symbol to where its lines begin

std::string zigzag(int from, int to, int y) {
  constexpr int step = 5;
  std::string text = path_data("M", from, y);
  int x = from, side = 1;
  for (; to - x >= 2 * step; x += step, side = -side) text += ' ' + path_data("L", x + step, y + 4 * side);
  return text + ' ' + path_data("L", to, y);
}

std::string upright_zigzag(int from, int to, int x) {
  constexpr int step = 5;
  std::string text = path_data("M", x, from);
  int y = from, side = 1;
  for (; to - y >= 2 * step; y += step, side = -side) text += ' ' + path_data("L", x + 4 * side, y + step);
  return text + ' ' + path_data("L", x, to);
}

/// As thick and as broken as the mark has it.
void draw_in_manner(Svg& svg, std::string_view path, Mark mark) {
  if (mark == Mark::proven)
    svg.path(path, {{"stroke-width", 4}});
  else if (mark == Mark::unproven)
    svg.path(path, {{"stroke-dasharray", "7 5"}});
  else if (mark == Mark::suspect)
    svg.path(path, {{"stroke-dasharray", "2 4"}});
  else
    svg.path(path);
}

class Symbol {
 public:
  Symbol(Svg& svg, Stretch along, Mark mark)
      : svg_(svg), along_(along), x_(along.middle()), y_(along.y), mark_(mark) {}

  /// A line of the mark's own manner from the one point to the symbol, and on to the other.
  void leads(int half = k_half) {
    line(along_.from, x_ - half);
    line(x_ + half, along_.to);
  }
  void through() { line(along_.from, along_.to); }

  void core() {
    through();
    svg_.leaf("ellipse", {{"cx", x_}, {"cy", y_}, {"rx", 5}, {"ry", 11}, {"fill", "none"}});
  }
  void broken_line() {
    leads(8);
    torn_ends(8);
  }
  void bridge() {
    const int half = within(26);
    leads(half);
    in_manner(path_data("M", x_ - half, y_, "v", -14, "h", 2 * half, "v", 14));
  }
  void busbar() {
    const int half = within(28);
    leads(half);
    svg_.leaf("rect",
              {{"x", x_ - half}, {"y", y_ - 5}, {"width", 2 * half}, {"height", 10}, {"fill", "none"}});
  }
  void terminal() {
    leads(7);
    svg_.circle(x_, y_, 7, "none");
  }
  void earthed_terminal() {
    terminal();
    solid(path_data("M", x_, y_ + 7, "v", 5, "M", x_ - 9, y_ + 12, "h", 18, "M", x_ - 6, y_ + 15, "h", 12,
                    "M", x_ - 2, y_ + 18, "h", 4));
  }
  void fuse() {
    leads(18);
    svg_.leaf("rect", {{"x", x_ - 18}, {"y", y_ - 7}, {"width", 36}, {"height", 14}, {"fill", "none"}});
    solid(path_data("M", x_ - 18, y_, "h", 36));
  }
  void plug() {
    leads(12);
    svg_.leaf("rect",
              {{"x", x_ - 12}, {"y", y_ - 3}, {"width", 14}, {"height", 6}, {"fill", "currentColor"}});
    solid(path_data("M", x_ + 3, y_ - 9, "A", 9, 9, 0, 0, 1, x_ + 3, y_ + 9));
  }
  void inside_part() {
    const int half = within(24);
    through();
    svg_.leaf("rect", {{"x", x_ - half},
                       {"y", y_ - 11},
                       {"width", 2 * half},
                       {"height", 22},
                       {"fill", "none"},
                       {"stroke-width", 1},
                       {"stroke-dasharray", "8 3 2 3"}});
  }
  void disconnect(bool is_on) {
    leads();
    for (const int side : {-1, 1}) svg_.circle(x_ + side * (k_half - 4), y_, 4, "none");
    solid(is_on ? path_data("M", x_ - k_half + 8, y_, "H", x_ + k_half - 8)
                : path_data("M", x_ + k_half - 7, y_ - 3, "L", x_ - 6, y_ - 15));
  }
  void make_contact(bool is_on) {
    leads();
    blade(is_on, 0);
  }
  void break_contact(bool is_on) {
    leads();
    solid(path_data("M", x_ - k_half, y_, "v", -12));
    if (is_on)
      solid(path_data("M", x_ + k_half, y_, "L", x_ - k_half - 5, y_ - 11));
    else
      blade(false, 4);
  }
  void breaker(bool is_on) {
    leads();
    solid(path_data("M", x_ - k_half - 6, y_ - 6, "l", 12, 12, "m", 0, -12, "l", -12, 12));
    blade(is_on, 0);
  }
  void isolator(bool is_on) {
    leads();
    solid(path_data("M", x_ - k_half, y_ - 7, "v", 14));
    blade(is_on, 0);
  }
  void torn_ends(int half) {
    for (const int side : {-1, 1})
      solid(path_data("M", x_ + side * half, y_ - 10, "q", 7, 5, 0, 10, "q", -7, 5, 0, 10));
  }

 private:
  /// Half the width of a symbol that a short stretch leaves a lead on each side.
  [[nodiscard]] int within(int half) const { return std::min(half, (along_.to - along_.from) / 2 - 4); }
  void solid(std::string_view path) { svg_.path(path); }
  /// From the hinge on the right: on the line, or lifted off it.
  void blade(bool is_on, int more) {
    svg_.circle(x_ + k_half, y_, 2, "currentColor");
    solid(is_on ? path_data("M", x_ + k_half, y_, "H", x_ - k_half)
                : path_data("M", x_ + k_half, y_, "L", x_ - k_half + 2 + more, y_ - 16));
  }
  void line(int from, int to) {
    in_manner(mark_ == Mark::faulty ? zigzag(from, to, y_) : path_data("M", from, y_, "H", to));
  }
  void in_manner(std::string_view path) { draw_in_manner(svg_, path, mark_); }

  Svg& svg_;
  Stretch along_;
  int x_, y_;
  Mark mark_;
};

void draw_conductor(Symbol symbol, const Conductor& conductor) {
  if (conductor.is_spare()) return symbol.broken_line();
  switch (conductor.kind) {
    case ConductorKind::wire:
      return symbol.through();
    case ConductorKind::core:
      return symbol.core();
    case ConductorKind::bridge:
      return symbol.bridge();
    case ConductorKind::busbar:
      return symbol.busbar();
  }
}

void draw_part(Symbol symbol, PartKind kind, bool is_on) {
  switch (kind) {
    case PartKind::terminal:
      return symbol.terminal();
    case PartKind::pe_terminal:
      return symbol.earthed_terminal();
    case PartKind::disconnect:
      return symbol.disconnect(is_on);
    case PartKind::plug:
      return symbol.plug();
    case PartKind::fuse:
      return symbol.fuse();
    case PartKind::breaker:
      return symbol.breaker(is_on);
    case PartKind::isolator:
      return symbol.isolator(is_on);
    case PartKind::contact_no:
      return symbol.make_contact(is_on);
    case PartKind::contact_nc:
      return symbol.break_contact(is_on);
    default:  // a permanent path; paths never lead through loads
      return symbol.inside_part();
  }
}

}  // namespace

void draw_element(Svg& svg, Stretch along, ElementId element, const ConductionGraph& graph, Mark mark) {
  const Netlist& netlist = graph.netlist();
  const ElementOrigin origin = graph.origin(element);
  const bool is_on = graph.is_on_at_rest(element);
  svg.open("g", {{"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}});
  Symbol symbol(svg, along, mark);
  switch (origin.from) {
    case ElementOrigin::From::conductor:
      draw_conductor(symbol, netlist.conductors[origin.row]);
      break;
    case ElementOrigin::From::part:
      draw_part(symbol, netlist.parts[origin.row].kind, is_on);
      break;
    case ElementOrigin::From::implied_terminal:
      symbol.terminal();
      break;
    case ElementOrigin::From::pe_rail:
      symbol.earthed_terminal();
      break;
    case ElementOrigin::From::channel:  // a load: never on a path
      break;
  }
  svg.close();
}

void draw_gap(Svg& svg, Stretch along) {
  svg.open("g", {{"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}});
  Symbol symbol(svg, along, Mark::none);
  symbol.leads(22);
  symbol.torn_ends(22);
  svg.close();
}

void draw_run(Svg& svg, Stretch along, Mark mark) {
  svg.open("g", {{"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}});
  draw_in_manner(svg,
                 mark == Mark::faulty ? zigzag(along.from, along.to, along.y)
                                      : path_data("M", along.from, along.y, "H", along.to),
                 mark);
  svg.close();
}

void draw_upright(Svg& svg, int x, int from, int to, Mark mark) {
  svg.open("g", {{"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}});
  draw_in_manner(svg, mark == Mark::faulty ? upright_zigzag(from, to, x) : path_data("M", x, from, "V", to),
                 mark);
  svg.close();
}

void draw_sign(Svg& svg, int x, int y, Mark mark) {
  const Attributes stroke{{"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}};
  switch (mark) {
    case Mark::none:
      break;
    case Mark::absent:
      svg.path(path_data("M", x - 5, y, "h", 10), stroke);
      break;
    case Mark::unproven:
      svg.leaf("circle", {{"cx", x},
                          {"cy", y},
                          {"r", 4},
                          {"fill", "none"},
                          {"stroke", "currentColor"},
                          {"stroke-width", 2}});
      break;
    case Mark::proven:
      svg.path(path_data("M", x - 5, y, "l", 4, 4, "l", 6, -8), stroke);
      break;
    case Mark::suspect:
      svg.path(path_data("M", x - 3, y - 3, "a", 3, 3, 0, 1, 1, 4, 3, "q", -1, 1, -1, 3, "m", 0, 2, "v", 2),
               stroke);
      break;
    case Mark::faulty:
      svg.path(path_data("M", x - 4, y - 4, "l", 8, 8, "m", 0, -8, "l", -8, 8), stroke);
      break;
  }
}

}  // namespace ringtrue::picture
