#include "renamed.hpp"

#include <deque>
#include <map>
#include <utility>

#include "ringtrue/model/condition.hpp"

namespace ringtrue {

namespace {

class Renaming {
 public:
  Renaming(const ConductionGraph& before, const ConductionGraph& after, const Difference& difference)
      : net_(before.netlist()) {
    for (const ChangedRow& row : difference.conductors) {
      if (row.change != Change::renumbered) continue;
      const std::string now = after.netlist().conductor_name(index(row.after));
      for (const PointId end : {before.end_a(row.before), before.end_b(row.before)})
        now_.try_emplace({net_.conductor_name(index(row.before)), end}, now);
    }
  }

  [[nodiscard]] bool is_empty() const { return now_.empty(); }

  /// `WIRE@POINT` by the new number; any other text as it is.
  [[nodiscard]] std::string end(const std::string& text) const {
    const std::size_t at = text.find('@');
    if (at == std::string::npos) return text;
    const auto found = find_point(text.substr(at + 1), net_);
    if (!found) return text;
    for (const PointId p :
         {found->point, found->side == Side::either ? net_.points.other_side(found->point) : found->point}) {
      const auto named = now_.find({text.substr(0, at), p});
      if (named != now_.end()) return named->second + text.substr(at);
    }
    return text;
  }

  [[nodiscard]] std::string condition(const std::string& text) const {
    std::string made;
    for (std::size_t begin = 0; begin <= text.size();) {
      const std::size_t stop = std::min(text.find(';', begin), text.size());
      std::size_t first = begin;
      while (first < stop && text[first] == ' ') ++first;
      const std::string setting = text.substr(first, stop - first);
      const std::size_t state = std::min(setting.rfind('='), setting.size());
      made += (begin == 0 ? "" : "; ") + end(setting.substr(0, state)) + setting.substr(state);
      begin = stop + 1;
    }
    return made;
  }

 private:
  const Netlist& net_;
  std::map<std::pair<std::string, PointId>, std::string> now_;  ///< by number and point
};

}  // namespace

Readings renamed_readings(const Readings& readings, const ConductionGraph& before,
                          const ConductionGraph& after, const Difference& difference) {
  Readings made = readings;
  made.is_final = true;
  const Renaming renaming(before, after, difference);
  if (renaming.is_empty()) return made;
  for (std::string& condition : made.conditions) condition = renaming.condition(condition);
  const auto names = std::make_shared<std::deque<std::string>>();
  for (Reading& reading : made.rows)
    for (std::string_view* point : {&reading.from, &reading.to})
      if (point->find('@') != std::string_view::npos)
        *point = names->emplace_back(renaming.end(std::string(*point)));
  made.buffers.push_back(names);
  return made;
}

}  // namespace ringtrue
