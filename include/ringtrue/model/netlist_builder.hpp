#pragma once
#include <string_view>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

// Rows as the files give them: every field is text, empty where missing. Field names are those of the files;
// the tables below serve the CSV header, the XML attributes, messages and schema tests alike.

/// A row of conductors; what becomes of it is a Conductor.
struct ConductorRow {
  std::string_view wire, from, to, kind, id, colour, mm2, awg, length_m, cable, core, sheet, potential, role,
      note;
};
/// A row of parts; see Part.
struct PartRow {
  std::string_view part, kind, a, b, ohms, tolerance_pct, volts, amps, actuated_by, closed_in, place, role,
      sheet, note;
};
/// A row of channels; see Channel. `return_point` is the column `return`.
struct ChannelRow {
  std::string_view point, type, address, tag, text, field, return_point, common, device, feed, normal, sense,
      sensor, signal, low, high, unit, raw_low, raw_high, module, led, role;
};
/// A row of potentials; see Potential.
struct PotentialRow {
  std::string_view name, kind, volts, point;
};
/// `panel.csv` has a key and a value per row; XML has them as attributes of the root.
struct PanelRow {
  std::string_view panel, revision, drawing, function, location, safety;
};

/// One field of a row: its name in files and the member that takes it.
template <class Row>
struct FieldOf {
  std::string_view name;
  std::string_view Row::*member;
  bool required;  ///< the column or attribute must be there (its cells may still be empty where the rules
                  ///< allow)
};

/// The fields of a row type, in the order in which files are written.
template <class Row>
[[nodiscard]] std::span<const FieldOf<Row>> fields_of();

/// Puts a netlist together from rows and checks what a single row and their names can be wrong in.
///
/// Order of calls: `set_panel` first (names depend on its function and location), rows in any order, then
/// `finish`. Every text handed in must stay alive in a buffer given to `keep`. Errors are gathered, not
/// thrown; `finish` fails with up to `k_max_errors` of them and then gives no netlist at all.
class NetlistBuilder {
 public:
  NetlistBuilder();
  ~NetlistBuilder();
  NetlistBuilder(NetlistBuilder&& from) noexcept;  ///< which can only go then
  NetlistBuilder(const NetlistBuilder&) = delete;
  NetlistBuilder& operator=(const NetlistBuilder&) = delete;

  /// An empty builder for more rows of the same panel, by another thread perhaps, to be appended later.
  [[nodiscard]] NetlistBuilder beside() const;
  /// The same as if all that `later` was given had been given to this one now.
  void append(NetlistBuilder&& later);

  /// Names a file for the places in messages and rows; gives the index for `RowSource::file`.
  std::uint16_t add_file(std::string path);
  /// The netlist holds the buffer as long as it lives.
  void keep(std::shared_ptr<const void> buffer);
  /// A hint that saves growing; exact or rough.
  void reserve_conductors(std::size_t rows);

  void set_panel(const PanelRow& row, RowSource source);
  /// Gathers what is wrong with the row; `finish` then fails.
  void add(const ConductorRow& row, RowSource source);
  void add(const PartRow& row, RowSource source);
  void add(const ChannelRow& row, RowSource source);
  void add(const PotentialRow& row, RowSource source);
  /// A mistake that the reader of the file found itself. Beyond `k_max_errors` they are only counted.
  void add_error(Error error);
  void add_note(Note note);
  /// `k_max_errors`: reading on gives no further ones.
  [[nodiscard]] bool has_enough_errors() const;

  /// Decides which places have two sides, settles bare names, merges rows that say the same conductor, and
  /// gives the netlist, or everything that was wrong. The builder is empty afterwards.
  [[nodiscard]] Result<Netlist> finish();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace ringtrue
