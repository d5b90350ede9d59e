#pragma once
#include <array>
#include <map>
#include <set>
#include <string>
#include <string_view>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue::picture {

/// What is known of an element or point. `absent`: it is of a field device that isn't there in the shop.
enum class Mark : std::uint8_t { none, absent, unproven, proven, suspect, faulty };
[[nodiscard]] std::string_view word(Mark mark);  ///< empty for `none`

using MarkCounts = std::array<std::size_t, static_cast<std::size_t>(Mark::faulty) + 1>;
/// All marks, worst first.
inline constexpr std::array k_worst_first{Mark::faulty, Mark::suspect, Mark::unproven,
                                          Mark::proven, Mark::absent,  Mark::none};
/// 0 for the worst.
[[nodiscard]] std::size_t severity(Mark mark);

/// A mark and the reasons behind it.
struct Marked {
  Mark mark = Mark::none;
  std::string what;      ///< of a fault: `open`, `wire 5 lands here`, `open (finding 1); swap (finding 3)`
  std::string findings;  ///< `finding 1`, `findings 1, 3`; empty where `what` tells them apart

  [[nodiscard]] std::string text() const;  ///< `faulty: open, finding 1`
};

/// What the findings say of each element and point; nothing at all without findings.
class Marks {
 public:
  Marks(const ConductionGraph& graph, const Findings* findings);

  [[nodiscard]] Marked of(ElementId element) const;
  /// The same, but `absent` where it is unproven and of a field device or its cable.
  [[nodiscard]] Marked in_the_shop(ElementId element) const;
  /// Faulty where a likeliest diagnosis lands a conductor or joins two points, else nothing.
  [[nodiscard]] Marked of(PointId point) const;

 private:
  /// What diagnoses say of one element or point: by cluster, one of these.
  struct Blame {
    std::map<std::size_t, std::set<std::string>> causes;
    [[nodiscard]] Marked marked(Mark mark) const;
  };
  /// What one diagnosis says of each: all of these.
  template <class Id>
  using Said = std::map<Id, std::set<std::string>>;
  void blame(std::size_t cluster, const std::vector<Fault>& faults, bool is_likeliest);
  void add_points(const Fault& fault, Said<PointId>& said) const;

  const ConductionGraph& graph_;
  const Findings* findings_;
  std::map<ElementId, Blame> faulty_, suspect_;
  std::map<PointId, Blame> points_;
};

}  // namespace ringtrue::picture
