// What is connected to analog channels, on random panels: a calibrator that sources never goes onto a loop
// that the panel feeds or may feed, and nothing goes across a supply.
#include <gtest/gtest.h>

#include "ringtrue/io/hook_up.hpp"
#include "tests/support/oracle_jumper.hpp"
#include "tests/support/random_io_panel.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// What may be on a point once every contact is closed, also of what has a role, and diodes conduct their
/// way: by rows and names alone.
class MayCarry {
 public:
  explicit MayCarry(const Netlist& net) : edges_(OracleJumper(net).edges()) {
    std::map<std::string, PotentialKind> declared;
    for (const Potential& potential : net.potentials) {
      declared.emplace(potential.name, potential.kind);
      spread(net.points.name(potential.point), potential.kind);
    }
    for (std::size_t i = 0; i < net.conductors.size(); ++i) {
      const auto marked = declared.find(std::string(net.conductor_text.get(ConductorText::potential, i)));
      if (marked != declared.end()) spread(net.points.name(net.conductors[i].from), marked->second);
    }
    for (const Part& part : net.parts) {
      if (part.kind == PartKind::supply) {
        spread(net.points.name(part.a), PotentialKind::dc_plus);
        spread(net.points.name(part.b), PotentialKind::dc_minus);
      }
      if (part.kind == PartKind::transformer)
        for (const PointId pin : {part.a, part.b}) spread(net.points.name(pin), PotentialKind::ac_line);
    }
  }
  [[nodiscard]] bool is_on(PotentialKind kind, const std::string& p) const {
    return kinds_.count({p, kind}) != 0;
  }
  [[nodiscard]] bool is_on_ac(const std::string& p) const {
    return is_on(PotentialKind::ac_line, p) || is_on(PotentialKind::ac_neutral, p);
  }
  [[nodiscard]] bool is_on_any(const std::string& p) const {
    return is_on(PotentialKind::dc_plus, p) || is_on(PotentialKind::dc_minus, p) || is_on_ac(p) ||
           is_on(PotentialKind::pe, p);
  }

 private:
  void spread(const std::string& p, PotentialKind kind) {
    if (!kinds_.insert({p, kind}).second) return;
    for (const OracleJumper::Edge& e : edges_) {
      if (e.a == p && !(e.is_diode && kind == PotentialKind::dc_minus)) spread(e.b, kind);
      if (e.b == p && !(e.is_diode && kind == PotentialKind::dc_plus)) spread(e.a, kind);
    }
  }

  std::vector<OracleJumper::Edge> edges_;
  std::set<std::pair<std::string, PotentialKind>> kinds_;
};

bool is_source(Simulator simulator) {
  return simulator == Simulator::current_source || simulator == Simulator::voltage_source ||
         simulator == Simulator::millivolt_source;
}

std::size_t made_count = 0, source_count = 0, polarity_count = 0;

void check(const Netlist& net, const MayCarry& may, const Channel& channel, const Signal& signal,
           const HookUp& made) {
  const std::string field = net.points.name(channel.field), back = net.points.name(channel.return_point);
  const bool decides = signal.kind == SignalKind::current || signal.kind == SignalKind::voltage;
  const bool is_meter = made.simulator == Simulator::milliammeter || made.simulator == Simulator::voltmeter;
  if (made.why_not) {
    EXPECT_FALSE(channel.type == ChannelType::AI && signal.kind == SignalKind::current &&
                 channel.sensor == Sensor::unknown && channel.feed == Feed::active && !may.is_on_any(field) &&
                 !may.is_on_any(back) && *made.why_not != NoHookUp::joined_terminals)
        << "nothing is in the way";
    return;
  }
  ++made_count;
  EXPECT_EQ(is_meter, channel.type == ChannelType::AO);
  if (is_source(made.simulator)) {
    ++source_count;
    if (decides) {
      EXPECT_EQ(channel.feed, Feed::active);
    }
    for (const std::string& end : {field, back}) {
      EXPECT_FALSE(may.is_on(PotentialKind::dc_plus, end));
      EXPECT_FALSE(may.is_on_ac(end));
    }
  }
  if (made.simulator == Simulator::transmitter || made.simulator == Simulator::milliammeter) {
    EXPECT_EQ(channel.feed, Feed::passive);
    EXPECT_FALSE(may.is_on_ac(field) || may.is_on_ac(back));
    EXPECT_FALSE(may.is_on(PotentialKind::dc_plus, field));
    EXPECT_FALSE(may.is_on(PotentialKind::dc_minus, field) && may.is_on(PotentialKind::dc_plus, back))
        << "it would be across a supply";
    if (made.polarity_known && may.is_on(PotentialKind::dc_plus, back)) {
      ++polarity_count;
      EXPECT_EQ(net.points.name(made.plus), back);
      EXPECT_FALSE(may.is_on(PotentialKind::dc_minus, back));
    }
  }
}

TEST(HookUpProperty, NoSourceGoesOntoALoopThatThePanelMayFeed) {
  const char* signals[] = {"4-20mA", "0-10V", "Pt100", "K"};
  for (unsigned i = 0; i < 100; ++i) {
    const Netlist net = random_io_panel(test_seed() * 1000 + i);
    const ConductionGraph graph(net);
    const Supplies supplies(graph);
    const MayCarry may(net);
    Channel channel;
    for (const Part& field : net.parts)
      for (const Part& back : net.parts) {
        if (!field.strip_like || !back.strip_like) continue;
        channel.field = field.b, channel.return_point = back.b;
        for (const ChannelType type : {ChannelType::AI, ChannelType::AO})
          for (const Feed feed : {Feed::unknown, Feed::passive, Feed::active})
            for (const Sensor sensor : {Sensor::unknown, Sensor::two_wire})
              for (const char* text : signals) {
                SCOPED_TRACE(std::to_string(i) + " " + net.points.name(field.b) + " " +
                             net.points.name(back.b) + " " + text + " " + std::string(word(type)));
                channel.type = type, channel.feed = feed, channel.sensor = sensor;
                const Signal signal = *signal_from_text(text);
                check(net, may, channel, signal, hook_up(supplies, channel, signal));
                if (::testing::Test::HasFailure()) return;
              }
      }
  }
  EXPECT_GT(made_count, 10'000u);
  EXPECT_GT(source_count, 2'000u);
  EXPECT_GT(polarity_count, 500u);
}

}  // namespace
}  // namespace ringtrue
