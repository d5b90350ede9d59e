#include "load/spreadsheet.hpp"

#include <algorithm>
#include <charconv>

#include "load/text.hpp"

namespace ringtrue::load {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_number(std::string_view text, std::size_t least, std::size_t most) {
  return text.size() >= least && text.size() <= most && std::all_of(text.begin(), text.end(), is_digit);
}

bool is_number_up_to(std::string_view text, int most) {
  int value = 0;
  if (!is_number(text, 1, 2)) return false;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value >= 1 && value <= most;
}

bool is_month(std::string_view text) {
  static constexpr std::string_view k_months[] = {"jan",  "feb", "mar", "mrz", "m\xC3\xA4r", "apr",
                                                  "may",  "mai", "jun", "jul", "aug",        "sep",
                                                  "sept", "oct", "okt", "nov", "dec",        "dez"};
  return std::any_of(std::begin(k_months), std::end(k_months),
                     [&](std::string_view month) { return equal_without_case(month, text); });
}

/// Parts between `-`, `.`, `/` and blanks; empty if there are more than three.
std::vector<std::string_view> parts_of(std::string_view text) {
  constexpr std::string_view k_between = "-./ ";
  std::vector<std::string_view> parts;
  while (!text.empty()) {
    const std::size_t stop = std::min(text.find_first_of(k_between), text.size());
    if (stop > 0) parts.push_back(text.substr(0, stop));
    if (parts.size() > 3) return {};
    text.remove_prefix(std::min(text.size(), stop + 1));
  }
  return parts;
}

bool is_year(std::string_view text) {
  return is_number(text, 2, 2) || (is_number(text, 4, 4) && (text[0] == '1' || text[0] == '2'));
}

/// `2-Jan`, `Jan-24`, `02. Jan 2024`, `01.02.2024`, `1/2/24`, `2024-01-02`.
bool is_date(std::string_view text) {
  const std::vector<std::string_view> parts = parts_of(text);
  if (parts.size() == 2)
    return (is_number_up_to(parts[0], 31) && is_month(parts[1])) || (is_month(parts[0]) && is_year(parts[1]));
  if (parts.size() != 3) return false;
  if (is_number_up_to(parts[0], 31) && is_month(parts[1])) return is_year(parts[2]);
  const auto is_day_and_month = [](std::string_view day, std::string_view month) {
    return is_number_up_to(day, 31) && is_number_up_to(month, 12);
  };
  if (is_number(parts[0], 4, 4) && is_year(parts[0])) return is_day_and_month(parts[2], parts[1]);
  return is_year(parts[2]) && (is_day_and_month(parts[0], parts[1]) || is_day_and_month(parts[1], parts[0]));
}

/// `12:30:00`.
bool is_time(std::string_view text) {
  return text.size() == 8 && text[2] == ':' && text[5] == ':' && is_number(text.substr(0, 2), 2, 2) &&
         is_number(text.substr(3, 2), 2, 2) && is_number(text.substr(6), 2, 2);
}

/// `3.00E+05`, `1,71E+04`.
bool has_exponent(std::string_view text) {
  const std::size_t e = text.find_first_of("Ee");
  if (e == text.npos || e + 3 > text.size() || (text[e + 1] != '+' && text[e + 1] != '-')) return false;
  const std::string_view mantissa = text.substr(0, e);
  const std::size_t point = std::min(mantissa.find_first_of(".,"), mantissa.size());
  return is_number(mantissa.substr(0, point), 1, 20) &&
         (point == mantissa.size() || is_number(mantissa.substr(point + 1), 1, 20)) &&
         is_number(text.substr(e + 2), 2, 3);
}

}  // namespace

std::optional<std::string_view> spreadsheet_damage(std::string_view name) {
  if (is_time(name)) return "a time of day";
  std::string_view text = name;
  if (text.ends_with(".int") || text.ends_with(".ext")) text.remove_suffix(4);
  if (const std::size_t colon = text.rfind(':'); colon != text.npos) text.remove_prefix(colon + 1);
  if (text.size() < 4) return std::nullopt;
  if (is_digit(text[0]) && has_exponent(text)) return "a number with an exponent";
  if ((is_digit(text[0]) || is_month(text.substr(0, 3)) || text[0] == 'm' || text[0] == 'M') && is_date(text))
    return "a date";
  return std::nullopt;
}

namespace {

template <class Row>
std::vector<FieldOf<Row>> fields_named(std::initializer_list<std::string_view> names) {
  std::vector<FieldOf<Row>> fields;
  for (const FieldOf<Row>& field : fields_of<Row>())
    if (std::find(names.begin(), names.end(), field.name) != names.end()) fields.push_back(field);
  return fields;
}

}  // namespace

template <>
std::vector<FieldOf<ConductorRow>> name_fields() {
  return fields_named<ConductorRow>({"wire", "from", "to", "cable", "core"});
}
template <>
std::vector<FieldOf<PartRow>> name_fields() {
  return fields_named<PartRow>({"part", "a", "b"});
}
template <>
std::vector<FieldOf<ChannelRow>> name_fields() {
  return fields_named<ChannelRow>({"point", "field", "return", "common"});
}
template <>
std::vector<FieldOf<PotentialRow>> name_fields() {
  return fields_named<PotentialRow>({"name", "point"});
}

template <>
std::vector<FieldOf<BridgeRow>> name_fields() {
  return fields_named<BridgeRow>({"strip", "terminals"});
}

}  // namespace ringtrue::load
