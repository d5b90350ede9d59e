#pragma once
#include "json_writer.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::report {

/// Writes `kind`, `elements`, `ends` and `points` of a fault into the open object.
inline void write_fault_keys(JsonWriter& json, FaultKind kind, const FaultParts& parts) {
  json.key("kind").text(word(kind));
  json.key("elements").texts(parts.elements).key("ends").texts(parts.ends).key("points").texts(parts.points);
}

}  // namespace ringtrue::report
