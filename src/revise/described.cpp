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

void describe_part(DescribedElement& made, const Part& part, const PartNames& names) {
  for (const double number : {part.ohms, part.tolerance_pct, part.volts, part.amps})
    append(made.make, number);
  append(made.make, word(part.place));
  if (part.kind != PartKind::contact_no && part.kind != PartKind::contact_nc) return;
  append(made.make, names.part(part.actuated_by));
  for (const int position : part.closed_in) append(made.make, std::to_string(position));
}

}  // namespace

DescribedConductor described_conductor(const ConductionGraph& graph, std::uint32_t row,
                                       const PartNames& names) {
  const Netlist& net = graph.netlist();
  const auto text = [&](ConductorText field) { return net.conductor_text.get(field, row); };
  DescribedConductor made;
  made.element = ElementId{row};
  made.from = names.point(net.points, net.conductors[row].from);
  made.to = names.point(net.points, net.conductors[row].to);
  if (made.to < made.from && !made.to.empty()) std::swap(made.from, made.to);
  for (const ConductorText field : {ConductorText::wire, ConductorText::cable, ConductorText::core})
    if (!text(field).empty()) append(made.number, text(field));
  made.id = text(ConductorText::id);
  made.kind = word(net.conductors[row].kind);
  made.texture = {std::string(text(ConductorText::colour)), std::string(text(ConductorText::mm2)),
                  std::string(text(ConductorText::awg)), std::string(text(ConductorText::length_m))};
  return made;
}

std::string DescribedConductor::make() const {
  std::string all;
  append(all, kind);
  for (const std::string& text : texture) append(all, text);
  return all;
}

std::vector<std::string> DescribedConductor::makes_before() const {
  std::vector<std::string> all;
  DescribedConductor less = *this;
  for (unsigned left_out = 0; left_out < 1u << texture.size(); ++left_out) {
    bool is_new = true;
    for (std::size_t i = 0; i < texture.size(); ++i) {
      const bool without = (left_out >> i & 1u) != 0;
      is_new = is_new && (!without || !texture[i].empty());
      less.texture[i] = without ? std::string() : texture[i];
    }
    if (is_new) all.push_back(less.make());
  }
  return all;
}

DescribedElement described_element(const ConductionGraph& graph, ElementId e, const PartNames& names) {
  DescribedElement made;
  made.element = e;
  const PointTable& points = graph.netlist().points;
  std::string a = names.point(points, graph.end_a(e)), b = names.point(points, graph.end_b(e));
  if (b < a && !graph.is_diode(e)) std::swap(a, b);
  append(made.place, a), append(made.place, b);
  append(made.make, graph.element_kind_word(e));
  const OhmInterval ohms = graph.interval(e);
  append(made.make, ohms.lo.value), append(made.make, ohms.hi.value);
  static const Part k_plain_terminal;
  const ElementOrigin origin = graph.origin(e);
  if (origin.from == ElementOrigin::From::part)
    describe_part(made, graph.netlist().parts[origin.row], names);
  else if (origin.from == ElementOrigin::From::implied_terminal)
    describe_part(made, k_plain_terminal,
                  names);  // stated in one revision and implied in the other: the same
  return made;
}

std::vector<DescribedConductor> described_conductors(const ConductionGraph& graph, const PartNames& names) {
  std::vector<DescribedConductor> all;
  all.reserve(graph.conductor_count());
  for (std::uint32_t row = 0; row < graph.conductor_count(); ++row)
    all.push_back(described_conductor(graph, row, names));
  std::stable_sort(all.begin(), all.end(), [](const DescribedConductor& x, const DescribedConductor& y) {
    return std::tie(x.number, x.from, x.to, x.kind, x.texture) <
           std::tie(y.number, y.from, y.to, y.kind, y.texture);
  });
  return all;
}

std::vector<DescribedElement> described_elements(const ConductionGraph& graph, const PartNames& names) {
  std::vector<DescribedElement> all;
  all.reserve(graph.element_count() - graph.conductor_count());
  for (std::uint32_t e = graph.conductor_count(); e < graph.element_count(); ++e)
    all.push_back(described_element(graph, ElementId{e}, names));
  std::stable_sort(all.begin(), all.end(), [](const DescribedElement& x, const DescribedElement& y) {
    return std::tie(x.place, x.make) < std::tie(y.place, y.make);
  });
  return all;
}

}  // namespace ringtrue
