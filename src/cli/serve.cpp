#include "ringtrue/serve/serve.hpp"

#include <sys/stat.h>
#include <chrono>
#include <condition_variable>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <mutex>
#include <thread>

#include "diagnosing.hpp"
#include "job_argument.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/write/whole_file.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct ServeCall : JobArgument {
  std::string host = "127.0.0.1", token_file;
  std::uint16_t port = 0;
  ExplainingOptions explaining;
  MeterOptions meter;
};

/// The token that the file holds; where there is no such file, a new one, which it then holds.
Result<std::string> token_in(const std::string& path) {
  std::ifstream file(path);
  if (std::string token; file >> token) {
    const bool is_token = token.size() >= 16 && std::all_of(token.begin(), token.end(), [](unsigned char c) {
                            return std::isalnum(c) != 0;
                          });
    if (is_token) return token;
    return fail({ErrorCode::bad_call,
                 "it holds no token",
                 {path, 1, "", ""},
                 "",
                 "16 letters and digits or more, or no such file",
                 {}});
  }
  std::string token = make_token();
  const mode_t before = umask(077);  // nobody else may read it, not even for a moment
  const auto written = write::write_whole(path, {}, Existing::refuse, [&](const std::filesystem::path& made) {
    write::OutputFile output(made);
    output.put(token + "\n");
    return output.finish();
  });
  umask(before);
  if (!written) return tl::unexpected(written.error());
  return token;
}

Result<ServeOptions> options_of(const ServeCall& call) {
  const auto settings = call.explaining.read();
  if (!settings) return tl::unexpected(settings.error());
  ServeOptions options;
  options.host = call.host;
  options.port = call.port;
  options.live.copper = settings->copper;
  options.live.diagnose = settings->diagnose;
  options.live.meter = call.meter.unnamed();
  if (!call.token_file.empty()) {
    auto token = token_in(call.token_file);
    if (!token) return tl::unexpected(std::move(token.error()));
    options.token = std::move(*token);
  } else if (!is_loopback(call.host)) {
    options.token = make_token();
  }
  return options;
}

/// Stops the server when the process is asked to end, and the process if a slow client holds the server up:
/// what was acknowledged is on the disk. The signals must be blocked in all threads.
class EndBySignal {
 public:
  explicit EndBySignal(BenchServer& server) {
    thread_ = std::thread([this, &server] {
      int signal = 0;
      sigwait(&signals(), &signal);
      server.stop();
      std::unique_lock lock(mutex_);
      if (!ended_.wait_for(lock, k_patience, [this] { return has_ended_; })) std::_Exit(EXIT_SUCCESS);
    });
  }
  ~EndBySignal() {
    {
      const std::lock_guard lock(mutex_);
      has_ended_ = true;
    }
    ended_.notify_all();
    pthread_kill(thread_.native_handle(), SIGINT);  // in case it waits still
    thread_.join();
  }
  EndBySignal(const EndBySignal&) = delete;
  EndBySignal& operator=(const EndBySignal&) = delete;

  static const sigset_t& signals() {
    static const sigset_t set = [] {
      sigset_t made;
      sigemptyset(&made);
      sigaddset(&made, SIGINT);
      sigaddset(&made, SIGTERM);
      return made;
    }();
    return set;
  }

 private:
  static constexpr std::chrono::seconds k_patience{3};

  std::mutex mutex_;
  std::condition_variable ended_;
  bool has_ended_ = false;
  std::thread thread_;
};

ExitStatus run_serve(const ServeCall& call) {
  const auto options = options_of(call);
  if (!options) return refuse(options.error());
  if (const auto made = call.make_where_missing(); !made) return refuse(made.error());
  // Before the server starts its threads, which take it over.
  pthread_sigmask(SIG_BLOCK, &EndBySignal::signals(), nullptr);
  auto server = BenchServer::open(call.job, *options);
  if (!server) return refuse(call.not_opened(server.error()));
  std::string told;
  for (const std::string& address : server->addresses()) told += call.job + ": " + address + "\n";
  if (const ExitStatus written = write_result(told, ExitStatus::good); written != ExitStatus::good)
    return written;
  if (!is_loopback(call.host))
    say("Plain HTTP: whoever listens in on this network sees the token and the readings. Use a network of "
        "your own.");
  const EndBySignal end(*server);
  server->run();
  return ExitStatus::good;
}

}  // namespace

Run declare_serve(CLI::App& command) {
  const auto call = std::make_shared<ServeCall>();
  add_job_argument(command, *call);
  command.add_option("--port", call->port, "Port to listen at (default: any free one)")->option_text("N");
  command
      .add_option("--host", call->host,
                  "Address to listen at (default 127.0.0.1: this machine alone); at another\n"
                  "one a token stands in the address, and only whoever has it gets in")
      ->option_text("ADDRESS");
  command
      .add_option("--token-file", call->token_file,
                  "File that keeps the token, so that the address stays the same; made if it\n"
                  "isn't there")
      ->option_text("FILE");
  add_threshold_option(command, call->meter);
  add_explaining_options(command, call->explaining);
  command.footer(
      "Prints the address of the page and serves until it is interrupted. Plain HTTP, for this machine\n"
      "or a network of your own. Several pages, ringtrue log and other verbs may use the job at once.\n\n" +
      command.get_footer());
  return [call] { return run_serve(*call); };
}

}  // namespace ringtrue::cli
