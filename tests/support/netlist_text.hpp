#pragma once
#include <gtest/gtest.h>

#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/netlist_builder.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue::testing {

/// Words of a line; `-` stands for an empty field.
inline std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> words;
  while (true) {
    const std::size_t first = line.find_first_not_of(' ');
    if (first == std::string_view::npos) return words;
    const std::size_t last = std::min(line.find(' ', first), line.size());
    words.push_back(line.substr(first, last - first) == "-" ? std::string_view{}
                                                            : line.substr(first, last - first));
    line.remove_prefix(last);
  }
}

/// Builds a netlist from a few lines, each one record:
///
///     W1 X1:1 K1:A1              a wire; further words: its kind, sheet, metres, mm2, awg
///     part K1 coil A1 A2 360     part, kind, pins, ohms
///     part X1:1 terminal
///     part K1 contact-no 13 14 - K2      a sixth word: actuated by; a seventh: closed in; an eighth: place
///     channel A1:0 DI X1:1 X1:2 A1:M     point, type, field, return, common
///     potential +24V dc+ G1:+ 24         name, kind, point, volts
inline Result<Netlist> try_netlist(const std::string& text) {
  auto kept = std::make_shared<const std::string>(text);
  NetlistBuilder builder;
  builder.keep(kept);
  const std::uint16_t file = builder.add_file("test.csv");
  std::uint32_t line_number = 0;
  std::string_view rest = *kept;
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    const std::vector<std::string_view> w = words_of(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
    ++line_number;
    const auto at = [&](std::size_t i) { return i < w.size() ? w[i] : std::string_view{}; };
    const RowSource source{line_number, file};
    if (w.empty()) continue;
    if (at(0) == "part") {
      PartRow row;
      row.part = at(1), row.kind = at(2), row.a = at(3), row.b = at(4), row.ohms = at(5),
      row.actuated_by = at(6);
      row.closed_in = at(7), row.place = at(8);
      builder.add(row, source);
    } else if (at(0) == "channel") {
      ChannelRow row;
      row.point = at(1), row.type = at(2), row.field = at(3), row.return_point = at(4), row.common = at(5);
      row.tag = at(6);
      builder.add(row, source);
    } else if (at(0) == "potential") {
      PotentialRow row;
      row.name = at(1), row.kind = at(2), row.point = at(3), row.volts = at(4);
      builder.add(row, source);
    } else {
      ConductorRow row;
      row.wire = at(0), row.from = at(1), row.to = at(2), row.kind = at(3), row.sheet = at(4);
      row.length_m = at(5), row.mm2 = at(6), row.awg = at(7);
      builder.add(row, source);
    }
  }
  return builder.finish();
}

inline Netlist netlist(const std::string& text) {
  Result<Netlist> made = try_netlist(text);
  if (!made) throw std::runtime_error(to_text(made.error().front()));
  return std::move(*made);
}

/// Readings from lines `FROM TO VALUE [CONDITIONS [TIME [METHOD]]]`, ids R1, R2 and so on; blanks in
/// conditions are not possible.
inline Readings readings(const std::string& text) {
  auto kept = std::make_shared<const std::string>(text);
  auto names = std::make_shared<std::vector<std::string>>();
  names->reserve(10000);
  ReadingsBuilder builder("readings.csv");
  builder.keep(kept);
  builder.keep(names);
  std::uint32_t line_number = 0;
  std::string_view rest = *kept;
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    const std::vector<std::string_view> w = words_of(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
    ++line_number;
    if (w.empty()) continue;
    ReadingRow row;
    row.from = w.at(0), row.to = w.at(1), row.value = w.at(2);
    if (w.size() > 3) row.conditions = w[3];
    if (w.size() > 4) row.time = w[4];
    if (w.size() > 5) row.method = w[5];
    row.id = names->emplace_back("R" + std::to_string(line_number));
    builder.add(row, line_number);
  }
  Result<Readings> made = builder.finish();
  if (!made) throw std::runtime_error(to_text(made.error().front()));
  return std::move(*made);
}

inline PointId point(const Netlist& net, const std::string& name) {
  std::string storage;
  const PointName split = split_point_name(name, net.panel.designation, storage);
  return net.points.point(net.points.find_place(split.place).value(), split.side);
}

}  // namespace ringtrue::testing
