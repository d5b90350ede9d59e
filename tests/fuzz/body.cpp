// Bodies of POST requests.
#include "serve/body.hpp"

#include "fuzz/fuzz.hpp"
#include "serve/json.hpp"

using namespace ringtrue;

namespace {

Result<serve::Body> read(std::string_view json) {
  return serve::Body::read(json, {"id"}, {"from", "to", "value", "note", "points"}, {"points"});
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto body = read(fuzz::as_text(data, size));
  if (!body) return fuzz::must_be_told_of(body.error(), fuzz::as_text(data, size)), 0;
  serve::Json object = serve::Json::object();
  for (const char* field : {"id", "from", "to", "value", "note"}) object[field] = body->text(field);
  const auto again = read(object.dump());
  fuzz::must(again.has_value(), "what was taken is taken again", object.dump());
  for (const char* field : {"id", "from", "to", "value", "note"})
    fuzz::must(again->text(field) == body->text(field), "what was taken is taken as the same", field);
  return 0;
}
