// Files of what was read at the panel and what belongs to it: the bytes stand for each of them in turn.
#include "fuzz/fuzz.hpp"
#include "ringtrue/load/load.hpp"

using namespace ringtrue;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::as_text(data, size);
  const auto file = fuzz::scratch().write("in.csv", text);
  const auto told = [&](const auto& loaded) {
    if (!loaded) fuzz::must_be_told(loaded.error(), text);
  };
  const auto readings = load_readings(file);
  told(readings);
  told(load_events(file));
  told(load_meters(file));
  told(load_io_results(file));
  told(load_decisions(file));
  told(load_signatures(file));
  if (!readings) return 0;
  for (const Reading& reading : readings->rows) {
    fuzz::must(reading.condition < readings->conditions.size(), "a reading has a condition");
    fuzz::must(!reading.from.empty() && !reading.to.empty(), "a reading has two points");
  }
  return 0;
}
