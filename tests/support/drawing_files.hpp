#pragma once
#include <gtest/gtest.h>

#include <stdexcept>
#include <string>
#include <vector>

#include "ringtrue/check/check.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/support/temp_folder.hpp"

namespace ringtrue::testing {

/// The files of a small drawing, each with its header; an empty one isn't there.
struct DrawingFiles {
  std::string conductors = "wire,from,to\n1,A1:1,A2:1\n";
  std::string parts = {}, channels = {}, potentials = {};
  std::string panel = "key,value\nsafety,none\n";
};

inline Netlist load(const DrawingFiles& files) {
  const testing_support::ScopedTempFolder folder;
  const auto write = [&](const char* name, const std::string& text) {
    if (!text.empty()) (void)folder.write(name, text);
  };
  write("conductors.csv", files.conductors), write("parts.csv", files.parts);
  write("channels.csv", files.channels), write("potentials.csv", files.potentials);
  write("panel.csv", files.panel);
  Result<Netlist> loaded = load_netlist(folder.path());
  if (!loaded) throw std::runtime_error(to_text(loaded.error().front()));
  return std::move(*loaded);
}

/// The ids of the rules that find something, one per problem, in the order of the report.
inline std::vector<std::string> broken_rules(const Netlist& netlist, const CheckOptions& options = {}) {
  const ConductionGraph graph(netlist);
  std::vector<std::string> ids;
  for (const Problem& problem : check_drawing(graph, options).problems)
    ids.emplace_back(rules()[problem.rule].id);
  return ids;
}

/// A drawing that breaks one rule and nothing else, and one that only just doesn't.
struct RuleCase {
  std::string rule;
  DrawingFiles breaks, just_right;
};

inline void expect_rule(const RuleCase& rule_case) {
  SCOPED_TRACE(rule_case.rule);
  EXPECT_EQ(broken_rules(load(rule_case.breaks)), std::vector<std::string>{rule_case.rule});
  EXPECT_EQ(broken_rules(load(rule_case.just_right)), std::vector<std::string>{});
}

}  // namespace ringtrue::testing
