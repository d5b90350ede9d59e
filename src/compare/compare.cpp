#include "ringtrue/compare/compare.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "currency.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/expect/judge.hpp"

namespace ringtrue {

std::string_view word(Standing standing) {
  switch (standing) {
    case Standing::agrees:
      return "agrees";
    case Standing::disagrees:
      return "disagrees";
    case Standing::either:
      return "either";
    case Standing::unknown_point:
      return "unknown";
    case Standing::stale:
      return "stale";
    case Standing::unstable:
      return "unstable";
  }
  return {};
}

MeterTable::MeterTable(const Meters& meters, const MeterSettings& unnamed) {
  settings_[0] = meters.rows.size() == 1 ? meters.rows.front().settings : unnamed;
  for (const Meter& meter : meters.rows) settings_.push_back(meter.settings);
}

Errors MeterTable::assign(const Readings& readings, const Meters& meters) {
  Errors errors;
  if (meters.rows.empty()) return errors;
  of_reading_.assign(readings.rows.size(), 0);
  for (std::size_t i = 0; i < readings.rows.size(); ++i) {
    const std::string_view name = readings.text.get(ReadingText::meter, i);
    if (name.empty()) continue;
    const auto at = std::find_if(meters.rows.begin(), meters.rows.end(),
                                 [name](const Meter& meter) { return meter.name == name; });
    if (at != meters.rows.end()) {
      of_reading_[i] = static_cast<std::uint16_t>(at - meters.rows.begin() + 1);
      continue;
    }
    NearestNames nearest(name);
    for (const Meter& meter : meters.rows) nearest.offer(meter.name);
    errors.push_back({ErrorCode::unknown_object,
                      "the file of meters lacks this one",
                      {readings.file, readings.rows[i].line, "", "meter"},
                      std::string(name),
                      "a meter of " + meters.file,
                      nearest.take()});
  }
  return errors;
}

void MeterTable::append(const MeterTable& of_one_reading) {
  if (!of_one_reading.of_reading_.empty()) of_reading_.push_back(of_one_reading.of_reading_.front());
}

void MeterTable::append_unnamed() {
  if (!of_reading_.empty()) of_reading_.push_back(0);
}

namespace {

/// Only the first few unknown points get their nearest names: each look costs a walk over all names.
constexpr std::size_t k_max_nearest = 20;

class Comparing {
 public:
  Comparing(const ConductionGraph& graph, const Readings& readings, Threads threads)
      : graph_(graph), net_(graph.netlist()), readings_(readings), threads_(threads) {}

  Result<Comparison> run(const Events& events, const Meters& meters, const MeterSettings& unnamed) {
    made_.meters = MeterTable(meters, unnamed);
    set_up_conditions();
    look_up_points();
    assign_meters(meters);
    set_outdated();
    errors_.resize(std::min(errors_.size(), k_max_errors));
    if (!errors_.empty()) return tl::unexpected(std::move(errors_));
    mark_stale_and_unstable(graph_, readings_, events, made_);
    judge_all();
    count();
    return std::move(made_);
  }

 private:
  void set_up_conditions() {
    for (std::size_t i = 0; i < readings_.conditions.size(); ++i) {
      auto condition = parse_condition(readings_.conditions[i], graph_);
      if (!condition) {
        misfits_[static_cast<std::uint16_t>(i)] = condition.error().front();
        if (!readings_.is_final)
          for (Error& error : condition.error())
            complain(std::move(error), readings_.condition_lines[i], "conditions");
        condition = Condition{};
      }
      made_.conditions.overlays.push_back(overlay_of(*condition, graph_));
      made_.conditions.conditions.push_back(std::move(*condition));
    }
  }

  /// Whether the row may go on: what can't be mended makes it unknown to the drawing.
  bool complain(Error error, std::uint32_t line, std::string_view field) {
    error.place = {readings_.file, line, "", std::string(field)};
    if (readings_.is_final)
      made_.unknown_points.push_back(std::move(error));
    else if (errors_.size() < k_max_errors)
      errors_.push_back(std::move(error));
    return !readings_.is_final;
  }

  void assign_meters(const Meters& meters) {
    Errors unknown = made_.meters.assign(readings_, meters);
    std::size_t row = 0;
    for (Error& error : unknown) {
      while (readings_.rows[row].line != error.place.line) ++row;
      const std::uint32_t line = error.place.line;
      if (!complain(std::move(error), line, "meter")) set_aside(row);
    }
  }

  void set_aside(std::size_t row) {
    made_.standing[row] = Standing::unknown_point;
    made_.probings[row].from = made_.probings[row].to = PointId::none;
  }

  /// What they lack in this drawing is no longer asked of them.
  void set_outdated() {
    if (readings_.outdated.empty()) return;
    std::set<std::uint32_t> lines;
    for (const auto& [row, why] : readings_.outdated) {
      made_.standing[row] = Standing::stale;
      lines.insert(readings_.rows[row].line);
    }
    std::erase_if(made_.unknown_points, [&](const Error& error) { return lines.contains(error.place.line); });
  }

  /// Which points of a row are known.
  struct Known {
    bool from = false, to = false;
  };

  /// Plain names in parts by several threads; what isn't plain, and what a row is refused for, row by row.
  void look_up_points() {
    const std::size_t count = readings_.rows.size();
    made_.probings.resize(count);
    made_.standing.assign(count, Standing::agrees);
    std::vector<Known> known(count);
    for_each_part([&](std::size_t first, std::size_t last) { look_up_plain(first, last, known); });
    for (std::size_t i = 0; i < count; ++i) settle_row(i, known[i]);
  }

  /// Looks the names of some rows up together, and then of the next ones.
  void look_up_plain(std::size_t first, std::size_t last, std::vector<Known>& known) {
    constexpr std::size_t k_rows = 256;
    std::vector<std::string_view> names;
    std::vector<Side> sides;
    std::vector<PlaceId> places(2 * k_rows);
    std::string storage;
    for (; first < last; first += names.size() / 2) {
      names.clear(), sides.clear();
      for (std::size_t i = first; i < std::min(last, first + k_rows); ++i)
        for (const std::string_view text : {readings_.rows[i].from, readings_.rows[i].to}) {
          const bool plain = !text.empty() && text.front() != '=' && text.front() != '+';
          const PointName name =
              plain ? split_point_name(text, net_.panel.designation, storage) : PointName{};
          names.push_back(name.place), sides.push_back(name.side);
        }
      net_.points.find_places(names, std::span(places).first(names.size()));
      for (std::size_t at = 0; at < names.size(); at += 2) {
        const std::size_t i = first + at / 2;
        Probing& probing = made_.probings[i];
        probing.method = readings_.rows[i].method;
        probing.value = readings_.rows[i].value;
        known[i].from = plain_point(places[at], sides[at], probing.from);
        known[i].to = readings_.rows[i].to.empty() || plain_point(places[at + 1], sides[at + 1], probing.to);
      }
    }
  }

  void settle_row(std::size_t i, Known known) {
    const Reading& reading = readings_.rows[i];
    Probing& probing = made_.probings[i];
    const bool from = known.from || look_up(i, reading.from, "from", probing.from, probing.from_either_side);
    const bool to = known.to || look_up(i, reading.to, "to", probing.to, probing.to_either_side);
    if (!from || !to || !fits(reading)) set_aside(i);
  }

  /// The commonest shapes: a single point, or a side written out, in the panel's own naming.
  [[nodiscard]] bool plain_point(PlaceId place, Side side, PointId& point) const {
    if (place == PlaceId::none || net_.points.has_sides(place) != (side != Side::single)) return false;
    point = net_.points.point(place, side);
    return true;
  }

  /// The drawing has its condition; a buzzer or ohmmeter on a live panel measures nothing and can hurt.
  bool fits(const Reading& reading) {
    if (const auto misfit = misfits_.find(reading.condition); misfit != misfits_.end())
      return !readings_.is_final || complain(misfit->second, reading.line, "conditions");
    if (reading.value.kind >= ValueKind::volts || !made_.conditions.overlays[reading.condition].power_on)
      return true;
    return complain({ErrorCode::state_does_not_fit,
                     "a continuity reading cannot be taken with power on",
                     {},
                     std::string(readings_.conditions[reading.condition]),
                     "power off for beep, open and ohms",
                     {}},
                    reading.line, "conditions");
  }

  /// False if the drawing lacks the point; other mistakes are errors.
  bool look_up(std::size_t row, std::string_view text, std::string_view field, PointId& point,
               bool& either_side) {
    const Reading& reading = readings_.rows[row];
    if (text.find('@') != std::string_view::npos) return look_up_lifted(row, text, field, point);
    auto found = find_known(text);
    if (!found) {
      Error error = std::move(found.error().front());
      if (error.code != ErrorCode::bad_point) return complain(std::move(error), reading.line, field);
      error.place = {readings_.file, reading.line, "", std::string(field)};
      made_.unknown_points.push_back(std::move(error));
      return false;
    }
    point = found->point;
    either_side = found->side == Side::either;
    return true;
  }

  Result<FoundPoint> find_known(std::string_view text) const {
    if (made_.unknown_points.size() < k_max_nearest) return find_point(text, net_);
    std::string storage;
    const PointName name = split_point_name(text, net_.panel.designation, storage);
    if (net_.points.find_place(name.place)) return find_point(text, net_);
    return fail({ErrorCode::bad_point,
                 "the drawing has no such point",
                 {},
                 std::string(text),
                 "a point of the drawing",
                 {}});
  }

  bool look_up_lifted(std::size_t row, std::string_view text, std::string_view field, PointId& point) {
    const Reading& reading = readings_.rows[row];
    const auto found = find_lifted_end(text, made_.conditions.conditions[reading.condition],
                                       made_.conditions.overlays[reading.condition], graph_);
    if (found) {
      point = *found;
      return true;
    }
    Error error = found.error().front();
    if (error.code == ErrorCode::state_does_not_fit) return complain(std::move(error), reading.line, field);
    error.place = {readings_.file, reading.line, "", std::string(field)};
    made_.unknown_points.push_back(std::move(error));
    return false;
  }

  void judge_all() {
    for_each_part([this](std::size_t first, std::size_t last) { judge(first, last); });
  }

  void judge(std::size_t first, std::size_t last) {
    std::vector<View> views;
    std::vector<Judge> judges;
    views.reserve(made_.conditions.overlays.size());
    for (const ConditionOverlay& condition : made_.conditions.overlays)
      judges.emplace_back(views.emplace_back(graph_, condition.overlay));
    for (auto i = static_cast<std::uint32_t>(first); i < last; ++i) {
      if (made_.standing[i] != Standing::agrees) continue;
      switch (judges[readings_.rows[i].condition].verdict(made_.probings[i], made_.meters.of(ReadingId{i}))) {
        case Verdict::agrees:
          break;
        case Verdict::disagrees:
          made_.standing[i] = Standing::disagrees;
          break;
        case Verdict::either:
          made_.standing[i] = Standing::either;
          break;
      }
    }
  }

  /// Calls `work(first, last)` for parts of the rows, by several threads where there are many.
  template <class Work>
  void for_each_part(Work work) const {
    constexpr std::size_t k_many = 50'000;
    const std::size_t count = readings_.rows.size();
    const std::size_t parts = count < k_many ? 1 : 2 * threads_.count;
    for_each_index(threads_, parts, [&](std::size_t i) { work(count * i / parts, count * (i + 1) / parts); });
  }

  void count() {
    for (const Standing standing : made_.standing) {
      switch (standing) {
        case Standing::agrees:
          ++made_.agree;
          break;
        case Standing::disagrees:
          ++made_.disagree;
          break;
        case Standing::either:
          ++made_.either;
          break;
        case Standing::unknown_point:
          ++made_.unknown;
          break;
        case Standing::stale:
          ++made_.stale;
          break;
        case Standing::unstable:
          ++made_.unstable;
          break;
      }
    }
  }

  const ConductionGraph& graph_;
  const Netlist& net_;
  const Readings& readings_;
  Threads threads_;
  Comparison made_;
  Errors errors_;
  std::map<std::uint16_t, Error> misfits_;  ///< conditions that the drawing lacks something of
};

}  // namespace

Result<Comparison> compare(const ConductionGraph& graph, const Readings& readings, const Events& events,
                           const Meters& meters, const MeterSettings& unnamed, Threads threads) {
  return Comparing(graph, readings, threads).run(events, meters, unnamed);
}

namespace {

/// The last reading alone, with its condition and meter.
Readings last_of(const Readings& readings) {
  Readings one;
  one.file = readings.file;
  one.is_final = readings.is_final;
  const std::size_t last = readings.rows.size() - 1;
  Reading reading = readings.rows[last];
  one.conditions = {readings.conditions[reading.condition]};
  one.condition_lines = {reading.line};
  reading.condition = 0;
  one.rows.push_back(reading);
  one.text.set(ReadingText::meter, 0, readings.text.get(ReadingText::meter, last));
  return one;
}

}  // namespace

Result<bool> compare_last(const ConductionGraph& graph, const Readings& readings, const Events& events,
                          const Meters& meters, const MeterSettings& unnamed, Comparison& comparison) {
  if (comparison.unknown_points.size() >= k_max_nearest) return false;
  if (readings.conditions.size() != comparison.conditions.overlays.size()) return false;
  auto one = compare(graph, last_of(readings), {}, meters, unnamed);
  if (!one) return tl::unexpected(std::move(one.error()));
  const Probing& probing = one->probings.front();
  const std::uint16_t condition = readings.rows.back().condition;
  const auto time = seconds_of_time(readings.text.get(ReadingText::time, readings.rows.size() - 1));
  if (!is_past_events(events, time, probing, View(graph, comparison.conditions.overlays[condition].overlay)))
    return false;
  for (std::size_t i = 0; i < comparison.probings.size(); ++i) {
    const Probing& other = comparison.probings[i];
    if (comparison.standing[i] != Standing::stale && readings.rows[i].condition == condition &&
        probing.from != PointId::none &&
        std::minmax({probing.from, probing.to}) == std::minmax({other.from, other.to}))
      return false;
  }
  comparison.meters.append(one->meters);
  comparison.probings.push_back(probing);
  comparison.standing.push_back(one->standing.front());
  for (Error& error : one->unknown_points) comparison.unknown_points.push_back(std::move(error));
  for (std::size_t Comparison::*count : {&Comparison::agree, &Comparison::disagree, &Comparison::either,
                                         &Comparison::unknown, &Comparison::stale, &Comparison::unstable})
    comparison.*count += (*one).*count;
  return true;
}

}  // namespace ringtrue
