#include <array>

#include "power_words.hpp"
#include "ringtrue/report/csv_sheet.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::array<std::string_view, 10> k_columns = {"step", "switch", "red",   "black", "expect",
                                                        "also", "note",   "shown", "by",    "time"};
using Cells = std::array<std::string, k_columns.size()>;

class PowerSheet {
 public:
  explicit PowerSheet(const PowerReport& report) : report_(report) {}

  [[nodiscard]] std::string write() {
    report::put_sheet_header(out_, k_columns);
    for (const report::Precondition& must : report::preconditions(report_, Detail::everything))
      put("before", must.text, must.state == "to-be-seen" ? "" : std::string(must.state), must.missing);
    put("first", "open " + listed(report_.power_up.devices), "", "");
    put("first", "unplug " + listed(report_.power_up.unplugged), "", "");
    for (std::size_t i = 0; i < report_.power_up.steps.size(); ++i) step(i);
    for (const PlugIn& plug : report_.power_up.plug_ins) plug_in(plug);
    return std::move(out_);
  }

 private:
  void step(std::size_t number) {
    const PowerStep& step = report_.power_up.steps[number];
    const std::string id = std::to_string(number + 1);
    put(id, report::action_words(step, report_), "",
        report::joined(report::step_cautions(report_, number, Detail::everything), " "));
    for (const auto* list : {&step.readings, &step.pins})
      for (const ExpectedVolts& expected : *list)
        measure(id, expected.red, expected.black, report::volts_words(expected), expected.also,
                report::through_words(expected, report_.graph));
    for (const MustBeZero& zero : step.zeros) measure(id, zero.red, zero.black, "must read 0 V", {}, "");
  }

  void plug_in(const PlugIn& plug) {
    const std::string not_stated = report::joined(report::names_in_runs(plug.not_stated, netlist()));
    put("plug in", "off, isolated, proven dead by the site's procedure: plug in " + std::string(plug.part),
        "", not_stated.empty() ? "" : "no voltage stated at " + not_stated);
    for (const ExpectedVolts& pin : plug.pins)
      measure("plug in", pin.red, pin.black, report::volts_words(pin), {}, "on again, with it plugged in");
  }

  void measure(const std::string& id, PointId red, PointId black, const std::string& expect,
               const std::vector<PointId>& also, const std::string& note) {
    report::put_sheet_row(
        out_, Cells{id, "", name(red), name(black), expect,
                    report::joined(report::names_in_runs(also, netlist()), "; "), note, "", "", ""});
  }

  void put(const std::string& id, const std::string& action, const std::string& shown,
           const std::string& note) {
    report::put_sheet_row(out_, Cells{id, action, "", "", "", "", note, shown, "", ""});
  }

  [[nodiscard]] static std::string listed(const std::vector<std::string_view>& parts) {
    return parts.empty() ? "nothing" : report::joined(report::in_runs({parts.begin(), parts.end()}));
  }

  [[nodiscard]] std::string name(PointId p) const { return netlist().points.name(p); }
  [[nodiscard]] const Netlist& netlist() const { return report_.graph.netlist(); }

  const PowerReport& report_;
  std::string out_;
};

}  // namespace

std::string power_csv(const PowerReport& report) { return PowerSheet(report).write(); }

}  // namespace ringtrue
