// Names of points, wires and channels as somebody types them. In a small netlist: a name that isn't there is
// compared with all that are.
#include "fuzz/netlists.hpp"
#include "ringtrue/graph/typed_names.hpp"

using namespace ringtrue;

namespace {

void try_name(std::string_view typed) {
  const Netlist& netlist = fuzz::quickstart();
  const auto found = find_typed_point(typed, netlist);
  if (const auto point = find_point(typed, netlist))
    fuzz::must(found && found->is_literal && found->found.point == point->point,
               "a point of the drawing stands for nothing else", typed);
  if (found) {
    const std::string name = netlist.points.name(found->found.point);
    const auto again = find_point(name, netlist);
    fuzz::must(again && again->point == found->found.point, "a point is found by its own name", name);
  } else {
    fuzz::must_be_told_of(found.error(), typed);
  }
  const auto wire = find_typed_wire(typed, netlist);
  if (!wire) return fuzz::must_be_told_of(wire.error(), typed);
  for (const FoundPoint& end : {wire->first, wire->second})
    fuzz::must(find_point(netlist.points.name(end.point), netlist).has_value(), "a wire has two ends", typed);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::each_line(fuzz::as_text(data, size), try_name);
  return 0;
}
