#pragma once
#include <string>
#include <vector>

#include "ringtrue/load/load.hpp"

namespace ringtrue::logic {

/// The panel of these tables, G1 its supply.
inline Netlist fed_by_24_volts(const std::string& conductors, const std::string& parts,
                               const std::string& channels) {
  const StoredFiles files({{"p/conductors.csv", conductors},
                           {"p/parts.csv", parts},
                           {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
                           {"p/channels.csv", channels}});
  auto netlist = load_netlist("p", {}, files);
  if (!netlist) throw std::runtime_error(to_text(netlist.error().front()));
  return std::move(*netlist);
}

/// Variables of `logic_panel` as a program numbers them.
inline constexpr std::uint32_t k_a = 0, k_b = 1, k_level = 4, k_lamp = 5;

/// Field contacts A, B, C, D fed by 24 V, an analog input LEVEL (0 to 100 %), outputs LAMP and MOTOR, an
/// analog output SPEED. The channel list lacks the `sense` of the inputs named: any jumper there is refused.
inline Netlist logic_panel(std::string_view without_sense = "") {
  std::string channels =
      "point,type,address,tag,field,return,sensor,sense,signal,feed,low,high,unit\n"
      "A1:4,AI,%IW4,LEVEL,X1:5.ext,X2:5.ext,,,4-20mA,passive,0,100,%\n"
      "A1:5,DO,%QX0.0,LAMP,X1:6.ext,X2:6.ext,,,,,,,\n"
      "A1:6,DO,%QX0.1,MOTOR,X1:7.ext,X2:7.ext,,,,,,,\n"
      "A1:7,AO,%QW8,SPEED,X1:8.ext,X2:8.ext,,,,,,,\n";
  std::string inputs;
  for (int i = 0; i < 4; ++i) {
    const std::string n = std::to_string(i), terminal = std::to_string(i + 1);
    const std::string tag(1, static_cast<char>('A' + i));
    const std::string sense = without_sense.find(tag) == std::string_view::npos ? "sink" : "";
    inputs += "A1:" + n + ",DI,%IX0." + n + "," + tag + ",X1:" + terminal + ".ext,X2:" + terminal +
              ".ext,contact," + sense + ",,,,,\n";
  }
  channels.insert(channels.find('\n') + 1, inputs);
  std::string conductors = "wire,from,to\n";
  for (int i = 1; i <= 8; ++i) {
    const std::string n = std::to_string(i);
    conductors += n + ",A1:" + std::to_string(i - 1) + ",X1:" + n + ".int\n";
    conductors += "1" + n + "," + (i <= 5 ? "G1:+" : "G1:-") + ",X2:" + n + ".int\n";
  }
  std::string parts = "part,kind,a,b\nG1,supply,+,-\n";
  for (const std::string strip : {"X1:", "X2:"})
    for (int i = 1; i <= 8; ++i) parts += strip + std::to_string(i) + ",terminal,int,ext\n";
  return fed_by_24_volts(conductors, parts, channels);
}

/// So many field contacts I1, I2, ... fed by 24 V, and the output LAMP behind them.
inline Netlist wide_panel(int inputs) {
  std::string channels = "point,type,tag,field,return,sensor,sense\n", conductors = "wire,from,to\n";
  std::string parts = "part,kind,a,b\nG1,supply,+,-\n";
  for (int i = 1; i <= inputs + 1; ++i) {
    const std::string n = std::to_string(i);
    const bool is_lamp = i > inputs;
    channels += "A1:" + n + (is_lamp ? ",DO,LAMP" : ",DI,I" + n) + ",X1:" + n + ".ext,X2:" + n + ".ext," +
                (is_lamp ? ",\n" : "contact,sink\n");
    conductors += n + ",A1:" + n + ",X1:" + n + ".int\n";
    conductors += "r" + n + (is_lamp ? ",G1:-" : ",G1:+") + ",X2:" + n + ".int\n";
    parts += "X1:" + n + ",terminal,int,ext\nX2:" + n + ",terminal,int,ext\n";
  }
  return fed_by_24_volts(conductors, parts, channels);
}

}  // namespace ringtrue::logic
