#pragma once
#include <algorithm>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/model/netlist.hpp"

namespace ringtrue::testing {

/// Everything that a netlist says, a line per record and each text in quotes, without what depends on the
/// files it came from (lines, notes, the order of the points): two netlists are the same if their lines are.
class NetlistLines {
 public:
  explicit NetlistLines(const Netlist& netlist) : net_(netlist) {}

  std::string text() {
    panel();
    for (std::size_t i = 0; i < net_.conductors.size(); ++i) conductor(i);
    for (const Part& part : net_.parts) this->part(part);
    for (const Channel& channel : net_.channels) this->channel(channel);
    for (const Potential& potential : net_.potentials) {
      out_ << "potential";
      put(potential.name), put(word(potential.kind)), put(potential.volts), put(potential.point);
      out_ << "\n";
    }
    points();
    return out_.str();
  }

 private:
  void panel() {
    const PanelInfo& panel = net_.panel;
    out_ << "panel";
    for (const std::string& text :
         {panel.name, panel.revision, panel.drawing, panel.designation.function, panel.designation.location})
      put(text);
    put(word(panel.safety));
    out_ << "\n";
  }

  void conductor(std::size_t i) {
    const Conductor& c = net_.conductors[i];
    out_ << "conductor";
    put(c.from), put(c.to), put(word(c.kind)), put(word(c.role));
    for (std::size_t field = 0; field < static_cast<std::size_t>(ConductorText::count_); ++field)
      put(net_.conductor_text.get(static_cast<ConductorText>(field), i));
    out_ << "\n";
  }

  void part(const Part& p) {
    out_ << "part";
    put(p.part), put(word(p.kind)), put(p.a), put(p.b), put(p.ohms), put(p.tolerance_pct), put(p.volts),
        put(p.amps);
    put(p.actuated_by), put(word(p.place)), put(word(p.role)), put(p.sheet), put(p.note);
    out_ << " strip-like=" << p.strip_like << " closed in";
    for (const int position : p.closed_in) out_ << " " << position;
    out_ << "\n";
  }

  void channel(const Channel& c) {
    out_ << "channel";
    put(c.point), put(word(c.type)), put(c.address), put(c.tag), put(c.text), put(c.field),
        put(c.return_point);
    put(c.common), put(c.device), put(word(c.feed)), put(word(c.sense)), put(word(c.sensor)), put(c.signal);
    put(c.unit), put(c.module), put(c.led), put(c.low), put(c.high), put(c.raw_low), put(c.raw_high);
    put(word(c.role));
    out_ << " normal=" << (c.normal ? *c.normal + 0 : -1) << "\n";
  }

  void points() {
    std::vector<std::string> lines;
    for (std::uint32_t i = 0; i < net_.points.size(); ++i) {
      const PointId point{i};
      lines.push_back("point \"" + net_.points.name(point) + "\"" +
                      (net_.points.has_sides(net_.points.place(point)) ? " of two" : "") +
                      (net_.points.is_separable(net_.points.place(point)) ? " separable" : "") + "\n");
    }
    for (const PlaceId place : net_.implied_terminals)
      lines.push_back("implied \"" + std::string(net_.points.place_name(place)) + "\"\n");
    std::sort(lines.begin(), lines.end());
    for (const std::string& line : lines) out_ << line;
  }

  void put(std::string_view text) { out_ << " \"" << text << "\""; }
  void put(PointId point) { point == PointId::none ? put("none") : put(net_.points.name(point)); }
  void put(double number) { out_ << " " << std::hexfloat << number; }

  const Netlist& net_;
  std::ostringstream out_;
};

inline std::string netlist_lines(const Netlist& netlist) { return NetlistLines(netlist).text(); }

}  // namespace ringtrue::testing
