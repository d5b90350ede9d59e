#pragma once
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

#include "load/load_support.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::testing_support {

namespace fs = std::filesystem;

inline constexpr std::string_view k_conductors = "wire,from,to\n1,K1:A1,X1:5.int\n";

inline std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Jobs in a folder of their own.
class JobTest : public ::testing::Test {
 protected:
  [[nodiscard]] fs::path at(const std::string& name) const { return folder_.path() / name; }

  template <class T>
  T must(Result<T> result) {
    if (!result) throw std::runtime_error(errors_of(result, folder_));
    return std::move(*result);
  }

  /// A job of one wire.
  Job small_job() {
    folder_.write("GD1/conductors.csv", k_conductors);
    return must(create_job(at("a.rtj"), {at("GD1")}));
  }

  static ReadingRow reading(std::string_view id, std::string_view value = "beep") {
    ReadingRow row;
    row.from = "K1:A1", row.to = "X1:5.int", row.value = value, row.id = id;
    return row;
  }

  static EventRow event(std::string_view id, std::string_view kind, std::string_view points,
                        std::string_view time) {
    EventRow row;
    row.time = time, row.by = "A", row.kind = kind, row.points = points, row.id = id;
    return row;
  }

  static JobRows one_meter(std::string_view name, std::string_view threshold) {
    MeterRow row;
    row.meter = name, row.threshold = threshold;
    JobRows rows;
    rows.meters = Meters{};
    rows.meters->rows.push_back(meter_from_row(row, 2, "meters.csv").value());
    return rows;
  }

  std::string ids(const Job& job) {
    const Panel panel = must(job.panel());
    std::string text;
    for (std::size_t i = 0; i < panel.readings.rows.size(); ++i)
      text += (text.empty() ? "" : " ") + panel.readings.name(ReadingId{static_cast<std::uint32_t>(i)});
    return text;
  }

  /// SQL by a connection of its own; what SQLite says, or the rows' first cells.
  std::string sql(const fs::path& path, const std::string& statements) {
    sqlite3* connection = nullptr;
    sqlite3_open(path.c_str(), &connection);
    std::string answer;
    const auto take = [](void* to, int, char** cells, char**) {
      *static_cast<std::string*>(to) += (cells[0] == nullptr ? "NULL" : cells[0]) + std::string(" ");
      return 0;
    };
    char* message = nullptr;
    if (sqlite3_exec(connection, statements.c_str(), take, &answer, &message) != SQLITE_OK) answer = message;
    sqlite3_free(message);
    sqlite3_close(connection);
    return answer;
  }

  ScopedTempFolder folder_;
};

}  // namespace ringtrue::testing_support
