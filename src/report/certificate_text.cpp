#include <algorithm>
#include <array>
#include <numeric>
#include <unordered_map>

#include "next_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/certificate_report.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;
using report::counted;

constexpr std::size_t k_few_groups = 8;
constexpr std::size_t k_few_faults = 4;

/// Open faults that one line tells of: those that one reading would show, or with one reason.
struct AlikeFaults {
  std::string reason;
  std::vector<const Fault*> faults;
};

std::string_view why_hidden(WhyHidden why) {
  switch (why) {
    case WhyHidden::same_copper:
      return "other copper runs beside it, so that the same points stay joined";
    case WhyHidden::no_probe_point:
      return "only points of field devices that are not there are concerned";
    case WhyHidden::does_not_conduct:
      return "under none of the conditions does it conduct";
    case WhyHidden::none:
      break;
  }
  return {};
}

class CertificateText {
 public:
  CertificateText(const CertificateReport& report, Detail detail) : report_(report), detail_(detail) {}

  [[nodiscard]] std::string write() {
    table();
    open_faults(Fate::left_out, "Left out; a reading would show them:");
    const auto& shorts = report_.certificate.counts[static_cast<std::size_t>(FaultKind::short_circuit)];
    if (shorts[static_cast<std::size_t>(Fate::left_out)] != 0)
      append_wrapped(out_, "shorts are only counted: a reading between the two points shows each", 4, 6);
    open_faults(Fate::uncertain, "Uncertain; a reading may show them, which rests on the value of a load:");
    open_faults(Fate::hidden, "Hidden:");
    if (const std::size_t left = report_.certificate.not_asked; left != 0)
      append_wrapped(out_,
                     "Not asked, for a panel of this size: " + std::to_string(left) +
                         " landings, exchanges and joints from one part to another.",
                     2, 2);
    append_wrapped(out_,
                   "It holds for each fault alone, and for the faults that compare looks for; "
                   "it says nothing of insulation, ratings or the right part.",
                   2, 2);
    return std::move(out_);
  }

 private:
  void table();
  void table_row(std::string_view kind, const std::array<std::size_t, k_fates>& counts);
  void open_faults(Fate fate, std::string_view title);
  void alike_faults(const AlikeFaults& alike);
  [[nodiscard]] std::vector<AlikeFaults> alike_together(Fate fate) const;
  [[nodiscard]] std::string reason(const CertifiedFault& fault) const;
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }

  const CertificateReport& report_;
  Detail detail_;
  std::string out_;
};

void CertificateText::table_row(std::string_view kind, const std::array<std::size_t, k_fates>& counts) {
  constexpr std::size_t k_kind_width = 16, k_width = 10;
  std::string line = "  " + report::padded(kind, k_kind_width);
  const auto put = [&](std::size_t count) {
    const std::string text = std::to_string(count);
    line.append(k_width - std::min(k_width, text.size()), ' ').append(text);
  };
  put(std::accumulate(counts.begin(), counts.end(), std::size_t{0}));
  for (const std::size_t count : counts) put(count);
  out_ += line + '\n';
}

void CertificateText::table() {
  out_ += "Certificate: every single fault of the drawing against these readings\n";
  out_ += "  kind                   all  revealed  left out uncertain    hidden\n";
  std::array<std::size_t, k_fates> sum{};
  for (std::size_t kind = 0; kind < k_fault_kinds; ++kind) {
    const auto& counts = report_.certificate.counts[kind];
    for (std::size_t fate = 0; fate < k_fates; ++fate) sum[fate] += counts[fate];
    if (std::any_of(counts.begin(), counts.end(), [](std::size_t count) { return count != 0; }))
      table_row(word(static_cast<FaultKind>(kind)), counts);
  }
  table_row("in all", sum);
  append_wrapped(out_,
                 "Revealed: with the fault a reading comes out otherwise, whatever the loads are. Left out: "
                 "one that is not in the plan would. Uncertain: it rests on the value of a load. Hidden: no "
                 "two probes can see it.",
                 2, 2);
}

std::string CertificateText::reason(const CertifiedFault& fault) const {
  if (fault.fate == Fate::hidden) return std::string(why_hidden(fault.why));
  const ProposedReading& reading = report_.certificate.proposed[fault.proposed];
  const ConditionOverlay& made = report_.comparison.conditions.overlays[reading.condition];
  std::string text =
      point_name(reading.from, made, report_.graph) + " to " + point_name(reading.to, made, report_.graph);
  if (const std::string& condition = report_.readings.conditions[reading.condition]; !condition.empty())
    text += ", " + report::condition_words(condition, detail_);
  return text + (reading.expected == ValueKind::beep   ? " (drawn a beep)"
                 : reading.expected == ValueKind::open ? " (drawn open)"
                                                       : " (in ohms)");
}

std::vector<AlikeFaults> CertificateText::alike_together(Fate fate) const {
  std::vector<AlikeFaults> groups;
  std::unordered_map<std::string, std::size_t> place;
  for (const CertifiedFault& one : report_.certificate.open) {
    if (one.fate != fate) continue;
    const auto [at, is_new] = place.try_emplace(reason(one), groups.size());
    if (is_new) groups.push_back({at->first, {}});
    groups[at->second].faults.push_back(&one.fault);
  }
  std::stable_sort(groups.begin(), groups.end(), [](const AlikeFaults& a, const AlikeFaults& b) {
    return a.faults.size() > b.faults.size();
  });
  return groups;
}

void CertificateText::alike_faults(const AlikeFaults& alike) {
  std::vector<std::string> names;
  const std::size_t limit = at_most(k_few_faults, alike.faults.size());
  std::size_t told = 0;
  for (; told < alike.faults.size(); ++told) {
    // Exchanges of the same two wires at other ends have the same name, which is told once.
    std::string name = report::in_short(*alike.faults[told], report_.graph, report_.readings);
    if (std::find(names.begin(), names.end(), name) != names.end()) continue;
    if (names.size() == limit) break;
    names.push_back(std::move(name));
  }
  std::string text = alike.reason + ": " + report::joined(names, "; ");
  if (told < alike.faults.size()) text += " and " + std::to_string(alike.faults.size() - told) + " more";
  append_wrapped(out_, text, 4, 6);
}

void CertificateText::open_faults(Fate fate, std::string_view title) {
  const std::vector<AlikeFaults> groups = alike_together(fate);
  if (groups.empty()) return;
  out_.append(2, ' ').append(title) += '\n';
  const std::size_t shown = at_most(k_few_groups, groups.size());
  std::size_t rest = 0;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    if (i < shown)
      alike_faults(groups[i]);
    else
      rest += groups[i].faults.size();
  }
  if (rest != 0)
    out_ += "    and " + counted(groups.size() - shown, "more reading") + ", for " + counted(rest, "fault") +
            " (--all shows them)\n";
}

}  // namespace

std::string certificate_text(const CertificateReport& report, Detail detail) {
  return CertificateText(report, detail).write();
}

}  // namespace ringtrue
