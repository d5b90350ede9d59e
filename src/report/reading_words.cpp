#include "reading_words.hpp"

#include <algorithm>
#include <vector>

#include "value_words.hpp"

namespace ringtrue::report {

namespace {

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

}  // namespace

std::string reading_label(const Readings& readings, ReadingId reading) {
  const bool has_id = !readings.text.get(ReadingText::id, index(reading)).empty();
  return has_id ? readings.name(reading) : "line " + readings.name(reading);
}

std::string ReadingWords::points(ReadingId reading) const {
  const Reading& row = report_.readings.rows[index(reading)];
  std::string text(row.from);
  if (!row.to.empty()) text.append(" to ").append(row.to);
  return text;
}

std::string ReadingWords::condition(ReadingId reading, Detail detail) const {
  return condition_words(report_.readings.conditions[report_.readings.rows[index(reading)].condition],
                         detail);
}

std::string condition_words(std::string_view condition, Detail detail) {
  constexpr std::size_t few = 4;
  struct Group {
    std::string_view state;
    std::vector<std::string_view> objects;
  };
  std::vector<Group> groups;
  while (!condition.empty()) {
    const std::string_view setting = trimmed(condition.substr(0, condition.find(';')));
    condition.remove_prefix(std::min(condition.size(), condition.find(';')));
    if (!condition.empty()) condition.remove_prefix(1);
    const std::size_t equals = setting.rfind('=');
    if (equals == std::string_view::npos) continue;
    const std::string_view state = trimmed(setting.substr(equals + 1));
    auto group = std::find_if(groups.begin(), groups.end(), [&](const Group& g) { return g.state == state; });
    if (group == groups.end()) group = groups.insert(groups.end(), {state, {}});
    group->objects.push_back(trimmed(setting.substr(0, equals)));
  }
  std::string text;
  for (const Group& group : groups) {
    const std::size_t all = group.objects.size();
    const std::size_t shown = detail == Detail::everything || all <= few + 1 ? all : few;
    if (!text.empty()) text += "; ";
    for (std::size_t i = 0; i < shown; ++i) text.append(i == 0 ? "" : ", ").append(group.objects[i]);
    if (shown < all) text += " and " + std::to_string(all - shown) + " more";
    text.append(" ").append(group.state);
  }
  return text;
}

const View& ReadingWords::view(std::uint16_t condition) {
  std::unique_ptr<View>& view = views_[condition];
  if (!view)
    view = std::make_unique<View>(report_.graph, report_.comparison.conditions.overlays[condition].overlay);
  return *view;
}

std::string ReadingWords::expected(ReadingId reading) {
  const Reading& row = report_.readings.rows[index(reading)];
  const OhmInterval ohms =
      expected_resistance(view(row.condition), report_.comparison.probings[index(reading)],
                          row.value.kind == ValueKind::ohms ? Counting::whole : Counting::limited);
  const bool is_beep_or_open = row.value.kind == ValueKind::beep || row.value.kind == ValueKind::open;
  const Ohms limit = beep_limit(report_.comparison.meters.of(reading));
  if (ohms.is_open()) return "drawn open";
  if (is_beep_or_open && ohms.hi <= limit) return "drawn a beep";
  const std::string range = range_text(ohms);
  if (is_beep_or_open && ohms.lo > limit) {
    rests_on_loads_ = true;
    return "drawn no beep (" + range + ")";
  }
  return "drawn " + range;
}

std::string ReadingWords::read_and_expected(ReadingId reading) {
  const Reading& row = report_.readings.rows[index(reading)];
  return "read " + to_text(row.value) + ", " + expected(reading);
}

}  // namespace ringtrue::report
