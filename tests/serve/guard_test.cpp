#include "serve/guard.hpp"

#include <gtest/gtest.h>

namespace ringtrue::serve {
namespace {

using namespace std::chrono_literals;

struct OriginCase {
  Origin origin;
  bool at_loopback, beyond;  ///< let in at an address of this machine alone, and at another one
};

TEST(Guard, OriginsOfItsOwnAreLetIn) {
  const OriginCase cases[] = {
      {{"127.0.0.1:8080", "", ""}, true, true},
      {{"127.0.0.1:8080", "http://127.0.0.1:8080", "same-origin"}, true, true},
      {{"127.0.0.1:8080", "", "none"}, true, true},
      {{"localhost", "http://localhost", ""}, true, true},
      {{"[::1]:8080", "http://[::1]:8080", ""}, true, true},
      {{"127.9.9.9:1", "", ""}, true, true},
      // Another origin, or a page of another origin that hides it.
      {{"127.0.0.1:8080", "http://127.0.0.1:8081", ""}, false, false},
      {{"127.0.0.1:8080", "http://127.0.0.1", ""}, false, false},
      {{"127.0.0.1:8080", "https://127.0.0.1:8080", ""}, false, false},
      {{"127.0.0.1:8080", "http://localhost:8080", ""}, false, false},
      {{"127.0.0.1:8080", "http://127.0.0.1:8080/", ""}, false, false},
      {{"127.0.0.1:8080", "null", ""}, false, false},
      {{"127.0.0.1:8080", "", "cross-site"}, false, false},
      {{"127.0.0.1:8080", "", "same-site"}, false, false},
      {{"127.0.0.1:8080", "http://127.0.0.1:8080", "cross-site"}, false, false},
      // Another name that leads here.
      {{"evil.example", "http://evil.example", "same-origin"}, false, true},
      {{"panel.local:8080", "", ""}, false, true},
      {{"192.168.1.5:8080", "http://192.168.1.5:8080", ""}, false, true},
      {{"0.0.0.0:8080", "", ""}, false, true},
      {{"127.0.0.1.evil.example", "", ""}, false, true},
      {{"[::1].evil.example", "", ""}, false, true},
      {{"[::1", "", ""}, false, true},
      {{"localhost:80.evil.example", "", ""}, false, true},
      {{"localhost@evil.example", "", ""}, false, true},
      {{":8080", "", ""}, false, true},
      {{"", "", ""}, false, true},
      {{std::string_view("127.0.0.1\0.evil.example", 23), "", ""}, false, true},
  };
  for (const OriginCase& one : cases) {
    SCOPED_TRACE(std::string(one.origin.host) + " " + std::string(one.origin.origin) + " " +
                 std::string(one.origin.fetch_site));
    EXPECT_EQ(is_own_origin(one.origin, true), one.at_loopback);
    EXPECT_EQ(is_own_origin(one.origin, false), one.beyond);
  }
}

TEST(Guard, TheTokenIsTheWholeFirstPartOfTheAddress) {
  for (const std::string_view path : {"/abc", "/abc/", "/abc/state", "/abc//", "/abc/abc/"})
    EXPECT_TRUE(has_token(path, "abc")) << path;
  for (const std::string_view path :
       {"", "/", "//", "abc", "abc/", "*", "/ab/", "/abcd/", "/abd/", "/xbc/", "/Abc/", "//abc/", "/ abc/",
        "/x/abc/", "/../abc/", "/abc?", "http://h/abc/"})
    EXPECT_FALSE(has_token(path, "abc")) << path;
  EXPECT_FALSE(has_token(std::string_view("/abc\0/", 6), "abc"));
  EXPECT_TRUE(has_token("/state", "")) << "no token is asked for";
}

TEST(Guard, WhoeverFollowsALinkMayRead) {
  const auto asks = [](std::string_view host, std::string_view mode, bool is_to_read) {
    return is_own_origin({host, "", "cross-site", mode, is_to_read}, true);
  };
  EXPECT_TRUE(asks("127.0.0.1:8080", "navigate", true));
  EXPECT_FALSE(asks("127.0.0.1:8080", "navigate", false)) << "a form";
  EXPECT_FALSE(asks("127.0.0.1:8080", "no-cors", true)) << "a picture or script in a page";
  EXPECT_FALSE(asks("127.0.0.1:8080", "cors", true));
  EXPECT_FALSE(asks("evil.example", "navigate", true));
}

TEST(Guard, JsonIsToldByItsTypeAlone) {
  for (const char* type : {"application/json", "Application/JSON", "application/json;charset=utf-8",
                           " application/json ; charset=utf-8", "application/json;"})
    EXPECT_TRUE(is_json(type)) << type;
  for (const char* type :
       {"", "text/plain", "text/plain;application/json", "application/jsonp", "json", "application/ld+json",
        "application/x-www-form-urlencoded", "application/json,text/plain"})
    EXPECT_FALSE(is_json(type)) << type;
}

TEST(RateLimit, TakesSoManyAtOnceAndThenSoManyASecond) {
  RateLimit limit(2, 5);
  auto now = std::chrono::steady_clock::time_point{} + 1h;
  const auto taken = [&](int asked) {
    int count = 0;
    for (int i = 0; i < asked; ++i) count += limit.take("a", now) ? 1 : 0;
    return count;
  };
  EXPECT_EQ(taken(20), 5);
  now += 400ms;
  EXPECT_EQ(taken(20), 0);
  now += 100ms;
  EXPECT_EQ(taken(20), 1);
  now += 2s;
  EXPECT_EQ(taken(20), 4);
  now += 1h;
  EXPECT_EQ(taken(20), 5);  // and never more than at once
}

TEST(RateLimit, AddressesDoNotTakeFromEachOther) {
  RateLimit limit(1, 1);
  auto now = std::chrono::steady_clock::time_point{} + 1h;
  EXPECT_TRUE(limit.take("a", now));
  EXPECT_FALSE(limit.take("a", now));
  EXPECT_TRUE(limit.take("b", now));
  for (int i = 0; i < 5000; ++i) EXPECT_TRUE(limit.take("many" + std::to_string(i), now));
  EXPECT_FALSE(limit.take("a", now));  // not forgotten while others come
  now += 1s;
  EXPECT_TRUE(limit.take("a", now));
}

}  // namespace
}  // namespace ringtrue::serve
