#include "ringtrue/record/record.hpp"

#include <memory>

#include "job_record.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct RecordCall {
  RecordingOptions recording;
  std::string folder;
};

std::string written_text(const Record& record, const std::string& folder) {
  std::string text = folder + ": record.html, record.xlsx, record.json and punch.csv written\n";
  text += record.is_ready_to_sign() ? "  ready to sign\n" : "  not ready to sign\n";
  for (const std::string& hold : record.holds) text += "    " + hold + "\n";
  if (!record.not_tested.empty()) text += "  not tested\n";
  for (const std::string& left : record.not_tested) text += "    " + left + "\n";
  return text;
}

ExitStatus run_record(const RecordCall& call) {
  // A plant's record takes long to make, so what stands in its way is told before.
  const auto made = open_job(call.recording.job).and_then([&](const Job& job) {
    return check_record_folder(call.folder).and_then([&] { return record_of(job, call.recording); });
  });
  if (!made) return refuse(made.error());
  const Record& record = made->record;
  if (const auto written = write_record(record, call.folder); !written) return refuse(written.error());
  return write_result(written_text(record, call.folder),
                      record.is_ready_to_sign() ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_record(CLI::App& command) {
  const auto call = std::make_shared<RecordCall>();
  add_recorded_job(command, call->recording);
  command.add_option("OUTDIR", call->folder, "New folder to write")->required()->type_name("");
  add_recording_options(command, call->recording);
  command.footer(
      "Writes record.html, record.xlsx, record.json and punch.csv. Status 1 says that it isn't ready to\n"
      "sign. The same job gives the same bytes.\n\n" +
      command.get_footer());
  return [call] { return run_record(*call); };
}

}  // namespace ringtrue::cli
