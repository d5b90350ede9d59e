#include <algorithm>
#include <map>
#include <numeric>

#include "next_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/certificate_report.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;
using report::counted;

constexpr std::size_t k_few_groups = 8;
constexpr std::size_t k_few_faults = 4;

/// Open faults that one sentence is true of: the same reason, or one reading that would show them.
struct AlikeFaults {
  Fate fate = Fate::hidden;
  WhyHidden why = WhyHidden::none;
  std::uint32_t proposed = 0;
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
    open_faults();
    append_wrapped(out_,
                   "It holds for each fault alone, and for the faults that compare looks for; "
                   "it says nothing of insulation, ratings or the right part.",
                   2, 2);
    return std::move(out_);
  }

 private:
  void table();
  void table_row(std::string_view kind, const std::array<std::size_t, k_fates>& counts);
  void open_faults();
  void group(const AlikeFaults& alike);
  [[nodiscard]] std::vector<AlikeFaults> alike_together() const;
  [[nodiscard]] std::string heading(const AlikeFaults& alike) const;
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

std::vector<AlikeFaults> CertificateText::alike_together() const {
  using Key = std::tuple<Fate, WhyHidden, std::uint32_t>;
  std::map<Key, AlikeFaults> groups;
  for (const CertifiedFault& one : report_.certificate.open) {
    const std::uint32_t proposed = one.fate == Fate::hidden ? 0 : one.proposed;
    AlikeFaults& alike = groups[{one.fate, one.why, proposed}];
    alike.fate = one.fate, alike.why = one.why, alike.proposed = proposed;
    alike.faults.push_back(&one.fault);
  }
  std::vector<AlikeFaults> all;
  for (auto& [key, alike] : groups) all.push_back(std::move(alike));
  // What can be done something about, and much at once, comes first.
  std::stable_sort(all.begin(), all.end(), [](const AlikeFaults& a, const AlikeFaults& b) {
    return a.fate != b.fate ? a.fate < b.fate : a.faults.size() > b.faults.size();
  });
  return all;
}

std::string CertificateText::heading(const AlikeFaults& alike) const {
  if (alike.fate == Fate::hidden)
    return counted(alike.faults.size(), "fault") + " hidden: " + std::string(why_hidden(alike.why));
  const ProposedReading& reading = report_.certificate.proposed[alike.proposed];
  const ConditionOverlay& made = report_.comparison.conditions.overlays[reading.condition];
  std::string text = "Read " + point_name(reading.from, made, report_.graph) + " to " +
                     point_name(reading.to, made, report_.graph);
  if (const std::string& condition = report_.readings.conditions[reading.condition]; !condition.empty())
    text += ", " + report::condition_words(condition, detail_);
  text += reading.expected == ValueKind::beep ? " (drawn a beep): " : " (drawn open): ";
  return text + (alike.fate == Fate::left_out ? "shows " : "may show ") +
         counted(alike.faults.size(), "fault");
}

void CertificateText::group(const AlikeFaults& alike) {
  std::vector<std::string> names;
  const std::size_t shown = at_most(k_few_faults, alike.faults.size());
  for (std::size_t i = 0; i < shown; ++i)
    names.push_back(report::in_short(*alike.faults[i], report_.graph, report_.readings));
  std::string text = report::joined(names, "; ");
  if (shown < alike.faults.size()) text += " and " + std::to_string(alike.faults.size() - shown) + " more";
  append_wrapped(out_, heading(alike) + ".", 2, 4);
  append_wrapped(out_, text, 4, 6);
}

void CertificateText::open_faults() {
  const std::vector<AlikeFaults> groups = alike_together();
  std::size_t shown = 0;
  for (const Fate fate : {Fate::left_out, Fate::uncertain, Fate::hidden}) {
    const auto is_of_fate = [fate](const AlikeFaults& alike) { return alike.fate == fate; };
    const auto first = std::find_if(groups.begin(), groups.end(), is_of_fate);
    const auto last = std::find_if_not(first, groups.end(), is_of_fate);
    const auto all = static_cast<std::size_t>(last - first);
    const std::size_t few = at_most(k_few_groups, all);
    for (std::size_t i = 0; i < few; ++i) group(first[static_cast<std::ptrdiff_t>(i)]);
    shown += few;
  }
  const auto& shorts = report_.certificate.counts[static_cast<std::size_t>(FaultKind::short_circuit)];
  if (shorts[static_cast<std::size_t>(Fate::left_out)] != 0)
    append_wrapped(out_,
                   "Shorts that are left out are only counted: a reading between the two points shows each.",
                   2, 4);
  if (shown < groups.size())
    append_wrapped(out_, "And " + std::to_string(groups.size() - shown) + " more groups (--all shows them).",
                   2, 4);
}

}  // namespace

std::string certificate_text(const CertificateReport& report, Detail detail) {
  return CertificateText(report, detail).write();
}

}  // namespace ringtrue
