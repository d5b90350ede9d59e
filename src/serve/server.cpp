#include <arpa/inet.h>
#include <httplib.h>
#include <sys/socket.h>

#include <atomic>
#include <chrono>
#include <ctime>
#include <functional>
#include <optional>
#include <utility>

#include "ringtrue/live/search.hpp"
#include "ringtrue/serve/serve.hpp"
#include "serve/addresses.hpp"
#include "serve/assets.hpp"
#include "serve/entries.hpp"
#include "serve/guard.hpp"
#include "serve/http.hpp"
#include "serve/json.hpp"
#include "serve/pictures.hpp"
#include "serve/state.hpp"
#include "serve/tests.hpp"
#include "serve/workers.hpp"

namespace ringtrue {

namespace {

using namespace std::chrono_literals;
using httplib::Request;
using httplib::Response;
using serve::Answer;
using serve::number_in;
using serve::refusal;
using serve::send;

constexpr std::size_t k_most_body_bytes = std::size_t{64} * 1024;
constexpr std::size_t k_workers = 128;
/// Each open page holds a worker for its stream; the rest are for requests.
constexpr std::size_t k_most_streams = 96;
/// The library listens with 5, which a shift that begins work at once overruns.
constexpr int k_backlog = 128;
constexpr int k_idle_seconds = 2;
constexpr auto k_keep_alive = 5s;
/// A tablet that comes back sends in a row what waited there.
constexpr double k_requests_per_second = 200, k_requests_at_once = 600;
constexpr std::size_t k_most_matches = 20, k_usual_journal = 50, k_most_journal = 1000;

constexpr const char* k_security_policy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

Answer found(const std::vector<Match>& matches) {
  serve::Json all = serve::Json::array();
  for (const Match& match : matches)
    all.push_back({{"kind", word(match.kind)},
                   {"name", match.name},
                   {"text", match.text},
                   {"sheet", match.sheet},
                   {"points", match.points}});
  return {200, serve::text_of({{"matches", std::move(all)}})};
}

Answer answer_of(const Result<std::string>& body) {
  if (!body) return refusal(body.error());
  return {200, *body};
}

}  // namespace

class BenchServer::Impl {
 public:
  Impl(LiveJob live, Job to_read, Job to_write, const std::string& job_name, const ServeOptions& options)
      : options_(options),
        watch_(
            std::move(live), std::move(to_read),
            [job_name](const serve::Watch::Source& source) { return serve::state_text(source, job_name); }),
        entries_(std::move(to_write), watch_, options.live.meter) {
    set_up();
    declare_routes();
  }

  Result<void> listen() {
    port_ = options_.port;
    bool bound = false;
    if (options_.port == 0) {
      const int port = server_.bind_to_any_port(options_.host);
      bound = port > 0;
      port_ = static_cast<std::uint16_t>(port);
    } else {
      bound = server_.bind_to_port(options_.host, options_.port);
    }
    if (!bound)
      return fail({ErrorCode::bad_call,
                   "cannot listen at this address and port",
                   {},
                   options_.host + " port " + std::to_string(options_.port),
                   "an address of this machine, and a port that no other program holds",
                   {}});
    ::listen(socket_, k_backlog);
    return {};
  }

  [[nodiscard]] std::vector<std::string> addresses() const {
    std::vector<std::string> all;
    for (const std::string& host : serve::reached_by(options_.host)) {
      const bool is_ipv6 = host.find(':') != std::string::npos;
      all.push_back("http://" + (is_ipv6 ? "[" + host + "]" : host) + ":" + std::to_string(port_) + prefix() +
                    "/");
    }
    return all;
  }

  void run() { server_.listen_after_bind(); }

  void stop() {
    watch_.end();
    // Not running yet: with its socket shut it ends as soon as it begins.
    if (!server_.is_running()) ::shutdown(socket_, SHUT_RDWR);
    server_.stop();
  }

 private:
  using Handle = std::function<Answer(const Request&)>;

  [[nodiscard]] std::string prefix() const { return options_.token.empty() ? "" : "/" + options_.token; }

  void set_up() {
    server_.new_task_queue = [] { return new serve::Workers(k_workers); };  // the library deletes it
    server_.set_keep_alive_timeout(k_idle_seconds);
    server_.set_keep_alive_max_count(1000);
    server_.set_tcp_nodelay(true);
    server_.set_socket_options([this](int socket) {
      const int yes = 1;
      ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
      socket_ = socket;
    });
    server_.set_default_headers({{"Content-Security-Policy", k_security_policy},
                                 {"X-Content-Type-Options", "nosniff"},
                                 {"Referrer-Policy", "no-referrer"},
                                 {"Cross-Origin-Resource-Policy", "same-origin"},
                                 {"Cross-Origin-Opener-Policy", "same-origin"},
                                 {"Accept-Ranges", "none"},
                                 {"Vary", "Accept-Encoding"},
                                 {"Cache-Control", "no-store"}});
    serve::end_uncertain_connections(server_, k_most_body_bytes, options_.token);
    server_.set_post_routing_handler([](const Request&, Response& response) {
      response.set_header("Date", serve::http_date(std::time(nullptr)));
    });
    server_.set_exception_handler([](const Request&, Response& response, const std::exception_ptr&) {
      send(response, refusal(500, "a fault of ringtrue; what was sent was not taken"));
    });
  }

  void declare_routes() {
    for (const serve::Asset& asset : serve::assets()) {
      const bool is_page = asset.name == "page.html";
      get(is_page ? "/" : "/" + serve::as_pattern(asset.name), [&asset](const Request&) {
        return Answer{200, std::string(asset.bytes), asset.type};
      });
    }
    get("/state", [this](const Request&) { return Answer{200, watch_.published()->state}; });
    get("/search", [this](const Request& request) {
      return found(search(*watch_.published()->drawing, request.get_param_value("q"), k_most_matches));
    });
    get("/channels", [this](const Request&) {
      return answer_of(
          watch_.with_live([](LiveJob& live) -> Result<std::string> { return serve::channels_text(live); }));
    });
    get("/tests", [this](const Request&) {
      return answer_of(
          watch_.with_live([this](LiveJob& live) -> Result<std::string> { return tests_.text(live); }));
    });
    picture("/path", serve::path_svg);
    picture("/strip", serve::strip_svg);
    picture("/map", serve::map_svg);
    picture("/strips", [](const LiveJob& live, const Request&) { return serve::strips_text(live); });
    get(
        "/readings", [this](const Request& request) { return journal(request); },
        [this](const Request& request) { return entries_.reading(request.body); });
    post("/withdrawals", [this](const Request& request) { return entries_.withdrawal(request.body); });
    post("/results", [this](const Request& request) { return entries_.result(request.body); });
    post("/result-withdrawals",
         [this](const Request& request) { return entries_.result_withdrawal(request.body); });
    post("/repairs", [this](const Request& request) { return entries_.repair(request.body); });
    post("/changes", [this](const Request& request) { return entries_.change(request.body); });
    stream("/stream");
    if (!options_.token.empty())
      server_.Get(prefix(),
                  [this](const Request&, Response& response) { response.set_redirect(prefix() + "/", 308); });
  }

  /// `draw` makes an answer of the live job and the request.
  void picture(const std::string& path, std::function<Answer(const LiveJob&, const Request&)> draw) {
    get(path, [this, draw = std::move(draw)](const Request& request) {
      const auto answer =
          watch_.with_live([&](const LiveJob& live) -> Result<Answer> { return draw(live, request); });
      return answer ? *answer : refusal(answer.error());
    });
  }

  Answer journal(const Request& request) {
    const std::size_t newest = number_in(request.get_param_value("newest"), k_usual_journal, k_most_journal);
    return answer_of(watch_.with_live_and_job(
        [&](const LiveJob& live, const Job& job) { return serve::journal_text(live, job, newest); }));
  }

  void get(const std::string& path, Handle handle) { get(path, std::move(handle), nullptr); }

  /// `taken` answers POST; none: 405.
  void get(const std::string& path, Handle handle, Handle taken) {
    const std::string pattern = prefix() + path;
    server_.Get(pattern, guarded(std::move(handle)));
    const std::string allowed = taken ? "GET, HEAD, OPTIONS, POST" : "GET, HEAD, OPTIONS";
    server_.Post(pattern, taken ? guarded(with_json(std::move(taken))) : not_allowed(allowed));
    refuse_others(pattern, allowed);
  }

  void post(const std::string& path, Handle handle) {
    const std::string pattern = prefix() + path, allowed = "OPTIONS, POST";
    server_.Post(pattern, guarded(with_json(std::move(handle))));
    server_.Get(pattern, not_allowed(allowed));
    refuse_others(pattern, allowed);
  }

  void refuse_others(const std::string& pattern, const std::string& allowed) {
    server_.Put(pattern, not_allowed(allowed));
    server_.Patch(pattern, not_allowed(allowed));
    server_.Delete(pattern, not_allowed(allowed));
    server_.Options(pattern, [allowed](const Request&, Response& response) {
      response.status = 204;
      response.set_header("Allow", allowed);
    });
  }

  static httplib::Server::Handler not_allowed(const std::string& allowed) {
    return [allowed](const Request& request, Response& response) {
      response.set_header("Allow", allowed);
      send(response, refusal(405, "this address doesn't take the method", request.method, allowed));
    };
  }

  static Handle with_json(Handle handle) {
    return [handle = std::move(handle)](const Request& request) {
      const std::string type = serve::field_of(request, "Content-Type");
      if (!serve::is_json(type)) return refusal(415, "the body is of another kind", type, "application/json");
      return handle(request);
    };
  }

  /// Nothing if the request may be answered.
  std::optional<Answer> turned_away(const Request& request) {
    const std::string host = serve::field_of(request, "Host"), origin = serve::field_of(request, "Origin"),
                      site = serve::field_of(request, "Sec-Fetch-Site"),
                      mode = serve::field_of(request, "Sec-Fetch-Mode");
    const bool is_to_read = request.method == "GET" || request.method == "HEAD";
    if (!serve::is_own_origin({host, origin, site, mode, is_to_read}, is_loopback(options_.host)))
      return refusal(403, "the request comes from a page of another origin", origin.empty() ? host : origin,
                     "this page itself");
    if (!rate_.take(request.remote_addr, std::chrono::steady_clock::now()))
      return refusal(429, "too many requests; try again in a second");
    return std::nullopt;
  }

  httplib::Server::Handler guarded(Handle handle) {
    return [this, handle = std::move(handle)](const Request& request, Response& response) {
      const auto refused = turned_away(request);
      send(response, refused ? *refused : handle(request));
    };
  }

  /// Server-sent events: each state as it is published.
  void stream(const std::string& path) {
    const std::string pattern = prefix() + path, allowed = "GET, HEAD, OPTIONS";
    server_.Get(pattern, [this](const Request& request, Response& response) {
      if (const auto refused = turned_away(request)) return send(response, *refused);
      if (request.version == "HTTP/1.0") return send(response, refusal(505, "a stream needs HTTP/1.1"));
      if (streams_.fetch_add(1) >= k_most_streams) {
        --streams_;
        return send(response, refusal(503, "too many pages are open; close one"));
      }
      std::uint64_t shown = 0;
      response.set_chunked_content_provider(
          "text/event-stream",
          [this, shown](std::size_t, httplib::DataSink& sink) mutable { return write_event(sink, shown); },
          [this](bool) { --streams_; });
    });
    server_.Post(pattern, not_allowed(allowed));
    refuse_others(pattern, allowed);
  }

  bool write_event(httplib::DataSink& sink, std::uint64_t& shown) {
    const auto next = watch_.newer_than(shown, k_keep_alive);
    if (watch_.has_ended()) return false;
    std::string text = ": still here\n\n";
    if (next->version != shown) {
      text = "event: state\nid: " + std::to_string(next->version) + "\nretry: 1000\ndata: " + next->state +
             "\n\n";
      shown = next->version;
    }
    return sink.write(text.data(), text.size());
  }

  ServeOptions options_;
  serve::Watch watch_;
  serve::Entries entries_;
  serve::TestsText tests_;  ///< asked while nobody else asks the live job
  serve::RateLimit rate_{k_requests_per_second, k_requests_at_once};
  std::atomic<std::size_t> streams_{0};
  httplib::Server server_;
  int socket_ = -1;
  std::uint16_t port_ = 0;
};

BenchServer::BenchServer(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
BenchServer::BenchServer(BenchServer&&) noexcept = default;
BenchServer& BenchServer::operator=(BenchServer&&) noexcept = default;
BenchServer::~BenchServer() = default;

Result<BenchServer> BenchServer::open(const std::filesystem::path& job, const ServeOptions& options) {
  if (options.token.empty() && !is_loopback(options.host))
    return fail({ErrorCode::bad_call,
                 "an address that others reach needs a token",
                 {},
                 options.host,
                 "a token, or 127.0.0.1",
                 {}});
  auto to_write = open_job(job);
  if (!to_write) return tl::unexpected(std::move(to_write.error()));
  auto to_read = open_job(job), to_follow = open_job(job);
  if (!to_read) return tl::unexpected(std::move(to_read.error()));
  if (!to_follow) return tl::unexpected(std::move(to_follow.error()));
  auto live = LiveJob::open(std::move(*to_follow), options.live);
  if (!live) return tl::unexpected(std::move(live.error()));
  auto impl = std::make_unique<Impl>(std::move(*live), std::move(*to_read), std::move(*to_write),
                                     job.filename().string(), options);
  if (auto listening = impl->listen(); !listening) return tl::unexpected(std::move(listening.error()));
  return BenchServer(std::move(impl));
}

std::vector<std::string> BenchServer::addresses() const { return impl_->addresses(); }
void BenchServer::run() { impl_->run(); }
void BenchServer::stop() { impl_->stop(); }

}  // namespace ringtrue
