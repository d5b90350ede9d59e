#pragma once
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/base/interval.hpp"
#include "ringtrue/model/kinds.hpp"
#include "ringtrue/model/netlist.hpp"
#include "ringtrue/model/text_columns.hpp"

namespace ringtrue {

/// What a reading can be. `over_range` is OL; values up to `ohms` tell of continuity.
enum class ValueKind : std::uint8_t { beep, open, over_range, ohms, volts, lit, dark, count };

/// What the meter showed.
struct ReadingValue {
  constexpr ReadingValue() = default;
  constexpr ReadingValue(ValueKind its_kind, double its_number) : number(its_number), kind(its_kind) {}

  double number = 0;  ///< ohms, volts or count; 0 for the others
  ValueKind kind = ValueKind::beep;
  friend bool operator==(const ReadingValue&, const ReadingValue&) = default;
};

/// Reads `beep`, `open`, `OL`, `0.4`, `1.5k`, `680 Ω`, `2,2 kOhm`, `23.9V`, `lit`, `dark`, `count=2`.
/// Words match without regard to case. A decimal comma is taken as a decimal point.
/// @errors bad_reading with what would be a reading. The place is left to the caller.
[[nodiscard]] Result<ReadingValue> parse_value(std::string_view text);
/// That a bare `1` is not clear: ohms, a yes, or what some meters show over range. For those who take values
/// from people; `parse_value` reads it as ohms. The place is left to the caller.
[[nodiscard]] Error bare_one();
/// For people: `beep`, `0.4 Ω`, `23.9 V`.
[[nodiscard]] std::string to_text(const ReadingValue& value);

/// `netlist`: see NetlistMark; only of readings that were in a job.
enum class ReadingText : std::uint8_t { id, value, time, by, meter, witness, note, netlist, count_ };

/// One reading as logged; its points are not looked up yet. Further texts stand in `Readings::text`.
struct Reading {
  std::string_view from, to;                      ///< red and black lead, as written
  [[no_unique_address]] ReadingValue value = {};  ///< leaves 7 bytes, which the rest makes use of
  Method method = Method::not_stated;
  std::uint16_t condition = 0;  ///< index into `Readings::conditions`
  std::uint32_t line = 0;
};

/// A file of readings. Rows keep the file's order.
struct Readings {
  std::string file;
  /// The rows can't be mended any more, as those of a job: what in them the drawing lacks makes them unknown
  /// to it, and is no error.
  bool is_final = false;
  std::vector<Reading> rows;
  TextColumns<ReadingText> text;
  std::vector<std::string> conditions = {""};        ///< distinct condition texts; 0 is at rest
  std::vector<std::uint32_t> condition_lines = {0};  ///< the first line that uses each
  /// By row, those that a later revision of the netlist has made stale, and why.
  std::map<std::uint32_t, std::string> outdated;
  std::vector<Note> notes;
  std::vector<std::shared_ptr<const void>> buffers;

  /// The reading's id, or its line number where it has none.
  [[nodiscard]] std::string name(ReadingId reading) const;
};

/// Something that opened clamps, so that older readings over them no longer count.
struct Event {
  std::string time, by;
  EventKind kind = EventKind::repair;
  std::vector<std::string> points;  ///< every clamp opened, as written
  std::string text, id;
  std::uint32_t line = 0;
  std::string netlist;  ///< see NetlistMark
};

/// A file of events, or those of a job, in the order in which they were added.
struct Events {
  std::string file;
  std::vector<Event> rows;
  std::vector<Note> notes;
};

/// A row as the files have it; see Reading.
struct ReadingRow {
  std::string_view from, to, value, time, by, conditions, meter, method, witness, note, id;
};
/// Likewise; see Event.
struct EventRow {
  std::string_view time, by, kind, points, text, id;
};

/// Puts readings together from rows; the same rules as for `NetlistBuilder`.
class ReadingsBuilder {
 public:
  explicit ReadingsBuilder(std::string file);
  /// Goes on with readings that were built before.
  explicit ReadingsBuilder(Readings readings) : readings_(std::move(readings)) {}
  void keep(std::shared_ptr<const void> buffer);
  void reserve(std::size_t rows);
  /// @param netlist  see NetlistMark.
  void add(const ReadingRow& row, std::uint32_t line, std::string_view netlist = {});
  void add_error(Error error);
  void add_note(Note note);
  [[nodiscard]] bool has_enough_errors() const { return errors_.size() >= k_max_errors; }
  [[nodiscard]] Result<Readings> finish();

 private:
  std::uint16_t condition_number(std::string_view text, std::uint32_t line);
  Readings readings_;
  Errors errors_;
  std::string_view last_condition_;
  std::uint16_t last_condition_number_ = 0;
};

/// Turns a row into an event; several clamps are separated by `;`.
/// @errors unknown_kind, missing_field, bad_time.
[[nodiscard]] Result<Event> event_from_row(const EventRow& row, std::uint32_t line, std::string_view file);

/// Seconds since 1970 of an RFC 3339 time such as `2026-03-02T07:15:00+01:00`; nothing if it is none.
[[nodiscard]] std::optional<double> seconds_of_time(std::string_view rfc3339);

}  // namespace ringtrue
