#include "serve/http.hpp"

#include <algorithm>
#include <array>
#include <cstdio>

#include "serve/guard.hpp"
#include "serve/workers.hpp"

namespace ringtrue::serve {

namespace {

void begin(httplib::Response& response, const Answer& answer) {
  response.status = answer.status;
  if (answer.status == 429 || answer.status == 503) response.set_header("Retry-After", "1");
}

std::vector<std::string> values(const httplib::Request& request, const char* name) {
  std::vector<std::string> all;
  const auto [first, last] = request.headers.equal_range(name);
  for (auto header = first; header != last; ++header) all.push_back(header->second);
  return all;
}

Answer nothing_here() { return refusal(404, "there is nothing at this address"); }

/// Of a request that is answered before its body is read and any address is looked for.
std::optional<Answer> refused(const httplib::Request& request, std::size_t most_body_bytes,
                              const std::string& token) {
  if (Workers::is_turning_away()) return refusal(503, "too many connections; try again in a second");
  if (auto framing = refused_framing(framing_of(request), most_body_bytes)) return framing;
  if (!has_token(request.path, token)) return nothing_here();
  return std::nullopt;
}

/// The library takes for a name whatever stands before a colon, and so passes over a `Content-Length : 5`
/// that others count. Source: RFC 9110, 5.6.2 (token).
std::string odd_field(const httplib::Request& request) {
  constexpr std::string_view k_signs = "!#$%&'*+-.^_`|~";
  const auto is_of_name = [&](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           k_signs.find(c) != k_signs.npos;
  };
  for (const auto& [name, value] : request.headers)
    if (!std::all_of(name.begin(), name.end(), is_of_name)) return name;
  return {};
}

}  // namespace

void send(httplib::Response& response, const Answer& answer) {
  begin(response, answer);
  response.set_content(answer.body, std::string(answer.type));
}

void send_and_close(httplib::Response& response, const Answer& answer) {
  begin(response, answer);
  response.set_header("Connection", "close");
  // The library ends a connection only when writing to it fails: all is written, and then that is said.
  response.set_content_provider(
      answer.body.size(), std::string(answer.type),
      [body = answer.body](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
        sink.write(body.data() + offset, length);
        return false;
      });
}

Framing framing_of(const httplib::Request& request) {
  return {request.method,
          values(request, "Host"),
          values(request, "Content-Length"),
          request.has_header("Transfer-Encoding"),
          request.has_header("Content-Encoding"),
          odd_field(request)};
}

std::string field_of(const httplib::Request& request, const char* name) {
  std::string all;
  for (const std::string& value : values(request, name)) all += (all.empty() ? "" : ", ") + value;
  return all;
}

void end_uncertain_connections(httplib::Server& server, std::size_t most_body_bytes,
                               const std::string& token) {
  server.set_payload_max_length(most_body_bytes);
  server.set_pre_routing_handler(
      [most_body_bytes, token](const httplib::Request& request, httplib::Response& response) {
        ignore_ranges(request);
        const auto answer = refused(request, most_body_bytes, token);
        if (!answer) return httplib::Server::HandlerResponse::Unhandled;
        send_and_close(response, *answer);
        return httplib::Server::HandlerResponse::Handled;
      });
  server.set_error_handler([](const httplib::Request& request, httplib::Response& response) {
    if (!response.body.empty() || response.content_provider_) return;
    ignore_ranges(request);
    send_and_close(response, response.status == 404 ? nothing_here()
                                                    : refusal(response.status, "the request can't be taken"));
  });
}

void ignore_ranges(const httplib::Request& request) { const_cast<httplib::Request&>(request).ranges.clear(); }

std::string http_date(std::time_t time) {
  constexpr const char* k_days[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr const char* k_months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  std::tm parts{};
  gmtime_r(&time, &parts);
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%s, %02d %s %d %02d:%02d:%02d GMT", k_days[parts.tm_wday],
                parts.tm_mday, k_months[parts.tm_mon], parts.tm_year + 1900, parts.tm_hour, parts.tm_min,
                parts.tm_sec);
  return text.data();
}

std::string as_pattern(std::string_view text) {
  std::string pattern;
  for (const char c : text) {
    if (c == '.') pattern += '\\';
    pattern += c;
  }
  return pattern;
}

std::size_t number_in(const std::string& text, std::size_t usual, std::size_t most) {
  std::size_t number = 0;
  for (const char c : text) {
    if (c < '0' || c > '9' || number > most) return usual;
    number = number * 10 + static_cast<std::size_t>(c - '0');
  }
  return text.empty() ? usual : std::min(number, most);
}

}  // namespace ringtrue::serve
