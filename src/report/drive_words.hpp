#pragma once
#include <string>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/report/drive_report.hpp"

namespace ringtrue::report {

/// Phrases of the drive sheet, for one output.
class DriveWords {
 public:
  DriveWords(const ConductionGraph& graph, const DrivenOutput& output) : graph_(graph), output_(output) {}

  /// `join X3:2.ext to X13:2.ext (HOPPER_STOCK)`, one per source that is set otherwise than before.
  [[nodiscard]] std::vector<std::string> actions(const logic::Choice& before,
                                                 const logic::Choice& after) const;
  /// Steps that need something before any of the others: selectors, simulators, what is held.
  [[nodiscard]] std::vector<std::string> at_rest() const;

  /// Why the output is not simply driven; empty where it is.
  [[nodiscard]] std::string reason() const;
  [[nodiscard]] std::vector<std::string> box() const;  ///< what a box with real stop devices is wired to
  /// `coil K2:A1-A2, which moves contacts K2:1-2, K2:21-22`; says so where nothing is there.
  [[nodiscard]] std::string responds() const;
  [[nodiscard]] std::string measure() const;
  [[nodiscard]] std::string cause(const logic::Unpaired& unpaired) const;

  [[nodiscard]] std::string input_name(std::uint32_t variable) const;
  [[nodiscard]] const Channel& channel(std::uint32_t variable) const;
  [[nodiscard]] std::string value_text(std::uint32_t variable, double value) const;

 private:
  [[nodiscard]] std::string terminals(std::uint32_t variable) const;
  [[nodiscard]] std::string action(const logic::Source& source, std::size_t option) const;
  [[nodiscard]] std::string lit(const logic::Source& source, std::size_t option) const;
  [[nodiscard]] std::string couplers() const;  ///< devices that move several inputs, or follow
  [[nodiscard]] const logic::Source& source_of(std::uint32_t variable) const;
  [[nodiscard]] std::string names_of(const std::vector<std::uint32_t>& variables) const;

  const ConductionGraph& graph_;
  const DrivenOutput& output_;
};

}  // namespace ringtrue::report
