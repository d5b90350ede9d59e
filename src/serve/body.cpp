#include "serve/body.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "ringtrue/model/number.hpp"

namespace ringtrue::serve {

namespace {

/// By name. An object in the order of its text copies its values when it grows, and a copy takes stack for
/// each level that a stranger has nested.
using Json = nlohmann::json;

Error wrong(std::string message, std::string_view field, std::string_view found, std::string expected) {
  return {ErrorCode::bad_text, std::move(message),  {"", 0, "", std::string(field)},
          std::string(found),  std::move(expected), {}};
}

std::string kind_of(const Json& value) { return value.type_name(); }

/// A control character would go unseen in every report.
bool is_plain(std::string_view text) {
  return std::none_of(text.begin(), text.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
  });
}

Result<std::string> text_in(const Json& value, std::string_view field) {
  if (!value.is_string()) return fail(wrong("not a text", field, kind_of(value), "a text"));
  const auto& text = value.get_ref<const std::string&>();
  if (text.size() > Body::k_most_bytes)
    return fail(wrong("too long", field, std::to_string(text.size()) + " bytes",
                      "at most " + std::to_string(Body::k_most_bytes)));
  if (!is_plain(text)) return fail(wrong("a control character", field, "", "text on one line"));
  return std::string(trimmed(text));  // as loaders take a cell
}

}  // namespace

Result<Body> Body::read(std::string_view json, std::initializer_list<std::string_view> required,
                        std::initializer_list<std::string_view> known,
                        std::initializer_list<std::string_view> lists) {
  const Json parsed = Json::parse(json, nullptr, false);
  if (!parsed.is_object()) return fail(wrong("the body of the request", "", "", "a JSON object"));
  Body body;
  for (const auto& field : parsed.items()) {
    const std::string& name = field.key();
    const Json& value = field.value();
    const auto is_in = [&](std::initializer_list<std::string_view> names) {
      return std::find(names.begin(), names.end(), name) != names.end();
    };
    if (!is_in(known) && !is_in(required)) return fail(wrong("unknown field", name, name, "another one"));
    std::vector<std::string>& texts = body.fields_[name];
    const auto take = [&](const Json& one) -> Result<void> {
      return text_in(one, name).map([&](std::string text) { texts.push_back(std::move(text)); });
    };
    Result<void> taken;
    if (value.is_array() && is_in(lists)) {
      for (auto one = value.begin(); one != value.end() && taken; ++one) taken = take(*one);
    } else if (!value.is_null()) {
      taken = take(value);
    }
    if (!taken) return tl::unexpected(std::move(taken.error()));
  }
  for (const std::string_view field : required)
    if (body.list(field).empty())
      return fail(
          {ErrorCode::missing_field, "it is missing", {"", 0, "", std::string(field)}, "", "a text", {}});
  return body;
}

std::string_view Body::text(std::string_view field) const {
  const auto found = fields_.find(field);
  return found == fields_.end() || found->second.empty() ? std::string_view{} : found->second.front();
}

std::string Body::list(std::string_view field) const {
  std::string all;
  const auto found = fields_.find(field);
  if (found == fields_.end()) return all;
  for (const std::string& text : found->second) all += (all.empty() ? "" : "; ") + text;
  return all;
}

}  // namespace ringtrue::serve
