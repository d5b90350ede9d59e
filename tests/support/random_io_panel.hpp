#pragma once
#include <deque>
#include <initializer_list>
#include <random>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::testing {

/// Puts a netlist together from rows given as fields by name.
class RowsOfNetlist {
 public:
  using Fields = std::initializer_list<std::pair<std::string_view, std::string>>;

  RowsOfNetlist() : file_(builder_.add_file("test.csv")) { builder_.keep(texts_); }
  void panel(Fields fields) { builder_.set_panel(row<PanelRow>(fields), source()); }
  template <class Row>
  void add(Fields fields) {
    builder_.add(row<Row>(fields), source());
  }
  Netlist finish() {
    Result<Netlist> made = builder_.finish();
    if (!made) throw std::runtime_error(to_text(made.error().front()));
    return std::move(*made);
  }

 private:
  template <class Row>
  Row row(Fields fields) {
    Row made;
    for (const auto& [name, value] : fields) {
      bool is_known = false;
      for (const FieldOf<Row>& field : fields_of<Row>())
        if (field.name == name) made.*field.member = texts_->emplace_back(value), is_known = true;
      if (!is_known) throw std::logic_error("no such field: " + std::string(name));
    }
    return made;
  }
  RowSource source() { return {++line_, file_}; }

  std::shared_ptr<std::deque<std::string>> texts_ = std::make_shared<std::deque<std::string>>();
  NetlistBuilder builder_;
  std::uint16_t file_;
  std::uint32_t line_ = 0;
};

/// A panel for I/O tests: two supplies, now and then mains, a high DC voltage, a potential without volts, a
/// transformer; PE; two strips and a fuse; six contacts, some with a role, one in the field; a diode; inputs
/// of every sort, outputs, analog loops; wires thrown at random, some with a role or marked with a potential.
inline Netlist random_io_panel(unsigned seed) {
  std::mt19937 random(seed);
  const auto chance = [&](unsigned percent) { return random() % 100 < percent; };
  const auto pick = [&](std::initializer_list<const char*> names) {
    return std::string(*(names.begin() + random() % names.size()));
  };
  RowsOfNetlist rows;
  rows.panel({{"panel", "P"}, {"safety", pick({"marked", "none", ""})}});

  std::vector<std::string> feeds = {"G1:+", "G1:-", "G2:+", "G2:-"};
  rows.add<PartRow>({{"part", "G1"}, {"kind", "supply"}, {"a", "+"}, {"b", "-"}});
  rows.add<PartRow>({{"part", "G2"}, {"kind", "supply"}, {"a", "+"}, {"b", "-"}});
  const auto potential = [&](const char* name, const char* kind, const std::string& volts, const char* at) {
    rows.add<PotentialRow>({{"name", name}, {"kind", kind}, {"volts", volts}, {"point", at}});
  };
  potential("+24V1", "dc+", "24", "G1:+");
  potential("0V1", "dc-", "0", "G1:-");
  if (chance(80)) {  // else a supply that the drawing gives no potential
    potential("+V2", "dc+", pick({"24", "24", "48", "110", ""}), "G2:+");
    potential("0V2", "dc-", "0", "G2:-");
  }
  if (chance(40)) {
    potential("L", "ac-line", "230", "X2:4.ext");
    potential("N", "ac-neutral", "0", "X2:5.ext");
    feeds.insert(feeds.end(), {"X2:4.int", "X2:5.int"});
  }
  if (chance(40)) {
    rows.add<PartRow>({{"part", "X2:6"}, {"kind", "pe-terminal"}});
    potential("PE", "pe", "0", "PE");
    feeds.push_back("X2:6.int");
  }
  if (chance(20)) {
    rows.add<PartRow>({{"part", "T1"}, {"kind", "transformer"}, {"a", "1"}, {"b", "2"}});
    feeds.push_back("T1:1");
  }

  std::vector<std::string> points;
  rows.add<PartRow>({{"part", "X2:1"}, {"kind", "fuse"}, {"a", "int"}, {"b", "ext"}});
  for (const char* number : {"2", "3", "4", "5"})
    rows.add<PartRow>({{"part", std::string("X2:") + number}, {"kind", pick({"terminal", "disconnect"})}});
  for (const char* number : {"1", "2", "3", "4", "5", "6", "7", "8"})
    rows.add<PartRow>(
        {{"part", std::string("X1:") + number}, {"kind", "terminal"}, {"role", chance(6) ? "guard" : ""}});
  for (const char* place : {"X1:1", "X1:2", "X1:3", "X1:4", "X1:5", "X1:6", "X1:7", "X1:8", "X2:1", "X2:2"})
    for (const char* side : {".int", ".ext"}) points.push_back(std::string(place) + side);

  for (const char* name : {"K1", "K2", "S1", "S2", "S9", "B1"}) {
    const std::string part = name;
    rows.add<PartRow>({{"part", part},
                       {"kind", pick({"contact-no", "contact-nc"})},
                       {"a", "1"},
                       {"b", "2"},
                       {"place", part == "B1" ? "field" : pick({"panel", "door"})},
                       {"role", part == "S9" ? "stop"
                                : chance(10) ? pick({"guard", "protective"})
                                             : ""}});
    points.insert(points.end(), {part + ":1", part + ":2"});
  }
  rows.add<PartRow>({{"part", "K1"}, {"kind", "coil"}, {"a", "A1"}, {"b", "A2"}, {"ohms", "400"}});
  rows.add<PartRow>({{"part", "V1"}, {"kind", "diode"}, {"a", "A"}, {"b", "K"}});
  points.insert(points.end(), {"K1:A1", "K1:A2", "V1:A", "V1:K"});

  const auto field = [&] { return "X1:" + std::to_string(1 + random() % 8) + ".ext"; };
  const auto device = [&] { return pick({"B1", "S1", "K1", "B7", ""}); };
  for (const char* at : {"A1:0", "A1:1", "A1:2", "A1:3"}) {
    points.push_back(at);
    rows.add<ChannelRow>({{"point", at},
                          {"type", "DI"},
                          {"field", chance(95) ? field() : ""},
                          {"return", chance(90) ? field() : ""},
                          {"common", pick({"G1:-", "A1:M", ""})},
                          {"device", device()},
                          {"sense", pick({"sink", "source", "sink", ""})},
                          {"sensor", pick({"contact", "contact", "contact", "pnp", "two-wire", "namur", ""})},
                          {"role", chance(10) ? "stop" : ""}});
  }
  const std::pair<const char*, const char*> driven[] = {{"A2:0", "DO"}, {"A3:0", "AO"}, {"A4:0", "AI"}};
  for (const auto& [at, type] : driven) {
    if (chance(50)) continue;
    points.push_back(at);
    rows.add<ChannelRow>({{"point", at},
                          {"type", type},
                          {"field", field()},
                          {"return", pick({"G1:-", "G2:-", "X1:8.ext"})},
                          {"feed", pick({"active", "passive", ""})},
                          {"role", chance(5) ? "guard" : ""}});
  }

  const auto wire = [&](const std::string& from, const std::string& to) {
    rows.add<ConductorRow>({{"wire", std::to_string(random())},
                            {"from", from},
                            {"to", to},
                            {"potential", chance(6) ? pick({"+24V1", "0V1", "L", "unheard"}) : ""},
                            {"role", chance(4) ? "stop" : ""}});
  };
  const auto some_point = [&] { return points[random() % points.size()]; };
  for (const std::string& feed : feeds)
    for (unsigned i = 0; i < 1 + random() % 2; ++i) wire(feed, some_point());
  for (unsigned long i = 0, wires = 6 + random() % 12; i < wires; ++i) {
    const std::string a = some_point(), b = some_point();
    if (a != b) wire(a, b);
  }
  return rows.finish();
}

}  // namespace ringtrue::testing
