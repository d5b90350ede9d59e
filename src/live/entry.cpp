#include "ringtrue/live/entry.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <deque>
#include <memory>

#include "ringtrue/graph/typed_names.hpp"

namespace ringtrue {

namespace {

/// A loose end, `12@X1:5`, is looked up with the condition that makes it.
bool is_conductor_end(std::string_view typed) { return typed.find('@') != std::string_view::npos; }

std::string written(const FoundPoint& found, const PointTable& points) {
  if (found.side == Side::either) return std::string(points.place_name(points.place(found.point)));
  return points.name(found.point);
}

Errors at_field(Errors errors, std::string_view field) {
  for (Error& error : errors) error.place.field = field;
  return errors;
}

/// Shown by a lamp or a voltmeter: one point may be enough.
bool needs_two_points(ValueKind kind) { return kind < ValueKind::volts; }

class EntryMaker {
 public:
  EntryMaker(const Drawing& drawing, const ReadingRow& typed) : net_(drawing.netlist), typed_(typed) {}

  [[nodiscard]] Result<Entry> look_up() {
    const auto value = parse_value(typed_.value);
    if (!value) return tl::unexpected(at_field(value.error(), "value"));
    made_.value = typed_.value;
    made_.conditions = typed_.conditions;
    auto found = typed_.to.empty() && needs_two_points(value->kind) ? ends_of_wire() : points();
    if (!found) return tl::unexpected(std::move(found.error()));
    return std::move(made_);
  }

 private:
  Result<void> ends_of_wire() {
    const auto ends = find_typed_wire(typed_.from, net_);
    if (!ends) return tl::unexpected(at_field(ends.error(), "from"));
    made_.from = written(ends->first, net_.points);
    made_.to = written(ends->second, net_.points);
    return {};
  }

  Result<void> points() {
    return point(typed_.from, "from", made_.from).and_then([&] {
      return typed_.to.empty() ? Result<void>{} : point(typed_.to, "to", made_.to);
    });
  }

  Result<void> point(std::string_view typed, std::string_view field, std::string& name) {
    name = typed;
    if (is_conductor_end(typed)) return {};
    const auto found = find_typed_point(typed, net_);
    if (!found) return tl::unexpected(at_field(found.error(), field));
    name = written(found->found, net_.points);
    return {};
  }

  const Netlist& net_;
  const ReadingRow& typed_;
  Entry made_;
};

Result<Readings> one_reading(const Entry& entry, const ReadingRow& typed) {
  const auto kept = std::make_shared<std::deque<std::string>>();
  const auto keep = [&](std::string_view text) -> std::string_view { return kept->emplace_back(text); };
  ReadingRow row = typed;
  row.from = keep(entry.from), row.to = keep(entry.to), row.value = keep(entry.value);
  row.conditions = keep(entry.conditions);
  for (auto field : {&ReadingRow::time, &ReadingRow::by, &ReadingRow::meter, &ReadingRow::method,
                     &ReadingRow::witness, &ReadingRow::note, &ReadingRow::id})
    row.*field = keep(row.*field);
  ReadingsBuilder builder("");
  builder.keep(kept);
  builder.add(row, 0);
  return builder.finish();
}

class Hash {
 public:
  void add(std::uint64_t number) {
    constexpr std::uint64_t k_prime = 0x100000001B3u;  // FNV-1a, from memory
    for (int byte = 0; byte < 8; ++byte, number >>= 8) state_ = (state_ ^ (number & 0xFFu)) * k_prime;
  }
  [[nodiscard]] std::string digits() const {
    std::array<char, 9> text{};
    std::snprintf(text.data(), text.size(), "%08x", static_cast<unsigned>(state_ ^ state_ >> 32));
    return text.data();
  }

 private:
  std::uint64_t state_ = 0xCBF29CE484222325u;
};

class Clamps {
 public:
  explicit Clamps(const ConductionGraph& graph) : graph_(graph) {}

  void open(const Fault& fault) {
    switch (fault.kind) {
      case FaultKind::open:
      case FaultKind::missing_bridge:
      case FaultKind::wrong_value:
      case FaultKind::reversed:
      case FaultKind::wrong_contact:
        for (const ElementId e : {fault.element, fault.element2}) {
          if (e == ElementId::none) continue;
          add(graph_.end_a(e));
          add(graph_.end_b(e));
        }
        break;
      case FaultKind::miswire:
      case FaultKind::swap:
      case FaultKind::shift:
        for (const LandedEnd& moved : landed_ends(fault, graph_)) {
          add(moved.end == End::a ? graph_.end_a(moved.conductor) : graph_.end_b(moved.conductor));
          add(moved.at);
        }
        break;
      case FaultKind::short_circuit:
      case FaultKind::extra_bridge:
        add(fault.p);
        add(fault.q);
        break;
      case FaultKind::bad_reading:
        break;
    }
  }
  [[nodiscard]] std::vector<std::string> take() { return std::move(names_); }

 private:
  void add(PointId p) {
    std::string name = graph_.netlist().points.name(p);
    if (std::find(names_.begin(), names_.end(), name) == names_.end()) names_.push_back(std::move(name));
  }

  const ConductionGraph& graph_;
  std::vector<std::string> names_;
};

}  // namespace

Result<Entry> make_entry(const Drawing& drawing, const Meters& meters, const MeterSettings& unnamed,
                         const ReadingRow& typed) {
  auto entry = EntryMaker(drawing, typed).look_up();
  if (!entry) return entry;
  auto reading = one_reading(*entry, typed);
  if (!reading) return tl::unexpected(std::move(reading.error()));
  auto comparison = compare(drawing.graph, *reading, {}, meters, unnamed);
  if (!comparison) return tl::unexpected(std::move(comparison.error()));
  if (!comparison->unknown_points.empty()) return tl::unexpected(std::move(comparison->unknown_points));
  const Probing& probing = comparison->probings.front();
  if (!entry->to.empty() && probing.from == probing.to)
    return fail({ErrorCode::bad_point,
                 "both probes are on the same point",
                 {"", 0, "", "to"},
                 entry->to,
                 "two points",
                 {}});
  entry->reading = std::move(*reading);
  entry->comparison = std::move(*comparison);
  return entry;
}

Result<std::string> find_clamps(const Drawing& drawing, std::string_view typed) {
  std::string all;
  while (!typed.empty()) {
    const std::size_t end = std::min(typed.find(';'), typed.size());
    std::string_view one = typed.substr(0, end);
    typed.remove_prefix(std::min(end + 1, typed.size()));
    while (one.starts_with(' ')) one.remove_prefix(1);
    while (one.ends_with(' ')) one.remove_suffix(1);
    if (one.empty()) continue;
    const auto found = find_typed_point(one, drawing.netlist);
    if (!found) return tl::unexpected(at_field(found.error(), "points"));
    all += (all.empty() ? "" : "; ") + written(found->found, drawing.netlist.points);
  }
  return all;
}

std::vector<std::string> clamps_to_open(const Diagnosis& diagnosis, const ConductionGraph& graph) {
  Clamps clamps(graph);
  for (const Fault& fault : diagnosis.faults) clamps.open(fault);
  return clamps.take();
}

std::string diagnosis_key(const Diagnosis& diagnosis) {
  Hash hash;
  for (const Fault& fault : diagnosis.faults) {
    for (const auto part : {static_cast<std::uint64_t>(fault.kind), std::uint64_t{index(fault.element)},
                            std::uint64_t{index(fault.element2)}, static_cast<std::uint64_t>(fault.end),
                            static_cast<std::uint64_t>(fault.end2), static_cast<std::uint64_t>(fault.places),
                            std::uint64_t{fault.above}, std::uint64_t{index(fault.p)},
                            std::uint64_t{index(fault.q)}, std::uint64_t{index(fault.reading)}})
      hash.add(part);
  }
  return hash.digits();
}

}  // namespace ringtrue
