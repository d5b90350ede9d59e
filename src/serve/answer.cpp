#include "serve/answer.hpp"

#include "serve/json.hpp"

namespace ringtrue::serve {

namespace {

int status_of(ErrorCode code) {
  switch (code) {
    case ErrorCode::repeated_row:
      return 409;
    case ErrorCode::disk_full:
      return 507;
    case ErrorCode::busy_job:
    case ErrorCode::read_only_job:
    case ErrorCode::file_unwritable:
      return 503;
    case ErrorCode::damaged_job:
      return 500;
    case ErrorCode::unknown_channel:
      return 404;
    default:
      return 422;
  }
}

}  // namespace

Answer refusal(const Errors& errors) {
  Error error = errors.front();
  error.place.file.clear();  // a path of this machine, and the page knows its job
  Json body;
  Json& told = body["error"];
  told["text"] = to_text(error);
  told["field"] = error.place.field;
  told["found"] = error.found;
  told["expected"] = error.expected;
  told["nearest"] = error.nearest;
  return {status_of(error.code), text_of(body)};
}

Answer refusal(int status, std::string_view text, std::string_view found, std::string_view expected) {
  Json body;
  Json& told = body["error"];
  told["text"] = text;
  told["field"] = "";
  told["found"] = found;
  told["expected"] = expected;
  told["nearest"] = Json::array();
  return {status, text_of(body)};
}

}  // namespace ringtrue::serve
