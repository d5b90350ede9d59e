// Times the bench page's server: people log readings together, one a second each, with the stream of states
// open on every page, and the same requests to a bare HTTP handler as the floor.
//
//   serve_bench NETLIST READINGS [SECONDS [CLIENTS]]     by default 60 s and 50 clients
//
// Prints milliseconds; asserts that every acknowledged reading is in the job once.
#include <httplib.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include "ringtrue/live/clock.hpp"
#include "ringtrue/serve/serve.hpp"

namespace {

using namespace ringtrue;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

struct Load {
  std::vector<std::string> bodies;
  std::size_t clients, seconds;
};

struct Answers {
  std::vector<double> milliseconds;
  std::vector<std::string> acknowledged;
  std::size_t refused = 0;
};

Answers send_all(const Load& load, const std::string& host, int port) {
  std::vector<Answers> of(load.clients);
  std::vector<std::thread> threads;
  const auto start = Clock::now();
  for (std::size_t client = 0; client < load.clients; ++client)
    threads.emplace_back([&, client] {
      httplib::Client http(host, port);
      http.set_keep_alive(true);
      http.set_tcp_nodelay(true);
      for (std::size_t second = 0; second < load.seconds; ++second) {
        const std::size_t number = second * load.clients + client;
        if (number >= load.bodies.size()) break;
        std::this_thread::sleep_until(start + std::chrono::seconds(second) +
                                      std::chrono::microseconds(1'000'000 * client / load.clients));
        const auto sent = Clock::now();
        const auto answer = http.Post("/readings", load.bodies[number], "application/json");
        of[client].milliseconds.push_back(1e3 * seconds_since(sent));
        if (answer && answer->status == 201)
          of[client].acknowledged.push_back(nlohmann::json::parse(load.bodies[number])["id"]);
        else
          ++of[client].refused;
      }
    });
  for (std::thread& thread : threads) thread.join();
  Answers all;
  for (const Answers& one : of) {
    all.milliseconds.insert(all.milliseconds.end(), one.milliseconds.begin(), one.milliseconds.end());
    all.acknowledged.insert(all.acknowledged.end(), one.acknowledged.begin(), one.acknowledged.end());
    all.refused += one.refused;
  }
  std::sort(all.milliseconds.begin(), all.milliseconds.end());
  return all;
}

double share(const std::vector<double>& sorted, double share) {
  return sorted[std::min(sorted.size() - 1,
                         static_cast<std::size_t>(share * static_cast<double>(sorted.size())))];
}

void tell(const char* what, const Answers& answers) {
  std::printf("%-8s %zu answers, %zu refused; median %.2f ms, 99 %% %.2f ms, greatest %.2f ms\n", what,
              answers.milliseconds.size(), answers.refused, share(answers.milliseconds, 0.5),
              share(answers.milliseconds, 0.99), answers.milliseconds.back());
  std::fflush(stdout);
}

/// Pages that listen: each reads the stream of states until it ends.
class Pages {
 public:
  Pages(std::size_t count, const std::string& host, int port) {
    for (std::size_t i = 0; i < count; ++i)
      threads_.emplace_back([this, host, port] {
        httplib::Client http(host, port);
        http.set_read_timeout(30);
        http.Get("/stream", [this](const char* text, std::size_t size) {
          states_ += static_cast<std::size_t>(std::count(text, text + size, '\n')) / 5;
          bytes_ += size;
          return !is_over_.load();
        });
      });
  }
  void end() {
    is_over_ = true;
    for (std::thread& thread : threads_) thread.join();
    std::printf("pages    %zu held a stream, %.1f MB received\n", threads_.size(),
                1e-6 * static_cast<double>(bytes_.load()));
  }

 private:
  std::atomic<bool> is_over_{false};
  std::atomic<std::size_t> states_{0}, bytes_{0};
  std::vector<std::thread> threads_;
};

std::vector<std::string> bodies_of(const Readings& readings, std::size_t most) {
  std::vector<std::string> bodies;
  for (std::size_t i = 0; i < std::min(readings.rows.size(), most); ++i) {
    const Reading& reading = readings.rows[i];
    nlohmann::json body{{"id", "b-" + std::to_string(i)},
                        {"from", reading.from},
                        {"to", reading.to},
                        {"value", readings.text.get(ReadingText::value, i)},
                        {"conditions", readings.conditions[reading.condition]},
                        {"by", "bench"},
                        {"time", time_now()}};
    bodies.push_back(body.dump());
  }
  return bodies;
}

int port_of(const std::string& address) { return std::atoi(address.substr(address.rfind(':') + 1).c_str()); }

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const std::size_t seconds = argc > 3 ? std::strtoul(argv[3], nullptr, 10) : 60;
  const std::size_t clients = argc > 4 ? std::strtoul(argv[4], nullptr, 10) : 50;
  const auto readings = load_readings(argv[2]);
  if (!readings) return 2;
  const Load load{bodies_of(*readings, seconds * clients), clients, seconds};
  const std::filesystem::path job = std::filesystem::path("build") / "bench" / "serve.rtj";
  for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(job.string() + end);
  if (const auto made = create_job(job, {argv[1]}); !made) {
    std::fprintf(stderr, "%s\n", to_text(made.error().front()).c_str());
    return 2;
  }

  httplib::Server bare;
  bare.set_tcp_nodelay(true);
  bare.new_task_queue = [] { return new httplib::ThreadPool(128); };
  bare.Post("/readings", [](const httplib::Request&, httplib::Response& response) {
    response.status = 201;
    response.set_content(R"({"id":"b-0","standing":"agrees","words":"read beep, drawn a beep"})",
                         "application/json");
  });
  const int bare_port = bare.bind_to_any_port("127.0.0.1");
  std::thread bare_thread([&] { bare.listen_after_bind(); });
  const Answers floor = send_all(load, "127.0.0.1", bare_port);
  bare.stop();
  bare_thread.join();
  tell("floor", floor);

  auto server = BenchServer::open(job, {});
  if (!server) return 2;
  const int port = port_of(server->addresses().front());
  std::thread thread([&] { server->run(); });
  Pages pages(clients, "127.0.0.1", port);
  const Answers answers = send_all(load, "127.0.0.1", port);
  tell("serve", answers);
  const auto start = Clock::now();
  server->stop();
  pages.end();
  thread.join();
  std::printf("stopped in %.1f s; ratio of the medians %.1f, of the 99 %% %.1f\n", seconds_since(start),
              share(answers.milliseconds, 0.5) / share(floor.milliseconds, 0.5),
              share(answers.milliseconds, 0.99) / share(floor.milliseconds, 0.99));

  const auto kept = open_job(job).and_then([](const Job& opened) { return opened.panel(); });
  if (!kept) return 2;
  std::multiset<std::string> ids;
  for (std::size_t i = 0; i < kept->readings.rows.size(); ++i)
    ids.insert(std::string(kept->readings.text.get(ReadingText::id, i)));
  const bool all_once = std::all_of(answers.acknowledged.begin(), answers.acknowledged.end(),
                                    [&](const std::string& id) { return ids.count(id) == 1; });
  std::printf("%zu acknowledged, %zu in the job: %s\n", answers.acknowledged.size(), ids.size(),
              all_once && answers.refused == 0 ? "all there once" : "LOST OR REFUSED");
  return all_once && answers.refused == 0 ? 0 : 1;
}
