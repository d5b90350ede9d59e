#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

#include "ringtrue/model/decisions.hpp"
#include "ringtrue/model/io_results.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/model/netlist_builder.hpp"
#include "ringtrue/model/readings.hpp"
#include "ringtrue/model/signatures.hpp"

// Records turned back into the rows of text that a job holds.

namespace ringtrue::job {

/// A reading with what only a job knows of it.
struct LoggedReading : ReadingRow {
  std::string_view supersedes;
};

/// Where rows of a kind are kept, and the column that no two of them share.
struct TableOf {
  std::string_view table, key;
  bool is_of_netlist = true;  ///< it knows which revision of the netlist was the newest
};
template <class Row>
inline constexpr TableOf k_table_of{};
template <>
inline constexpr TableOf k_table_of<LoggedReading>{"reading", "id"};
template <>
inline constexpr TableOf k_table_of<EventRow>{"event", "id"};
template <>
inline constexpr TableOf k_table_of<MeterRow>{"meter", "meter", false};
template <>
inline constexpr TableOf k_table_of<IoResultRow>{"result", "id"};
template <>
inline constexpr TableOf k_table_of<DecisionRow>{"decision", "id", false};
template <>
inline constexpr TableOf k_table_of<SignatureRow>{"signature", "id", false};

/// The row that a reading was made from.
[[nodiscard]] ReadingRow row_of(const Readings& readings, std::size_t at);
/// The row of a result, its texts views into it.
[[nodiscard]] IoResultRow row_of(const IoResult& result);
/// The row of a decision, its texts views into it.
[[nodiscard]] DecisionRow row_of(const Decision& decision);

/// A row that keeps the texts which were put together for it.
struct MadeEventRow {
  explicit MadeEventRow(const Event& event);
  std::string points;
  EventRow row;
};
struct MadeMeterRow {
  explicit MadeMeterRow(const Meter& meter);
  std::string threshold, range, lead_ohms, accuracy;
  MeterRow row;
};
struct MadeSignatureRow {
  explicit MadeSignatureRow(const Signature& signature);
  std::string revision, readings, events, meters, results, decisions;
  SignatureRow row;
};

/// An id made from the text of a row, the same whenever the row comes again: twelve hexadecimal digits.
/// @param earlier  how many rows of the same text stood before it in its file, so that none of them is taken
///                 for another.
template <class Row>
[[nodiscard]] std::string made_id(const Row& row, std::size_t earlier);

}  // namespace ringtrue::job

namespace ringtrue {
template <>
std::span<const FieldOf<job::LoggedReading>> fields_of<job::LoggedReading>();
}
