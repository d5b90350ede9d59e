#include "ringtrue/model/netlist.hpp"

#include <algorithm>

namespace ringtrue {

std::span<const std::uint32_t> Netlist::parts_named(std::string_view name) const {
  const auto first =
      std::lower_bound(parts_by_name.begin(), parts_by_name.end(), name,
                       [this](std::uint32_t row, std::string_view n) { return parts[row].part < n; });
  auto last = first;
  while (last != parts_by_name.end() && parts[*last].part == name) ++last;
  return {first, last};
}

std::vector<std::uint32_t> Netlist::parts_under(std::string_view name) const {
  std::vector<std::uint32_t> rows;
  auto row = std::lower_bound(parts_by_name.begin(), parts_by_name.end(), name,
                              [this](std::uint32_t r, std::string_view n) { return parts[r].part < n; });
  for (; row != parts_by_name.end(); ++row) {
    const std::string_view part = parts[*row].part;
    if (part.substr(0, name.size()) != name) break;
    const std::string_view rest = part.substr(name.size());
    if (rest.empty() || rest.front() == ':' || rest.front() == '.') rows.push_back(*row);
  }
  std::sort(rows.begin(), rows.end());
  return rows;
}

std::string Netlist::conductor_name(std::size_t conductor) const {
  const auto text = [&](ConductorText field) { return conductor_text.get(field, conductor); };
  if (!text(ConductorText::wire).empty()) return std::string(text(ConductorText::wire));
  if (!text(ConductorText::cable).empty())
    return std::string(text(ConductorText::cable)) + "/" + std::string(text(ConductorText::core));
  const Conductor& c = conductors[conductor];
  const std::string_view from = points.place_name(points.place(c.from));
  if (c.is_spare()) return std::string(from);
  return std::string(from) + "-" + std::string(points.place_name(points.place(c.to)));
}

}  // namespace ringtrue
