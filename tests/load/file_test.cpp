#include "load/file.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <memory>
#include <string>
#include <thread>

#include <sys/stat.h>

#include "load/load_support.hpp"
#include "load/text.hpp"
#include "ringtrue/base/utf8.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using load::FileText;
using load::read_text_file;

constexpr std::uintmax_t k_no_limit = ~std::uintmax_t{0};

class LoadFile : public ::testing::Test {
 protected:
  std::string errors_in(std::string_view bytes) {
    return errors_of(read_text_file(folder_.write("X.csv", bytes), k_no_limit), folder_);
  }
  Result<FileText> read_bytes(std::string_view bytes) {
    return read_text_file(folder_.write("X.csv", bytes), k_no_limit);
  }
  std::string text_in(std::string_view bytes) {
    const auto file = read_text_file(folder_.write("X.csv", bytes), k_no_limit);
    return file ? std::string(file->view()) : errors_of(file, folder_);
  }
  /// Reads an open file of `bytes` of which the file system said it had `size_before`.
  Result<FileBytes> read_with_size(std::string_view bytes, std::size_t size_before) {
    const auto path = folder_.write("X.csv", bytes);
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), &std::fclose);
    return load::read_open_file(*file, "X.csv", size_before, k_no_limit);
  }

  ScopedTempFolder folder_;
};

TEST_F(LoadFile, PlainTextComesAsItStands) {
  EXPECT_EQ(text_in("from,to\nX1:1,K1:A1\n"), "from,to\nX1:1,K1:A1\n");
}

TEST_F(LoadFile, EmptyFileIsEmptyText) { EXPECT_EQ(text_in(""), ""); }

TEST_F(LoadFile, ByteOrderMarkIsDropped) { EXPECT_EQ(text_in("\xEF\xBB\xBFwire"), "wire"); }

TEST_F(LoadFile, ByteOrderMarkAloneIsEmptyText) { EXPECT_EQ(text_in("\xEF\xBB\xBF"), ""); }

TEST_F(LoadFile, NulFollowsTheText) {
  const auto file = read_text_file(folder_.write("X.csv", "wire"), k_no_limit);
  ASSERT_TRUE(file);
  EXPECT_EQ(*file->end(), '\0');
}

TEST_F(LoadFile, UmlautsAndOhmSignsAreText) {
  EXPECT_EQ(text_in("T\xC3\xBCr 680 \xCE\xA9 \xF0\x9F\x94\xA7"), "T\xC3\xBCr 680 \xCE\xA9 \xF0\x9F\x94\xA7");
}

TEST_F(LoadFile, MissingFileNamesTheNearestBesideIt) {
  folder_.write("conductors.csv", "");
  EXPECT_EQ(errors_of(read_text_file(folder_.path() / "conductor.csv", k_no_limit), folder_),
            "conductor.csv: there is no such file; nearest: conductors.csv");
}

TEST_F(LoadFile, MissingFolderIsAMissingFile) {
  EXPECT_EQ(errors_of(read_text_file(folder_.path() / "GD1" / "conductors.csv", k_no_limit), folder_),
            "GD1/conductors.csv: there is no such file");
}

TEST_F(LoadFile, FolderInPlaceOfAFile) {
  folder_.write("GD1/conductors.csv", "");
  EXPECT_EQ(errors_of(read_text_file(folder_.path() / "GD1", k_no_limit), folder_),
            "GD1: this is a folder where a file is needed");
}

TEST_F(LoadFile, FileThatCannotBeReadTellsTheReason) {
  // Its first page is never mapped, for root neither.
  if (!std::filesystem::exists("/proc/self/mem")) GTEST_SKIP() << "/proc is not mounted";
  EXPECT_EQ(errors_of(read_text_file("/proc/self/mem", k_no_limit), folder_),
            "/proc/self/mem: the file cannot be read (Input/output error)");
}

TEST_F(LoadFile, FileAtTheLimitIsRead) { EXPECT_TRUE(read_text_file(folder_.write("X.csv", "12345"), 5)); }

TEST_F(LoadFile, FileAboveTheLimitIsRefused) {
  const auto file = read_text_file(folder_.write("X.csv", "123456"), 5);
  EXPECT_EQ(first_code(file), ErrorCode::file_too_large);
  EXPECT_EQ(errors_of(file, folder_), "X.csv: the file is too large: expected at most 5 bytes");
}

TEST_F(LoadFile, FileThatShrankWhileReadIsRefused) {
  EXPECT_EQ(
      errors_of(read_with_size("X1:1", 400), folder_),
      "X.csv: the file changed while it was being read: expected a file that nobody writes to; try again");
}

TEST_F(LoadFile, FileThatGrewWhileReadIsRefused) {
  EXPECT_EQ(
      errors_of(read_with_size("X1:1,X1:2", 4), folder_),
      "X.csv: the file changed while it was being read: expected a file that nobody writes to; try again");
}

class LoadPipe : public LoadFile {
 protected:
  /// Reads through a named pipe what another thread writes into it.
  Result<FileText> read_through_pipe(const std::string& text, std::uintmax_t limit) {
    const std::filesystem::path pipe = folder_.path() / "pipe";
    EXPECT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    std::thread writer([&] { folder_.write("pipe", text); });
    auto file = read_text_file(pipe, limit);
    writer.join();
    return file;
  }
};

TEST_F(LoadPipe, PipeIsReadToItsEnd) {
  const std::string text(300000, 'x');
  const auto file = read_through_pipe(text, k_no_limit);
  ASSERT_TRUE(file) << errors_of(file, folder_);
  EXPECT_EQ(file->view(), text);
}

TEST_F(LoadPipe, PipeAboveTheLimitIsRefused) {
  // Fits the pipe's own buffer, so that the writer ends although the reader stops early.
  EXPECT_EQ(errors_of(read_through_pipe(std::string(40000, 'x'), 20000), folder_),
            "pipe: the file is too large: expected at most 20000 bytes");
}

TEST_F(LoadFile, Utf16IsReadWithAMarkAndWithout) {
  for (const std::string& bytes :
       {std::string("\xFF\xFEw\0\xE9\0", 6), std::string("\xFE\xFF\0w\0\xE9", 6)}) {
    const auto file = read_bytes(bytes);
    ASSERT_TRUE(file) << errors_of(file, folder_);
    EXPECT_EQ(file->view(), "w\xC3\xA9");
    EXPECT_FALSE(file->note);
  }
  const auto file = read_bytes(std::string("w\0i\0r\0", 6));
  ASSERT_TRUE(file) << errors_of(file, folder_);
  EXPECT_EQ(file->view(), "wir");
  ASSERT_TRUE(file->note);
  EXPECT_EQ(file->note->text, "the file does not say how its text is encoded; read as UTF-16");
}

TEST_F(LoadFile, Utf16ThatEndsInHalfACharacterIsToldWithItsLine) {
  EXPECT_EQ(
      errors_in(std::string("\xFF\xFEw\0\n\0\x34\xD8", 8)),
      "X.csv:2: the text is neither UTF-8 nor UTF-16LE: found \"byte 34\", expected UTF-8 text; save or "
      "export the file again as UTF-8");
}

TEST_F(LoadFile, NulByteIsNoText) {
  EXPECT_EQ(
      errors_in(std::string_view("wire\nX1\0", 8)),
      "X.csv:2: the file holds control characters, so it is no text file: found \"byte 00\", expected a wire "
      "list or netlist exported as text (CSV or XML); not a PDF, a picture or a workbook");
}

TEST_F(LoadFile, WhatIsNoUtf8IsReadAsWindows1252) {
  const auto file = read_bytes("tag,text\r\nT1,T\xFCr \x80\r\n");
  ASSERT_TRUE(file) << errors_of(file, folder_);
  EXPECT_EQ(file->view(), "tag,text\r\nT1,T\xC3\xBCr \xE2\x82\xAC\r\n");
  ASSERT_TRUE(file->note);
  EXPECT_EQ(file->note->text, "the file does not say how its text is encoded; read as Windows-1252");
}

TEST_F(LoadFile, ByteThatWindows1252DoesNotHaveIsToldWithItsLine) {
  EXPECT_EQ(
      errors_in("tag,text\r\nT1,T\x81r\r\n"),
      "X.csv:2: the text is neither UTF-8 nor WINDOWS-1252: found \"byte 81\", expected UTF-8 text; save or "
      "export the file again as UTF-8");
}

TEST_F(LoadFile, MarkOfUtf8BeforeOtherTextIsTold) {
  EXPECT_EQ(
      errors_in("\xEF\xBB\xBFtag,text\r\nT1,T\xFCr\r\n"),
      "X.csv:2: the text begins with the mark of UTF-8 and is not UTF-8: found \"byte FC\", expected UTF-8 "
      "text; save or export the file again as UTF-8");
}

TEST(LoadText, MalformedUtf8IsFoundAtItsFirstByte) {
  // Source of the bounds: RFC 3629, section 4.
  for (const std::string_view bad :
       {"\x80", "\xC0\x80", "\xC1\xBF", "\xC3", "\xC3\x28", "\xE0\x9F\xBF", "\xE2\x82", "\xED\xA0\x80",
        "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF"})
    for (const std::size_t before : {0u, 3u, 8u, 11u}) {
      const std::string text = std::string(before, 'x') + std::string(bad);
      EXPECT_EQ(first_bad_utf8(text), before) << text;
      EXPECT_EQ(first_bad_utf8("\xCE\xA9" + text + "tail"), before + 2) << text;
    }
}

TEST(LoadText, OuterBoundsOfUtf8AreGood) {
  for (const std::string_view good : {"\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF",
                                      "\xEE\x80\x80", "\xEF\xBF\xBF", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"})
    EXPECT_EQ(first_bad_utf8(good), std::nullopt) << good;
}

TEST(LoadText, BlanksAtBothEndsAreTrimmed) {
  EXPECT_EQ(load::trimmed("\xC2\xA0 \tX1:5 \xC2\xA0"), "X1:5");
  EXPECT_EQ(load::trimmed("X1 : 5"), "X1 : 5");
  EXPECT_EQ(load::trimmed(" \xC2\xA0\t"), "");
  EXPECT_EQ(load::trimmed("\xC3\xA0"), "\xC3\xA0");
}

TEST(LoadText, LongTextIsCutBetweenCharacters) {
  const std::string text = std::string(59, 'x') + "\xC3\xBC" + "rest";
  EXPECT_EQ(load::excerpt(text), std::string(59, 'x') + "...");
  EXPECT_EQ(load::excerpt("two\nlines"), "two lines");
}

TEST(LoadText, LineOfAnOffset) {
  const load::LineIndex lines("one\ntwo\n\nfour\n");
  EXPECT_EQ(lines.line_of(0), 1u);
  EXPECT_EQ(lines.line_of(3), 1u);
  EXPECT_EQ(lines.line_of(4), 2u);
  EXPECT_EQ(lines.line_of(8), 3u);
  EXPECT_EQ(lines.line_of(9), 4u);
  EXPECT_EQ(lines.line_of(1000), 4u);
}

TEST(LoadText, LinesOfOffsetsInAnyOrder) {
  const std::string_view text = "one\n\n\ntwo\nthree\n\nfour";
  const load::LineIndex lines(text);
  for (std::size_t before = 0; before < text.size(); ++before)
    for (std::size_t at = 0; at < text.size(); ++at) {
      (void)lines.line_of(before);
      const auto line = static_cast<std::uint32_t>(
          std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n') + 1);
      EXPECT_EQ(lines.line_of(at), line) << at << " after " << before;
    }
}

TEST(LoadText, RowsAreEstimatedFromAShortFile) {
  EXPECT_EQ(load::estimated_lines(file_text("")), 0u);
  EXPECT_EQ(load::estimated_lines(file_text("wire\n1\n2\n")), 4u);
}

}  // namespace
}  // namespace ringtrue
