#include "ringtrue/report/io_record.hpp"

#include <cmath>

#include "element_words.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_few = 6;

std::string terminals(const Channel& channel, const PointTable& points, bool return_first) {
  std::string text;
  const PointId both[] = {return_first ? channel.return_point : channel.field,
                          return_first ? channel.field : channel.return_point};
  for (const PointId point : both)
    if (point != PointId::none) text += (text.empty() ? "" : "; ") + points.name(point);
  return text;
}

std::string_view lit_or_dark(bool is_lit) { return is_lit ? "lit" : "dark"; }

InputRecord operated(const InputTest& test, const ConductionGraph& graph) {
  const Part& contact = graph.netlist().parts[graph.origin(test.contact).row];
  InputRecord record{Stimulus::operated, std::string(contact.actuated_by), "", "released", !test.lit_at_rest};
  record.acted = record.at + " operated";
  if (contact.closed_in.empty()) return record;
  std::vector<std::string> positions;
  for (const int position : contact.closed_in) positions.push_back(std::to_string(position));
  record.acted = record.at + " in position " + report::any_of(positions);
  record.back = "in any other";
  record.lit_when_acted = true;
  return record;
}

}  // namespace

InputRecord input_record(const InputTest& test, const ConductionGraph& graph) {
  const Channel& channel = graph.netlist().channels[test.trace.channel];
  const std::string two = terminals(channel, graph.netlist().points, true);
  switch (test.kind) {
    case InputTestKind::operate:
      return operated(test, graph);
    case InputTestKind::actuate: {
      const std::string device(channel.device);
      return {Stimulus::operated, device, device + " operated", "released", !test.lit_at_rest};
    }
    case InputTestKind::jumper:
      return {Stimulus::jumper, two, "jumper fitted", "removed"};
    case InputTestKind::sensor:
      return {Stimulus::simulator, two, "sensor on", "off"};
    case InputTestKind::namur:
      return {Stimulus::simulator, two, "2.2 kΩ", "10 kΩ"};
    default:
      return {std::nullopt, two, "made to change", "back", !test.lit_at_rest};
  }
}

std::string expected_of(const InputRecord& record, bool lit_at_rest) {
  return std::string(lit_or_dark(lit_at_rest)) + "; " + record.acted + ": " +
         std::string(lit_or_dark(record.lit_when_acted)) + "; " + record.back + ": " +
         std::string(lit_or_dark(!record.lit_when_acted));
}

std::string jumper_reason_in_short(const JumperVerdict& jumper, const ConductionGraph& graph) {
  const WhyJumper* first = nullptr;
  for (const WhyJumper& why : jumper.why)
    if (first == nullptr || why.reason == JumperReason::channel_has_role) first = &why;
  if (first == nullptr) return {};
  std::string text = jumper_reason_text(*first, graph, {}, Detail::short_lists);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string OutputRecord::expected() const {
  if (!volts) return "it responds";
  return "it responds; " + report::number_text(*volts) + (is_dc ? " V DC" : " V AC") +
         " while on, near 0 V while off";
}

OutputRecord output_record(const logic::Outlet& outlet, const ConductionGraph& graph) {
  const Channel& channel = graph.netlist().channels[outlet.trace.channel];
  OutputRecord record;
  record.at = terminals(channel, graph.netlist().points, false);
  record.responds = list_of(outlet.loads, graph, k_few);
  if (!outlet.contacts.empty()) record.responds += ", with " + list_of(outlet.contacts, graph, k_few);
  const logic::OutletVolts on = volts_of(outlet, graph);
  if (!on.volts) return record;
  record.is_dc = on.is_dc;
  record.is_field_plus = on.is_dc && *on.volts > 0;
  record.volts = std::abs(*on.volts);
  return record;
}

}  // namespace ringtrue
