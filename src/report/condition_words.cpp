#include <algorithm>
#include <vector>

#include "ringtrue/report/panel_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_few_objects = 4;

/// Objects that a condition brings to the same state.
struct Wanted {
  std::string_view state;
  std::vector<std::string_view> objects;
};

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

/// Its settings, split at `;` and each at its last `=`, by state in the order of their first objects.
std::vector<Wanted> wanted_by(std::string_view condition) {
  std::vector<Wanted> all;
  while (!condition.empty()) {
    const std::size_t end = std::min(condition.find(';'), condition.size());
    const std::string_view setting = condition.substr(0, end);
    condition.remove_prefix(std::min(end + 1, condition.size()));
    const std::size_t equals = setting.rfind('=');
    if (equals == std::string_view::npos) continue;
    const std::string_view state = trimmed(setting.substr(equals + 1));
    auto same = std::find_if(all.begin(), all.end(), [&](const Wanted& one) { return one.state == state; });
    if (same == all.end()) same = all.insert(all.end(), {state, {}});
    same->objects.push_back(trimmed(setting.substr(0, equals)));
  }
  return all;
}

/// How many of them are named.
std::size_t shown_of(const Wanted& wanted, Detail detail) {
  const std::size_t all = wanted.objects.size();
  return detail == Detail::everything || all <= k_few_objects + 1 ? all : k_few_objects;
}

std::string more_than(std::size_t shown, const Wanted& wanted) {
  const std::size_t left = wanted.objects.size() - shown;
  return left == 0 ? "" : " and " + std::to_string(left) + " more";
}

std::string doing(std::string_view state, const std::string& objects) {
  if (state == "lifted") return "lift conductor " + objects;
  if (state == "out") return "take out " + objects;
  if (state == "unplugged") return "unplug " + objects;
  if (state == "off" || state == "on") return "switch " + objects + " " + std::string(state);
  if (state == "open") return "open the link of " + objects;
  if (state == "operated") return "hold " + objects + " operated";
  if (state == "jumpered") return "join " + objects + " by a lead";
  if (state == "connected") return "connect " + objects;
  return "bring " + objects + " to " + std::string(state);
}

std::string at_its_point(std::string_view object) {
  const std::size_t at = object.find('@');
  if (at == std::string_view::npos) return std::string(object);
  return std::string(object.substr(0, at)) + " at " + std::string(object.substr(at + 1));
}

}  // namespace

std::string condition_words(std::string_view condition, Detail detail) {
  std::string text;
  for (const Wanted& wanted : wanted_by(condition)) {
    const std::size_t shown = shown_of(wanted, detail);
    std::vector<std::string> objects(wanted.objects.begin(),
                                     wanted.objects.begin() + static_cast<std::ptrdiff_t>(shown));
    text += (text.empty() ? "" : "; ") + report::joined(objects) + more_than(shown, wanted) + " " +
            std::string(wanted.state);
  }
  return text;
}

std::string to_be_done(std::string_view condition, Detail detail) {
  std::string text;
  for (const Wanted& wanted : wanted_by(condition)) {
    const std::size_t shown = shown_of(wanted, detail);
    std::vector<std::string> objects;
    for (std::size_t i = 0; i < shown; ++i) objects.push_back(at_its_point(wanted.objects[i]));
    text +=
        (text.empty() ? "" : "; ") + doing(wanted.state, report::joined(objects) + more_than(shown, wanted));
  }
  return text;
}

}  // namespace ringtrue
