#include "ringtrue/compare/opened_clamps.hpp"

#include <algorithm>

#include "ringtrue/model/condition.hpp"

namespace ringtrue {

namespace {

std::vector<PointId> clamps_of(const Event& event, const Events& events, const Netlist& net,
                               Errors& unknown) {
  std::vector<PointId> points;
  for (const std::string& text : event.points) {
    auto found = find_point(text, net);
    if (!found) {
      found.error().front().place = {events.file, event.line, "", "points"};
      unknown.push_back(std::move(found.error().front()));
      continue;
    }
    points.push_back(found->point);
    if (found->side == Side::either) points.push_back(net.points.other_side(found->point));
  }
  return points;
}

}  // namespace

std::vector<OpenedClamps> opened_clamps(const Events& events, const Netlist& net, Errors& unknown) {
  std::vector<OpenedClamps> lasting;
  for (const Event& event : events.rows) {
    std::vector<PointId> clamps = clamps_of(event, events, net, unknown);
    const bool undone = event.kind == EventKind::temporary_made &&
                        std::any_of(events.rows.begin(), events.rows.end(), [&](const Event& other) {
                          return other.kind == EventKind::temporary_undone && other.points == event.points &&
                                 *seconds_of_time(other.time) >= *seconds_of_time(event.time);
                        });
    if (event.kind == EventKind::repair || (event.kind == EventKind::temporary_made && !undone))
      lasting.push_back({*seconds_of_time(event.time), std::move(clamps)});
  }
  return lasting;
}

}  // namespace ringtrue
