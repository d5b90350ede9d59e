#include "report/json_writer.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>

namespace ringtrue::report {
namespace {

using nlohmann::json;

TEST(JsonWriter, NestedValuesReadBackTheSame) {
  JsonWriter writer;
  writer.begin_object().key("a").number(std::size_t{3}).key("b").begin_array();
  writer.begin_object()
      .key("x")
      .null()
      .key("y")
      .boolean(true)
      .key("z")
      .begin_array()
      .end_array()
      .end_object();
  writer.text("t").number(0.25).end_array().key("c").begin_object().end_object().end_object();
  const json expected = {{"a", 3},
                         {"b", {{{"x", nullptr}, {"y", true}, {"z", json::array()}}, "t", 0.25}},
                         {"c", json::object()}};
  EXPECT_EQ(json::parse(writer.take()), expected);
}

TEST(JsonWriter, PartsForASinkAreTheWholeTextInOrder) {
  const auto write = [](JsonWriter& writer) {
    writer.begin_object().key("all").begin_array();
    for (std::size_t i = 0; i < 50'000; ++i) writer.object({{"name", "X" + std::to_string(i)}}).number(i);
    writer.end_array().end_object();
  };
  JsonWriter whole;
  write(whole);
  std::string text;
  std::size_t parts = 0, longest = 0;
  JsonWriter in_parts([&](std::string_view part) {
    text += part;
    ++parts;
    longest = std::max(longest, part.size());
  });
  write(in_parts);
  in_parts.finish();
  EXPECT_EQ(text, whole.take());
  EXPECT_GT(parts, 3u);
  EXPECT_LT(longest, text.size() / 3);
}

TEST(JsonWriter, ObjectAtOnceIsTheSameAsKeyByKey) {
  JsonWriter at_once;
  const std::string longest(600, 'x');
  at_once.begin_array()
      .begin_array()
      .object({{"a", "1"}, {"b", "2"}})
      .object({{"a", "1"}, {"b", "\"Ω"}})
      .object({});
  at_once.object({{"a", longest}}).end_array().end_array();
  JsonWriter by_key;
  by_key.begin_array().begin_array().begin_object().key("a").text("1").key("b").text("2").end_object();
  by_key.begin_object().key("a").text("1").key("b").text("\"Ω").end_object().begin_object().end_object();
  by_key.begin_object().key("a").text(longest).end_object().end_array().end_array();
  EXPECT_EQ(at_once.take(), by_key.take());
}

TEST(JsonWriter, EveryByteOfAsciiSurvives) {
  std::string text;
  for (int c = 0; c < 128; ++c) text += static_cast<char>(c);
  JsonWriter writer;
  writer.text(text);
  EXPECT_EQ(json::parse(writer.take()).get<std::string>(), text);
}

TEST(JsonWriter, TextBeyondAsciiSurvives) {
  JsonWriter writer;
  writer.text("680 Ω, Brücke");
  EXPECT_EQ(json::parse(writer.take()).get<std::string>(), "680 Ω, Brücke");
}

TEST(JsonWriter, BytesThatAreNoUtf8AreReplaced) {
  JsonWriter writer;
  writer.text("a\xFFz");
  EXPECT_EQ(json::parse(writer.take()).get<std::string>(), "a\xEF\xBF\xBDz");
}

TEST(JsonWriter, NumbersThatJsonLacksAreNull) {
  JsonWriter writer;
  writer.begin_array().number(std::numeric_limits<double>::infinity()).number(std::nan("")).end_array();
  EXPECT_EQ(json::parse(writer.take()), json({nullptr, nullptr}));
}

TEST(JsonWriter, SharesReadBackExactly) {
  JsonWriter writer;
  writer.number(1.0 / 3.0);
  EXPECT_EQ(json::parse(writer.take()).get<double>(), 1.0 / 3.0);
}

}  // namespace
}  // namespace ringtrue::report
