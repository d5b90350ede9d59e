#include "ringtrue/compare/read_pairs.hpp"

#include <algorithm>
#include <vector>

namespace ringtrue {

namespace {

/// Its settings in one order, without blanks, so that the same condition is the same text.
std::string in_order(std::string_view condition) {
  std::vector<std::string> settings;
  while (!condition.empty()) {
    const std::size_t end = std::min(condition.find(';'), condition.size());
    std::string setting;
    for (const char c : condition.substr(0, end))
      if (c != ' ') setting += c;
    if (!setting.empty()) settings.push_back(std::move(setting));
    condition.remove_prefix(std::min(end + 1, condition.size()));
  }
  std::sort(settings.begin(), settings.end());
  std::string text;
  for (const std::string& setting : settings) text += setting + ';';
  return text;
}

std::string key_of(PointId from, PointId to, const std::string& condition_in_order) {
  const auto [first, second] = std::minmax({index(from), index(to)});
  return std::to_string(first) + ' ' + std::to_string(second) + ' ' + condition_in_order;
}

bool is_current(Standing standing) {
  return standing != Standing::stale && standing != Standing::unknown_point;
}

}  // namespace

ReadPairs::ReadPairs(const Readings& readings, const Comparison& comparison) {
  std::vector<std::string> conditions;
  for (const std::string& condition : readings.conditions) conditions.push_back(in_order(condition));
  keys_.reserve(readings.rows.size());
  for (std::size_t i = 0; i < readings.rows.size(); ++i)
    if (is_current(comparison.standing[i]))
      keys_.insert(key_of(comparison.probings[i].from, comparison.probings[i].to,
                          conditions[readings.rows[i].condition]));
}

bool ReadPairs::holds(PointId from, PointId to, std::string_view condition) const {
  return keys_.contains(key_of(from, to, in_order(condition)));
}

bool ReadPairs::add(PointId from, PointId to, std::string_view condition) {
  return keys_.insert(key_of(from, to, in_order(condition))).second;
}

}  // namespace ringtrue
