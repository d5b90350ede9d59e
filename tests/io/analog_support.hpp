#pragma once
#include "report/report_support.hpp"
#include "ringtrue/io/analog.hpp"

namespace ringtrue::testing_support {

/// An input of a two-wire transmitter that the panel feeds: 4-20 mA, 0 to 100 %, 0 to 32000.
inline ChannelRow two_wire_input() {
  ChannelRow row;
  row.point = "A1:0+", row.type = "AI", row.tag = "LEVEL", row.field = "X1:2", row.return_point = "X1:1";
  row.common = "A1:M", row.device = "B1", row.feed = "passive", row.sensor = "two-wire";
  row.signal = "4-20mA", row.low = "0", row.high = "100", row.unit = "%", row.raw_low = "0",
  row.raw_high = "32000";
  return row;
}

/// A panel of one channel: X1:1 is on +24V, X1:2 on A1:0+, X1:3 on 0V, X1:4 on A1:0-, which nothing else
/// joins.
inline SmallPanel one_channel(const ChannelRow& row) {
  SmallPanel panel;
  panel.wire("1", "G1:+", "X1:1.int").wire("2", "A1:0+", "X1:2.int").wire("3", "G1:-", "X1:3.int");
  panel.wire("4", "A1:0-", "X1:4.int").wire("5", "A1:M", "G1:-").wire("6", "N1:L", "X1:6.int");
  for (const char* terminal : {"X1:1", "X1:2", "X1:3", "X1:4", "X1:5", "X1:6"})
    panel.part(terminal, "terminal", "int", "ext");
  panel.potential("+24V", "dc+", "G1:+").potential("0V", "dc-", "G1:-").potential("L", "ac-line", "N1:L");
  panel.channel(row);
  return panel;
}

}  // namespace ringtrue::testing_support
