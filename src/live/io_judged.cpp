#include "live/io_judged.hpp"

#include <cmath>

namespace ringtrue::live {

namespace {

// Of the volts drawn at an output. Supply tolerance -15 to +20 % and at most 3 V of drop at 24 V, a "0" up to
// 5 V of 24 V: IEC 61131-2, from memory.
constexpr double k_least_on = 0.72, k_most_on = 1.2, k_most_off = 0.2;

}  // namespace

Judged judged_input(const InputRecord& record, const IoSeen& seen) {
  const std::string wanted(word(record.lit_when_acted ? LedSeen::lit : LedSeen::dark)),
      wanted_back(word(record.lit_when_acted ? LedSeen::dark : LedSeen::lit));
  Judged judged;
  const auto compare = [&](const std::string& what, std::string_view is, const std::string& wants) {
    if (is.empty()) return;
    judged.is_anything = true;
    if (is != wants) add(judged.against, what + ": " + std::string(is) + ", not " + wants);
  };
  compare(record.acted, seen.led, wanted);
  compare(record.back, seen.back, wanted_back);
  compare("bit", seen.bit, record.lit_when_acted ? "1" : "0");
  if (seen.only_this == word(OnlyThis::no)) add(judged.against, "another channel changed too");
  if (seen.led.empty()) judged.lacking = "what the LED showed";
  if (seen.back.empty()) add(judged.lacking, "whether " + wanted_back + " again when " + record.back, ", ");
  if (seen.back == wanted_back) judged.beside = record.back + ": " + wanted_back;
  return judged;
}

Judged judged_output(const OutputRecord& record, std::string_view responded, std::optional<double> on,
                     std::optional<double> off) {
  Judged judged;
  judged.is_anything = on || off || !responded.empty();
  if (responded == "yes") judged.beside = "it responded";
  if (responded == "no") judged.against = "it did not respond";
  const double drawn = record.volts.value_or(0);
  const bool is_on = on && std::abs(*on) >= k_least_on * drawn && std::abs(*on) <= k_most_on * drawn;
  if (record.volts && on && !is_on)
    add(judged.against, "on: " + plain(*on) + " V, where " + plain(drawn) + " V is drawn");
  else if (record.is_field_plus && on && *on < 0)
    add(judged.against, "on: " + plain(*on) + " V, reversed: the polarity, or the leads");
  if (record.volts && off && std::abs(*off) > k_most_off * drawn)
    add(judged.against, "off: " + plain(*off) + " V, not near 0 V");
  // An unloaded electronic output reads near full volts while off: volts tell only where both are there.
  if (responded.empty() && !(record.volts && on && off)) judged.lacking = "whether it responded";
  return judged;
}

void add(std::string& text, std::string_view more, std::string_view between) {
  if (!text.empty() && !more.empty()) text += between;
  text += more;
}

std::string plain(double number) {
  std::string text = std::to_string(number);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

}  // namespace ringtrue::live
