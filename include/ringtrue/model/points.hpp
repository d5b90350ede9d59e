#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/ids.hpp"
#include "ringtrue/base/name_table.hpp"
#include "ringtrue/model/kinds.hpp"

namespace ringtrue {

/// A point's name taken apart: `=GD1+A-X1:5.int` in a panel with function GD1 and location A is place `X1:5`,
/// side internal. Only the suffixes `.int` and `.ext` are sides. `place` is a view into the text where
/// nothing had to be dropped from its middle, else into `storage`.
struct PointName {
  std::string_view place;
  Side side = Side::single;  ///< `single` here means "no side written"
};

/// Function and location that a name without `=` or `+` takes (both without their prefix, both may be empty).
struct Designation {
  std::string function;
  std::string location;
};

/// Brings a written name into the one form under which it is interned: no leading `-`, the panel's own
/// `=function` and `+location` dropped, other aspects kept in the order `=` `+` `-`. `storage` holds the
/// bytes where the form is no substring of `text`. Shapes: `X1:5`, `-X1:5`, `=GD1+A-X1:5.ext`, `+B-X1:5`,
/// `PE`. Source: IEC 81346-1 prefixes, IEC 61666 `:` (from memory).
[[nodiscard]] PointName split_point_name(std::string_view text, const Designation& panel,
                                         std::string& storage);

/// The part of a place: `X1` of `X1:5`, `=GD2-X1` of `=GD2-X1:5`, the whole where there is no `:`.
[[nodiscard]] std::string_view part_of_place(std::string_view place);
/// The pin of a place: `5` of `X1:5`; empty where there is no `:`.
[[nodiscard]] std::string_view pin_of_place(std::string_view place);

/// All points of a netlist. A place has one point, or two (`.int` directly followed by `.ext`) if it is
/// strip-like.
class PointTable {
 public:
  [[nodiscard]] std::size_t size() const { return place_of_.size(); }
  [[nodiscard]] std::size_t place_count() const { return places_.size(); }

  /// `X1:5.int`, `K1:A1`: no leading `-`, the side always named where there are sides.
  [[nodiscard]] std::string name(PointId point) const;
  [[nodiscard]] std::string_view place_name(PlaceId place) const { return places_.name(index(place)); }
  [[nodiscard]] PlaceId place(PointId point) const { return place_of_[index(point)]; }
  [[nodiscard]] Side side(PointId point) const;
  [[nodiscard]] bool has_sides(PlaceId place) const { return two_sided_[index(place)]; }
  /// A bare name of such a place is an error: its sides can be parted by the user.
  [[nodiscard]] bool is_separable(PlaceId place) const { return separable_[index(place)]; }

  [[nodiscard]] std::optional<PlaceId> find_place(std::string_view canonical) const;
  /// The same for many names at once; `PlaceId::none` for those that are unknown.
  void find_places(std::span<const std::string_view> canonical, std::span<PlaceId> places) const;
  /// The only point, or the named side. `side` must fit `has_sides`.
  [[nodiscard]] PointId point(PlaceId place, Side side) const;
  /// The other side of the same terminal; `none` for a single point.
  [[nodiscard]] PointId other_side(PointId point) const;

 private:
  friend class NetlistBuilder;
  NameTable places_;
  std::vector<PointId> first_point_;  ///< by place
  std::vector<bool> two_sided_;       ///< by place
  std::vector<bool> separable_;       ///< by place
  std::vector<PlaceId> place_of_;     ///< by point
};

}  // namespace ringtrue
