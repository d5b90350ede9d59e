#include "ringtrue/graph/graph.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <mutex>
#include <set>
#include <span>
#include <unordered_set>

#include "conduction.hpp"
#include "ringtrue/base/classes.hpp"
#include "ringtrue/base/name_table.hpp"
#include "ringtrue/graph/rows.hpp"
#include "ringtrue/model/number.hpp"

namespace ringtrue {

namespace {

constexpr std::uint32_t k_unset = 0xFFFFFFFFu;

/// Ohms per kilometre by size as written, with the last size kept: neighbouring rows mostly have the same.
class OhmsPerKm {
 public:
  std::optional<double> of(std::string_view mm2, std::string_view awg) {
    if (mm2 == mm2_ && awg == awg_) return last_;
    mm2_ = mm2, awg_ = awg;
    last_.reset();
    if (const auto size = parse_number(mm2); size && *size > 0)
      last_ = greatest_ohms_per_km(*size);
    else if (const auto gauge = parse_awg(awg))
      last_ = greatest_awg_ohms_per_km(*gauge);
    return last_;
  }

 private:
  std::string_view mm2_, awg_;
  std::optional<double> last_;
};

}  // namespace

/// Points by part, made on first use, and the rows of each part, found on first use: faults are few, and so
/// are the parts that they lie on.
struct ConductionGraph::PartIndex {
  void make_once(const ConductionGraph& graph) {
    std::call_once(made_, [&] { make(graph); });
  }
  [[nodiscard]] std::span<const PointId> points_of(std::uint32_t part) const {
    return {points_.data() + start_[part], points_.data() + start_[part + 1]};
  }
  [[nodiscard]] std::uint32_t part_of(PlaceId place) const { return part_of_place_[index(place)]; }

  [[nodiscard]] const std::array<PointId, 2>& beside(const PointTable& table, PointId p) {
    const std::uint32_t part = part_of(table.place(p));
    if (!has_rows_[part].load(std::memory_order_acquire)) {
      const std::lock_guard lock(finding_rows_);
      if (!has_rows_[part].load(std::memory_order_relaxed)) {
        find_rows(table, points_of(part), beside_);
        has_rows_[part].store(true, std::memory_order_release);
      }
    }
    return beside_[index(p)];
  }

 private:
  void make(const ConductionGraph& graph) {
    const PointTable& table = graph.netlist().points;
    number_parts(table);
    for (std::uint32_t p = 0; p < graph.point_count(); ++p) ++start_[part_of(table.place(PointId{p})) + 1];
    for (std::size_t i = 0; i + 1 < start_.size(); ++i) start_[i + 1] += start_[i];
    points_.resize(graph.point_count());
    std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
    for (std::uint32_t p = 0; p < graph.point_count(); ++p)
      points_[next[part_of(table.place(PointId{p}))]++] = PointId{p};
    has_rows_ = std::vector<std::atomic<bool>>(start_.size() - 1);
    beside_.assign(points_.size(), {PointId::none, PointId::none});
  }
  /// Makes room in `start_` too.
  void number_parts(const PointTable& table) {
    NameTable parts;
    part_of_place_.resize(table.place_count());
    std::array<std::string_view, 256> names;
    for (std::uint32_t first = 0; first < table.place_count(); first += names.size()) {
      const std::size_t count = std::min(names.size(), part_of_place_.size() - first);
      for (std::uint32_t i = 0; i < count; ++i)
        names[i] = part_of_place(table.place_name(PlaceId{first + i}));
      parts.intern_all(std::span(names).first(count), std::span(part_of_place_).subspan(first, count));
    }
    start_.assign(parts.size() + 1, 0);
  }

  std::once_flag made_;
  std::vector<std::uint32_t> part_of_place_;
  std::vector<std::uint32_t> start_;  ///< in `points_`, by part
  std::vector<PointId> points_;
  std::mutex finding_rows_;
  std::vector<std::atomic<bool>> has_rows_;     ///< by part
  std::vector<std::array<PointId, 2>> beside_;  ///< by point
};

ConductionGraph::ConductionGraph(const Netlist& netlist, const CopperSettings& copper, Threads threads)
    : netlist_(&netlist), parts_(std::make_shared<PartIndex>()) {
  const std::size_t elements =
      netlist.conductors.size() + netlist.parts.size() + netlist.implied_terminals.size();
  ends_.reserve(elements);
  kind_.reserve(elements);
  on_.reserve(elements);
  add_conductors();
  add_conductor_ohms(copper);
  add_parts();
  add_implied();
  for_each_index(threads, 2, [this](std::size_t which) { which == 0 ? index_points() : label_nets(); });
}

void ConductionGraph::add(PointId a, PointId b, ElementKind kind, bool on) {
  ends_.push_back({a, b});
  kind_.push_back(kind);
  on_.push_back(on ? 1 : 0);
}

void ConductionGraph::add_conductors() {
  // A conductor in the field lands on any pin of a field part, named in a parts row or not.
  std::unordered_set<std::string_view> field_parts;
  for (const Part& part : netlist_->parts)
    if (part.place == PartPlace::field) field_parts.insert(part.part);
  const auto is_field = [&](PointId p) {
    if (field_parts.empty()) return false;
    const std::string_view place = netlist_->points.place_name(netlist_->points.place(p));
    return field_parts.count(place) != 0 || field_parts.count(part_of_place(place)) != 0;
  };
  conductor_count_ = static_cast<std::uint32_t>(netlist_->conductors.size());
  for (const Conductor& c : netlist_->conductors) {
    const bool link = c.kind == ConductorKind::bridge || c.kind == ConductorKind::busbar;
    // A spare core conducts to nowhere: an element from its one end to itself, always off.
    const PointId to = c.is_spare() ? c.from : c.to;
    add(c.from, to, link ? ElementKind::link : ElementKind::conductor,
        !c.is_spare() && !is_field(c.from) && !is_field(to));
  }
}

void ConductionGraph::add_conductor_ohms(const CopperSettings& copper) {
  const TextColumns<ConductorText>& text = netlist_->conductor_text;
  if (text.is_empty(ConductorText::length_m)) return;
  conductor_ohms_.resize(conductor_count_);
  OhmsPerKm per_km;
  for (std::uint32_t i = 0; i < conductor_count_; ++i) {
    const auto length_m = parse_number(text.get(ConductorText::length_m, i));
    if (!length_m) continue;
    const auto size = per_km.of(text.get(ConductorText::mm2, i), text.get(ConductorText::awg, i));
    conductor_ohms_[i] = {
        greatest_conductor_ohms(size.value_or(k_thinnest_ohms_per_km), *length_m, copper).value,
        size ? ConductorOhms::From::length_and_size : ConductorOhms::From::length};
  }
}

void ConductionGraph::add_parts() {
  for (std::uint32_t row = 0; row < netlist_->parts.size(); ++row) {
    const Part& part = netlist_->parts[row];
    add(part.a, part.b, element_kind_of(part), conducts_at_rest(part, *netlist_));
    part_intervals_.push_back(part_interval(part));
    if (part.kind == PartKind::pe_terminal) rail_parts_.push_back(row);
    has_diodes_ = has_diodes_ || part.kind == PartKind::diode;
  }
}

void ConductionGraph::add_implied() {
  const PointTable& points = netlist_->points;
  implied_start_ = element_count_so_far();
  for (const PlaceId place : netlist_->implied_terminals)
    add(points.point(place, Side::internal), points.point(place, Side::external), ElementKind::body, true);
  rail_start_ = element_count_so_far();
  for (const std::uint32_t row : rail_parts_) {
    const PlaceId rail = *points.find_place("PE");
    add(netlist_->parts[row].a, points.point(rail, Side::internal), ElementKind::joint, true);
  }
  channel_start_ = element_count_so_far();
  std::set<std::pair<PointId, PointId>> stated;
  for (const Part& part : netlist_->parts)
    if (part.kind == PartKind::electronics) stated.insert({part.a, part.b}), stated.insert({part.b, part.a});
  for (std::uint32_t row = 0; row < netlist_->channels.size(); ++row) {
    const Channel& channel = netlist_->channels[row];
    if (channel.common == PointId::none || stated.count({channel.point, channel.common}) != 0) continue;
    channel_rows_.push_back(row);
    add(channel.point, channel.common, ElementKind::load, true);
  }
}

void ConductionGraph::index_points() {
  const std::size_t points = netlist_->points.size();
  adjacent_start_.assign(points + 1, 0);
  for (const Ends& ends : ends_) {
    ++adjacent_start_[index(ends.a) + 1];
    if (ends.b != ends.a) ++adjacent_start_[index(ends.b) + 1];
  }
  for (std::size_t p = 0; p < points; ++p) adjacent_start_[p + 1] += adjacent_start_[p];
  adjacent_.resize(adjacent_start_[points]);
  // Filling shifts each start to the next one's place; the shift is taken back at the end.
  for (std::uint32_t e = 0; e < ends_.size(); ++e) {
    adjacent_[adjacent_start_[index(ends_[e].a)]++] = ElementId{e};
    if (ends_[e].b != ends_[e].a) adjacent_[adjacent_start_[index(ends_[e].b)]++] = ElementId{e};
  }
  for (std::size_t p = points; p > 0; --p) adjacent_start_[p] = adjacent_start_[p - 1];
  adjacent_start_[0] = 0;
  for (std::uint32_t e = 0; e < ends_.size(); ++e)
    if (kind_[e] == ElementKind::contact) contacts_.push_back(ElementId{e});
}

void ConductionGraph::label_nets() {
  const std::uint32_t points = static_cast<std::uint32_t>(netlist_->points.size());
  Classes classes(points);
  for (std::uint32_t e = 0; e < ends_.size(); ++e)
    if (on_[e] != 0 && kind_[e] != ElementKind::load) classes.join(index(ends_[e].a), index(ends_[e].b));
  std::vector<std::uint32_t> net_of_root(points, k_unset);
  net_of_.resize(points);
  net_start_.assign(1, 0);
  std::uint32_t nets = 0;
  rank_in_net_.resize(points);
  for (std::uint32_t p = 0; p < points; ++p) {
    std::uint32_t& net = net_of_root[classes.of(p)];
    if (net == k_unset) {
      net = nets++;
      net_start_.push_back(0);
    }
    net_of_[p] = NetId{net};
    rank_in_net_[p] = net_start_[net + 1]++;
  }
  for (std::uint32_t net = 0; net < nets; ++net) net_start_[net + 1] += net_start_[net];
  net_points_.resize(points);
  for (std::uint32_t p = 0; p < points; ++p)
    net_points_[net_start_[index(net_of_[p])] + rank_in_net_[p]] = PointId{p};
  index_loads(nets);
  sum_stated_ohms(nets);
}

void ConductionGraph::index_loads(std::uint32_t nets) {
  std::vector<std::pair<NetId, ElementId>> ends;
  for (std::uint32_t i = conductor_count_; i < ends_.size(); ++i) {
    if (kind_[i] != ElementKind::load) continue;
    ends.emplace_back(net_of_[index(ends_[i].a)], ElementId{i});
    if (net_of_[index(ends_[i].a)] != net_of_[index(ends_[i].b)])
      ends.emplace_back(net_of_[index(ends_[i].b)], ElementId{i});
  }
  std::sort(ends.begin(), ends.end());
  load_start_.assign(nets + 1, 0);
  for (const auto& [net, e] : ends) {
    ++load_start_[index(net) + 1];
    loads_.push_back(e);
  }
  for (std::uint32_t net = 0; net < nets; ++net) load_start_[net + 1] += load_start_[net];
}

void ConductionGraph::sum_stated_ohms(std::uint32_t nets) {
  stated_of_net_.assign(nets, 0);
  has_least_.assign(nets, false);
  for (std::uint32_t i = 0; i < ends_.size(); ++i) {
    const double stated = stated_ohms(ElementId{i}).value;
    if (stated == 0) continue;
    // An open element counts for both nets: a condition may close it.
    const NetId a = net_of_[index(ends_[i].a)], b = net_of_[index(ends_[i].b)];
    stated_of_net_[index(a)] += stated;
    if (a != b) stated_of_net_[index(b)] += stated;
    if (interval(ElementId{i}).lo > Ohms{0}) has_least_[index(a)] = has_least_[index(b)] = true;
  }
}

ElementOrigin ConductionGraph::origin(ElementId e) const {
  using enum ElementOrigin::From;
  const std::uint32_t i = index(e);
  if (i < conductor_count_) return {conductor, i};
  if (i < implied_start_) return {part, i - conductor_count_};
  if (i < rail_start_) return {implied_terminal, i - implied_start_};
  if (i < channel_start_) return {pe_rail, rail_parts_[i - rail_start_]};
  return {channel, channel_rows_[i - channel_start_]};
}

bool ConductionGraph::is_diode(ElementId e) const {
  const ElementOrigin from = origin(e);
  return from.from == ElementOrigin::From::part && netlist_->parts[from.row].kind == PartKind::diode;
}

OhmInterval ConductionGraph::interval(ElementId e) const {
  const ElementOrigin from = origin(e);
  if (from.from == ElementOrigin::From::conductor) {
    const OhmInterval alone = kind(e) == ElementKind::link ? k_joint_interval : k_conductor_interval;
    if (conductor_ohms_.empty()) return alone;
    const ConductorOhms& ohms = conductor_ohms_[from.row];
    if (ohms.from == ConductorOhms::From::length_and_size)
      return {Ohms{0}, Ohms{ohms.greatest + k_joint_interval.hi.value}};
    return {Ohms{0}, Ohms{std::max(alone.hi.value, ohms.greatest)}};
  }
  if (from.from == ElementOrigin::From::part) return part_intervals_[from.row];
  return from.from == ElementOrigin::From::channel ? channel_interval(netlist_->channels[from.row])
                                                   : k_joint_interval;
}

Ohms ConductionGraph::stated_ohms(ElementId e) const {
  if (!is_hard(e)) return Ohms{0};
  const ElementOrigin from = origin(e);
  if (from.from == ElementOrigin::From::conductor) {
    const bool is_stated =
        !conductor_ohms_.empty() && conductor_ohms_[from.row].from == ConductorOhms::From::length_and_size;
    return Ohms{is_stated ? conductor_ohms_[from.row].greatest : 0};
  }
  if (from.from != ElementOrigin::From::part || std::isnan(netlist_->parts[from.row].ohms)) return Ohms{0};
  return part_intervals_[from.row].hi;
}

std::span<const ElementId> ConductionGraph::loads_of_net(NetId net) const {
  return {loads_.data() + load_start_[index(net)], loads_.data() + load_start_[index(net) + 1]};
}

std::string ConductionGraph::element_name(ElementId e) const {
  const ElementOrigin from = origin(e);
  switch (from.from) {
    case ElementOrigin::From::conductor:
      return netlist_->conductor_name(from.row);
    case ElementOrigin::From::part:
      return part_row_name(netlist_->parts[from.row], netlist_->points);
    case ElementOrigin::From::implied_terminal:
      return std::string(netlist_->points.place_name(netlist_->implied_terminals[from.row]));
    case ElementOrigin::From::pe_rail:
      return std::string(netlist_->parts[from.row].part) + "-PE";
    case ElementOrigin::From::channel:
      return netlist_->points.name(netlist_->channels[from.row].point) + " input or output circuit";
  }
  return {};
}

std::string_view ConductionGraph::element_sheet(ElementId e) const {
  const ElementOrigin from = origin(e);
  switch (from.from) {
    case ElementOrigin::From::conductor:
      return netlist_->conductor_text.get(ConductorText::sheet, from.row);
    case ElementOrigin::From::part:
    case ElementOrigin::From::pe_rail:
      return netlist_->parts[from.row].sheet;
    default:
      return {};
  }
}

std::string_view ConductionGraph::element_kind_word(ElementId e) const {
  const ElementOrigin from = origin(e);
  switch (from.from) {
    case ElementOrigin::From::conductor:
      return word(netlist_->conductors[from.row].kind);
    case ElementOrigin::From::part:
      return word(netlist_->parts[from.row].kind);
    case ElementOrigin::From::implied_terminal:
      return word(PartKind::terminal);
    case ElementOrigin::From::pe_rail:
      return "rail";
    case ElementOrigin::From::channel:
      return word(PartKind::electronics);
  }
  return {};
}

void ConductionGraph::find_parts() const { parts_->make_once(*this); }

const std::array<PointId, 2>& ConductionGraph::beside(PointId p) const {
  find_parts();
  return parts_->beside(netlist_->points, p);
}

std::span<const PointId> ConductionGraph::points_of_part(PointId p) const {
  find_parts();
  return parts_->points_of(parts_->part_of(netlist_->points.place(p)));
}

}  // namespace ringtrue
