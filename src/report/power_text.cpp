#include <algorithm>
#include <array>
#include <utility>

#include "power_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;

class PowerText {
 public:
  PowerText(const PowerReport& report, Detail detail)
      : report_(report), graph_(report.graph), detail_(detail) {}

  [[nodiscard]] std::string write() {
    append_wrapped(out_,
                   panel_label(graph_.netlist().panel) + ": power-up in " +
                       report::counted(report_.power_up.steps.size(), "step"),
                   0, 2);
    for (const std::string_view caution : report::power_cautions()) append_wrapped(out_, caution, 2, 4);
    before();
    at_first();
    for (std::size_t i = 0; i < report_.power_up.steps.size(); ++i) step(i);
    plug_ins();
    left_out();
    return std::move(out_);
  }

 private:
  void before() {
    out_ += "\nBefore the supply comes on\n";
    for (const report::Precondition& must : report::preconditions(report_, detail_)) {
      report::append_entry(
          out_, 2,
          must.state == "not-shown" ? "NOT SHOWN"
          : must.state == "shown"   ? "shown"
                                    : "[ ]",
          11, must.text + (must.missing.empty() ? "" : " " + report::capitalised(must.missing) + "."));
    }
    if (report_.before == nullptr) return;
    append_wrapped(out_,
                   report_.before->nothing_stands_against()
                       ? "Readings show no reason against going on; what they can't show is yours to see."
                       : "Don't go on before what is not shown stands.",
                   2, 4);
  }

  void at_first() {
    out_ += "\nFirst\n";
    report::append_entry(out_, 2, "open", 8, names(report_.power_up.devices));
    report::append_entry(out_, 2, "unplug", 8, names(report_.power_up.unplugged));
    report::append_entry(out_, 2, "meter", 8,
                         "red lead at the first point, black at the second; DC below 0 is reversed polarity");
  }

  void step(std::size_t number) {
    const PowerStep& step = report_.power_up.steps[number];
    const std::string sheet = step.sheet.empty() ? "" : " (sheet " + std::string(step.sheet) + ")";
    out_ += '\n';
    append_wrapped(out_,
                   "Step " + std::to_string(number + 1) + ": " + report::action_words(step, report_) + sheet,
                   0, 2);
    for (const std::string& caution : report::step_cautions(report_, number, detail_))
      append_wrapped(out_, caution, 2, 4);
    rows_.clear();
    for (const ExpectedVolts& reading : step.readings) row(reading);
    for (const ExpectedVolts& pin : step.pins) row(pin);
    table();
    zeros(step);
  }

  void zeros(const PowerStep& step) {
    std::vector<std::pair<PointId, std::vector<PointId>>> by_black;
    for (const MustBeZero& zero : step.zeros) {
      auto found = std::find_if(by_black.begin(), by_black.end(),
                                [&](const auto& group) { return group.first == zero.black; });
      if (found == by_black.end()) found = by_black.insert(found, {zero.black, {}});
      found->second.push_back(zero.red);
    }
    for (const auto& [black, points] : by_black)
      append_wrapped(out_,
                     "must read 0 V to " + name(black) + ": " +
                         report::joined(report::names_in_runs(points, graph_.netlist())),
                     2, 6);
  }

  void row(const ExpectedVolts& expected) {
    std::string more = report::through_words(expected, graph_);
    if (!expected.also.empty()) more += (more.empty() ? "same at " : "; same at ") + also(expected.also);
    rows_.push_back(
        {name(expected.red), name(expected.black), report::volts_words(expected), std::move(more)});
  }

  [[nodiscard]] std::string also(const std::vector<PointId>& points) const {
    constexpr std::size_t k_shown = 5;
    std::vector<std::string> names = report::names_in_runs(points, graph_.netlist());
    const bool is_short = detail_ == Detail::short_lists && names.size() > k_shown + 1;
    const std::size_t more = is_short ? names.size() - k_shown : 0;
    names.resize(names.size() - more);
    return report::joined(names) + (more == 0 ? "" : " and " + std::to_string(more) + " more");
  }

  void table() {
    std::array<std::size_t, 3> widths{};
    for (const Row& row : rows_)
      for (std::size_t i = 0; i < widths.size(); ++i)
        widths[i] = std::max(widths[i], report::shown_width(row[i]));
    for (const Row& row : rows_) {
      const std::string probes =
          report::padded(row[0], widths[0]) + " to " + report::padded(row[1], widths[1]);
      if (row[3].empty())
        out_ += "  " + probes + "  " + row[2] + '\n';
      else
        report::append_entry(out_, 2, probes + "  " + report::padded(row[2], widths[2]),
                             widths[0] + widths[1] + widths[2] + 8, row[3]);
    }
  }

  void plug_ins() {
    if (report_.power_up.plug_ins.empty()) return;
    out_ += "\nPlug in, one after the other\n";
    append_wrapped(
        out_,
        "Each once its supply pins have shown voltage and polarity: switch off, isolate, prove dead by "
        "the site's procedure, plug in, then switch on again as above and measure the pins.",
        2, 2);
    for (const PlugIn& plug : report_.power_up.plug_ins)
      report::append_entry(out_, 2, std::string(plug.part), 6, plug_in(plug));
  }

  [[nodiscard]] std::string plug_in(const PlugIn& plug) const {
    if (!plug.after_step) return "last: none of its pins has a stated voltage";
    std::vector<std::string> pins;
    for (const ExpectedVolts& pin : plug.pins)
      pins.push_back(name(pin.red) + " to " + name(pin.black) + " " + report::volts_words(pin));
    const std::string not_stated = report::joined(report::names_in_runs(plug.not_stated, graph_.netlist()));
    return "after step " + std::to_string(*plug.after_step + 1) + ": " + report::joined(pins) +
           (not_stated.empty() ? "" : "; none stated at " + not_stated);
  }

  void left_out() {
    const std::string names = report::potential_names(report_.power_up.never_live, graph_.netlist());
    if (names.empty()) return;
    out_ += '\n';
    append_wrapped(
        out_, "With every contact at rest nothing feeds " + names + ": measured once the panel runs.", 0, 2);
  }

  [[nodiscard]] static std::string names(const std::vector<std::string_view>& parts) {
    return parts.empty() ? "nothing" : report::joined(report::in_runs({parts.begin(), parts.end()}));
  }
  [[nodiscard]] std::string name(PointId p) const { return graph_.netlist().points.name(p); }

  using Row = std::array<std::string, 4>;
  const PowerReport& report_;
  const ConductionGraph& graph_;
  Detail detail_;
  std::vector<Row> rows_;
  std::string out_;
};

}  // namespace

std::string power_text(const PowerReport& report, Detail detail) { return PowerText(report, detail).write(); }

}  // namespace ringtrue
