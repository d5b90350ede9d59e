#include "row_drafts.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace ringtrue::revise {

namespace {

constexpr std::string_view k_note = "note";

template <class Row>
std::string was(const Row& drawn, const Row& built) {
  std::string text;
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    if (drawn.*field.member == built.*field.member || field.name == k_note) continue;
    text += (text.empty() ? "" : ", ") + std::string(field.name) + " was " +
            ((drawn.*field.member).empty() ? "empty" : std::string(drawn.*field.member));
  }
  return text;
}

std::string with_note(std::string_view note, const std::string& more) {
  return std::string(note) + (note.empty() ? "" : "; ") + "as built: " + more;
}

std::string name_of(const ConductorRow& row) {
  if (!row.wire.empty()) return std::string(row.wire);
  if (!row.cable.empty() || !row.core.empty()) return std::string(row.cable) + "/" + std::string(row.core);
  return std::string(row.from) + (row.to.empty() ? "" : "-") + std::string(row.to);
}

std::string name_of(const PartRow& row) {
  if (row.a == "int" && row.b == "ext") return std::string(row.part);
  return std::string(row.part) + ":" + std::string(row.a) + "-" + std::string(row.b);
}

}  // namespace

std::string_view RowDrafts::own(std::string_view text) {
  return text.empty() ? std::string_view{} : std::string_view(texts_->emplace_back(text));
}

template <class Row>
Row RowDrafts::own_row(Row row) {
  for (const FieldOf<Row>& field : fields_of<Row>()) row.*field.member = own(row.*field.member);
  return row;
}

RowDrafts::RowDrafts(const Netlist& netlist)
    : net_(netlist), as_drawn_(netlist), left_(netlist.points.place_count(), k_undecided) {
  conductors_.reserve(net_.conductors.size());
  for (std::size_t i = 0; i < net_.conductors.size(); ++i) {
    const Conductor& drawn = net_.conductors[i];
    conductors_.push_back(
        {own_row(as_drawn_.row<ConductorRow>(i)), drawn.from, drawn.to, drawn.source, k_undecided, false});
  }
  parts_.reserve(net_.parts.size());
  for (std::size_t i = 0; i < net_.parts.size(); ++i)
    parts_.push_back({own_row(as_drawn_.row<PartRow>(i)), net_.parts[i].source, k_undecided, false});
}

template <class Drafted>
void RowDrafts::decide(Drafted& drafted) {
  if (drafted.decision == k_undecided) drafted.decision = decision_;
}

void RowDrafts::leave(PointId at) {
  if (at == PointId::none) return;
  std::size_t& first = left_[index(net_.points.place(at))];
  first = std::min(first, decision_);
}

PointId RowDrafts::end(std::uint32_t conductor, End end) const {
  return end == End::a ? conductors_[conductor].from : conductors_[conductor].to;
}

bool RowDrafts::is_moved(std::uint32_t conductor, End end) const {
  const Conductor& drawn = net_.conductors[conductor];
  return this->end(conductor, end) != (end == End::a ? drawn.from : drawn.to);
}

void RowDrafts::move_end(std::uint32_t conductor, End end, PointId to) {
  DraftedConductor& moved = conductors_[conductor];
  decide(moved);
  PointId& at = end == End::a ? moved.from : moved.to;
  leave(at);
  at = to;
  (end == End::a ? moved.row.from : moved.row.to) = own(as_drawn_.point(to));
}

void RowDrafts::add_bridge(PointId p, PointId q) {
  DraftedConductor bridge;
  bridge.row.from = own(as_drawn_.point(p)), bridge.row.to = own(as_drawn_.point(q));
  bridge.row.kind = word(ConductorKind::bridge);
  bridge.row.note = own(with_note("", "found in the panel"));
  bridge.from = p, bridge.to = q;
  decide(bridge);
  conductors_.push_back(bridge);
}

void RowDrafts::remove_conductor(std::uint32_t conductor) {
  decide(conductors_[conductor]);
  conductors_[conductor].is_gone = true;
}

void RowDrafts::remove_part(std::uint32_t part) {
  decide(parts_[part]);
  parts_[part].is_gone = true;
  leave(net_.parts[part].a), leave(net_.parts[part].b);
}

void RowDrafts::exchange_pins(std::uint32_t part) {
  decide(parts_[part]);
  std::swap(parts_[part].row.a, parts_[part].row.b);
}

void RowDrafts::set_kind(std::uint32_t part, PartKind kind) {
  decide(parts_[part]);
  parts_[part].row.kind = word(kind);
}

PartKind RowDrafts::kind(std::uint32_t part) const { return *from_word<PartKind>(parts_[part].row.kind); }

void RowDrafts::set_ohms(std::uint32_t part, const std::string& ohms) {
  decide(parts_[part]);
  parts_[part].row.ohms = own(ohms);
}

std::vector<bool> RowDrafts::named_places() const {
  std::vector<bool> named(net_.points.place_count(), false);
  const auto name = [&](PointId p) {
    if (p != PointId::none) named[index(net_.points.place(p))] = true;
  };
  for (const DraftedConductor& conductor : conductors_)
    if (!conductor.is_gone) name(conductor.from), name(conductor.to);
  for (std::size_t i = 0; i < parts_.size(); ++i) {
    if (parts_[i].is_gone) continue;
    name(net_.parts[i].a), name(net_.parts[i].b);
    if (parts_[i].row.kind == word(PartKind::pe_terminal)) named[index(*net_.points.find_place("PE"))] = true;
  }
  for (const Channel& channel : net_.channels)
    for (const PointId p : {channel.point, channel.field, channel.return_point, channel.common}) name(p);
  for (const Potential& potential : net_.potentials) name(potential.point);
  return named;
}

void RowDrafts::add_spare_core(ConductorRow row, PointId at, std::size_t decision) {
  row.from = own(as_drawn_.point(at)), row.to = {};
  row.kind = word(ConductorKind::core);
  conductors_.push_back({row, at, PointId::none, {}, decision, false});
}

void RowDrafts::keep_of_broken(std::uint32_t conductor, bool lifted_from, bool lifted_to,
                               std::vector<bool>& named) {
  const DraftedConductor broken = conductors_[conductor];
  const std::string reason = with_note(broken.row.note, "does not conduct");
  const std::pair<PointId, bool> ends[] = {{broken.from, lifted_from}, {broken.to, lifted_to}};
  for (const auto& [at, is_lifted] : ends) {
    if (at == PointId::none || (named[index(net_.points.place(at))] && !is_lifted)) continue;
    named[index(net_.points.place(at))] = true;
    ConductorRow core = broken.row;
    core.note = own(reason);
    if (!conductors_[conductor].is_gone) {
      add_spare_core(core, at, broken.decision);
      continue;
    }
    core.from = own(as_drawn_.point(at)), core.to = {};
    core.kind = word(ConductorKind::core);
    conductors_[conductor] = {core, at, PointId::none, broken.source, broken.decision, false};
  }
}

/// Two rows of one number between the same points would be read as one conductor listed twice.
void RowDrafts::tell_apart_repeated() {
  using Key = std::tuple<PointId, PointId, std::string_view, std::string_view, std::string_view>;
  std::map<Key, std::vector<std::size_t>> alike;
  std::set<std::string_view> ids;
  for (std::size_t i = 0; i < conductors_.size(); ++i) {
    const DraftedConductor& one = conductors_[i];
    ids.insert(one.row.id);
    if (one.is_gone) continue;
    const auto [first, second] = std::minmax(one.from, one.to);
    alike[{first, second, one.row.wire, one.row.cable, one.row.core}].push_back(i);
  }
  std::size_t number = 0;
  for (const auto& [key, rows] : alike) {
    const bool was_changed = std::any_of(
        rows.begin(), rows.end(), [&](std::size_t i) { return conductors_[i].decision != k_undecided; });
    if (rows.size() < 2 || !was_changed) continue;
    std::set<std::string_view> seen;
    for (const std::size_t i : rows) {
      DraftedConductor& one = conductors_[i];
      if (!one.row.id.empty() && seen.insert(one.row.id).second) continue;
      std::string id;
      do id = "as-built-" + std::to_string(++number);
      while (ids.count(id) != 0);
      one.row.id = own(id);
      ids.insert(one.row.id);
      seen.insert(one.row.id);
      if (one.decision == k_undecided) one.decision = 0;
    }
  }
}

void RowDrafts::keep_left_points(const std::vector<bool>& named) {
  for (std::uint32_t place = 0; place < named.size(); ++place) {
    if (named[place]) continue;
    ConductorRow row;
    row.note = own(with_note("", "nothing lands here"));
    const bool has_sides = net_.points.has_sides(PlaceId{place});
    const PointId at = net_.points.point(PlaceId{place}, has_sides ? Side::internal : Side::single);
    add_spare_core(row, at, left_[place] == k_undecided ? 0 : left_[place]);
  }
}

void RowDrafts::write_notes() {
  const auto write = [this](auto& drafted, const auto& drawn) {
    const std::string text = was(drawn, drafted.row);
    if (!text.empty()) drafted.row.note = own(with_note(drafted.row.note, text));
  };
  for (std::size_t i = 0; i < net_.conductors.size(); ++i)
    if (!conductors_[i].is_gone && conductors_[i].decision != k_undecided)
      write(conductors_[i], as_drawn_.row<ConductorRow>(i));
  for (std::size_t i = 0; i < parts_.size(); ++i)
    if (!parts_[i].is_gone && parts_[i].decision != k_undecided) write(parts_[i], as_drawn_.row<PartRow>(i));
}

void RowDrafts::finish(const std::function<bool(std::uint32_t, End)>& is_lifted) {
  std::vector<bool> named = named_places();
  for (std::uint32_t i = 0; i < net_.conductors.size(); ++i)
    if (conductors_[i].is_gone) keep_of_broken(i, is_lifted(i, End::a), is_lifted(i, End::b), named);
  keep_left_points(named);
  tell_apart_repeated();
  write_notes();
}

template <class Row, class Drafted>
void RowDrafts::describe(std::string_view table, const std::vector<Drafted>& drafted,
                         std::vector<AsBuiltRow>& rows) {
  for (std::size_t i = 0; i < as_drawn_.count<Row>(); ++i) {
    const Drafted& built = drafted[i];
    if (built.decision == k_undecided) continue;
    const Row drawn = as_drawn_.row<Row>(i);
    AsBuiltRow row{table,           as_drawn_.source<Row>(i),
                   name_of(drawn),  std::string(drawn.sheet),
                   Change::changed, {},
                   built.decision};
    if (built.is_gone) row.change = Change::gone;
    for (const FieldOf<Row>& field : fields_of<Row>()) {
      const std::string_view is = built.is_gone ? std::string_view{} : built.row.*field.member;
      if (field.name != k_note && drawn.*field.member != is)
        row.fields.push_back({field.name, std::string(drawn.*field.member), std::string(is)});
    }
    rows.push_back(std::move(row));
  }
}

std::vector<AsBuiltRow> RowDrafts::changed_rows() {
  std::vector<AsBuiltRow> rows;
  describe<ConductorRow>("conductors", conductors_, rows);
  describe<PartRow>("parts", parts_, rows);
  for (std::size_t i = net_.conductors.size(); i < conductors_.size(); ++i) {
    const DraftedConductor& added = conductors_[i];
    AsBuiltRow row{"conductors",  {}, name_of(added.row), std::string(added.row.sheet),
                   Change::added, {}, added.decision};
    for (const FieldOf<ConductorRow>& field : fields_of<ConductorRow>())
      if (field.name != k_note && !(added.row.*field.member).empty())
        row.fields.push_back({field.name, "", std::string(added.row.*field.member)});
    rows.push_back(std::move(row));
  }
  return rows;
}

Result<Netlist> RowDrafts::build() {
  NetlistBuilder builder;
  builder.keep(texts_);
  for (const std::string& file : net_.files) builder.add_file(file);
  builder.set_panel(own_row(as_drawn_.row<PanelRow>(0)), {});
  for (const DraftedConductor& conductor : conductors_)
    if (!conductor.is_gone) builder.add(conductor.row, conductor.source);
  for (const DraftedPart& part : parts_)
    if (!part.is_gone) builder.add(part.row, part.source);
  for (std::size_t i = 0; i < net_.channels.size(); ++i)
    builder.add(own_row(as_drawn_.row<ChannelRow>(i)), net_.channels[i].source);
  for (std::size_t i = 0; i < net_.potentials.size(); ++i)
    builder.add(own_row(as_drawn_.row<PotentialRow>(i)), net_.potentials[i].source);
  return builder.finish();
}

}  // namespace ringtrue::revise
