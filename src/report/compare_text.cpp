#include <algorithm>
#include <array>
#include <numeric>

#include "element_words.hpp"
#include "finding_text.hpp"
#include "notes_text.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/stale_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "unproven.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;
using report::counted;

constexpr std::size_t k_few_faulty = 40;
constexpr std::size_t k_few_groups = 12;
constexpr std::size_t k_few_in_group = 12;
constexpr std::size_t k_few_elements = 8;
constexpr std::size_t k_state_width = 9;
constexpr std::size_t k_few_names = 10;

class CompareText {
 public:
  CompareText(const CompareReport& report, Detail detail) : report_(report), detail_(detail) {}

  using Section = void (CompareText::*)();
  static constexpr std::array<Section, 7> sections();
  [[nodiscard]] std::string write(Section section) {
    (this->*section)();
    return std::move(out_);
  }

 private:
  void summary();
  void findings();
  void not_used();
  void notes() { report::NotesText(report_, detail_).append(out_); }
  void readings_with(Standing standing, std::string_view heading);
  void stale(std::string_view heading, std::vector<StaleReadings> groups, bool having_place);
  void channels();
  void faulty_channels();
  void waiting_channels();
  void more_channels(std::string_view state, std::size_t how_many);
  [[nodiscard]] std::size_t readings_without_side() const;
  void not_proven();
  void cautions();

  [[nodiscard]] const Netlist& netlist() const { return report_.graph.netlist(); }
  [[nodiscard]] std::size_t count(ChannelState state) const;
  void conflicts();
  [[nodiscard]] std::string completeness() const;
  [[nodiscard]] std::string cut_short() const;
  [[nodiscard]] std::string channel_label(std::size_t channel) const;
  [[nodiscard]] std::string list_of(std::span<const ElementId> elements) const;
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }

  const CompareReport& report_;
  Detail detail_;
  std::string out_;
};

std::size_t CompareText::count(ChannelState state) const {
  const auto& channels = report_.findings.channels;
  return static_cast<std::size_t>(std::count_if(channels.begin(), channels.end(),
                                                [&](const ChannelResult& c) { return c.state == state; }));
}

void CompareText::summary() {
  const Comparison& c = report_.comparison;
  append_wrapped(out_, panel_label(netlist().panel) + ": " + counted(report_.readings.rows.size(), "reading"),
                 0, 2);
  std::string line = std::to_string(c.agree) + " agree, " + std::to_string(c.disagree) + " disagree";
  if (c.either != 0) line += ", " + std::to_string(c.either) + " fit either way";
  if (c.unknown != 0) line += ", " + std::to_string(c.unknown) + " at points the drawing lacks";
  if (c.stale != 0) line += ", " + std::to_string(c.stale) + " stale";
  if (c.unstable != 0) line += ", " + std::to_string(c.unstable) + " unstable";
  append_wrapped(out_, line, 2, 2);
  if (report_.findings.channels.empty()) return;
  append_wrapped(out_,
                 "Channels: " + std::to_string(count(ChannelState::proven)) + " proven, " +
                     std::to_string(count(ChannelState::faulty)) + " faulty, " +
                     std::to_string(count(ChannelState::unproven)) + " unproven",
                 2, 2);
}

void CompareText::findings() {
  const auto& clusters = report_.findings.clusters;
  if (clusters.empty()) {
    if (report_.comparison.agree != 0)
      out_ += "\nNo findings: no reading contradicts this revision of the drawing.\n";
    return;
  }
  report::FindingText text(report_, detail_);
  for (std::size_t i = 0; i < clusters.size(); ++i) {
    out_ += '\n';
    text.append(out_, i);
  }
  conflicts();
  if (text.rests_on_loads()) {
    out_ += '\n';
    append_wrapped(out_,
                   "Where ohms stand behind \"no beep\", loads join the two nets on the drawing, and the "
                   "ohms are what they "
                   "have at the least. Unplug them or lift a lead and read again to be sure.",
                   0, 0);
  }
  const bool lists_any =
      std::any_of(clusters.begin(), clusters.end(), [](const Cluster& c) { return !c.diagnoses.empty(); });
  if (!lists_any) return;
  out_ += '\n';
  append_wrapped(out_, completeness(), 0, 0);
  if (detail_ == Detail::everything)
    append_wrapped(out_,
                   "Tried for this: " + counted(report_.findings.nodes_expanded, "set") + " of faults; " +
                       counted(report_.findings.nets_relabelled, "net") + " labelled anew.",
                   0, 0);
}

void CompareText::conflicts() {
  for (const Conflict& conflict : report_.findings.conflicts) {
    std::vector<std::string> numbers;
    for (const std::size_t cluster : conflict.clusters) numbers.push_back(std::to_string(cluster + 1));
    out_ += '\n';
    append_wrapped(out_,
                   "Findings " + report::joined(numbers) +
                       " stand in each other's way: with the first explanation of each, " +
                       report::reading_label(report_.readings, conflict.reading) +
                       " would have come out otherwise. Not all of them hold.",
                   0, 0);
  }
}

std::string CompareText::completeness() const {
  const auto& clusters = report_.findings.clusters;
  const DiagnoseOptions& options = report_.options;
  const bool is_all_uncertain = std::all_of(clusters.begin(), clusters.end(), [&](const Cluster& cluster) {
    return cluster.complete_up_to < options.max_faults;
  });
  if (is_all_uncertain) return "The search was cut short; explanations may be missing.";
  const bool is_apart = !options.joint && clusters.size() > 1;
  std::string text = is_apart ? "Listed for each finding are all single faults that explain its readings"
                              : "Listed are all single faults that explain the readings";
  text += ", down to " + report::share_text(options.least_single_share) +
          " of the probability of the first explanation";
  if (options.max_faults > 1)
    text += ", and all sets of up to " + std::to_string(options.max_faults) + " faults, down to " +
            report::share_text(options.least_share) + " of it";
  text += ".";
  text += cut_short();
  if (is_apart) text += " Different findings are explained apart (--joint explains them together).";
  return text;
}

/// Where the lists had to end earlier.
std::string CompareText::cut_short() const {
  std::vector<std::string> ended, uncertain;
  for (std::size_t i = 0; i < report_.findings.clusters.size(); ++i) {
    const Cluster& cluster = report_.findings.clusters[i];
    if (!cluster.cut_short || cluster.diagnoses.empty()) continue;
    const bool is_uncertain = cluster.complete_up_to < report_.options.max_faults;
    (is_uncertain ? uncertain : ended).push_back(std::to_string(i + 1));
  }
  const auto for_findings = [](const std::vector<std::string>& numbers) {
    return (numbers.size() == 1 ? " For finding " : " For findings ") + report::joined(numbers);
  };
  std::string text;
  if (!ended.empty()) text += for_findings(ended) + " there are too many; only the likeliest are listed.";
  if (!uncertain.empty())
    text += for_findings(uncertain) + " the search was cut short; likelier ones may be missing.";
  return text;
}

void CompareText::not_used() {
  readings_with(Standing::unknown_point, "At points the drawing lacks, not judged");
  readings_with(Standing::unstable,
                "Unstable, contradicting each other (loose clamp or misread); take them again");
  const std::vector<StaleReadings> groups = stale_readings(report_.readings, report_.comparison);
  stale("Stale; take them again", groups, true);
  stale("Stale, and the drawing has no place for them now", groups, false);
}

void CompareText::stale(std::string_view heading, std::vector<StaleReadings> groups, bool having_place) {
  for (StaleReadings& group : groups)
    std::erase_if(group.readings,
                  [&](ReadingId reading) { return has_place(report_.comparison, reading) != having_place; });
  std::erase_if(groups, [](const StaleReadings& group) { return group.readings.empty(); });
  if (groups.empty()) return;
  out_ += "\n" + std::string(heading) + ":\n";
  for (const StaleReadings& group : groups) {
    const std::size_t shown = at_most(k_few_names, group.readings.size());
    std::vector<std::string> names;
    for (std::size_t i = 0; i < shown; ++i)
      names.push_back(report::reading_label(report_.readings, group.readings[i]));
    std::string line = report::capitalised(group.why) + ": " + report::joined(names);
    if (shown < group.readings.size())
      line += " and " + std::to_string(group.readings.size() - shown) + " more";
    append_wrapped(out_, line, 2, 4);
  }
}

void CompareText::readings_with(Standing standing, std::string_view heading) {
  std::vector<std::string> names;
  for (std::uint32_t i = 0; i < report_.comparison.standing.size(); ++i)
    if (report_.comparison.standing[i] == standing)
      names.push_back(report::reading_label(report_.readings, ReadingId{i}));
  if (names.empty()) return;
  const std::size_t shown = at_most(k_few_names, names.size());
  std::string line = std::string(heading) + ": " + report::joined(std::span(names).first(shown));
  if (shown < names.size()) line += " and " + std::to_string(names.size() - shown) + " more";
  out_ += '\n';
  append_wrapped(out_, line, 0, 2);
}

std::string CompareText::channel_label(std::size_t channel) const {
  const Channel& drawn = netlist().channels[channel];
  std::string label = netlist().points.name(drawn.point);
  for (const std::string_view text : {drawn.address, drawn.tag})
    if (!text.empty()) label.append(" ").append(text);
  return label;
}

std::string CompareText::list_of(std::span<const ElementId> elements) const {
  return report::list_of(elements, report_.graph,
                         detail_ == Detail::everything ? elements.size() : k_few_elements);
}

void CompareText::faulty_channels() {
  std::vector<std::size_t> faulty;
  for (std::size_t i = 0; i < report_.findings.channels.size(); ++i)
    if (report_.findings.channels[i].state == ChannelState::faulty) faulty.push_back(i);
  const std::size_t shown = at_most(k_few_faulty, faulty.size());
  for (std::size_t i = 0; i < shown; ++i) {
    const std::vector<std::size_t>& clusters = report_.findings.channels[faulty[i]].clusters;
    std::string line = channel_label(faulty[i]) + ": finding" + (clusters.size() == 1 ? " " : "s ");
    for (std::size_t k = 0; k < clusters.size(); ++k)
      line += (k == 0 ? "" : ", ") + std::to_string(clusters[k] + 1);
    append_entry(out_, 2, "faulty", k_state_width, line);
  }
  if (shown < faulty.size()) more_channels("faulty", faulty.size() - shown);
}

void CompareText::waiting_channels() {
  const auto groups = report::waiting_channels(report_.findings);
  const std::size_t shown = at_most(k_few_groups, groups.size());
  std::size_t left = count(ChannelState::unproven);
  for (const report::WaitingChannels& group : std::span(groups).first(shown)) {
    left -= group.channels.size();
    std::string line;
    const std::size_t named = at_most(k_few_in_group, group.channels.size());
    for (std::size_t i = 0; i < named; ++i) {
      const std::size_t channel = group.channels[i];
      line += (i == 0 ? "" : ", ");
      line += group.channels.size() == 1 ? channel_label(channel)
                                         : netlist().points.name(netlist().channels[channel].point);
    }
    if (named < group.channels.size())
      line += " and " + std::to_string(group.channels.size() - named) + " more";
    // With all elements proven it is the drawing that has no whole path.
    line += group.elements.empty() ? ": drawn without a whole path; ringtrue trace shows where it stops"
                                   : ": not proven " + list_of(group.elements);
    append_entry(out_, 2, "unproven", k_state_width, line);
  }
  if (left != 0) more_channels("unproven", left);
}

void CompareText::more_channels(std::string_view state, std::size_t how_many) {
  append_entry(out_, 2, state, k_state_width,
               counted(how_many, "channel") + " more (--all shows " + (how_many == 1 ? "it" : "them") + ")");
}

void CompareText::channels() {
  const auto& channels = report_.findings.channels;
  if (channels.empty()) return;
  const auto isolated =
      std::count_if(channels.begin(), channels.end(), [](const ChannelResult& c) { return c.isolated; });
  const std::string of_all = " of " + std::to_string(channels.size());
  out_ += '\n';
  append_wrapped(out_,
                 "Channels proven to conduct as drawn: " + std::to_string(count(ChannelState::proven)) +
                     of_all + "; read open to every neighbour: " + std::to_string(isolated) + of_all,
                 0, 2);
  faulty_channels();
  waiting_channels();
}

/// Agreeing ones.
std::size_t CompareText::readings_without_side() const {
  std::size_t count = 0;
  for (std::size_t i = 0; i < report_.comparison.probings.size(); ++i) {
    const Probing& probing = report_.comparison.probings[i];
    if (report_.comparison.standing[i] == Standing::agrees)
      count += probing.from_either_side || probing.to_either_side ? 1 : 0;
  }
  return count;
}

void CompareText::not_proven() {
  const report::Unproven unproven = report::unproven_elements(report_.graph, report_.findings);
  const std::size_t wiring = unproven.elements.size() - unproven.loads;
  out_ += "\nNot proven by these readings:\n";
  append_wrapped(out_,
                 "conductors, terminals and contacts: " + std::to_string(wiring) + " of " +
                     std::to_string(unproven.wiring),
                 2, 4);
  if (!unproven.outside.empty())
    append_wrapped(out_,
                   (report_.findings.channels.empty()
                        ? ""
                        : std::to_string(unproven.outside.size()) + " of them on no channel's path: ") +
                       list_of(unproven.outside),
                   4, 6);
  if (unproven.loads != 0)
    append_wrapped(out_,
                   "loads (coils, lamps, supplies, electronics): " + std::to_string(unproven.loads) +
                       "; a beep proves none",
                   2, 4);
  if (const std::size_t bare = readings_without_side(); bare != 0)
    append_wrapped(
        out_,
        counted(bare, "reading") +
            " at terminals named without a side: the bodies of these terminals stay unproven; name the "
            "side that the probe touches, as X1:5.ext",
        2, 4);
  if (unproven.absent_field != 0)
    append_wrapped(out_,
                   "field devices and cable cores: " + std::to_string(unproven.absent_field) +
                       "; taken as not connected, not judged",
                   2, 4);
}

void CompareText::cautions() {
  out_ += '\n';
  append_wrapped(out_, "X1:5.int is the panel side of terminal 5 of strip X1, X1:5.ext its field side.", 0,
                 0);
  append_wrapped(
      out_,
      "Prove dead before any continuity reading. Local codes, the site's isolation procedure and licensed "
      "persons decide.",
      0, 0);
}

constexpr std::array<CompareText::Section, 7> CompareText::sections() {
  return {&CompareText::summary,  &CompareText::findings,   &CompareText::not_used, &CompareText::notes,
          &CompareText::channels, &CompareText::not_proven, &CompareText::cautions};
}

}  // namespace

std::string compare_text(const CompareReport& report, Detail detail, Threads threads) {
  constexpr auto k_sections = CompareText::sections();
  std::array<std::string, k_sections.size()> texts;
  for_each_index(threads, texts.size(),
                 [&](std::size_t i) { texts[i] = CompareText(report, detail).write(k_sections[i]); });
  return std::accumulate(texts.begin(), texts.end(), std::string());
}

}  // namespace ringtrue
