#pragma once
#include <cstddef>
#include <deque>
#include <string>
#include <string_view>

#include "ringtrue/model/netlist.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::write {

/// A netlist's records turned back into the rows that files hold: what the builder reads from them is the
/// record again.
class NetlistRows {
 public:
  explicit NetlistRows(const Netlist& netlist) : net_(netlist) {}

  template <class Row>
  [[nodiscard]] std::size_t count() const;
  /// The texts of a row stay until the next one is asked for.
  template <class Row>
  [[nodiscard]] Row row(std::size_t at);
  /// How rows write a point; stays as the texts of a row do.
  [[nodiscard]] std::string_view point(PointId point);
  /// The line that the record was read from.
  template <class Row>
  [[nodiscard]] Place source(std::size_t at) const;

 private:
  void begin_row() { used_ = 0; }
  std::string_view keep(std::string text);
  std::string_view part(std::string_view part);
  std::string_view pin(std::string_view part, PointId point) const;
  std::string_view number(double value);
  std::string_view positions(const std::vector<int>& positions);
  [[nodiscard]] bool is_read_as_is(std::string_view place);
  [[nodiscard]] Place place_of(RowSource source) const;

  const Netlist& net_;
  std::deque<std::string> kept_;  ///< texts of the current row that were put together
  std::size_t used_ = 0;
  std::string scratch_;
};

}  // namespace ringtrue::write
