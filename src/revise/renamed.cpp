#include "renamed.hpp"

#include <algorithm>
#include <deque>
#include <map>
#include <utility>

#include "part_names.hpp"
#include "ringtrue/model/condition.hpp"

namespace ringtrue {

namespace {

/// Texts of the earlier revision as the later one would write them; those that it would write alike stay as
/// they are, letter by letter.
class Renaming {
 public:
  Renaming(const ConductionGraph& before, const ConductionGraph& after, const Difference& difference)
      : net_(before.netlist()),
        after_(after.netlist()),
        difference_(difference),
        parts_(names_after(difference.renamed)) {
    for (const ChangedRow& row : difference.conductors) {
      if (row.change != Change::renumbered) continue;
      const std::string now = after_.conductor_name(index(row.after));
      for (const PointId end : {before.end_a(row.before), before.end_b(row.before)})
        now_.try_emplace({net_.conductor_name(index(row.before)), end}, now);
    }
    const Designation &was = net_.panel.designation, &is = after_.panel.designation;
    is_empty_ =
        now_.empty() && parts_.others.empty() && was.function == is.function && was.location == is.location;
  }

  [[nodiscard]] bool is_empty() const { return is_empty_; }

  /// `WIRE@POINT` or a point.
  [[nodiscard]] std::string point(const std::string& text) const {
    const std::size_t at = text.find('@');
    if (at == std::string::npos) return plain_point(text);
    const std::string clamp = plain_point(text.substr(at + 1));
    const auto found = find_point(text.substr(at + 1), net_);
    if (!found) return text;
    for (const PointId p :
         {found->point, found->side == Side::either ? net_.points.other_side(found->point) : found->point}) {
      const auto named = now_.find({text.substr(0, at), p});
      if (named != now_.end()) return named->second + "@" + clamp;
    }
    return text.substr(0, at) + "@" + clamp;
  }

  [[nodiscard]] std::string condition(const std::string& text) const {
    std::string made;
    for (std::size_t begin = 0; begin <= text.size();) {
      const std::size_t stop = std::min(text.find(';', begin), text.size());
      std::size_t first = begin;
      while (first < stop && text[first] == ' ') ++first;
      const std::string setting = text.substr(first, stop - first);
      const std::size_t state = std::min(setting.rfind('='), setting.size());
      made += (begin == 0 ? "" : "; ") + object(setting.substr(0, state)) + setting.substr(state);
      begin = stop + 1;
    }
    return made;
  }

 private:
  [[nodiscard]] std::string plain_point(const std::string& text) const {
    const auto found = find_point(text, net_);
    if (!found) return text;
    const PointId now = difference_.point_after[index(found->point)];
    const auto as_written = find_point(text, after_);
    if (now == PointId::none || (as_written && as_written->point == now)) return text;
    return found->side == Side::either ? std::string(after_.points.place_name(after_.points.place(now)))
                                       : after_.points.name(now);
  }

  /// What a setting is about: a lifted end, a lead between two points, a part or one of its terminals.
  [[nodiscard]] std::string object(const std::string& text) const {
    if (text.find('@') != std::string::npos) return point(text);
    if (const std::size_t lead = text.find('~'); lead != std::string::npos)
      return plain_point(text.substr(0, lead)) + "~" + plain_point(text.substr(lead + 1));
    std::string storage;
    const auto name_in = [&](const Netlist& net) {
      return std::string(split_point_name(text, net.panel.designation, storage).place);
    };
    const std::string now = parts_.place(name_in(net_));
    return now == name_in(after_) ? text : now;
  }

  const Netlist &net_, &after_;
  const Difference& difference_;
  PartNames parts_;
  std::map<std::pair<std::string, PointId>, std::string> now_;  ///< by number and point
  bool is_empty_ = true;
};

}  // namespace

Readings renamed_readings(const Readings& readings, const ConductionGraph& before,
                          const ConductionGraph& after, const Difference& difference,
                          const std::function<bool(std::uint32_t)>& of) {
  Readings made = readings;
  made.is_final = true;
  const Renaming renaming(before, after, difference);
  if (renaming.is_empty()) return made;
  const auto names = std::make_shared<std::deque<std::string>>();
  std::map<std::uint16_t, std::uint16_t> conditions;
  const auto condition_now = [&](std::uint16_t condition) {
    const auto [known, is_new] = conditions.try_emplace(condition, condition);
    if (!is_new) return known->second;
    std::string now = renaming.condition(made.conditions[condition]);
    const auto there = std::find(made.conditions.begin(), made.conditions.end(), now);
    known->second = static_cast<std::uint16_t>(there - made.conditions.begin());
    if (there == made.conditions.end()) {
      constexpr std::size_t k_most = 0xFFFF;
      if (made.conditions.size() > k_most) return known->second = condition;
      made.conditions.push_back(std::move(now));
      made.condition_lines.push_back(made.condition_lines[condition]);
    }
    return known->second;
  };
  for (std::uint32_t i = 0; i < made.rows.size(); ++i) {
    if (!of(i)) continue;
    Reading& reading = made.rows[i];
    reading.condition = condition_now(reading.condition);
    for (std::string_view* point : {&reading.from, &reading.to}) {
      std::string now = renaming.point(std::string(*point));
      if (now != *point) *point = names->emplace_back(std::move(now));
    }
  }
  made.buffers.push_back(names);
  return made;
}

void rename_points(Event& event, const ConductionGraph& before, const ConductionGraph& after,
                   const Difference& difference) {
  const Renaming renaming(before, after, difference);
  if (renaming.is_empty()) return;
  for (std::string& point : event.points) point = renaming.point(point);
}

}  // namespace ringtrue
