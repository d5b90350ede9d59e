#pragma once
#include <string>
#include <vector>

#include "ringtrue/load/load.hpp"

namespace ringtrue::logic {

/// Variables of `logic_panel` as a program numbers them.
inline constexpr std::uint32_t k_a = 0, k_b = 1, k_level = 4, k_lamp = 5;

/// Field contacts A, B, C, D, an analog input LEVEL (0 to 100 %), outputs LAMP and MOTOR, an analog output
/// SPEED.
inline Netlist logic_panel() {
  const std::string channels =
      "point,type,address,tag,field,return,sensor,low,high,unit\n"
      "A1:0,DI,%IX0.0,A,X1:1.ext,X2:1.ext,contact,,,\n"
      "A1:1,DI,%IX0.1,B,X1:2.ext,X2:2.ext,contact,,,\n"
      "A1:2,DI,%IX0.2,C,X1:3.ext,X2:3.ext,contact,,,\n"
      "A1:3,DI,%IX0.3,D,X1:4.ext,X2:4.ext,contact,,,\n"
      "A1:4,AI,%IW4,LEVEL,X1:5.ext,X2:5.ext,,0,100,%\n"
      "A1:5,DO,%QX0.0,LAMP,X1:6.ext,X2:6.ext,,,,\n"
      "A1:6,DO,%QX0.1,MOTOR,X1:7.ext,X2:7.ext,,,,\n"
      "A1:7,AO,%QW8,SPEED,X1:8.ext,X2:8.ext,,,,\n";
  std::string conductors = "wire,from,to\n";
  for (int i = 0; i < 8; ++i)
    conductors += std::to_string(i) + ",A1:" + std::to_string(i) + ",X1:" + std::to_string(i + 1) + ".int\n";
  std::string parts = "part,kind,a,b\n";
  for (const std::string strip : {"X1:", "X2:"})
    for (int i = 1; i <= 8; ++i) parts += strip + std::to_string(i) + ",terminal,int,ext\n";
  const StoredFiles files(
      {{"p/conductors.csv", conductors}, {"p/parts.csv", parts}, {"p/channels.csv", channels}});
  auto netlist = load_netlist("p", {}, files);
  if (!netlist) throw std::runtime_error(to_text(netlist.error().front()));
  return std::move(*netlist);
}

}  // namespace ringtrue::logic
