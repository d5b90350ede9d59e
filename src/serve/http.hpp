#pragma once
#include <httplib.h>
#include <ctime>
#include <string>

#include "serve/answer.hpp"
#include "serve/framing.hpp"

namespace ringtrue::serve {

void send(httplib::Response& response, const Answer& answer);

/// Sends the answer and ends the connection, except where the method is HEAD.
void send_and_close(httplib::Response& response, const Answer& answer);

[[nodiscard]] Framing framing_of(const httplib::Request& request);

/// The whole value of a field, where the library's own getter ends at a NUL; empty if it isn't there. What is
/// there more than once is a list. Source: RFC 9110, 5.3.
[[nodiscard]] std::string field_of(const httplib::Request& request, const char* name);

/// Has the server answer what `refused_framing` refuses, what comes while all workers are held, and what
/// comes without the token, and end the connection with such answers, and with any that is no handler's: the
/// body may not have been read.
void end_uncertain_connections(httplib::Server& server, std::size_t most_body_bytes,
                               const std::string& token);

/// The library would answer 200 with a part of the whole. Source: RFC 9110, 14.2 (Range may be ignored).
void ignore_ranges(const httplib::Request& request);

/// `Sun, 06 Nov 1994 08:49:37 GMT`; source: RFC 9110, 5.6.7.
[[nodiscard]] std::string http_date(std::time_t time);

/// A number in a query; `usual` where it is empty or none, `most` where it is more.
[[nodiscard]] std::size_t number_in(const std::string& text, std::size_t usual, std::size_t most);

/// A pattern that matches `text` alone.
[[nodiscard]] std::string as_pattern(std::string_view text);

}  // namespace ringtrue::serve
