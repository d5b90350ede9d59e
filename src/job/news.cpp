#include "job/news.hpp"

#include <string>

#include "job/panel.hpp"

namespace ringtrue::job {

namespace {

/// Numbers count from 1 without gaps, so the greatest is how many there are.
Result<JobMark> mark_of(Database& database) {
  auto row = database.prepare(
      "SELECT (SELECT ifnull(max(number), 0) FROM netlist), (SELECT ifnull(max(number), 0) FROM reading), "
      "(SELECT ifnull(max(number), 0) FROM event), (SELECT ifnull(max(number), 0) FROM meter)");
  if (!row) return tl::unexpected(std::move(row.error()));
  if (auto there = row->step(); !there) return tl::unexpected(std::move(there.error()));
  return JobMark{row->number(0), row->number(1), row->number(2), row->number(3)};
}

}  // namespace

Result<JobNews> read_news(Database& database, const JobMark& since) {
  auto mark = mark_of(database);
  if (!mark) return tl::unexpected(std::move(mark.error()));
  JobNews news{*mark, std::nullopt, {}};
  JobMark but_for_readings = *mark;
  but_for_readings.readings = since.readings;
  if (*mark == since) return news;
  const std::string after = " WHERE number > " + std::to_string(since.readings);
  const auto superseding =
      database.number("SELECT count(*) FROM reading" + after + " AND supersedes IS NOT NULL");
  if (!superseding) return tl::unexpected(superseding.error());
  if (but_for_readings != since || *superseding != 0)
    return read_panel(database).map([&](Panel panel) {
      news.panel = std::move(panel);
      return std::move(news);
    });
  return readings_of(database, after).map([&](Readings readings) {
    news.readings = std::move(readings);
    return std::move(news);
  });
}

}  // namespace ringtrue::job
