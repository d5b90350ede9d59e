// Fuses and breakers against what is wired behind them.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "ringtrue/graph/copper.hpp"
#include "ringtrue/model/number.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

bool protects(const Part& part) {
  return (part.kind == PartKind::fuse || part.kind == PartKind::breaker) && !std::isnan(part.amps);
}

/// Amperes that copper with PVC insulation carries at most at 40 degrees Celsius, laid in free air, the most
/// that any way of laying has in the table. Source: IEC 60204-1, table 6, column E, from memory.
struct Size {
  double mm2, amps;
};
constexpr Size k_sizes[] = {{0.75, 10.4}, {1, 12.4}, {1.5, 16.1}, {2.5, 22}, {4, 30},
                            {6, 37},      {10, 52},  {16, 70},    {25, 88},  {35, 110},
                            {50, 133},    {70, 171}, {95, 207},   {120, 240}};

/// A size between two of the table counts as the greater one; nothing above the table.
std::optional<double> most_amps(double mm2) {
  for (const Size& size : k_sizes)
    if (mm2 <= size.mm2) return size.amps;
  return std::nullopt;
}

/// As the row states it; nothing where it states none, or no number.
std::optional<double> size_of(const Drawing& drawing, std::uint32_t conductor) {
  if (const std::string_view mm2 = drawing.text(ConductorText::mm2, conductor); !mm2.empty())
    return parse_number(mm2);
  const std::string_view awg = drawing.text(ConductorText::awg, conductor);
  if (const auto gauge = awg.empty() ? std::nullopt : parse_awg(awg)) return awg_mm2(*gauge);
  return std::nullopt;
}

std::string shown(double number) {
  std::string text = std::to_string(number);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// By label of `copper_net`: the least fuse or breaker that feeds it. Where one side of a fuse is at the
/// origin of a potential and the other is not, the other is behind it; else the drawing doesn't tell.
std::vector<std::uint32_t> fuse_before(const Drawing& drawing) {
  constexpr std::uint32_t k_none = std::numeric_limits<std::uint32_t>::max();
  std::vector<bool> is_source(drawing.copper_net.size(), false);
  for (const Potential& potential : drawing.netlist.potentials)
    if (potential.point != PointId::none) is_source[drawing.copper(potential.point)] = true;
  std::vector<std::uint32_t> before(drawing.copper_net.size(), k_none);
  const std::vector<Part>& parts = drawing.netlist.parts;
  for (std::uint32_t i = 0; i < parts.size(); ++i) {
    if (!protects(parts[i])) continue;
    const std::uint32_t a = drawing.copper(parts[i].a), b = drawing.copper(parts[i].b);
    if (is_source[a] == is_source[b]) continue;
    std::uint32_t& least = before[is_source[a] ? b : a];
    if (least == k_none || parts[i].amps < parts[least].amps) least = i;
  }
  return before;
}

}  // namespace

void small_fuse_without_ohms(const Drawing& drawing, Found& found) {
  constexpr double k_small_amps = 0.25;
  const std::vector<Part>& parts = drawing.netlist.parts;
  for (std::uint32_t i = 0; i < parts.size(); ++i)
    if (parts[i].kind == PartKind::fuse && parts[i].amps < k_small_amps && std::isnan(parts[i].ohms))
      found.add("The fuse of " + shown(parts[i].amps) +
                    " A has no ohms: small ones have some 1 to 30 ohms, so that a beep through it may fail.",
                {drawing.part_row(i)});
}

void conductor_below_its_fuse(const Drawing& drawing, Found& found) {
  const std::vector<std::uint32_t> before = fuse_before(drawing);
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& conductor = drawing.netlist.conductors[i];
    if (conductor.from == PointId::none || conductor.to == PointId::none) continue;
    const std::uint32_t fuse = before[drawing.copper(conductor.from)];
    const std::optional<double> mm2 = size_of(drawing, i);
    if (fuse >= drawing.netlist.parts.size() || !mm2 || *mm2 <= 0) continue;
    const Part& part = drawing.netlist.parts[fuse];
    const std::optional<double> most = most_amps(*mm2);
    if (!most || part.amps <= *most) continue;
    found.add(shown(*mm2) + " mm\xC2\xB2 stand behind " + std::string(part.part) + " of " + shown(part.amps) +
                  " A; by the table they carry at most " + shown(*most) +
                  " A. Ask a licensed person; this is no approval of others.",
              {drawing.conductor_row(i), drawing.part_row(fuse)});
  }
}

}  // namespace ringtrue::check
