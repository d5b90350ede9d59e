#include "ringtrue/diagnose/efforts.hpp"

namespace ringtrue {

namespace {

double effort_of(State state, const Efforts& efforts) {
  switch (state) {
    case State::operated:
    case State::position:
      return efforts.operate;
    case State::on:
    case State::off:
      return efforts.switch_over;
    case State::out:
    case State::open:
      return efforts.take_out;
    case State::unplugged:
      return efforts.unplug;
    case State::lifted:
      return efforts.lift;
    case State::jumpered:
      return efforts.lead;
    case State::field_connected:
      return efforts.field;
    case State::power_on:
      return 0;
  }
  return 0;
}

}  // namespace

double effort_of(const Condition& condition, const Efforts& efforts) {
  double sum = 0;
  for (const Setting& setting : condition.settings) sum += effort_of(setting.state, efforts);
  return sum;
}

double effort_of_pin(PointId p, const ConductionGraph& graph, const Efforts& efforts) {
  const bool on_terminal = index(p) < graph.point_count() && graph.netlist().points.side(p) != Side::single;
  return on_terminal ? 0 : efforts.pin;
}

}  // namespace ringtrue
