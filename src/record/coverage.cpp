#include <numeric>
#include <set>

#include "record/elements.hpp"
#include "record/sheets.hpp"
#include "ringtrue/diagnose/certificate.hpp"

namespace ringtrue::record {

namespace {

/// One line of numbers.
struct Counts {
  std::size_t right = 0, wrong = 0, not_tested = 0, not_checkable = 0;
};

Row row_of(std::string_view what, const Counts& counts, std::string_view meaning) {
  return {what,
          counts.right + counts.wrong + counts.not_tested + counts.not_checkable,
          counts.right,
          counts.wrong,
          counts.not_tested,
          counts.not_checkable,
          meaning};
}

void count(const ElementStanding& one, Counts& counts) {
  switch (one.state) {
    case ElementState::proven:
      ++counts.right;
      break;
    case ElementState::in_finding:
      ++counts.wrong;
      break;
    case ElementState::not_proven:
      ++counts.not_tested;
      break;
    case ElementState::absent:
      ++counts.not_checkable;
      break;
  }
}

Counts of_channels(const RecordSource& source) {
  Counts counts;
  for (const ChannelResult& channel : source.findings.channels)
    ++(channel.state == ChannelState::proven   ? counts.right
       : channel.state == ChannelState::faulty ? counts.wrong
                                               : counts.not_tested);
  return counts;
}

/// A channel has a row for each of its results, all of which show the same.
Counts of_io(const RecordSheet& io) {
  Counts counts;
  std::set<std::string_view> told;
  for (const Row& row : io.rows) {
    const std::string& shown = cell_of(io, row, "shown").text;
    if (cell_of(io, row, "type").text.empty() || !told.insert(cell_of(io, row, "channel").text).second)
      continue;
    ++(shown == "pass"            ? counts.right
       : shown == "fail"          ? counts.wrong
       : shown == "not checkable" ? counts.not_checkable
                                  : counts.not_tested);
  }
  return counts;
}

bool is_joint(std::string_view kind) {
  return kind == word(FaultKind::short_circuit) || kind == word(FaultKind::extra_bridge);
}

/// What the likeliest explanations say is there, no agreeing reading excludes.
void take_out_found(const RecordSource& source, Counts& joints, Counts& others) {
  for (const Cluster& cluster : source.findings.clusters) {
    if (cluster.diagnoses.empty()) continue;
    for (const Fault& fault : cluster.diagnoses.front().faults) {
      if (fault.kind == FaultKind::bad_reading) continue;
      Counts& counts = is_joint(word(fault.kind)) ? joints : others;
      ++counts.wrong;
      std::size_t& place = counts.not_tested != 0 ? counts.not_tested : counts.not_checkable;
      if (place != 0) --place;
    }
  }
}

Certificate certificate_of(const RecordSource& source) {
  CertifyOptions options;
  if (has_very_many_faults(source.graph)) {
    options.comes_first = [&](const Fault& fault) { return is_near(fault, source.graph); };
    options.first_only = options.revealed_only = true;
  }
  return certify(source.graph, source.contents.panel.readings, source.comparison, options);
}

std::size_t of(const Certificate& certificate, std::size_t kind, Fate fate) {
  return certificate.counts[kind][static_cast<std::size_t>(fate)];
}

}  // namespace

RecordSheet certificate_sheet(const RecordSource& source) {
  RecordSheet sheet{"certificate",
                    "Certificate",
                    "Every single fault of the drawing against the agreeing readings. Two faults that mask "
                    "each other can defeat it.",
                    "The drawing has nothing that could be faulty.",
                    {{"kind", "Fault"},
                     {"all", "All", Kind::number},
                     {"revealed", "Revealed", Kind::number},
                     {"left_out", "Left out", Kind::number},
                     {"uncertain", "Uncertain", Kind::number},
                     {"hidden", "Hidden", Kind::number}},
                    {}};
  const Certificate certificate = certificate_of(source);
  if (has_very_many_faults(source.graph))
    sheet.meaning =
        "On a panel of this size the single faults that are one part off at most, against the agreeing "
        "readings. "
        "What none reveals counts as left out, though nothing may show it. Two faults that mask each other "
        "can "
        "defeat it.";
  for (std::size_t kind = 0; kind < k_fault_kinds; ++kind) {
    if (static_cast<FaultKind>(kind) == FaultKind::bad_reading) continue;
    const auto& counts = certificate.counts[kind];
    sheet.rows.push_back({word(static_cast<FaultKind>(kind)),
                          std::accumulate(counts.begin(), counts.end(), std::size_t{0}),
                          of(certificate, kind, Fate::revealed), of(certificate, kind, Fate::left_out),
                          of(certificate, kind, Fate::uncertain), of(certificate, kind, Fate::hidden)});
  }
  if (certificate.not_asked != 0)
    sheet.rows.push_back({"others, not asked", certificate.not_asked, std::size_t{0}, certificate.not_asked,
                          std::size_t{0}, std::size_t{0}});
  return sheet;
}

RecordSheet coverage_sheet(const RecordSource& source, const RecordSheet& io,
                           const RecordSheet& certificate) {
  RecordSheet sheet{"coverage",
                    "Tested and not tested",
                    "In numbers; the lists below name each.",
                    "",
                    {{"what", "What"},
                     {"all", "All", Kind::number},
                     {"right", "Shown right", Kind::number},
                     {"wrong", "Wrong", Kind::number},
                     {"not_tested", "Not tested", Kind::number},
                     {"not_checkable", "Not checkable", Kind::number},
                     {"meaning", "Meaning"}},
                    {}};
  Counts wiring, loads, joints, others;
  for (const ElementStanding& one : standings(source))
    count(one, source.graph.is_hard(one.element) ? wiring : loads);
  for (const Row& row : certificate.rows) {
    const std::string& kind = cell_of(certificate, row, "kind").text;
    Counts& counts = is_joint(kind) ? joints : others;
    const auto number = [&](std::string_view key) {
      return cell_of(certificate, row, key).number.value_or(0);
    };
    counts.right += number("revealed");
    counts.not_tested += number("left_out");
    counts.not_checkable += number("uncertain") + number("hidden");
  }
  take_out_found(source, joints, others);
  sheet.rows = {
      row_of("presence of conductors, terminals, contacts", wiring,
             "Wrong: a finding touches it. Not checkable: of field devices and their cables, absent here."),
      row_of("presence of loads", loads,
             "Coils, lamps, supplies and the like; ohms prove them, a beep doesn't."),
      row_of("absence of wrong connections", joints,
             "Shorts and extra bridges that readings exclude. Not checkable: no two probes show it for "
             "certain."),
      row_of("other single faults", others,
             "Each that readings would have shown, by kind in the certificate."),
      row_of("channels, wiring", of_channels(source), "Signal, return and common path of each channel."),
      row_of("channels, I/O test", of_io(io),
             "Not tested: also LED only, incomplete, or passed before a revision that touched it.")};
  return sheet;
}

}  // namespace ringtrue::record
