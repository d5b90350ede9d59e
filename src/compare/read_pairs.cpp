#include "ringtrue/compare/read_pairs.hpp"

#include <algorithm>

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

bool is_current(Standing standing) {
  return standing != Standing::stale && standing != Standing::unknown_point;
}

}  // namespace

ReadPairs::ReadPairs(const Readings& readings, const Comparison& comparison) {
  std::vector<std::uint32_t> numbers;
  for (const std::string& condition : readings.conditions) numbers.push_back(number_of(condition));
  taken_.reserve(readings.rows.size());
  for (std::size_t i = 0; i < readings.rows.size(); ++i)
    if (is_current(comparison.standing[i]))
      taken_.push_back(pair_of(comparison.probings[i].from, comparison.probings[i].to,
                               numbers[readings.rows[i].condition]));
  std::sort(taken_.begin(), taken_.end());
}

std::uint32_t ReadPairs::number_of(std::string_view condition) {
  const auto next = static_cast<std::uint32_t>(conditions_.size());
  return conditions_.emplace(in_order(condition), next).first->second;
}

ReadPairs::Pair ReadPairs::pair_of(PointId from, PointId to, std::uint32_t condition) {
  return {condition, std::min(from, to), std::max(from, to)};
}

bool ReadPairs::has(const Pair& pair) const {
  return std::binary_search(taken_.begin(), taken_.end(), pair) || added_.contains(pair);
}

bool ReadPairs::holds(PointId from, PointId to, std::string_view condition) const {
  const auto known = conditions_.find(in_order(condition));
  return known != conditions_.end() && has(pair_of(from, to, known->second));
}

bool ReadPairs::add(PointId from, PointId to, std::string_view condition) {
  const Pair pair = pair_of(from, to, number_of(condition));
  return !has(pair) && added_.insert(pair).second;
}

}  // namespace ringtrue
