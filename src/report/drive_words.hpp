#pragma once
#include <string>
#include <utility>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/report/drive_report.hpp"

namespace ringtrue::report {

/// Phrases of the drive sheet, for one output.
class DriveWords {
 public:
  DriveWords(const DriveReport& report, const DrivenOutput& output) : report_(report), output_(output) {}

  /// Why the output is not simply driven; empty where it is.
  [[nodiscard]] std::string reason() const;
  /// `coil K2:A1-A2, with contacts K2:1-2, K2:21-22`; says so where nothing is there.
  [[nodiscard]] std::string responds() const;
  [[nodiscard]] std::string measure() const;
  [[nodiscard]] std::string cause(const logic::Unpaired& unpaired,
                                  const std::vector<logic::Source>& sources) const;

  [[nodiscard]] const logic::Drive& drive() const { return output_.drive; }
  [[nodiscard]] logic::DriveVerdict verdict() const {
    return logic::verdict_of(output_.drive, output_.outlet);
  }
  [[nodiscard]] std::string input_name(std::uint32_t variable) const;
  [[nodiscard]] const Channel& channel(std::uint32_t variable) const;

  /// `S5 at 0 (AUTOMATIC = 0, HAND = 0)`: of what isn't plainly absent at rest, and of what stays.
  [[nodiscard]] std::vector<std::string> at_rest(const std::vector<logic::Source>& sources) const;
  /// What to do to come from a setting to that of the step, a phrase per source in the order in which to do
  /// it. `with_terminals` says where.
  [[nodiscard]] std::vector<std::string> actions(const std::vector<logic::Source>& sources,
                                                 const logic::Choice& before, const logic::Step& step,
                                                 bool with_terminals) const;
  /// How things are in a setting, where it differs from another.
  [[nodiscard]] std::vector<std::string> states(const std::vector<logic::Source>& sources,
                                                const logic::Choice& other,
                                                const logic::Choice& choice) const;

 private:
  [[nodiscard]] std::string terminals(std::uint32_t variable) const;
  [[nodiscard]] std::string two_terminals(std::uint32_t variable) const;
  [[nodiscard]] std::vector<std::string> why_held() const;
  [[nodiscard]] std::string values(const logic::Source& source, std::size_t option) const;
  /// ` (12.000 mA)`: what is fed for that value.
  [[nodiscard]] std::string signal(std::uint32_t variable, double value) const;
  [[nodiscard]] std::string value_text(std::uint32_t variable, double value) const;
  [[nodiscard]] std::string action(const logic::Source& source, std::size_t option,
                                   bool with_terminals) const;
  [[nodiscard]] std::string state(const logic::Source& source, std::size_t option) const;
  [[nodiscard]] bool is_analog(const logic::Source& source) const;
  [[nodiscard]] std::string couplers() const;  ///< devices that move several inputs, or follow
  [[nodiscard]] std::string why_refused(std::uint32_t variable) const;
  [[nodiscard]] std::string names_of(const std::vector<std::uint32_t>& variables) const;
  [[nodiscard]] std::string held_names() const;

  const DriveReport& report_;
  const DrivenOutput& output_;
};

/// Inputs at which the tests of all outputs fit or connect something, by channel, each with how.
[[nodiscard]] std::vector<std::pair<std::size_t, logic::How>> fitted_channels(const DriveReport& report);
/// `jumper from X13:1.ext to X3:1.ext`, `PNP sensor...`
[[nodiscard]] std::string fitting_words(std::size_t channel, const DriveReport& report);
/// What stands before it, briefly; empty where nothing does.
[[nodiscard]] std::vector<std::string> fitting_reasons(std::size_t channel, const DriveReport& report);
/// All of it: `jumper from X13:1.ext to X3:1.ext: hold; read first: ...`
[[nodiscard]] std::string judged_fitting_words(std::size_t channel, const DriveReport& report);

}  // namespace ringtrue::report
