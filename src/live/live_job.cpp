#include "ringtrue/live/live_job.hpp"

#include <algorithm>

#include "live/to_do.hpp"
#include "ringtrue/revise/carry_over.hpp"

namespace ringtrue {

namespace {

/// More readings at once are explained anew rather than one by one.
constexpr std::size_t k_many_at_once = 50;

ReadingRow row_of(const Readings& readings, std::size_t at) {
  const Reading& reading = readings.rows[at];
  const auto text = [&](ReadingText field) { return readings.text.get(field, at); };
  return {reading.from,
          reading.to,
          text(ReadingText::value),
          text(ReadingText::time),
          text(ReadingText::by),
          readings.conditions[reading.condition],
          text(ReadingText::meter),
          word(reading.method),
          text(ReadingText::witness),
          text(ReadingText::note),
          text(ReadingText::id)};
}

}  // namespace

std::string_view word(Upcoming::Why why) {
  switch (why) {
    case Upcoming::Why::again:
      return "again";
    case Upcoming::Why::finding:
      return "finding";
    case Upcoming::Why::plan:
      return "plan";
  }
  return {};
}

class LiveJob::Impl {
 public:
  Impl(Job job, const LiveOptions& options) : job_(std::move(job)), options_(options) {}

  Result<bool> catch_up() {
    auto news = job_.news(mark_);
    if (!news) return tl::unexpected(std::move(news.error()));
    if (news->mark == mark_) return false;
    if (!news->panel && news->readings.rows.size() > k_many_at_once) {
      news = job_.news({});
      if (!news) return tl::unexpected(std::move(news.error()));
    }
    auto taken = news->panel ? begin(std::move(*news->panel), news->mark.netlists != mark_.netlists)
                             : add(news->readings);
    if (!taken) return tl::unexpected(std::move(taken.error()));
    if (news->io_results) take_results(std::move(*news->io_results));
    const bool is_only_results = !news->panel && news->readings.rows.empty();
    if (news->mark.netlists != mark_.netlists || news->mark.meters != mark_.meters) plan_.reset();
    mark_ = news->mark;
    ++generation_;
    if (is_only_results) return true;
    next_.reset();
    further_.reset();
    return true;
  }

  const std::vector<NextReading>& next() const {
    if (!next_)
      next_ = next_readings(drawing_->graph, state_->readings(), state_->comparison(), state_->findings());
    return *next_;
  }

  std::vector<Upcoming> upcoming(std::size_t most) {
    const MeterSettings meter = this->meter();
    const live::Known known{drawing_->graph, *state_, meter};
    ReadPairs pairs(state_->readings(), state_->comparison());
    std::vector<Upcoming> all = live::to_take_again(known, standing_without_changes(), pairs);
    for (Upcoming& reading : live::to_tell_apart(known, next())) {
      if (pairs.holds(reading.from_point, reading.to_point, reading.conditions)) continue;
      pairs.add(reading.from_point, reading.to_point, reading.conditions);
      all.push_back(std::move(reading));
    }
    add_planned(all, plan(), live::done_of(plan(), known, pairs), most);
    if (all.empty()) add_planned(all, further_plan(), live::done_of(further_plan(), known, pairs), most);
    if (all.size() > most) all.resize(most);
    return all;
  }

  Progress progress() {
    const MeterSettings meter = this->meter();
    const live::Known known{drawing_->graph, *state_, meter};
    const ReadPairs pairs(state_->readings(), state_->comparison());
    const std::vector<bool> done = live::done_of(plan(), known, pairs);
    return {done.size(), static_cast<std::size_t>(std::count(done.begin(), done.end(), true))};
  }

  std::uint64_t generation_ = 0;
  std::shared_ptr<const Drawing> drawing_;
  Events events_;
  Meters meters_;
  IoResults io_results_;
  std::optional<DiagnosisState> state_;

 private:
  /// Everything anew.
  Result<void> begin(Panel panel, bool is_revised) {
    auto drawing = drawing_;
    if (is_revised || !drawing)
      drawing = std::make_shared<const Drawing>(std::move(panel.netlist), options_.copper);
    if (auto carried = carry_over(panel.earlier, drawing->graph, options_.copper, panel.readings,
                                  panel.events, panel.meters, options_.meter);
        !carried)
      return carried;
    auto state = begin_diagnosis(drawing->graph, std::move(panel.readings), panel.events, panel.meters,
                                 options_.meter, options_.diagnose);
    if (!state) return tl::unexpected(std::move(state.error()));
    state_ = std::move(*state);
    drawing_ = std::move(drawing);
    events_ = std::move(panel.events);
    meters_ = std::move(panel.meters);
    earlier_ = std::move(panel.earlier);
    take_results(std::move(panel.io_results));
    return {};
  }

  void take_results(IoResults results) {
    carry_over(earlier_, drawing_->graph, options_.copper, results);
    io_results_ = std::move(results);
  }

  /// Judged beforehand by themselves, since what can't be judged would leave no state.
  Result<void> add(const Readings& readings) {
    if (auto sound = compare(drawing_->graph, readings, {}, meters_, options_.meter); !sound)
      return tl::unexpected(std::move(sound.error()));
    for (std::size_t i = 0; i < readings.rows.size(); ++i)
      state_ = std::move(diagnose(std::move(*state_), row_of(readings, i), readings.rows[i].line).value());
    return {};
  }

  /// As if the temporary changes that are still open had never been made: what they made stale counts again
  /// once they are undone, and nobody has to read it anew.
  [[nodiscard]] std::vector<Standing> standing_without_changes() const {
    if (open_temporary_changes(events_).empty()) return state_->comparison().standing;
    Events lasting = events_;
    std::erase_if(lasting.rows, [](const Event& event) { return event.kind == EventKind::temporary_made; });
    return compare(drawing_->graph, state_->readings(), lasting, meters_, options_.meter).value().standing;
  }

  [[nodiscard]] MeterSettings meter() const { return MeterTable(meters_, options_.meter).of(ReadingId{0}); }

  [[nodiscard]] PlanOptions plan_options() const {
    PlanOptions options = options_.plan;
    options.meter = meter();
    options.meters = meters_;
    return options;
  }

  /// Proves the drawing from the start, so that it stays the same while the work goes on.
  const Plan& plan() {
    if (!plan_) plan_ = make_plan(drawing_->graph, plan_options());
    return *plan_;
  }

  /// What is still unproven when all of that is done.
  const Plan& further_plan() {
    if (!further_)
      further_ = make_plan(drawing_->graph, plan_options(),
                           {&state_->readings(), &state_->comparison(), &state_->findings().proven});
    return *further_;
  }

  void add_planned(std::vector<Upcoming>& all, const Plan& plan, const std::vector<bool>& done,
                   std::size_t most) const {
    for (std::size_t i = 0; i < done.size() && all.size() < most; ++i)
      if (!done[i]) all.push_back(live::planned(plan, i, drawing_->graph));
  }

  Job job_;
  LiveOptions options_;
  JobMark mark_;
  std::vector<EarlierNetlist> earlier_;
  mutable std::optional<std::vector<NextReading>> next_;
  std::optional<Plan> plan_, further_;
};

LiveJob::LiveJob(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
LiveJob::LiveJob(LiveJob&&) noexcept = default;
LiveJob& LiveJob::operator=(LiveJob&&) noexcept = default;
LiveJob::~LiveJob() = default;

Result<LiveJob> LiveJob::open(Job job, const LiveOptions& options) {
  auto impl = std::make_unique<Impl>(std::move(job), options);
  if (const auto read = impl->catch_up(); !read) return tl::unexpected(read.error());
  return LiveJob(std::move(impl));
}

Result<bool> LiveJob::catch_up() { return impl_->catch_up(); }
std::uint64_t LiveJob::generation() const { return impl_->generation_; }
const std::shared_ptr<const Drawing>& LiveJob::drawing() const { return impl_->drawing_; }
const DiagnosisState& LiveJob::state() const { return *impl_->state_; }
const Events& LiveJob::events() const { return impl_->events_; }
const Meters& LiveJob::meters() const { return impl_->meters_; }
const IoResults& LiveJob::io_results() const { return impl_->io_results_; }
const std::vector<NextReading>& LiveJob::next() const { return impl_->next(); }
std::vector<Upcoming> LiveJob::upcoming(std::size_t most) { return impl_->upcoming(most); }
LiveJob::Progress LiveJob::progress() { return impl_->progress(); }

}  // namespace ringtrue
