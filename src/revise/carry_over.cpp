#include "ringtrue/revise/carry_over.hpp"

#include <algorithm>

#include "reasons.hpp"
#include "renamed.hpp"
#include "ringtrue/revise/retest.hpp"
#include "steps.hpp"

namespace ringtrue {

namespace {

/// Number of the revision that a row was added under; rows without a mark belong to the newest.
std::size_t number_of(std::string_view mark_text, std::size_t newest) {
  const auto mark = netlist_mark(mark_text);
  return mark ? mark->number : newest;
}

/// One step after the other.
class Carrying {
 public:
  Carrying(Readings readings, Events events, const Meters& meters, const MeterSettings& unnamed,
           std::size_t newest)
      : readings_(std::move(readings)), events_(std::move(events)), meters_(meters), unnamed_(unnamed) {
    for (std::size_t i = 0; i < readings_.rows.size(); ++i)
      of_reading_.push_back(number_of(readings_.text.get(ReadingText::netlist, i), newest));
    for (const Event& event : events_.rows) of_event_.push_back(number_of(event.netlist, newest));
  }

  /// From revision `number` to the next.
  [[nodiscard]] Result<void> step(const ConductionGraph& before, const ConductionGraph& after,
                                  std::size_t number, bool is_as_built) {
    const Difference differs = difference(before, after);
    const auto is_there = [&](std::size_t of) { return of <= number; };
    const Readings there = seen_at(number);
    const auto comparison = compare(before, there, events_until(number), meters_, unnamed_);
    if (!comparison) return tl::unexpected(comparison.error());
    const auto outdate_as = [&](std::uint32_t reading, const RetestedReading& why) {
      readings_.outdated.emplace(reading, reason_of(why, before, after, differs, number + 1));
    };
    if (is_as_built) {
      rename(before, after, differs, is_there);
      return outdate_those_that_would_count_again(
          after, number, *comparison, Standing::stale, [&](std::uint32_t reading) {
            outdate_as(reading, {Validity::did_not_count, PointId::none, {}});
          });
    }
    const auto kept = retest(before, after, differs, there, *comparison, meters_, unnamed_);
    if (!kept) return tl::unexpected(kept.error());
    rename(before, after, differs, is_there);
    const auto outdate = [&](std::uint32_t reading) { outdate_as(reading, kept->readings[reading]); };
    for (std::uint32_t i = 0; i < of_reading_.size(); ++i)
      if (!there.outdated.contains(i) && kept->readings[i].validity != Validity::valid &&
          kept->readings[i].validity != Validity::did_not_count)
        outdate(i);
    return outdate_those_that_would_count_again(after, number, *comparison, Standing::unknown_point, outdate);
  }

  [[nodiscard]] Readings&& readings() { return std::move(readings_); }
  [[nodiscard]] Events&& events() { return std::move(events_); }

 private:
  /// The readings as of a revision: those of later ones pass for outdated, and so for nothing.
  [[nodiscard]] Readings seen_at(std::size_t number) const {
    Readings seen = readings_;
    for (std::uint32_t i = 0; i < of_reading_.size(); ++i)
      if (of_reading_[i] > number) seen.outdated.emplace(i, std::string());
    return seen;
  }

  [[nodiscard]] Events events_until(std::size_t number) const {
    Events until = events_;
    until.rows.clear();
    for (std::size_t i = 0; i < of_event_.size(); ++i)
      if (of_event_[i] <= number) until.rows.push_back(events_.rows[i]);
    return until;
  }

  template <class IsThere>
  void rename(const ConductionGraph& before, const ConductionGraph& after, const Difference& differs,
              IsThere is_there) {
    readings_ = renamed_readings(readings_, before, after, differs,
                                 [&](std::uint32_t i) { return is_there(of_reading_[i]); });
    for (std::size_t i = 0; i < of_event_.size(); ++i)
      if (is_there(of_event_[i])) rename_points(events_.rows[i], before, after, differs);
  }

  /// `least` or beyond (unknown, stale, unstable) before the step, and none of it after.
  template <class Outdate>
  Result<void> outdate_those_that_would_count_again(const ConductionGraph& after, std::size_t number,
                                                    const Comparison& before, Standing least,
                                                    Outdate outdate) {
    const Readings there = seen_at(number);
    const auto comparison = compare(after, there, events_until(number), meters_, unnamed_);
    if (!comparison) return tl::unexpected(comparison.error());
    for (std::uint32_t i = 0; i < of_reading_.size(); ++i)
      if (before.standing[i] >= least && comparison->standing[i] < Standing::unknown_point) outdate(i);
    return {};
  }

  Readings readings_;
  Events events_;
  const Meters& meters_;
  const MeterSettings& unnamed_;
  std::vector<std::size_t> of_reading_, of_event_;  ///< numbers of revisions
};

}  // namespace

Result<void> carry_over(const std::vector<EarlierNetlist>& earlier, const ConductionGraph& newest,
                        const CopperSettings& copper, Readings& readings, Events& events,
                        const Meters& meters, const MeterSettings& unnamed) {
  if (earlier.empty()) return {};
  Carrying carrying(readings, events, meters, unnamed, earlier.back().number + 1);
  Result<void> done;
  revise::for_each_step(
      earlier, newest, copper,
      [&](const ConductionGraph& before, const ConductionGraph& after, const EarlierNetlist& from) {
        if (done) done = carrying.step(before, after, from.number, from.next_is_as_built);
      });
  if (!done) return done;
  readings = carrying.readings();
  events = carrying.events();
  return {};
}

}  // namespace ringtrue
