#pragma once
#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "ringtrue/live/live_job.hpp"

namespace ringtrue {

/// Where the page is served, to whom, and what it judges by.
struct ServeOptions {
  std::string host = "127.0.0.1";  ///< address to listen at
  std::uint16_t port = 0;          ///< 0: any free one
  /// Stands first in every address, for whoever may not guess it; letters and digits. Empty: none, which is
  /// for an address of this machine alone.
  std::string token;
  LiveOptions live;
};

/// The bench page of one job, by HTTP: readings and repairs into the job, what follows from it to every page
/// that is open.
///
/// Over plain HTTP, so for this machine or a network of one's own. Refused: requests from pages of other
/// origins; at an address of this machine alone, also those that came by another name for it (DNS rebinding).
/// No GET changes anything. A reading is acknowledged only when it is on the disk.
/// Sources: RFC 9110 (methods, status codes), the HTML standard (server-sent events).
class BenchServer {
 public:
  /// Opens the job and listens.
  /// @errors those of `open_job` and `LiveJob::open`; bad_call for an address that can't be listened at, or
  /// one
  ///         beyond this machine without a token.
  [[nodiscard]] static Result<BenchServer> open(const std::filesystem::path& job,
                                                const ServeOptions& options);
  BenchServer(BenchServer&&) noexcept;
  BenchServer& operator=(BenchServer&&) noexcept;
  ~BenchServer();

  /// `http://127.0.0.1:8080/`; where it listens at all addresses of this machine, one for each that others
  /// reach.
  [[nodiscard]] std::vector<std::string> addresses() const;
  /// Serves until `stop` is called from another thread.
  void run();
  /// From any thread.
  void stop();

 private:
  class Impl;
  explicit BenchServer(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

/// A token that nobody guesses: 128 bits of std::random_device in 26 letters and digits.
[[nodiscard]] std::string make_token();

/// The address is one of this machine alone: 127.0.0.0/8, ::1, localhost.
[[nodiscard]] bool is_loopback(const std::string& host);

}  // namespace ringtrue
