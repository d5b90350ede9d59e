#include "job/sha256.hpp"

#include <gtest/gtest.h>

namespace ringtrue::job {
namespace {

// NIST, Example Values for FIPS 180-4, SHA256.pdf: one block and two blocks. The digest of no bytes at all is
// that of the empty message in NIST's CAVP byte test vectors (SHA256ShortMsg, Len = 0).
TEST(Sha256, StandardResults) {
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

}  // namespace
}  // namespace ringtrue::job
