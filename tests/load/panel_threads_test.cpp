// However many threads load a panel, it is the one that its files give when each is loaded by itself.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <random>
#include <sstream>
#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

std::string text_of(const std::vector<Note>& notes) {
  std::ostringstream out;
  for (const Note& note : notes)
    out << note.place.file << ':' << note.place.line << ':' << note.place.field << ": " << note.text << '\n';
  return out.str();
}

std::string text_of(const Netlist& net) {
  std::ostringstream out;
  for (std::uint32_t p = 0; p < net.points.size(); ++p) out << net.points.name(PointId{p}) << '\n';
  for (std::size_t i = 0; i < net.conductors.size(); ++i) {
    const Conductor& c = net.conductors[i];
    out << index(c.from) << '>' << index(c.to) << ' ' << word(c.kind) << " line " << c.source.line;
    for (std::size_t f = 0; f < static_cast<std::size_t>(ConductorText::count_); ++f)
      out << '|' << net.conductor_text.get(static_cast<ConductorText>(f), i);
    out << '\n';
  }
  for (const RepeatedConductor& again : net.repeated_conductors)
    out << again.conductor << " again in line " << again.source.line << '\n';
  return out.str() + text_of(net.notes);
}

std::string text_of(const Readings& readings) {
  std::ostringstream out;
  for (std::size_t i = 0; i < readings.rows.size(); ++i) {
    const Reading& row = readings.rows[i];
    out << row.from << ' ' << row.to << ' ' << to_text(row.value) << " line " << row.line << " at "
        << readings.conditions[row.condition];
    for (std::size_t f = 0; f < static_cast<std::size_t>(ReadingText::count_); ++f)
      out << '|' << readings.text.get(static_cast<ReadingText>(f), i);
    out << '\n';
  }
  return out.str() + text_of(readings.notes);
}

std::string text_of(const Events& events) {
  std::ostringstream out;
  for (const Event& event : events.rows)
    out << event.time << ' ' << event.points.front() << " line " << event.line << '\n';
  return out.str() + text_of(events.notes);
}

std::string text_of(const Errors& errors) {
  std::string text;
  for (const Error& error : errors) text += to_text(error) + '\n';
  return text;
}

std::string text_of(const Result<Panel>& panel) {
  if (!panel) return text_of(panel.error());
  return text_of(panel->netlist) + text_of(panel->readings) + text_of(panel->events);
}

/// Each file by itself, one after the other.
std::string text_of_files(const std::filesystem::path& folder) {
  const auto netlist = load_netlist(folder / "conductors.csv");
  const auto readings = load_readings(folder / "readings.csv");
  const auto events = load_events(folder / "events.csv");
  if (netlist && readings && events) return text_of(*netlist) + text_of(*readings) + text_of(*events);
  Errors errors;
  const auto take = [&](const auto& loaded) {
    if (!loaded) std::copy(loaded.error().begin(), loaded.error().end(), std::back_inserter(errors));
  };
  take(netlist), take(readings), take(events);
  errors.resize(std::min(errors.size(), k_max_errors));
  return text_of(errors);
}

/// Files as exports really come: quotes with line breaks in them, blank lines, three kinds of line ends,
/// three encodings, rows that say something again; with `mistakes`, one in so many rows is wrong.
class HostileFiles {
 public:
  HostileFiles(unsigned seed, unsigned mistakes)
      : random_(seed), mistakes_(mistakes), line_end_(one_of({"\n", "\r\n", "\r"})) {}

  std::string conductors() {
    std::string text = one_of({"", "\xEF\xBB\xBF"}) + "wire,from,to,kind,note" + line_end_;
    for (int i = 0; i < 600; ++i) {
      const std::string wire = std::to_string(random_() % 500);
      text += wire + ',' + point() + ',' + point() + ',' + (is_mistake() ? "wier" : "wire") + ',' + note() +
              line_end_ + one_of({"", "", "", ",,," + line_end_});
    }
    return text;
  }
  std::string readings() {
    std::string text = "from,to,value,id,note" + line_end_;
    for (int i = 0; i < 600; ++i)
      text += point() + ',' + point() + ',' +
              (is_mistake() ? "maybe" : one_of({"beep", "open", "1.5k", ""})) + ",R" + std::to_string(i) +
              ',' + note() + line_end_;
    return text;
  }
  std::string events() {
    std::string text = "time,by,kind,points" + line_end_;
    for (int i = 0; i < 20; ++i)
      text += std::string(is_mistake() ? "at noon" : "2026-03-02T09:00:00Z") + ",wireman A,repair," +
              point() + line_end_;
    return text;
  }

 private:
  std::string one_of(std::initializer_list<std::string> texts) {
    return *(texts.begin() + static_cast<std::ptrdiff_t>(random_() % texts.size()));
  }
  bool is_mistake() { return mistakes_ != 0 && random_() % mistakes_ == 0; }
  std::string point() {
    return one_of({"X1:", "K", "-X2:"}) + std::to_string(random_() % 300) + one_of({":1", ":2.int", ""});
  }
  std::string note() {
    return one_of({"", "plain", "\"two" + line_end_ + "lines, and \"\"quotes\"\"\"", "\"\"", "\"\xC3\xBC\"",
                   is_mistake() ? "\"x\" y" : "x \"y\""});
  }

  std::mt19937 random_;
  unsigned mistakes_;
  std::string line_end_;
};

/// As UTF-16 with its mark, of text that has no characters above U+00FF.
std::string as_utf16(std::string_view utf8) {
  std::string wide = "\xFF\xFE";
  for (std::size_t i = 0; i < utf8.size(); ++i) {
    const auto byte = static_cast<unsigned char>(utf8[i]);
    if (byte == 0xC3) {
      wide += static_cast<char>(static_cast<unsigned char>(utf8[++i]) + 0x40);
    } else {
      wide += utf8[i];
    }
    wide += '\0';
  }
  return wide;
}

TEST(LoadPanelThreads, AnyNumberGivesWhatTheFilesGiveOneByOne) {
  std::size_t loaded = 0, refused = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    const ScopedTempFolder folder;
    HostileFiles files(seed, std::array{0u, 900u, 100u, 5u}[seed % 4]);
    const std::string conductors = files.conductors();
    folder.write("conductors.csv", conductors);
    folder.write("readings.csv", seed % 3 == 0 ? as_utf16(files.readings()) : files.readings());
    folder.write("events.csv", files.events());
    const std::string expected = text_of_files(folder.path());
    for (const std::size_t threads : {1, 2, 3, 7}) {
      const auto panel = load_panel({folder.path() / "conductors.csv", folder.path() / "readings.csv"},
                                    {.threads = {threads}});
      ++(panel ? loaded : refused);
      EXPECT_EQ(text_of(panel), expected) << "seed " << seed << ", " << threads << " threads";
    }
  }
  EXPECT_GT(loaded, 20u);
  EXPECT_GT(refused, 20u);
}

}  // namespace
}  // namespace ringtrue
