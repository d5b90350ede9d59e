#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "ringtrue/graph/numbering.hpp"

namespace ringtrue {

/// A reading by the buzzer, and the wanted elements that every way between its probes goes over.
struct Stretch {
  PointId from = PointId::none, to = PointId::none;
  std::vector<ElementId> across;
};

/// The fewest beeps that go over every wanted element of some copper.
///
/// An element is gone over for certain only if it's a single connection, so what is not, or isn't wanted, is
/// contracted: its ends count as one place. What is left of a net is a tree. A reading is a path in it, and
/// one end of a path must lie in each leaf, so a tree with L leaves takes at least ceil(L/2) of them; and
/// that many do: from the leaves up, each branch passes one or two open ends on, whichever leaves an even
/// number, and the others are paired across branches. So each element is crossed by one or two readings, and
/// they are short. Cost: linear in the points and elements of the nets.
class Cover {
 public:
  /// Of the nets of `points` under the view. `wanted`: by element. `number_of`: as for a Numbering.
  Cover(const View& view, std::span<const PointId> points, const std::vector<std::uint8_t>& wanted,
        std::vector<std::uint32_t>& number_of);
  ~Cover() { numbering_.forget(); }
  Cover(const Cover&) = delete;
  Cover& operator=(const Cover&) = delete;

  [[nodiscard]] std::vector<Stretch> readings() const;
  /// No set of beeps under this view is smaller.
  [[nodiscard]] std::size_t least_readings() const;

  [[nodiscard]] const Numbering& numbering() const { return numbering_; }
  /// The element is a single connection under the view; false beyond the nets covered.
  [[nodiscard]] bool is_single(ElementId e) const;

 private:
  /// Points that no wanted element parts.
  struct Place {
    std::uint32_t parent = 0;        ///< its own at the root of a net
    std::uint32_t depth = 0;         ///< wanted elements from the root
    ElementId by = ElementId::none;  ///< towards the parent
    PointId probe = PointId::none;   ///< the handiest point
  };
  /// A leaf that waits for a partner on another branch.
  struct OpenEnd {
    PointId point;
    std::uint32_t branch;  ///< the child place that it came up from
    std::uint32_t leaf;
  };
  void find_places(const std::vector<std::uint8_t>& wanted);
  void count_branches();
  [[nodiscard]] bool is_root(std::uint32_t place) const { return places_[place].parent == place; }
  [[nodiscard]] std::uint32_t branches(std::uint32_t place) const {
    return branch_start_[place + 1] - branch_start_[place];
  }
  /// Ends of branches there, the way to the parent among them.
  [[nodiscard]] std::uint32_t degree(std::uint32_t place) const {
    return branches(place) + (is_root(place) ? 0u : 1u);
  }
  [[nodiscard]] PointId handier(PointId p, PointId q) const;
  void pair(std::vector<OpenEnd>& ends, std::vector<Stretch>& made) const;
  [[nodiscard]] Stretch stretch(const OpenEnd& one, const OpenEnd& other) const;

  const View& view_;
  Numbering numbering_;
  std::vector<Place> places_;  ///< parents before children
  std::vector<std::uint32_t> branch_start_, branches_;
};

}  // namespace ringtrue
