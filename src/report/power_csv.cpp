#include <array>

#include "csv_sheet.hpp"
#include "power_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::array<std::string_view, 9> k_columns = {"step", "switch", "red",   "black", "expect",
                                                       "also", "note",   "shown", "by"};
using Cells = std::array<std::string, k_columns.size()>;

class PowerSheet {
 public:
  explicit PowerSheet(const PowerReport& report) : report_(report) {}

  [[nodiscard]] std::string write() {
    report::put_sheet_header(out_, k_columns);
    for (const report::Precondition& must : report::preconditions(report_, Detail::everything))
      put("before", must.text, must.state == "to-be-seen" ? "" : std::string(must.state), must.missing);
    for (std::size_t i = 0; i < report_.power_up.steps.size(); ++i) step(i);
    for (const PlugIn& plug : report_.power_up.plug_ins)
      put("plug in", "off, isolated, proven dead by the site's procedure: plug in " + std::string(plug.part),
          "", "");
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

  void measure(const std::string& id, PointId red, PointId black, const std::string& expect,
               const std::vector<PointId>& also, const std::string& note) {
    std::vector<std::string> names;
    for (const PointId p : also) names.push_back(name(p));
    report::put_sheet_row(
        out_, Cells{id, "", name(red), name(black), expect, report::joined(names, "; "), note, "", ""});
  }

  void put(const std::string& id, const std::string& action, const std::string& shown,
           const std::string& note) {
    report::put_sheet_row(out_, Cells{id, action, "", "", "", "", note, shown, ""});
  }

  [[nodiscard]] std::string name(PointId p) const { return report_.graph.netlist().points.name(p); }

  const PowerReport& report_;
  std::string out_;
};

}  // namespace

std::string power_csv(const PowerReport& report) { return PowerSheet(report).write(); }

}  // namespace ringtrue
