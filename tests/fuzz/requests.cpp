// What comes over a connection of the bench page: a connection that goes on has had of its request all and
// no more. Where a request ends is told by RFC 9112, 6.3; lines that end in LF alone are none to the library.
#include <cstring>
#include <optional>

#include "fuzz/fuzz.hpp"
#include "ringtrue/model/number.hpp"
#include "serve/http.hpp"

using namespace ringtrue;

namespace {

constexpr std::size_t k_most_body_bytes = 200;

/// A connection whose other side has sent everything already and takes any answer.
class Sent final : public httplib::Stream {
 public:
  explicit Sent(std::string_view text) : text_(text) {}
  [[nodiscard]] bool is_readable() const override { return true; }
  [[nodiscard]] bool is_writable() const override { return true; }
  ssize_t read(char* to, std::size_t size) override {
    const std::size_t given = std::min(size, text_.size() - read_);
    std::memcpy(to, text_.data() + read_, given);
    read_ += given;
    return static_cast<ssize_t>(given);
  }
  ssize_t write(const char*, std::size_t size) override { return static_cast<ssize_t>(size); }
  void get_remote_ip_and_port(std::string& ip, int& port) const override { ip = "127.0.0.1", port = 1; }
  void get_local_ip_and_port(std::string& ip, int& port) const override { ip = "127.0.0.1", port = 2; }
  [[nodiscard]] socket_t socket() const override { return -1; }
  [[nodiscard]] std::string_view left() const { return text_.substr(read_); }

 private:
  std::string_view text_;
  std::size_t read_ = 0;
};

class Server final : public httplib::Server {
 public:
  Server() {
    svr_sock_ = 0;  // no socket: nothing is done with it, but without one no body is sent
    serve::end_uncertain_connections(*this, k_most_body_bytes, "");
    const auto answer = [](const httplib::Request& request, httplib::Response& response) {
      serve::send(response, {200, request.body});
    };
    Get("/state", answer);
    Post("/readings", answer);
    Delete("/readings", answer);
  }

  /// Whether the connection goes on.
  bool answers(Sent& connection) {
    bool is_closed = false;
    return process_request(connection, false, is_closed, nullptr) && !is_closed;
  }
};

/// The length of the first request; nothing if that isn't certain.
std::optional<std::size_t> length_of_request(std::string_view text) {
  std::optional<std::size_t> body;
  std::size_t at = 0;
  for (std::size_t end = text.find('\n'); end != text.npos; at = end + 1, end = text.find('\n', at)) {
    std::string_view line = text.substr(at, end - at);
    if (!line.ends_with('\r')) continue;
    line.remove_suffix(1);
    if (line.empty() && at != 0) return end + 1 + body.value_or(0);
    const std::size_t colon = line.find(':');
    std::string name(line.substr(0, colon));
    std::erase_if(name, [](char c) { return c == ' ' || c == '\t'; });
    std::transform(name.begin(), name.end(), name.begin(), [](char c) { return c | 0x20; });
    if (colon == line.npos || name != "content-length") continue;
    const std::string value(trimmed(line.substr(colon + 1)));
    if (value.empty()) continue;
    const std::string digits = value.substr(std::min(value.find_first_not_of('0'), value.size() - 1));
    const bool is_number = value.find_first_not_of("0123456789") == value.npos && digits.size() < 9;
    if (!is_number || body) return std::nullopt;
    body = std::stoul(digits);
  }
  return std::nullopt;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static Server server;
  Sent connection(fuzz::as_text(data, size));
  for (std::string_view before = connection.left(); !before.empty(); before = connection.left()) {
    if (!server.answers(connection)) return 0;
    // No answer to it can end a connection, as http.hpp says. The library passes over blanks before a method.
    if (before.substr(std::min(before.find_first_not_of(' '), before.size())).starts_with("HEAD")) return 0;
    const auto length = length_of_request(before);
    const bool is_decoded = before.find('%') != before.npos;  // a length may be, by the library: `%35` is 5
    fuzz::must(is_decoded || (length && *length == before.size() - connection.left().size()),
               "a connection goes on behind the request", before);
  }
  return 0;
}
