#include "serve/body.hpp"

#include <gtest/gtest.h>

namespace ringtrue::serve {
namespace {

Result<Body> read(std::string_view json) { return Body::read(json, {"id"}, {"note", "points"}, {"points"}); }

/// The field that is at fault; `-` where nothing is.
std::string fault(std::string_view json) {
  const auto body = read(json);
  return body ? "-" : body.error().front().place.field;
}

TEST(Body, GivesItsTexts) {
  const auto body = read(R"({"id": " a ", "note": "é \"b\"", "points": ["X1:5", "X1:6"]})");
  ASSERT_TRUE(body);
  EXPECT_EQ(body->text("id"), "a");
  EXPECT_EQ(body->text("note"), "é \"b\"");
  EXPECT_EQ(body->list("points"), "X1:5; X1:6");
  EXPECT_EQ(body->text("missing"), "");
  EXPECT_EQ(body->list("missing"), "");
  EXPECT_EQ(read(R"({"id": "a", "points": "X1:5"})")->list("points"), "X1:5");
  EXPECT_EQ(read(R"({"id": "a", "note": null})")->text("note"), "");
}

TEST(Body, RefusesWhatIsNoObject) {
  for (const char* json : {"", "{", "[]", "null", "1", "\"id\"", "{\"id\":\"a\"} x", "{'id':'a'}", "\xff",
                           "{\"id\":\"\xff\"}", "{\"id\":\"\\ud800\"}"}) {
    const auto body = read(json);
    ASSERT_FALSE(body) << json;
    EXPECT_EQ(body.error().front().code, ErrorCode::bad_text) << json;
  }
}

TEST(Body, TellsTheFieldAtFault) {
  EXPECT_EQ(fault(R"({"id": "a"})"), "-");
  for (const char* value :
       {"1", "true", "{}", "[]", "[\"a\"]", "[[\"a\"]]", "\"a\\nb\"", "\"\\u0000\"", "\"\\u007f\""}) {
    EXPECT_EQ(fault(R"({"id": )" + std::string(value) + "}"), "id") << value;
    EXPECT_EQ(fault(R"({"id": "a", "note": )" + std::string(value) + "}"), "note") << value;
  }
  for (const char* value : {"1", "[1]", "[[\"a\"]]", "[null]", "{}", "[\"a\", \"b\\n\"]"})
    EXPECT_EQ(fault(R"({"id": "a", "points": )" + std::string(value) + "}"), "points") << value;
  EXPECT_EQ(fault(R"({"id": "a", "extra": "b"})"), "extra");
  for (const char* json : {"{}", R"({"id": ""})", R"({"id": "  "})", R"({"id": null})"}) {
    const auto body = read(json);
    ASSERT_FALSE(body) << json;
    EXPECT_EQ(body.error().front().code, ErrorCode::missing_field) << json;
  }
}

TEST(Body, TakesTextsUpToItsLimit) {
  const std::string most(Body::k_most_bytes, 'x');
  EXPECT_EQ(fault("{\"id\": \"" + most + "\"}"), "-");
  EXPECT_EQ(fault("{\"id\": \"" + most + "x\"}"), "id");
}

TEST(Body, OutlivesDeepNesting) {
  const std::string deep = std::string(100'000, '[') + std::string(100'000, ']');
  EXPECT_EQ(fault("{\"id\": " + deep + "}"), "id");
  EXPECT_EQ(fault("{\"id\": \"a\", \"points\": " + deep + "}"), "points");
  EXPECT_EQ(fault("{\"points\": " + deep + ", \"id\": \"a\", \"note\": \"b\"}"), "points");
  EXPECT_FALSE(read(deep));
}

}  // namespace
}  // namespace ringtrue::serve
