#include <array>
#include <charconv>

#include "ringtrue/model/readings.hpp"

namespace ringtrue {

namespace {

/// Reads the fixed-width number at `at`; -1 if other text stands there.
int digits(std::string_view text, std::size_t at, std::size_t count) {
  if (at + count > text.size()) return -1;
  int value = 0;
  const auto [end, error] = std::from_chars(text.data() + at, text.data() + at + count, value);
  return error == std::errc{} && end == text.data() + at + count && text[at] != '-' ? value : -1;
}

/// Days since 1970-01-01 in the proleptic Gregorian calendar (the era method of Hinnant 2013, from memory).
long days_of(int year, int month, int day) {
  const int y = month <= 2 ? year - 1 : year;
  const int era = y / 400;
  const int year_of_era = y - era * 400;
  const int day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  const int day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
  return static_cast<long>(era) * 146097 + day_of_era - 719468;
}

/// Offset of `Z` or `+01:00` in seconds.
std::optional<int> offset_of(std::string_view zone) {
  if (zone == "Z" || zone == "z") return 0;
  if (zone.size() != 6 || zone[3] != ':' || (zone[0] != '+' && zone[0] != '-')) return std::nullopt;
  const int hours = digits(zone, 1, 2), minutes = digits(zone, 4, 2);
  if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59) return std::nullopt;
  return (zone[0] == '-' ? -1 : 1) * (hours * 3600 + minutes * 60);
}

}  // namespace

std::optional<double> seconds_of_time(std::string_view text) {
  if (text.size() < 20 || text[4] != '-' || text[7] != '-' || text[13] != ':' || text[16] != ':')
    return std::nullopt;
  if (text[10] != 'T' && text[10] != 't' && text[10] != ' ') return std::nullopt;
  const int year = digits(text, 0, 4), month = digits(text, 5, 2), day = digits(text, 8, 2);
  const int hour = digits(text, 11, 2), minute = digits(text, 14, 2), second = digits(text, 17, 2);
  constexpr std::array<int, 12> k_days{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (year < 0 || month < 1 || month > 12 || day < 1 || day > k_days[static_cast<std::size_t>(month - 1)])
    return std::nullopt;
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  if (month == 2 && day == 29 && !leap) return std::nullopt;
  if (hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 60) return std::nullopt;
  std::string_view rest = text.substr(19);
  double fraction = 0;
  if (rest.front() == '.') {
    std::size_t end = 1;
    double unit = 0.1;
    for (; end < rest.size() && rest[end] >= '0' && rest[end] <= '9'; ++end) {
      fraction += unit * (rest[end] - '0');
      unit /= 10;
    }
    if (end == 1) return std::nullopt;
    rest.remove_prefix(end);
  }
  const auto offset = offset_of(rest);
  if (!offset) return std::nullopt;
  return static_cast<double>(days_of(year, month, day)) * 86400 + hour * 3600 + minute * 60 + second -
         *offset + fraction;
}

}  // namespace ringtrue
