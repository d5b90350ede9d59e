// The faults that the tool says its explanations are made of, against a list written down from what the words
// say: by names of points and rows of the netlist alone. The two share the netlist and the form of a fault.
#include <gtest/gtest.h>

#include <set>

#include "ringtrue/diagnose/possible_faults.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_universe.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

/// A random panel with random readings, some of which are of no use.
class PanelWithReadings {
 public:
  explicit PanelWithReadings(unsigned seed)
      : random_(seed),
        net_(netlist(random_small_panel(seed))),
        graph_(net_),
        lifted_(net_.conductors.size()) {
    if (random_() % 2 == 0) lifted_ = random_() % net_.conductors.size();
    const bool with_ohms = random_() % 3 != 0;
    for (std::size_t i = 5 + random_() % 15; i > 0; --i) {
      const char* values[] = {"beep", "open", "OL", with_ohms ? "12.5" : "beep"};
      read(some_point(), values[random_() % 4], true);
    }
    read("X9:1", "beep", false);
    read(some_point(), "23.9V", false);
    // Two that contradict each other.
    const std::string from = some_point(), to = another_point(from);
    text_ += from + " " + to + " beep K1=unplugged\n" + from + " " + to + " open K1=unplugged\n";
    readings_ = readings(text_);
    comparison_ = compare(graph_, readings_, {}).value();
  }

  [[nodiscard]] std::vector<PossibleFault> printed() const {
    return possible_faults(graph_, readings_, comparison_);
  }
  [[nodiscard]] FaultCounts counted() const { return count_possible_faults(graph_, readings_, comparison_); }
  [[nodiscard]] std::set<Fault> written() const {
    std::set<Fault> all = WrittenUniverse(net_, lifted_).all();
    for (const std::uint32_t reading : of_use_) {
      Fault bad;
      bad.kind = FaultKind::bad_reading, bad.reading = ReadingId{reading};
      all.insert(bad);
    }
    return all;
  }
  [[nodiscard]] bool is_copper(const Fault& fault) const { return graph_.is_hard(fault.element); }
  /// The element's net at rest is one at which ohms were read.
  [[nodiscard]] bool is_read_in_ohms(ElementId e) const {
    return std::any_of(ohms_at_.begin(), ohms_at_.end(), [&](PointId p) {
      return graph_.net_at_rest(p) == graph_.net_at_rest(graph_.end_a(e)) ||
             graph_.net_at_rest(p) == graph_.net_at_rest(graph_.end_b(e));
    });
  }
  [[nodiscard]] bool reads_ohms() const { return !ohms_at_.empty(); }
  [[nodiscard]] const ConductionGraph& graph() const { return graph_; }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string some_point() {
    return net_.points.name(PointId{static_cast<std::uint32_t>(random_() % net_.points.size())});
  }
  std::string another_point(const std::string& than) {
    std::string other = some_point();
    while (other == than) other = some_point();
    return other;
  }
  std::string some_condition() {
    if (lifted_ != net_.conductors.size() && random_() % 3 == 0) return lifted_end();
    const char* conditions[] = {"-", "-", "K1=operated", "X1:1=out"};
    return conditions[random_() % 4];
  }
  [[nodiscard]] std::string lifted_end() const {
    const Conductor& wire = net_.conductors[lifted_];
    return graph_.element_name(ElementId(lifted_)) + "@" + net_.points.name(wire.from) + "=lifted";
  }
  /// Once per pair and condition, so that none contradicts another.
  void read(const std::string& from, const std::string& value, bool is_of_use) {
    const std::string to = another_point(from), condition = some_condition();
    if (!pairs_.insert(std::min(from, to) + " " + std::max(from, to) + " " + condition).second) return;
    text_ += from + " " + to + " " + value + " " + condition + "\n";
    if (is_of_use) of_use_.push_back(count_);
    if (value == "12.5") ohms_at_.insert({point(net_, from), point(net_, to)});
    ++count_;
  }

  std::mt19937 random_;
  Netlist net_;
  ConductionGraph graph_;
  std::size_t lifted_;  ///< a conductor, or as many as there are: none
  std::string text_;
  std::set<std::string> pairs_;
  std::uint32_t count_ = 0;
  std::vector<std::uint32_t> of_use_;
  std::set<PointId> ohms_at_;
  Readings readings_;
  Comparison comparison_;
};

std::string text_of_faults(const std::vector<Fault>& faults, const ConductionGraph& graph) {
  std::string text;
  for (const Fault& fault : faults) text += "  " + text_of(fault, graph) + "\n";
  return text;
}

TEST(Universe, PrintedIsWhatIsWrittenDown) {
  const unsigned seed = test_seed();
  constexpr unsigned k_panels = 100;
  std::size_t shifts = 0, faults = 0;
  for (unsigned i = 0; i < k_panels; ++i) {
    const PanelWithReadings panel(k_panels * seed + i);
    std::set<Fault> printed;
    FaultCounts counts{};
    for (const PossibleFault& one : panel.printed()) {
      ++counts[static_cast<std::size_t>(one.fault.kind)];
      if (one.fault.kind == FaultKind::wrong_value && panel.is_copper(one.fault)) continue;
      EXPECT_TRUE(printed.insert(one.fault).second) << "twice: " << text_of(one.fault, panel.graph());
    }
    EXPECT_EQ(counts, panel.counted());
    const std::set<Fault> written = panel.written();
    std::vector<Fault> missing, further;
    std::set_difference(written.begin(), written.end(), printed.begin(), printed.end(),
                        std::back_inserter(missing));
    std::set_difference(printed.begin(), printed.end(), written.begin(), written.end(),
                        std::back_inserter(further));
    ASSERT_TRUE(missing.empty() && further.empty())
        << "seed " << seed << ", panel " << i << "\nmissing:\n"
        << text_of_faults(missing, panel.graph()) << "further:\n"
        << text_of_faults(further, panel.graph()) << random_small_panel(k_panels * seed + i) << panel.text();
    shifts += counts[static_cast<std::size_t>(FaultKind::shift)];
    faults += printed.size();
  }
  EXPECT_GT(shifts, std::size_t{k_panels});
  std::printf("%zu faults on %u panels, %zu of them shifts\n", faults, k_panels, shifts);
}

TEST(Universe, CopperOfAWrongValueIsThereWhereOhmsWereRead) {
  const unsigned seed = test_seed();
  constexpr unsigned k_panels = 100;
  for (unsigned i = 0; i < k_panels; ++i) {
    const PanelWithReadings panel(k_panels * seed + i);
    std::set<std::pair<ElementId, bool>> printed;
    for (const PossibleFault& one : panel.printed())
      if (one.fault.kind == FaultKind::wrong_value && panel.is_copper(one.fault))
        printed.emplace(one.fault.element, one.fault.above);
    EXPECT_TRUE(panel.reads_ohms() || printed.empty());
    for (std::uint32_t k = 0; k < panel.graph().element_count(); ++k) {
      const ElementId e{k};
      if (!panel.graph().is_hard(e) || !panel.is_read_in_ohms(e)) continue;
      for (const bool above : {false, true})
        EXPECT_EQ(printed.count({e, above}), 1u)
            << "seed " << seed << ", panel " << i << ": " << panel.graph().element_name(e);
    }
  }
}

}  // namespace
}  // namespace ringtrue::testing
