#pragma once
#include <chrono>
#include <map>
#include <mutex>
#include <string>
#include <string_view>

namespace ringtrue::serve {

/// Where a request says that it comes from and goes to; empty where it doesn't say.
struct Origin {
  std::string_view host, origin, fetch_site;  ///< Host, Origin, Sec-Fetch-Site
  std::string_view fetch_mode = {};           ///< Sec-Fetch-Mode
  bool is_to_read = false;                    ///< GET or HEAD
};

/// A page of another origin must not be able to log readings, nor to read them: the request names no origin,
/// or that of the server itself. At an address of this machine alone the name it was asked by counts as well,
/// for a name of somebody else's may lead here (DNS rebinding). Whoever follows a link to here may read: the
/// page that has the link sees nothing of the answer. Source: the Fetch standard's Origin and the Fetch
/// Metadata headers.
[[nodiscard]] bool is_own_origin(const Origin& origin, bool is_loopback_only);

/// A body is JSON, whatever parameters its type carries; no form of a web page can send that.
[[nodiscard]] bool is_json(std::string_view content_type);

/// The first part of the address is the token, or there is none. What is wrong takes as long wherever it
/// differs; only the length, which is no secret, may be heard from the time.
[[nodiscard]] bool has_token(std::string_view path, std::string_view token);

/// So many requests a second from one address, in the long run, and so many at once: a bucket of tokens for
/// each.
class RateLimit {
 public:
  RateLimit(double per_second, double at_once) : per_second_(per_second), at_once_(at_once) {}
  /// Takes one. False if there is none left. Thread-safe.
  [[nodiscard]] bool take(const std::string& address, std::chrono::steady_clock::time_point now);

 private:
  struct Bucket {
    double left;
    std::chrono::steady_clock::time_point filled;
  };
  void forget_full_ones(std::chrono::steady_clock::time_point now);

  double per_second_, at_once_;
  std::mutex mutex_;
  std::map<std::string, Bucket> buckets_;
};

}  // namespace ringtrue::serve
