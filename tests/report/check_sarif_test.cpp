#include <gtest/gtest.h>

#include "ringtrue/report/check_report.hpp"

namespace ringtrue {
namespace {

/// The URI of a place in this file.
std::string uri_of(const std::string& path) {
  Netlist netlist;
  netlist.files = {path};
  CheckReport report;
  report.problems.push_back({0, Severity::error, "Two of one number.", {{{3, 0}, "wire 12", ""}}});
  const std::string log = check_sarif(netlist, report, "1.0");
  const std::string key = "\"uri\": \"";
  const std::size_t at = log.find(key);
  if (at == log.npos) return log;
  return log.substr(at + key.size(), log.find('"', at + key.size()) - at - key.size());
}

// RFC 3986: unreserved characters (section 2.3) stand for themselves, the bytes of others are percent-encoded
// in capitals (2.1), of UTF-8 one by one (2.5). A first segment must have no colon (4.2).
TEST(CheckSarif, PathsArePercentEncoded) {
  EXPECT_EQ(uri_of("GD1/wires_2-a.b~.csv"), "GD1/wires_2-a.b~.csv");
  EXPECT_EQ(uri_of("/GD1/rev C/wires.csv"), "/GD1/rev%20C/wires.csv");
  EXPECT_EQ(uri_of("GD1#2/50%?.csv"), "GD1%232/50%25%3F.csv");
  EXPECT_EQ(uri_of("=GD1+A/E:1.csv"), "%3DGD1%2BA/E%3A1.csv");
  EXPECT_EQ(uri_of("Dr\xC3\xA4hte.csv"), "Dr%C3%A4hte.csv");
  EXPECT_EQ(uri_of("K\"1\".csv"), "K%221%22.csv");
}

}  // namespace
}  // namespace ringtrue
