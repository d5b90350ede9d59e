#include <numeric>

#include "reading_words.hpp"
#include "ringtrue/report/faults_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;
using report::joined;
using report::number_text;
using report::padded;

constexpr std::size_t k_kind_width = 14;
constexpr std::size_t k_count_width = 8;
constexpr std::size_t k_prior_width = 20;
constexpr std::size_t k_probability_width = 8;

/// What the kind is, in a line.
std::string_view meaning(FaultKind kind) {
  switch (kind) {
    case FaultKind::open:
      return "a conductor, terminal, fuse, contact, path or load that does not conduct";
    case FaultKind::missing_bridge:
      return "a bridge or busbar that is drawn and not there";
    case FaultKind::miswire:
      return "a conductor end on another point than drawn";
    case FaultKind::swap:
      return "two conductor ends, each on the point of the other";
    case FaultKind::shift:
      return "a run of 3 to 32 wires one or two places off, or two connectors exchanged";
    case FaultKind::short_circuit:
      return "two nets joined that are drawn apart";
    case FaultKind::extra_bridge:
      return "neighbouring terminals joined that are drawn apart";
    case FaultKind::wrong_contact:
      return "a contact NO that is drawn NC, or NC that is drawn NO";
    case FaultKind::reversed:
      return "a diode fitted the wrong way round";
    case FaultKind::wrong_value:
      return "a load of another value; copper of too high a value, where ohms were read";
    case FaultKind::bad_reading:
      return "a reading that is not to be believed";
  }
  return {};
}

class FaultsText {
 public:
  FaultsText(const FaultsReport& report, Detail detail) : report_(report), detail_(detail) {}

  [[nodiscard]] std::string write() {
    heading();
    for (std::size_t kind = 0; kind < k_fault_kinds; ++kind) append_kind(static_cast<FaultKind>(kind));
    how_they_are_counted();
    if (detail_ == Detail::everything) list();
    return std::move(out_);
  }

 private:
  void heading() {
    const std::size_t all = std::accumulate(report_.counts.begin(), report_.counts.end(), std::size_t{0});
    append_wrapped(out_,
                   panel_label(report_.graph.netlist().panel) + ": " +
                       report::counted(all, "possible fault") +
                       ", of which explanations of these readings are made",
                   0, 2);
    out_ += '\n';
  }

  void append_kind(FaultKind kind) {
    const std::string count = std::to_string(report_.counts[static_cast<std::size_t>(kind)]);
    const std::size_t blanks = k_count_width - std::min(k_count_width, count.size());
    append_entry(out_, 2, padded(word(kind), k_kind_width) + std::string(blanks, ' ') + count + " ",
                 k_kind_width + k_count_width + 1, meaning(kind));
    for (const PriorRow& row : prior_rows())
      if (row.kind == kind) append_prior(row);
  }

  void append_prior(const PriorRow& row) {
    const double prior = report_.priors.*row.value, estimate = Priors{}.*row.value;
    const std::string source =
        prior == estimate ? std::string(row.source) : "as set; estimate " + number_text(estimate);
    append_entry(out_, 4, padded(row.name, k_prior_width) + " " + number_text(prior),
                 k_prior_width + 1 + k_probability_width, std::string(row.counts) + " (" + source + ")");
  }

  void how_they_are_counted() {
    out_ += '\n';
    append_wrapped(
        out_,
        "Points that copper joins and no condition of these readings parts are one piece of copper. "
        "An end counts as landed once on each piece other than its own, and two pieces as joined "
        "once, each at neighbours where there are any, else at its first point. In an explanation no end, "
        "element, pair of pieces or "
        "reading is in more than one fault. A prior over several places is divided among them.",
        0, 0);
    if (detail_ != Detail::everything) out_ += "--all lists every one of these faults.\n";
  }

  void list() {
    out_ += "\nEach with its probability before any reading:\n";
    for (const PossibleFault& one : report_.faults)
      out_ += "  " + padded(number_text(one.probability), k_probability_width) + "  " +
              padded(word(one.fault.kind), k_kind_width) + "  " + line_of(one.fault) + '\n';
  }

  /// `5, 14: X1:4.int, X1:5.int`; what was found stands behind an arrow.
  [[nodiscard]] std::string line_of(const Fault& fault) const {
    const FaultParts parts = fault_parts(fault, report_.graph, report_.readings);
    std::string line = joined(parts.elements);
    if (fault.kind == FaultKind::bad_reading) line = report::reading_label(report_.readings, fault.reading);
    if (!line.empty()) line += ": ";
    line += joined(parts.ends);
    if (!parts.ends.empty() && !parts.points.empty()) line += " -> ";
    line += joined(parts.points);
    return line + (fault.above ? ", too high for a buzzer" : "");
  }

  const FaultsReport& report_;
  Detail detail_;
  std::string out_;
};

}  // namespace

std::string faults_text(const FaultsReport& report, Detail detail) {
  return FaultsText(report, detail).write();
}

}  // namespace ringtrue
