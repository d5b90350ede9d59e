#pragma once
#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/model/netlist_builder.hpp"
#include "ringtrue/model/number.hpp"
#include "trade_kinds.hpp"

namespace ringtrue {

/// A point as a row names it, before sides are decided.
struct WrittenPoint {
  PlaceId place = PlaceId::none;
  Side side = Side::single;  ///< `single` = none written
};

struct PlaceFlags {
  bool side_written : 1 = false;
  bool strip_like : 1 = false;  ///< a strip-like part row names it
  bool separable : 1 = false;
  bool in_field : 1 = false;

  void add(PlaceFlags more) {
    side_written = side_written || more.side_written;
    strip_like = strip_like || more.strip_like;
    separable = separable || more.separable;
    in_field = in_field || more.in_field;
  }
};

struct PendingPart {
  WrittenPoint a, b;
};
/// Its own, field, return and common.
using PendingChannel = std::array<WrittenPoint, 4>;

/// Names of points that are interned together, which is faster than one by one.
struct AwaitedNames {
  enum class Of : std::uint8_t { conductor, channel };
  struct Point {
    Of of;
    std::uint32_t row;
    std::uint8_t which;  ///< of the points of the row
  };
  std::vector<std::string_view> names;
  std::vector<Point> points;
  std::vector<std::uint32_t> numbers;
};

/// What `NetlistBuilder` holds. Rows are taken in netlist_builder.cpp, those of another builder in
/// netlist_append.cpp, points settled in netlist_points.cpp.
struct NetlistBuilder::Impl {
  Netlist net;
  NameTable places;
  Errors errors;
  std::vector<PlaceFlags> flags;      // by place
  std::vector<RowSource> first_seen;  // by place, for messages about a side that cannot be
  std::vector<std::array<WrittenPoint, 2>> conductor_ends;
  AwaitedNames awaited;
  std::vector<PendingPart> part_ends;
  std::vector<PendingChannel> channel_points;
  std::vector<WrittenPoint> potential_points;
  std::string scratch;
  std::size_t taken_internal = 0, taken_external = 0;

  void error(ErrorCode code, std::string message, RowSource source, std::string_view element,
             std::string_view field, std::string_view found, std::string expected);
  [[nodiscard]] ringtrue::Place place_of(RowSource source, std::string_view element) const;
  template <class Enum>
  Enum kind_of(std::string_view text, Enum if_empty, RowSource source, std::string_view element,
               std::string_view field) {
    if (text.empty()) return if_empty;
    if (const auto value = from_word<Enum>(text)) return *value;
    if (const auto value = from_trade_word<Enum>(text)) return *value;
    if (errors.size() < k_max_errors) {
      error(ErrorCode::unknown_kind, "unknown word", source, element, field, text, listed_words<Enum>());
      NearestNames nearest(text);
      for (const std::string_view known : all_words<Enum>()) nearest.offer(known);
      errors.back().nearest = nearest.take();
    }
    return if_empty;
  }
  double number_of(std::string_view text, double least, RowSource source, std::string_view element,
                   std::string_view field);
  /// An error if there is none.
  void require_point(std::string_view text, RowSource source, std::string_view element,
                     std::string_view field);
  /// Interns the name of a point; none if it is empty.
  WrittenPoint named_point(std::string_view text, RowSource source, std::string_view element,
                           std::string_view field);
  /// The name taken apart, its place kept; nothing and an error if it is none.
  std::optional<PointName> point_name(std::string_view text, RowSource source, std::string_view element,
                                      std::string_view field);
  /// A canonical name that was put together lies in `scratch` and has to be kept; others are views into a
  /// file.
  std::string_view kept(std::string_view name);
  PlaceId intern(std::string_view name, RowSource source);
  PlaceId place_numbered(std::uint32_t number, RowSource source);
  /// `named_point` whose place is told once enough names are there; the row follows at once.
  WrittenPoint awaited_point(std::string_view text, AwaitedNames::Point point, RowSource source,
                             std::string_view element, std::string_view field);
  void intern_some_awaited() {
    constexpr std::size_t k_together = 256;
    if (awaited.names.size() >= k_together) intern_awaited();
  }
  void intern_awaited();
  std::string_view canonical_part(std::string_view text);

  void add(const ConductorRow& row, RowSource source);
  void set_conductor_text(std::size_t at, const ConductorRow& row, RowSource source);
  void add(const PartRow& row, RowSource source);
  bool both_pins(const PartRow& row, RowSource source);
  WrittenPoint pin_point(std::string_view part, std::string_view pin, RowSource source);
  std::vector<int> positions_of(std::string_view text, RowSource source);
  void add(const ChannelRow& row, RowSource source);
  std::optional<bool> normal_of(std::string_view text, RowSource source);
  void add(const PotentialRow& row, RowSource source);

  void append(Impl&& later);
  /// Interns their places in their order; gives the own place of each.
  std::vector<PlaceId> take_places(const Impl& later, std::uint16_t files_before);

  void decide_sides();
  void number_points();
  /// The point of a written name; a bare strip name takes `if_bare`. `none` and an error where a bare name
  /// will not do.
  PointId settle(const WrittenPoint& written, Side if_bare, RowSource source, std::string_view element,
                 std::string_view field);
  /// A bare terminal in a conductor: `.ext` towards the field, `.int` towards the panel.
  PointId settle_end(std::size_t at, const WrittenPoint& end, const WrittenPoint& other,
                     std::string_view field);
  void settle_points();
  [[nodiscard]] std::vector<std::string_view> devices_of_several_pins() const;
  void note_what_was_taken();
  void sort_parts();
};

}  // namespace ringtrue
