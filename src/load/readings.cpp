#include "ringtrue/model/readings.hpp"
#include "load/csv_rows.hpp"
#include "load/file.hpp"
#include "ringtrue/load/load.hpp"

namespace ringtrue {

namespace {

/// Events while they are read; takes what is wrong as a builder does.
struct EventList {
  Events events;
  Errors errors;

  void add_error(Error error) { errors.push_back(std::move(error)); }
  void add_note(Note note) { events.notes.push_back(std::move(note)); }
  [[nodiscard]] bool has_enough_errors() const { return errors.size() >= k_max_errors; }

  void add(const EventRow& row, std::uint32_t line) {
    Result<Event> event = event_from_row(row, line, events.file);
    if (event) return events.rows.push_back(std::move(*event));
    for (Error& error : event.error())
      if (!has_enough_errors()) add_error(std::move(error));
  }
};

}  // namespace

Result<Readings> load_readings(const std::filesystem::path& path, const LoadLimits& limits) {
  const Result<load::FileText> file = load::read_text_file(path, limits.max_file_bytes);
  if (!file) return tl::unexpected(file.error());
  ReadingsBuilder builder(file->name);
  builder.keep(file->bytes);
  builder.reserve(load::estimated_lines(*file));
  load::read_csv_rows<ReadingRow>(*file, builder,
                                  [&](const ReadingRow& row, std::uint32_t line) { builder.add(row, line); });
  return builder.finish();
}

Result<Events> load_events(const std::filesystem::path& path, const LoadLimits& limits) {
  const Result<load::FileText> file = load::read_text_file(path, limits.max_file_bytes);
  if (!file) return tl::unexpected(file.error());
  EventList list;
  list.events.file = file->name;
  load::read_csv_rows<EventRow>(*file, list,
                                [&](const EventRow& row, std::uint32_t line) { list.add(row, line); });
  if (!list.errors.empty()) return tl::unexpected(std::move(list.errors));
  return std::move(list.events);
}

}  // namespace ringtrue
