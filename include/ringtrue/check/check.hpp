#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// How much a problem weighs; a notice alone leaves the drawing good.
enum class Severity : std::uint8_t { notice, warning, error };
/// `notice`, `warning`, `error`
[[nodiscard]] std::string_view word(Severity severity);

/// What a wire number stands for on a drawing.
enum class Numbering : std::uint8_t { undecided, per_conductor, per_potential };
/// `undecided`, `per-conductor`, `per-potential`
[[nodiscard]] std::string_view word(Numbering numbering);

/// By which standard the colours of wires are judged.
enum class ColourProfile : std::uint8_t { iec_60204_1, nfpa_79 };
/// `IEC 60204-1`, `NFPA 79`
[[nodiscard]] std::string_view word(ColourProfile profile);

/// One rule of the drawing check.
struct Rule {
  std::string_view id;  ///< stable, in words
  Severity severity;    ///< unless the options say otherwise
  std::string_view line;
  std::string_view source;  ///< a standard, with how sure that is, or `common practice, no source`
};

/// All rules, in the order in which they are listed.
[[nodiscard]] std::span<const Rule> rules();
/// Index into `rules()`; nothing for an unknown id.
[[nodiscard]] std::optional<std::size_t> find_rule(std::string_view id);

/// What the drawing check goes by where the drawing itself does not say.
struct CheckOptions {
  CheckOptions();

  std::vector<std::optional<Severity>> severities;  ///< by rule; nothing = the rule is off
  Numbering numbering = Numbering::undecided;       ///< undecided = find it out from the drawing
  ColourProfile colours = ColourProfile::iec_60204_1;
  /// Conductors that one side of a terminal may hold. Common practice, no source: a terminal holds as many as
  /// it is made for (IEC 60204-1, 13.1.1).
  std::size_t conductors_per_side = 2;
};

/// A row of the drawing that a problem is about.
struct ProblemRow {
  RowSource source;  ///< line 0: the file as a whole
  std::string what;  ///< `wire 101, X0:L1.int to Q0:1`
  std::string_view sheet;
};

/// Something that a rule found wrong.
struct Problem {
  std::size_t rule = 0;  ///< index into `rules()`
  Severity severity = Severity::notice;
  std::string reason;            ///< one sentence
  std::vector<ProblemRow> rows;  ///< at least one; the one to begin with first
};

/// Which numbering was taken, and why.
struct NumberingFound {
  Numbering numbering = Numbering::undecided;
  bool is_given = false;  ///< by the options
  std::size_t conductors =
      0;  ///< numbered ones that share a net with an earlier one: each speaks for one of the two
  double confidence =
      0;  ///< the share of them that speaks for the likelier of the two; 0 where there are none
};

/// What all rules found.
struct CheckReport {
  std::vector<Problem> problems;  ///< by severity, the worst first, then by file and line
  NumberingFound numbering;

  [[nodiscard]] std::size_t count(Severity severity) const;
};

/// Checks a drawing against itself: its numbers, ends, channels, potentials, contacts and colours.
///
/// Rules are independent of each other. What a rule can't know from the drawing it leaves out, so that
/// silence means "nothing found" and not "right". The netlist behind the graph must outlive the report. Cost:
/// linear in conductors, parts and channels, but for sorting, and a trace for each channel.
[[nodiscard]] CheckReport check_drawing(const ConductionGraph& graph, const CheckOptions& options = {});

}  // namespace ringtrue
