#include "job/news.hpp"

#include <string>

#include "job/panel.hpp"

namespace ringtrue::job {

/// Numbers count from 1 without gaps, so the greatest is how many there are.
Result<JobMark> mark_of(Database& database) {
  auto row = database.prepare(
      "SELECT (SELECT ifnull(max(number), 0) FROM netlist), (SELECT ifnull(max(number), 0) FROM reading), "
      "(SELECT ifnull(max(number), 0) FROM event), (SELECT ifnull(max(number), 0) FROM meter), "
      "(SELECT ifnull(max(number), 0) FROM result), (SELECT ifnull(max(number), 0) FROM decision)");
  if (!row) return tl::unexpected(std::move(row.error()));
  if (auto there = row->step(); !there) return tl::unexpected(std::move(there.error()));
  return JobMark{row->number(0), row->number(1), row->number(2),
                 row->number(3), row->number(4), row->number(5)};
}

Result<JobNews> read_news(Database& database, const JobMark& since) {
  auto mark = mark_of(database);
  if (!mark) return tl::unexpected(std::move(mark.error()));
  JobNews news{*mark, std::nullopt, {}, std::nullopt};
  JobMark but_for_readings = *mark;
  but_for_readings.readings = since.readings, but_for_readings.io_results = since.io_results;
  if (*mark == since) return news;
  const std::string after = " WHERE number > " + std::to_string(since.readings);
  const std::string is_of_earlier = "ifnull(netlist, 1) < (SELECT max(number) FROM netlist)";
  const auto beyond_adding =
      database.number("SELECT (SELECT count(*) FROM reading" + after + " AND (supersedes IS NOT NULL OR " +
                      is_of_earlier + ")) + (SELECT count(*) FROM result WHERE number > " +
                      std::to_string(since.io_results) + " AND " + is_of_earlier + ")");
  if (!beyond_adding) return tl::unexpected(beyond_adding.error());
  if (but_for_readings != since || *beyond_adding != 0)
    return read_panel(database).map([&](Panel panel) {
      news.panel = std::move(panel);
      return std::move(news);
    });
  return readings_of(database, after)
      .map([&](Readings readings) { news.readings = std::move(readings); })
      .and_then([&]() -> Result<void> {
        if (mark->io_results == since.io_results) return {};
        return io_results_of(database).map([&](IoResults results) { news.io_results = std::move(results); });
      })
      .map([&] { return std::move(news); });
}

}  // namespace ringtrue::job
