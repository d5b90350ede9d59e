// Rows that several builders took and that are appended are the rows that one builder would have taken: the
// one builder is what they are compared with, and other tests compare it with what the rows say.
#include <gtest/gtest.h>

#include <deque>
#include <random>
#include <string>
#include <variant>
#include <vector>

#include "ringtrue/model/netlist_builder.hpp"
#include "tests/support/netlist_lines.hpp"

namespace ringtrue {
namespace {

struct RowInFile {
  std::variant<ConductorRow, PartRow, ChannelRow, PotentialRow> row;
  RowSource source;
};

class RandomRows {
 public:
  explicit RandomRows(unsigned seed) : random_(seed) {}

  /// Rows of three files, one after the other. `wrong_share`: one row in so many has something wrong.
  std::vector<RowInFile> rows(std::size_t count, std::size_t wrong_share) {
    std::vector<RowInFile> made;
    for (std::size_t i = 0; i < count; ++i) {
      const bool is_wrong = wrong_share != 0 && any(wrong_share) == 0;
      made.push_back(
          {row(is_wrong), {static_cast<std::uint32_t>(i + 1), static_cast<std::uint16_t>(3 * i / count)}});
    }
    return made;
  }

 private:
  std::size_t any(std::size_t n) { return random_() % n; }
  std::string_view kept(std::string text) { return kept_.emplace_back(std::move(text)); }
  std::string_view number(std::size_t n) { return kept(std::to_string(any(n))); }

  std::string_view point() {
    static constexpr const char* k_sides[] = {"", "", ".int", ".ext"};
    static constexpr const char* k_before[] = {"", "", "", "=A2", "=A2+B3-", "+B3-"};
    const std::string strip = "X" + std::to_string(any(3)) + ":" + std::to_string(any(30)) + k_sides[any(4)];
    const std::string pin = "K" + std::to_string(any(20)) + ":" + std::to_string(any(4));
    return kept(k_before[any(6)] + (any(2) == 0 ? strip : pin));
  }

  std::variant<ConductorRow, PartRow, ChannelRow, PotentialRow> row(bool is_wrong) {
    switch (any(8)) {
      case 0: {
        PartRow part;
        const bool is_strip = any(2) == 0;
        part.part = kept(is_strip ? "X" + std::to_string(any(3)) + ":" + std::to_string(any(30))
                                  : "Q" + std::to_string(any(50)));
        part.kind = is_wrong   ? "nothing"
                    : is_strip ? (any(4) == 0 ? "pe-terminal" : "terminal")
                               : "contact-no";
        part.a = "13", part.b = "14", part.sheet = number(9);
        return part;
      }
      case 1:
      case 2: {
        ChannelRow channel;
        channel.point = is_wrong ? "" : point(), channel.type = "DI", channel.field = point();
        if (any(2) == 0) channel.return_point = point(), channel.common = point();
        channel.tag = number(1000);
        return channel;
      }
      case 3:
        return PotentialRow{number(9), is_wrong ? "volts" : "dc+", "24", point()};
      default: {
        ConductorRow wire;
        wire.from = point(), wire.to = is_wrong ? "" : point(), wire.wire = number(400);
        if (any(3) == 0) wire.sheet = number(9), wire.note = number(9);
        return wire;
      }
    }
  }

  std::mt19937 random_;
  std::deque<std::string> kept_;
};

void start(NetlistBuilder& builder) {
  PanelRow panel;
  panel.panel = "GD1", panel.function = "A2", panel.location = "B3";
  builder.set_panel(panel, {});
}
void give(NetlistBuilder& builder, const RowInFile& row, std::uint16_t first_file) {
  RowSource source = row.source;
  source.file = static_cast<std::uint16_t>(source.file - first_file);
  std::visit([&](const auto& one) { builder.add(one, source); }, row.row);
}
constexpr std::array k_files = {"one.csv", "two.csv", "three.csv"};

Result<Netlist> by_one(const std::vector<RowInFile>& rows) {
  NetlistBuilder builder;
  start(builder);
  for (const char* file : k_files) builder.add_file(file);
  for (const RowInFile& row : rows) give(builder, row, 0);
  return builder.finish();
}

/// A builder for each file; the first builder takes what comes from the others.
Result<Netlist> by_three(const std::vector<RowInFile>& rows) {
  NetlistBuilder first;
  start(first);
  std::vector<NetlistBuilder> later;
  later.push_back(first.beside());
  later.push_back(first.beside());
  // The last file first, as another thread may do it.
  for (std::uint16_t file = 2; file < 3; --file) {
    NetlistBuilder& builder = file == 0 ? first : later[file - 1u];
    builder.add_file(k_files[file]);
    for (const RowInFile& row : rows)
      if (row.source.file == file) give(builder, row, file);
  }
  for (NetlistBuilder& builder : later) first.append(std::move(builder));
  return first.finish();
}

/// With the order of the points, and where each row came from.
std::string text_of(const Result<Netlist>& net) {
  std::string text;
  if (!net) {
    for (const Error& error : net.error()) text += to_text(error) + "\n";
    return text;
  }
  text = testing::netlist_lines(*net);
  for (std::uint32_t i = 0; i < net->points.size(); ++i) text += net->points.name(PointId{i}) + "\n";
  const auto add_sources = [&](const auto& rows) {
    for (const auto& row : rows)
      text += net->files[row.source.file] + ":" + std::to_string(row.source.line) + "\n";
  };
  add_sources(net->conductors), add_sources(net->parts), add_sources(net->channels),
      add_sources(net->potentials);
  for (const Note& note : net->notes) text += note.place.file + ": " + note.text + "\n";
  return text;
}

TEST(NetlistAppend, WhatSeveralBuildersTookIsWhatOneWouldHaveTaken) {
  std::size_t loaded = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    RandomRows random(seed);
    const std::vector<RowInFile> rows = random.rows(20 * seed, 0);
    const Result<Netlist> wanted = by_one(rows);
    ASSERT_EQ(text_of(by_three(rows)), text_of(wanted)) << "seed " << seed;
    loaded += wanted ? 1 : 0;
  }
  EXPECT_GT(loaded, 50u) << "most of the rows make a netlist";
}

TEST(NetlistAppend, MistakesAreThoseOfOneBuilderInItsOrder) {
  std::size_t most = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    RandomRows random(seed);
    const std::vector<RowInFile> rows = random.rows(300, seed);
    const Result<Netlist> wanted = by_one(rows);
    ASSERT_FALSE(wanted) << "seed " << seed;
    ASSERT_EQ(text_of(by_three(rows)), text_of(wanted)) << "seed " << seed;
    most = std::max(most, wanted.error().size());
  }
  EXPECT_EQ(most, k_max_errors);
}

}  // namespace
}  // namespace ringtrue
