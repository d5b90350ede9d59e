// What is to be measured at an output, and what a result is judged by.
#include <gtest/gtest.h>

#include "ringtrue/load/load.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "ringtrue/report/io_record.hpp"

namespace ringtrue {
namespace {

/// An output fed at A1:L, its coil's other end returned; lines of 230 V, two supplies.
Netlist panel_with(const std::string& feed, const std::string& back, const std::string& further = "",
                   const std::string& beside_minus = "0") {
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to\n1," + feed + ",A1:L\n2,A1:1,K1:A1\n3,K1:A2," + back + "\n" + further},
       {"p/parts.csv", "part,kind,a,b\nG1,supply,+,-\nG2,supply,+,-\nK1,coil,A1,A2\n"},
       {"p/potentials.csv", "name,kind,volts,point\n+24V1,dc+,24,G1:+\n0V1,dc-," + beside_minus +
                                ",G1:-\n+24V2,dc+,24,G2:+\n0V2,dc-,0,G2:-\n"
                                "L1,ac-line,230,X0:1.ext\nL2,ac-line,230,X0:2.ext\nN,ac-neutral,0,X0:3.ext\n"
                                "PE,pe,0,X0:4.ext\n"},
       {"p/channels.csv", "point,type,tag,field,return,common\nA1:1,DO,MOTOR,K1:A1,K1:A2,A1:L\n"}});
  return load_netlist("p", {}, files).value();
}

std::string sheet_of(const Netlist& netlist) {
  const ConductionGraph graph(netlist);
  const auto program =
      logic::parse_logic("VAR t : TON; END_VAR t(IN := NOT t.Q, PT := T#1s); MOTOR := t.Q;", "p.st", netlist);
  const JumperOptions options;
  const logic::Fittings fittings = logic::fittings_of(graph, nullptr, options);
  DriveReport report{graph, "p.st", fittings, options, {}, {}};
  report.outputs.push_back({logic::drive_output(*program, 0, graph, fittings), logic::outlet_of(graph, 0)});
  return drive_text(report);
}

/// What a result at the output is judged by.
OutputRecord record_of(const Netlist& netlist) {
  const ConductionGraph graph(netlist);
  return output_record(logic::outlet_of(graph, 0), graph);
}

bool says(const std::string& text, const std::string& what) { return text.find(what) != text.npos; }

void expect_volts(const Netlist& netlist, double volts, const std::string& kind, bool is_field_plus) {
  const std::string stated = std::to_string(static_cast<int>(volts)) + " V " + kind + " while on";
  EXPECT_TRUE(says(sheet_of(netlist), ": " + stated));
  EXPECT_TRUE(says(record_of(netlist).expected(), "; " + stated));
  EXPECT_EQ(record_of(netlist).is_field_plus, is_field_plus);
}

TEST(OutputVolts, OfTwoPolesAreTheirDifference) {
  expect_volts(panel_with("G1:+", "G1:-"), 24, "DC", true);
  expect_volts(panel_with("G1:-", "G1:+"), 24, "DC", false);
  expect_volts(panel_with("X0:1.int", "X0:3.int"), 230, "AC", false);
  expect_volts(panel_with("G1:+", "G2:-", "9,G1:-,G2:-\n"), 24, "DC", true);
}

TEST(OutputVolts, BesideAMinusThoseOfItsSupplyMayBeWritten) {
  for (const char* const beside : {"24", ""})
    expect_volts(panel_with("G1:+", "G1:-", "", beside), 24, "DC", true);
}

TEST(OutputVolts, OfAnythingElseAreNotStated) {
  for (const auto& [feed, back] :
       {std::pair("X0:1.int", "X0:2.int"), std::pair("G1:+", "G2:-"), std::pair("G1:+", "X0:3.int"),
        std::pair("X0:1.int", "G1:-"), std::pair("G1:+", "G1:+"), std::pair("G1:+", "X0:4.int")}) {
    const Netlist netlist = panel_with(feed, back);
    const std::string sheet = sheet_of(netlist);
    EXPECT_TRUE(says(sheet, "volts not stated")) << feed << ' ' << back;
    EXPECT_FALSE(says(sheet, "while on")) << feed << ' ' << back;
    EXPECT_EQ(record_of(netlist).volts, std::nullopt) << feed << ' ' << back;
  }
}

}  // namespace
}  // namespace ringtrue
