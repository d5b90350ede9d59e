// Values of readings, and the numbers and times of other cells.
#include <cmath>

#include "fuzz/fuzz.hpp"
#include "ringtrue/model/number.hpp"
#include "ringtrue/model/readings.hpp"

using namespace ringtrue;

namespace {

void try_cell(std::string_view text) {
  if (const auto value = parse_value(text)) {
    const std::string printed = to_text(*value);
    const auto again = parse_value(printed);
    fuzz::must(again && again->kind == value->kind, "a value printed is the same kind of value", printed);
    fuzz::must(to_text(*again) == printed, "a value printed is the same value", printed);
    fuzz::must(std::isfinite(value->number), "a value is finite", printed);
    fuzz::must(value->number >= 0 || value->kind == ValueKind::volts, "only volts are negative", printed);
  }
  if (const auto number = parse_number(text)) fuzz::must(std::isfinite(*number), "a number is finite");
  if (const auto time = seconds_of_time(text)) fuzz::must(std::isfinite(*time), "a time is finite");
  if (const auto gauge = parse_awg(text)) fuzz::must(*gauge >= -3 && *gauge <= 40, "a gauge is 4/0 to 40");
  if (const auto whole = parse_whole_number(text, 1)) fuzz::must(*whole >= 1, "a whole number is no less");
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::each_line(fuzz::as_text(data, size), try_cell);
  return 0;
}
