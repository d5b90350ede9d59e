#include <array>

#include "drive_lines.hpp"
#include "drive_words.hpp"
#include "ringtrue/report/csv_sheet.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "stop_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::array<std::string_view, 12> k_columns = {
    "output", "tag", "part", "number", "before", "do", "expect", "measure", "seen", "verdict", "time", "by"};
using Cells = std::array<std::string, k_columns.size()>;

class DriveSheet {
 public:
  explicit DriveSheet(const DriveReport& report) : report_(report) {
    report::put_sheet_header(out_, k_columns);
  }

  [[nodiscard]] std::string write() {
    const Netlist& netlist = report_.graph.netlist();
    for (const auto& [channel, how] : report::fitted_channels(report_))
      put({netlist.points.name(netlist.channels[channel].point), std::string(netlist.channels[channel].tag),
           "fitted", "", "", report::judged_fitting_words(channel, report_)});
    for (const logic::StopCircuit& circuit : report_.circuits) {
      for (const std::string& contact : report::StopWords(circuit, report_.graph).box())
        put({circuit.relay, "", "box of real stop devices", "", "", contact});
      std::size_t number = 0;
      for (const report::StopStepWords& step : report::StopWords(circuit, report_.graph).steps())
        put({circuit.relay, "", "stop circuit", std::to_string(++number), "", step.act, step.expect});
    }
    for (const DrivenOutput& output : report_.outputs) one(output);
    return std::move(out_);
  }

 private:
  void one(const DrivenOutput& output) {
    const report::DriveWords words(report_, output);
    const Channel& drawn = words.channel(output.drive.output);
    row_ = {report_.graph.netlist().points.name(drawn.point), std::string(drawn.tag)};
    const logic::DriveVerdict verdict = words.verdict();
    if (verdict == logic::DriveVerdict::no_logic || verdict == logic::DriveVerdict::not_testable) {
      row_[2] = word(verdict);
      row_[5] = words.reason();
      return put(row_);
    }
    row_[7] = words.measure();
    std::size_t number = 0;
    put_group("on and off", report::sequence_lines(words, number),
              report::joined(words.at_rest(output.drive.sources), "; "));
    put_all("each input alone", words, output.drive.deciding, number);
    if (output.drive.with_box) put_all("with the box", words, *output.drive.with_box, number);
  }

  void put_all(std::string_view part, const report::DriveWords& words, const logic::PairSet& set,
               std::size_t& number) {
    const report::DecidingLines lines = report::deciding_lines(words, set, number);
    for (const report::DriveGroup& group : lines.groups)
      put_group(part, group, group.heading.empty() ? lines.how : lines.how + "; " + group.heading);
  }

  void put_group(std::string_view part, const report::DriveGroup& group, const std::string& before) {
    row_[2] = part;
    row_[4] = before;
    for (const report::DriveLine& line : group.lines) {
      row_[3] = std::to_string(line.number);
      row_[5] = line.act;
      row_[6] = line.expect;
      put(row_);
      row_[4].clear();
    }
  }

  void put(const Cells& cells) { report::put_sheet_row(out_, cells); }

  const DriveReport& report_;
  Cells row_;
  std::string out_;
};

}  // namespace

std::string drive_csv(const DriveReport& report) { return DriveSheet(report).write(); }

}  // namespace ringtrue
