// Readings of a panel cut in two: those there are already, and those that come one by one.
#pragma once
#include <string>

#include "ringtrue/model/readings.hpp"

namespace bench {

// The row of a file that reading `i` came from; `value` holds its text.
inline ringtrue::ReadingRow row_of(const ringtrue::Readings& readings, std::size_t i, std::string& value) {
  ringtrue::ReadingRow row;
  const ringtrue::Reading& reading = readings.rows[i];
  value = to_text(reading.value);
  row.from = reading.from, row.to = reading.to, row.value = value;
  row.conditions = readings.conditions[reading.condition];
  row.id = readings.text.get(ringtrue::ReadingText::id, i);
  return row;
}

inline ringtrue::Readings first_of(const ringtrue::Readings& readings, std::size_t count) {
  ringtrue::ReadingsBuilder builder(readings.file);
  for (const auto& buffer : readings.buffers) builder.keep(buffer);
  std::string value;
  for (std::size_t i = 0; i < count; ++i) builder.add(row_of(readings, i, value), readings.rows[i].line);
  return builder.finish().value();
}

}  // namespace bench
