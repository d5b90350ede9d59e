#include "fuzz/netlists.hpp"
#include "ringtrue/model/condition.hpp"

using namespace ringtrue;

namespace {

bool is_same(const Setting& a, const Setting& b) {
  return a.state == b.state && a.position == b.position && a.parts == b.parts && a.object == b.object &&
         a.conductor == b.conductor && a.lifted_from == b.lifted_from && a.from == b.from && a.to == b.to;
}

template <class Settings>
std::string joined(const Settings& first, const Settings& last) {
  std::string text;
  for (auto setting = first; setting != last; ++setting) text += setting->object + ";";
  return text;
}

void try_condition(std::string_view typed) {
  const Netlist& netlist = fuzz::grain_dryer();
  const auto condition = parse_condition(typed, netlist);
  if (!condition) return fuzz::must_be_told_of(condition.error(), typed);
  const auto& settings = condition->settings;
  for (const std::string& text :
       {joined(settings.begin(), settings.end()), joined(settings.rbegin(), settings.rend())}) {
    const auto again = parse_condition(text, netlist);
    fuzz::must(again && std::equal(settings.begin(), settings.end(), again->settings.begin(),
                                   again->settings.end(), is_same),
               "a condition is the same in any order", text);
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::each_line(fuzz::as_text(data, size), try_condition);
  return 0;
}
