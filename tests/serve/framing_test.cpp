// Expected statuses: RFC 9112, 3.2, 5.1, 6.1 to 6.3; RFC 9110, 15.5 and 15.6.2.
#include "serve/framing.hpp"

#include <gtest/gtest.h>

namespace ringtrue::serve {
namespace {

constexpr std::size_t k_most = 100;

int status(const Framing& framing) {
  const auto refused = refused_framing(framing, k_most);
  return refused ? refused->status : 0;
}

TEST(Framing, OfWholeRequestsIsTaken) {
  for (const char* method : {"GET", "HEAD", "OPTIONS", "DELETE"}) {
    EXPECT_EQ(status({method, {"a"}, {}}), 0) << method;
    EXPECT_EQ(status({method, {"a"}, {"0"}}), 0) << method;
  }
  for (const char* method : {"POST", "PUT", "PATCH", "DELETE"})
    for (const char* length : {"0", "1", "100", "0100"})
      EXPECT_EQ(status({method, {"a"}, {length}}), 0) << method << length;
}

TEST(Framing, OfUncertainRequestsIsRefused) {
  for (const char* method : {"TRACE", "CONNECT", "PRI", "BREW", "get", ""})
    EXPECT_EQ(status({method, {"a"}, {}}), 501) << method;
  for (const char* method : {"GET", "HEAD", "POST"}) {
    EXPECT_EQ(status({method, {}, {"0"}}), 400) << method;
    EXPECT_EQ(status({method, {"a", "a"}, {"0"}}), 400) << method;
    EXPECT_EQ(status({method, {"a"}, {"5", "5"}}), 400) << method;
    EXPECT_EQ(status({method, {"a"}, {"5"}, true}), 411) << method;
    EXPECT_EQ(status({method, {"a"}, {}, true}), 411) << method;
    EXPECT_EQ(status({method, {"a"}, {"0"}, false, false, "Content-Length "}), 400) << method;
    for (const char* length : {"", " ", "-1", "+1", "1 ", "0x1", "1e1", "1,1", "one"})
      EXPECT_EQ(status({method, {"a"}, {length}}), 400) << method << length;
  }
  for (const char* method : {"GET", "HEAD", "OPTIONS"})
    EXPECT_EQ(status({method, {"a"}, {"1"}}), 400) << method;
  for (const char* method : {"POST", "PUT", "PATCH"}) EXPECT_EQ(status({method, {"a"}, {}}), 411) << method;
}

TEST(Framing, OfWhatIsNotTakenIsRefused) {
  for (const char* length : {"101", "99999999999999999999999999999999999"})
    EXPECT_EQ(status({"POST", {"a"}, {length}}), 413) << length;
  EXPECT_EQ(status({"POST", {"a"}, {"5"}, false, true}), 415);
  EXPECT_EQ(status({"GET", {"a"}, {}, false, true}), 0);
}

}  // namespace
}  // namespace ringtrue::serve
