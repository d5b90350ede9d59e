// The fields of each kind of row, in the order in which files are written. The only place that knows their
// names.
#include "ringtrue/model/decisions.hpp"
#include "ringtrue/model/io_results.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/model/netlist_builder.hpp"
#include "ringtrue/model/readings.hpp"
#include "ringtrue/model/signatures.hpp"

namespace ringtrue {

template <>
std::span<const FieldOf<ConductorRow>> fields_of<ConductorRow>() {
  using R = ConductorRow;
  static constexpr FieldOf<R> fields[] = {{"wire", &R::wire, false},
                                          {"from", &R::from, true},
                                          {"to", &R::to, true},
                                          {"kind", &R::kind, false},
                                          {"id", &R::id, false},
                                          {"colour", &R::colour, false},
                                          {"mm2", &R::mm2, false},
                                          {"awg", &R::awg, false},
                                          {"length_m", &R::length_m, false},
                                          {"cable", &R::cable, false},
                                          {"core", &R::core, false},
                                          {"sheet", &R::sheet, false},
                                          {"potential", &R::potential, false},
                                          {"role", &R::role, false},
                                          {"note", &R::note, false}};
  return fields;
}

template <>
std::span<const FieldOf<PartRow>> fields_of<PartRow>() {
  using R = PartRow;
  static constexpr FieldOf<R> fields[] = {{"part", &R::part, true},
                                          {"kind", &R::kind, true},
                                          {"a", &R::a, false},
                                          {"b", &R::b, false},
                                          {"ohms", &R::ohms, false},
                                          {"tolerance_pct", &R::tolerance_pct, false},
                                          {"volts", &R::volts, false},
                                          {"amps", &R::amps, false},
                                          {"actuated_by", &R::actuated_by, false},
                                          {"closed_in", &R::closed_in, false},
                                          {"place", &R::place, false},
                                          {"role", &R::role, false},
                                          {"sheet", &R::sheet, false},
                                          {"note", &R::note, false}};
  return fields;
}

template <>
std::span<const FieldOf<ChannelRow>> fields_of<ChannelRow>() {
  using R = ChannelRow;
  static constexpr FieldOf<R> fields[] = {{"point", &R::point, true},
                                          {"type", &R::type, true},
                                          {"address", &R::address, false},
                                          {"tag", &R::tag, false},
                                          {"text", &R::text, false},
                                          {"field", &R::field, false},
                                          {"return", &R::return_point, false},
                                          {"common", &R::common, false},
                                          {"device", &R::device, false},
                                          {"feed", &R::feed, false},
                                          {"normal", &R::normal, false},
                                          {"sense", &R::sense, false},
                                          {"sensor", &R::sensor, false},
                                          {"signal", &R::signal, false},
                                          {"low", &R::low, false},
                                          {"high", &R::high, false},
                                          {"unit", &R::unit, false},
                                          {"raw_low", &R::raw_low, false},
                                          {"raw_high", &R::raw_high, false},
                                          {"module", &R::module, false},
                                          {"led", &R::led, false},
                                          {"role", &R::role, false}};
  return fields;
}

template <>
std::span<const FieldOf<PotentialRow>> fields_of<PotentialRow>() {
  using R = PotentialRow;
  static constexpr FieldOf<R> fields[] = {{"name", &R::name, true},
                                          {"kind", &R::kind, true},
                                          {"volts", &R::volts, false},
                                          {"point", &R::point, true}};
  return fields;
}

template <>
std::span<const FieldOf<PanelRow>> fields_of<PanelRow>() {
  using R = PanelRow;
  static constexpr FieldOf<R> fields[] = {
      {"panel", &R::panel, false},       {"revision", &R::revision, false}, {"drawing", &R::drawing, false},
      {"function", &R::function, false}, {"location", &R::location, false}, {"safety", &R::safety, false}};
  return fields;
}

template <>
std::span<const FieldOf<ReadingRow>> fields_of<ReadingRow>() {
  using R = ReadingRow;
  static constexpr FieldOf<R> fields[] = {
      {"from", &R::from, true},    {"to", &R::to, true},          {"value", &R::value, true},
      {"time", &R::time, false},   {"by", &R::by, false},         {"conditions", &R::conditions, false},
      {"meter", &R::meter, false}, {"method", &R::method, false}, {"witness", &R::witness, false},
      {"note", &R::note, false},   {"id", &R::id, false}};
  return fields;
}

template <>
std::span<const FieldOf<EventRow>> fields_of<EventRow>() {
  using R = EventRow;
  static constexpr FieldOf<R> fields[] = {{"time", &R::time, true},  {"by", &R::by, true},
                                          {"kind", &R::kind, true},  {"points", &R::points, true},
                                          {"text", &R::text, false}, {"id", &R::id, false}};
  return fields;
}

template <>
std::span<const FieldOf<MeterRow>> fields_of<MeterRow>() {
  using R = MeterRow;
  static constexpr FieldOf<R> fields[] = {
      {"meter", &R::meter, true},          {"kind", &R::kind, false},
      {"serial", &R::serial, false},       {"calibrated_until", &R::calibrated_until, false},
      {"threshold", &R::threshold, false}, {"range", &R::range, false},
      {"lead_ohms", &R::lead_ohms, false}, {"accuracy", &R::accuracy, false}};
  return fields;
}

template <>
std::span<const FieldOf<IoResultRow>> fields_of<IoResultRow>() {
  using R = IoResultRow;
  static constexpr FieldOf<R> fields[] = {{"channel", &R::channel, true},
                                          {"stimulus", &R::stimulus, true},
                                          {"at", &R::at, false},
                                          {"given", &R::given, false},
                                          {"expected", &R::expected, false},
                                          {"led", &R::led, false},
                                          {"bit", &R::bit, false},
                                          {"value", &R::value, false},
                                          {"only_this", &R::only_this, false},
                                          {"verdict", &R::verdict, true},
                                          {"reason", &R::reason, false},
                                          {"time", &R::time, true},
                                          {"by", &R::by, true},
                                          {"witness", &R::witness, false},
                                          {"meter", &R::meter, false},
                                          {"revision", &R::revision, false},
                                          {"id", &R::id, false},
                                          {"supersedes", &R::supersedes, false}};
  return fields;
}

template <>
std::span<const FieldOf<DecisionRow>> fields_of<DecisionRow>() {
  using R = DecisionRow;
  static constexpr FieldOf<R> fields[] = {{"finding", &R::finding, true}, {"readings", &R::readings, false},
                                          {"points", &R::points, false},  {"decision", &R::decision, true},
                                          {"text", &R::text, false},      {"time", &R::time, true},
                                          {"by", &R::by, true},           {"revision", &R::revision, false},
                                          {"id", &R::id, false}};
  return fields;
}

template <>
std::span<const FieldOf<SignatureRow>> fields_of<SignatureRow>() {
  using R = SignatureRow;
  static constexpr FieldOf<R> fields[] = {{"role", &R::role, true},
                                          {"by", &R::by, true},
                                          {"text", &R::text, false},
                                          {"time", &R::time, true},
                                          {"revision", &R::revision, true},
                                          {"netlist_sha256", &R::netlist_sha256, true},
                                          {"rows_sha256", &R::rows_sha256, true},
                                          {"ready", &R::ready, true},
                                          {"readings", &R::readings, true},
                                          {"events", &R::events, true},
                                          {"meters", &R::meters, true},
                                          {"results", &R::results, true},
                                          {"decisions", &R::decisions, true},
                                          {"id", &R::id, false}};
  return fields;
}

}  // namespace ringtrue
