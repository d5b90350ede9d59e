#include "described.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ringtrue {

namespace {

/// Names and texts hold no line breaks that matter: between them one stands for the border of two fields.
void append(std::string& out, std::string_view text) { (out += text) += '\n'; }
void append(std::string& out, double number) {
  append(out, std::isnan(number) ? std::string() : std::to_string(number));
}

std::string name_of(const ConductionGraph& graph, PointId p) {
  return p == PointId::none ? std::string() : graph.netlist().points.name(p);
}

DescribedConductor described_conductor(const ConductionGraph& graph, std::uint32_t row) {
  const Netlist& net = graph.netlist();
  const auto text = [&](ConductorText field) { return net.conductor_text.get(field, row); };
  DescribedConductor made;
  made.element = ElementId{row};
  made.from = name_of(graph, net.conductors[row].from), made.to = name_of(graph, net.conductors[row].to);
  if (made.to < made.from && !made.to.empty()) std::swap(made.from, made.to);
  for (const ConductorText field : {ConductorText::wire, ConductorText::cable, ConductorText::core})
    if (!text(field).empty()) append(made.number, text(field));
  made.id = text(ConductorText::id);
  append(made.make, word(net.conductors[row].kind));
  for (const ConductorText field :
       {ConductorText::colour, ConductorText::mm2, ConductorText::awg, ConductorText::length_m})
    append(made.make, text(field));
  return made;
}

void describe_part(DescribedElement& made, const Part& part) {
  for (const double number : {part.ohms, part.tolerance_pct, part.volts, part.amps})
    append(made.make, number);
  append(made.make, word(part.place));
  if (part.kind != PartKind::contact_no && part.kind != PartKind::contact_nc) return;
  append(made.make, part.actuated_by);
  for (const int position : part.closed_in) append(made.make, std::to_string(position));
}

DescribedElement described_element(const ConductionGraph& graph, ElementId e) {
  DescribedElement made;
  made.element = e;
  std::string a = name_of(graph, graph.end_a(e)), b = name_of(graph, graph.end_b(e));
  if (b < a && !graph.is_diode(e)) std::swap(a, b);
  append(made.place, a), append(made.place, b);
  append(made.make, graph.element_kind_word(e));
  const OhmInterval ohms = graph.interval(e);
  append(made.make, ohms.lo.value), append(made.make, ohms.hi.value);
  static const Part k_plain_terminal;
  const ElementOrigin origin = graph.origin(e);
  if (origin.from == ElementOrigin::From::part)
    describe_part(made, graph.netlist().parts[origin.row]);
  else if (origin.from == ElementOrigin::From::implied_terminal)
    describe_part(made, k_plain_terminal);  // stated in one revision and implied in the other it's the same
  return made;
}

}  // namespace

std::vector<DescribedConductor> described_conductors(const ConductionGraph& graph) {
  std::vector<DescribedConductor> all;
  all.reserve(graph.conductor_count());
  for (std::uint32_t row = 0; row < graph.conductor_count(); ++row)
    all.push_back(described_conductor(graph, row));
  std::stable_sort(all.begin(), all.end(), [](const DescribedConductor& x, const DescribedConductor& y) {
    return std::tie(x.number, x.from, x.to, x.make) < std::tie(y.number, y.from, y.to, y.make);
  });
  return all;
}

std::vector<DescribedElement> described_elements(const ConductionGraph& graph) {
  std::vector<DescribedElement> all;
  all.reserve(graph.element_count() - graph.conductor_count());
  for (std::uint32_t e = graph.conductor_count(); e < graph.element_count(); ++e)
    all.push_back(described_element(graph, ElementId{e}));
  std::stable_sort(all.begin(), all.end(), [](const DescribedElement& x, const DescribedElement& y) {
    return std::tie(x.place, x.make) < std::tie(y.place, y.make);
  });
  return all;
}

}  // namespace ringtrue
