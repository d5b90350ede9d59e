#pragma once
#include <cstddef>
#include <deque>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "ringtrue/graph/overlay.hpp"
#include "ringtrue/revise/as_built.hpp"
#include "ringtrue/write/netlist_rows.hpp"

namespace ringtrue::revise {

/// The rows of a netlist, changed one by one and built into another netlist.
class RowDrafts {
 public:
  explicit RowDrafts(const Netlist& netlist);

  /// Whose changes the following are.
  void begin_decision(std::size_t decision) { decision_ = decision; }

  [[nodiscard]] PointId end(std::uint32_t conductor, End end) const;
  /// `none`: the end lies loose.
  void move_end(std::uint32_t conductor, End end, PointId to);
  [[nodiscard]] bool is_moved(std::uint32_t conductor, End end) const;
  void add_bridge(PointId p, PointId q);
  void remove_conductor(std::uint32_t conductor);
  void remove_part(std::uint32_t part);
  void exchange_pins(std::uint32_t part);
  void set_kind(std::uint32_t part, PartKind kind);
  [[nodiscard]] PartKind kind(std::uint32_t part) const;
  void set_ohms(std::uint32_t part, const std::string& ohms);

  /// Lets every point of the netlist stay, see `as_built`, and ends the changes: repeated rows are told
  /// apart, notes written. `is_lifted`: readings lift the end there.
  void finish(const std::function<bool(std::uint32_t conductor, End end)>& is_lifted);

  [[nodiscard]] std::vector<AsBuiltRow> changed_rows();
  /// @errors those of the builder.
  [[nodiscard]] Result<Netlist> build();

 private:
  struct DraftedConductor {
    ConductorRow row;
    PointId from = PointId::none, to = PointId::none;
    RowSource source;
    std::size_t decision = k_undecided;
    bool is_gone = false;
  };
  struct DraftedPart {
    PartRow row;
    RowSource source;
    std::size_t decision = k_undecided;
    bool is_gone = false;
  };
  static constexpr std::size_t k_undecided = static_cast<std::size_t>(-1);

  template <class Drafted>
  void decide(Drafted& drafted);
  /// Something ends there no more; nothing happens for `none`.
  void leave(PointId at);
  [[nodiscard]] std::vector<bool> named_places() const;
  void keep_of_broken(std::uint32_t conductor, bool lifted_from, bool lifted_to, std::vector<bool>& named);
  void keep_left_points(const std::vector<bool>& named);
  void write_notes();
  void add_spare_core(ConductorRow row, PointId at, std::size_t decision);
  void tell_apart_repeated();
  std::string_view own(std::string_view text);
  template <class Row>
  Row own_row(Row row);
  template <class Row, class Drafted>
  void describe(std::string_view table, const std::vector<Drafted>& drafted, std::vector<AsBuiltRow>& rows);

  const Netlist& net_;
  write::NetlistRows as_drawn_;
  std::shared_ptr<std::deque<std::string>> texts_ = std::make_shared<std::deque<std::string>>();
  std::vector<DraftedConductor> conductors_;  ///< those of the netlist, then new ones
  std::vector<DraftedPart> parts_;
  std::vector<std::size_t> left_;  ///< by place: who moved a conductor away from it first
  std::size_t decision_ = k_undecided;
};

}  // namespace ringtrue::revise
