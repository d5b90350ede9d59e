// Iterative deepening over sets of settings. At each depth only settings are tried that open one of the
// elements of which, as `to_break` says, one has to be opened; so no smaller set is missed.
#include "steps.hpp"

#include <algorithm>
#include <set>

#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

namespace {

/// Views tried at most; a search that needs more says so.
constexpr std::size_t k_max_trials = 4000;

bool is_lift(const std::string& setting) { return setting.ends_with("=lifted"); }

}  // namespace

Asked::Asked(const ConductionGraph& graph, const Probing& probing, std::string_view when)
    : graph_(graph), probing_(probing), when_(when) {
  const auto condition = parse_condition(when_, graph);
  if (!condition) return;
  const ConditionOverlay made = overlay_of(*condition, graph);
  from_ = loose_end(probing.from, made);
  to_ = loose_end(probing.to, made);
}

Asked::Loose Asked::loose_end(PointId p, const ConditionOverlay& condition) {
  for (const auto& lifted : condition.lifted)
    if (lifted.loose == p) return {lifted.conductor, lifted.end};
  return {};
}

bool Asked::find(const Loose& loose, const ConditionOverlay& condition, PointId& p) {
  if (loose.conductor == ElementId::none) return true;
  for (const auto& lifted : condition.lifted)
    if (lifted.conductor == loose.conductor && lifted.end == loose.end) {
      p = lifted.loose;
      return true;
    }
  return false;
}

bool Asked::with(std::span<const std::string> settings,
                 const std::function<void(const View&, const Probing&)>& use) const {
  std::string text = when_;
  for (const std::string& setting : settings) text += ";" + setting;
  const auto condition = parse_condition(text, graph_);
  if (!condition) return false;
  const ConditionOverlay made = overlay_of(*condition, graph_);
  Probing probing = probing_;
  if (!find(from_, made, probing.from) || !find(to_, made, probing.to)) return false;
  use(View(graph_, made.overlay), probing);
  return true;
}

namespace {

class StepSearch {
 public:
  StepSearch(const Asked& asked, const ToBreak& to_break) : asked_(asked), to_break_(to_break) {
    const Probing& probing = asked.probing();
    const PointTable& points = asked.graph().netlist().points;
    near_ = {probing.from, probing.to};
    if (probing.from_either_side) near_.push_back(points.other_side(probing.from));
    if (probing.to_either_side) near_.push_back(points.other_side(probing.to));
  }

  std::optional<Steps> run() {
    for (depth_ = 0; depth_ <= k_max_steps; ++depth_) {
      seen_.clear();
      if (try_settings()) return Steps{held_, !cut_short_};
      if (cut_short_) break;
    }
    return std::nullopt;
  }

 private:
  /// The held settings, or some that extend them up to the depth, are enough.
  bool try_settings() {
    if (trials_++ >= k_max_trials) {
      cut_short_ = true;
      return false;
    }
    std::optional<std::vector<ElementId>> to_break;
    const bool fits = asked_.with(
        held_, [&](const View& view, const Probing& probing) { to_break = to_break_(view, probing); });
    if (!fits || !to_break) return false;
    if (to_break->empty()) return true;
    if (held_.size() == depth_) return false;
    for (const std::string& setting : openers(*to_break)) {
      if (std::find(held_.begin(), held_.end(), setting) != held_.end()) continue;
      held_.push_back(setting);
      if (is_new() && try_settings()) return true;
      held_.pop_back();
    }
    return false;
  }

  [[nodiscard]] std::vector<std::string> openers(const std::vector<ElementId>& elements) const {
    std::vector<std::string> settings;
    for (const ElementId e : elements)
      for (std::string& setting : settings_that_open(e, asked_.graph(), near_))
        settings.push_back(std::move(setting));
    std::sort(settings.begin(), settings.end(), [](const std::string& x, const std::string& y) {
      return std::pair(is_lift(x), std::string_view(x)) < std::pair(is_lift(y), std::string_view(y));
    });
    settings.erase(std::unique(settings.begin(), settings.end()), settings.end());
    return settings;
  }

  /// The same settings in another order were not tried before.
  bool is_new() {
    std::vector<std::string> sorted = held_;
    std::sort(sorted.begin(), sorted.end());
    return seen_.insert(std::move(sorted)).second;
  }

  const Asked& asked_;
  const ToBreak& to_break_;
  std::vector<PointId> near_;
  std::vector<std::string> held_;
  std::set<std::vector<std::string>> seen_;
  std::size_t depth_ = 0, trials_ = 0;
  bool cut_short_ = false;
};

}  // namespace

std::optional<Steps> fewest_steps(const Asked& asked, const ToBreak& to_break) {
  auto steps = StepSearch(asked, to_break).run();
  if (steps) std::sort(steps->settings.begin(), steps->settings.end());
  return steps;
}

}  // namespace ringtrue
