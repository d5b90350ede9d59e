#include "job_signatures.hpp"

#include <memory>
#include <string>

#include "job_record.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/report/signature_words.hpp"

namespace ringtrue::cli {

namespace {

struct SigningCall {
  RecordingOptions recording;
  std::string role, by, text;
  bool open = false;
};

std::string holds_text(const Record& record) {
  std::string text;
  for (const std::string& hold : record.holds) text += "    " + hold + "\n";
  return text;
}

std::string signed_text(const Signature& signature, const Record& record, const std::string& job) {
  std::string text = job + ": signed, " + signature_words(signature) + "\n";
  text +=
      "  netlist " + std::to_string(signature.rows.netlists) + ", SHA-256 " + signature.netlist_sha256 + "\n";
  text += "  rows, SHA-256 " + signature.rows_sha256 + "\n";
  return signature.is_ready ? text : text + "  with open items:\n" + holds_text(record);
}

ExitStatus run_sign(const SigningCall& call) {
  auto job = open_job(call.recording.job);
  if (!job) return refuse(job.error());
  const auto made = record_of(*job, call.recording);
  if (!made) return refuse(made.error());
  const auto& [contents, record] = *made;
  if (!record.is_ready_to_sign() && !call.open)
    return write_result(call.recording.job + ": not signed, since the record isn't ready to sign\n" +
                            holds_text(record) + "  --open signs it with these items open, and says so\n",
                        ExitStatus::findings);
  const std::string now = time_now();
  Signature signature;
  signature.role = *from_word<SigningRole>(call.role);
  signature.by = call.by, signature.text = call.text;
  signature.time = now.substr(0, now.find('.')) + "Z";  // people read it; the id tells two apart
  signature.rows = contents.rows;
  signature.netlist_sha256 = contents.netlists.back().sha256;
  signature.rows_sha256 = contents.rows_sha256;
  signature.is_ready = record.is_ready_to_sign();
  signature.id = now + " " + call.role + " " + call.by;
  if (const auto appended = job->append(signature); !appended) return refuse(appended.error());
  return write_result(signed_text(signature, record, call.recording.job), ExitStatus::good);
}

}  // namespace

void add_signing(CLI::App& job, std::function<ExitStatus()>& run) {
  const auto call = std::make_shared<SigningCall>();
  CLI::App& sign =
      *job.add_subcommand("sign", "Sign for the job as it is: wired, checked, witnessed or accepted");
  sign.group("What to do");
  add_recorded_job(sign, call->recording);
  sign.add_option("ROLE", call->role, "wired, checked, witnessed or accepted")
      ->required()
      ->type_name("")
      ->check(one_of({"wired", "checked", "witnessed", "accepted"}).description(""));
  sign.add_option("--by", call->by, "Who signs")->required()->check(one_name())->option_text("NAME");
  sign.add_option("--text", call->text, "What else is to be said")->check(plain_text())->option_text("TEXT");
  sign.add_flag("--open", call->open, "Sign though items are open; the signature says so");
  add_recording_options(sign, call->recording);
  sign.footer(
      "Status 1 says that the record isn't ready to sign, and nothing was signed. A name typed here is\n"
      "no handwritten signature: the record keeps its empty fields for that. A signature is never\n"
      "withdrawn; the last of a role counts, for the rows that the job held then.\n\n"
      "Example:\n  ringtrue job sign quickstart.rtj checked --by AK");
  sign.callback([call, &run] { run = [call] { return run_sign(*call); }; });
}

}  // namespace ringtrue::cli
