// Shifts that are left out of a branch set without a trial, each tried all the same: with the faults assumed
// it leaves its reading impossible, or an agreeing one. The judge of the trials is the diagnosis's own, which
// other tests hold against brute force; what is tested here is that a reason found for one run holds for
// another.
#include <gtest/gtest.h>

#include <cstdio>
#include <deque>
#include <random>

#include "diagnose/shifts.hpp"
#include "diagnose/workplace.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {
namespace {

/// A strip of ten terminals with a bridge or two, wires to a module, to a relay and among themselves, doubled
/// and missing ones, and cores to the field.
std::string random_strip(std::mt19937& random) {
  std::string text = "part K1 coil A1 A2 400\n";
  for (int i = 1; i <= 10; ++i) text += "part X1:" + std::to_string(i) + " terminal\n";
  unsigned wires = 0;
  const auto wire = [&](const std::string& a, const std::string& b, const std::string& kind = "-") {
    text +=
        (kind == "-" ? std::to_string(++wires) : std::string("-")) + " " + a + " " + b + " " + kind + "\n";
  };
  const auto inner = [](unsigned i) { return "X1:" + std::to_string(i) + ".int"; };
  for (unsigned i = 1; i <= 10; ++i) {
    if (random() % 8 != 0) wire(inner(i), random() % 6 == 0 ? "K1:A2" : "A1:" + std::to_string(i));
    if (random() % 8 == 0) wire(inner(i), inner(1 + i % 10));
    if (random() % 3 == 0) wire("X1:" + std::to_string(i) + ".ext", "B" + std::to_string(i) + ":1");
    if (random() % 5 == 0 && i < 10) wire(inner(i), inner(i + 1), "bridge");
  }
  wire("K1:A1", inner(1 + static_cast<unsigned>(random() % 10)));
  return text;
}

class StripWithReadings {
 public:
  explicit StripWithReadings(unsigned seed)
      : random_(seed), net_(netlist(random_strip(random_))), graph_(net_), landing_(graph_) {
    const Overlay as_built = overlay_of_faults();
    const View view(graph_, as_built);
    for (int i = 0; i < 40; ++i) read(view);
    comparison_ = compare(graph_, readings_, {}).value();
  }

  struct Tally {
    std::size_t kept = 0, left_out = 0, that_would_do = 0;
  };
  void count(Tally& tally) {
    const Priors priors;
    const Workplace own(graph_, readings_, comparison_, priors, {});
    for (const ReadingId reading : all_disagreements(comparison_)) {
      count_with({}, reading, own, tally);
      const std::vector<Candidate> first =
          own.candidates.branch_set({}, reading, 20, Reach::with_others, 5'000);
      for (int i = 0; i < 4 && !first.empty(); ++i) {
        const Fault& fault = first[random_() % first.size()].fault;
        // A reading that is not believed needs no explaining.
        if (!is_set_aside({&fault, 1}, reading)) count_with({fault}, reading, own, tally);
      }
    }
  }

 private:
  Overlay overlay_of_faults() {
    Overlay overlay;
    for (std::size_t i = 0; i < 1 + random_() % 2; ++i) {
      const std::vector<Fault> shifts = landing_.shifts_of(PointId(random_() % graph_.point_count()));
      Fault fault = element_fault(FaultKind::open, ElementId(random_() % graph_.conductor_count()));
      if (!shifts.empty() && random_() % 2 == 0) fault = shifts[random_() % shifts.size()];
      apply(fault, graph_, overlay);
    }
    return overlay;
  }

  void read(const View& view) {
    const auto p = PointId(random_() % graph_.point_count()), q = PointId(random_() % graph_.point_count());
    if (p == q) return;
    Reading reading;
    reading.from = names_.emplace_back(net_.points.name(p));
    reading.to = names_.emplace_back(net_.points.name(q));
    const bool is_joined = view.net(p) == view.net(q);
    reading.value.kind = is_joined ? ValueKind::beep : ValueKind::open;
    readings_.rows.push_back(reading);
  }

  void count_with(const std::vector<Fault>& faults, ReadingId reading, const Workplace& own, Tally& tally) {
    Shifts shifts(landing_, own.consistency, faults, reading, Shifts::Runs::last_of_faults);
    for (std::uint32_t p = 0; p < graph_.point_count(); ++p) {
      std::vector<Fault> kept = shifts.of(PointId{p});
      std::sort(kept.begin(), kept.end());
      for (const Fault& shift : landing_.shifts_of(PointId{p})) {
        if (!is_compatible(shift, faults, landing_)) continue;
        if (std::binary_search(kept.begin(), kept.end(), shift)) {
          ++tally.kept;
          continue;
        }
        ++tally.left_out;
        std::vector<Fault> all = faults;
        all.push_back(shift);
        std::sort(all.begin(), all.end());
        if (own.consistency.explains_reading(all, reading) && own.consistency.is_unrefuted(all))
          ++tally.that_would_do;
      }
    }
  }

  std::mt19937 random_;
  const Netlist net_;
  const ConductionGraph graph_;
  const Landing landing_;
  std::deque<std::string> names_;
  Readings readings_;
  Comparison comparison_;
};

TEST(ShiftsLeftOut, NoneWouldDo) {
  StripWithReadings::Tally tally;
  for (unsigned i = 0; i < 150; ++i) StripWithReadings(1000 * test_seed() + i).count(tally);
  std::printf("shifts kept %zu, left out %zu\n", tally.kept, tally.left_out);
  EXPECT_EQ(tally.that_would_do, 0u);
  EXPECT_GT(tally.kept, 1000u);
  EXPECT_GT(tally.left_out, tally.kept / 2);
}

}  // namespace
}  // namespace ringtrue::testing
