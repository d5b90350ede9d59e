// Generates the wiring of a plant of grain dryers and the readings of its as-built panels.
//
//   make_plant FOLDER [CONDUCTORS [SEED]]      by default 1,000,000 conductors, seed 1
//
// writes FOLDER/conductors.csv, FOLDER/readings.csv (as many rows) and the truth, FOLDER/faults.csv.
// The same arguments give the same bytes on every machine: the random numbers are made here, because
// the standard library's distributions differ between implementations.
//
// One panel has 2,000 conductors. Its nets, with P for the panel's number:
//   plus common   G{P}01:+ to XP01, whose 200 terminals are bridged on the panel side, a core from each;
//                 from its first terminal a feed to a ring through the plus pins of 35 modules
//                 (200 inner + 200 outer sides + 200 device pins + 35 + 1 = 636 points)
//   minus common  G{P}01:- to XP02:1, then a daisy chain through 220 coils to one module (223 points
//                 with the outer side of the terminal)
//   point to point: 560 module pins to XP11..XP24 and a core from each outer side to its device;
//                 220 coils to XP03; two wires from the breaker to the supply
// Every conductor but the ring's is alone in joining its ends, so each fault below changes the reading of
// the conductors it touches and of no other.
//
// Faults: one reading in 1,000 disagrees. A twentieth of these pays for swaps (4 readings each: both wires
// open and both crossed pairs beep) and another for wires landed one terminal further (2 readings each).
// The rest are single opens. A crossed beep takes the place of a reading of another conductor.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace {

constexpr int k_panel_conductors = 2000;
constexpr int k_plus_terminals = 200;
constexpr int k_coils = 220;
constexpr int k_modules = 35;
constexpr int k_module_pins = 16;
constexpr int k_signals = k_modules * k_module_pins;
constexpr int k_strip_terminals = 40;
static_assert(2 * k_plus_terminals + (k_coils + 2) + (k_modules + 1) + 2 * k_signals + k_coils + 2 ==
              k_panel_conductors);

// Steele, Lea and Flood 2014, Fast splittable pseudorandom number generators, the SplitMix64 mixer.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}
  std::uint64_t below(std::uint64_t limit) {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15U);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
    return (z ^ (z >> 31)) % limit;
  }

 private:
  std::uint64_t state_;
};

struct Conductor {
  std::string wire, from, to;
  std::string_view kind;
  int sheet = 0;
  bool in_ring = false;
  // A signal wire from a module pin to a strip: its place among the signals, else -1.
  int signal = -1;
};

std::string padded(int number, int digits) {
  std::string text = std::to_string(number);
  return std::string(text.size() < static_cast<std::size_t>(digits) ? digits - text.size() : 0, '0') + text;
}

// All names carry the panel's number and end in a fixed count of digits, so no two panels share one.
class Panel {
 public:
  explicit Panel(int number) : number_(std::to_string(number)) {}

  std::vector<Conductor> conductors() {
    rows_.reserve(k_panel_conductors);
    plus_common();
    minus_common();
    ring();
    signals();
    coil_feeds();
    add("wire", device("Q", 1, 2) + ":2", device("G", 1, 2) + ":L", 1);
    add("wire", device("Q", 1, 2) + ":4", device("G", 1, 2) + ":N", 1);
    return std::move(rows_);
  }

 private:
  std::string device(const char* letter, int index, int digits) const {
    return letter + number_ + padded(index, digits);
  }
  std::string terminal(int strip, int index, const char* side) const {
    return device("X", strip, 2) + ":" + std::to_string(index) + side;
  }
  Conductor& add(std::string_view kind, std::string from, std::string to, int sheet) {
    Conductor& row = rows_.emplace_back();
    if (kind != "bridge") row.wire = "W" + number_ + padded(++wires_, 4);
    row.kind = kind;
    row.from = std::move(from);
    row.to = std::move(to);
    row.sheet = sheet;
    return row;
  }

  void plus_common() {
    add("wire", device("G", 1, 2) + ":+", terminal(1, 1, ".int"), 2);
    for (int i = 1; i < k_plus_terminals; ++i)
      add("bridge", terminal(1, i, ".int"), terminal(1, i + 1, ".int"), 2);
    for (int i = 1; i <= k_plus_terminals; ++i)
      add("core", terminal(1, i, ".ext"), device("B", i, 3) + ":2", 3 + i / 20);
  }

  void minus_common() {
    add("wire", device("G", 1, 2) + ":-", terminal(2, 1, ".int"), 2);
    add("wire", terminal(2, 1, ".int"), device("K", 1, 3) + ":A2", 14);
    for (int i = 1; i < k_coils; ++i)
      add("wire", device("K", i, 3) + ":A2", device("K", i + 1, 3) + ":A2", 14 + i / 20);
    add("wire", device("K", k_coils, 3) + ":A2", device("A", 1, 2) + ":M", 25);
  }

  void ring() {
    add("wire", terminal(1, 1, ".int"), device("A", 1, 2) + ":L+", 26);
    for (int i = 1; i <= k_modules; ++i)
      add("wire", device("A", i, 2) + ":L+", device("A", i % k_modules + 1, 2) + ":L+", 26).in_ring = true;
  }

  void signals() {
    for (int i = 0; i < k_signals; ++i) {
      const int pin = i % k_module_pins;
      const std::string pin_name = ":" + std::to_string(pin / 8) + "." + std::to_string(pin % 8);
      const int sheet = 30 + i / k_module_pins;
      add("wire", device("A", 1 + i / k_module_pins, 2) + pin_name, signal_terminal(i, ".int"), sheet)
          .signal = i;
    }
    for (int i = 0; i < k_signals; ++i)
      add("core", signal_terminal(i, ".ext"), device("B", 1 + i, 3) + ":1", 30 + i / k_module_pins);
  }
  std::string signal_terminal(int i, const char* side) const {
    return terminal(11 + i / k_strip_terminals, 1 + i % k_strip_terminals, side);
  }

  void coil_feeds() {
    for (int i = 1; i <= k_coils; ++i)
      add("wire", device("K", i, 3) + ":A1", terminal(3, i, ".int"), 70 + i / 20);
  }

  std::string number_;
  std::vector<Conductor> rows_;
  int wires_ = 0;
};

enum class FaultKind { open, swap, miswire };

struct Reading {
  std::string_view from, to, value;
  long id = 0;
};

class File {
 public:
  explicit File(const std::filesystem::path& path)
      : file_(std::fopen(path.c_str(), "wb")), name_(path.string()) {
    if (file_ == nullptr) stop();
  }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  ~File() {
    flush();
    if (std::fclose(file_) != 0) stop();
  }
  template <typename... Parts>
  void line(const Parts&... parts) {
    (buffer_.append(parts), ...);
    buffer_.push_back('\n');
    if (buffer_.size() > (1U << 20)) flush();
  }

 private:
  void flush() {
    if (std::fwrite(buffer_.data(), 1, buffer_.size(), file_) != buffer_.size()) stop();
    buffer_.clear();
  }
  [[noreturn]] void stop() const {
    std::perror(name_.c_str());
    std::exit(2);
  }
  std::FILE* file_;
  std::string name_;
  std::string buffer_;
};

class Plant {
 public:
  Plant(const std::filesystem::path& folder, long size, std::uint64_t seed)
      : size_(size),
        random_(seed),
        conductors_(folder / "conductors.csv"),
        readings_(folder / "readings.csv"),
        faults_(folder / "faults.csv") {
    const long wrong = size / 1000;
    // A small plant gets one of each all the same, as soon as opens still make up most of the rest.
    const long least = wrong >= 20 ? 1 : 0;
    swaps_ = std::max(least, wrong / 20 / 4);
    miswires_ = std::max(least, wrong / 20 / 2);
    opens_ = wrong - 4 * swaps_ - 2 * miswires_;
  }

  void write() {
    conductors_.line("wire,from,to,kind,sheet");
    readings_.line("from,to,value,id");
    faults_.line("fault,kind,wires,from,to,landed,readings");
    const long panels = (size_ + k_panel_conductors - 1) / k_panel_conductors;
    for (long p = 0; p < panels; ++p) write_panel(p, panels);
    std::printf("%ld conductors in %ld panels, %ld readings, of which %ld disagree\n", size_, panels,
                next_id_ - 1, opens_ + 4 * swaps_ + 2 * miswires_);
    std::printf("%ld faults: %ld open (%ld of them a missing bridge), %ld swap, %ld miswire\n",
                opens_ + swaps_ + miswires_, opens_, missing_bridges_, swaps_, miswires_);
    if (made_ != opens_ + swaps_ + miswires_) {
      std::fprintf(stderr, "make_plant: made %ld faults only\n", made_);
      std::exit(3);
    }
  }

 private:
  // Faults are dealt evenly: of n faults, panel p of q gets those between n*p/q and n*(p+1)/q. A last panel
  // that is cut short, maybe to one conductor, gets none.
  void write_panel(long p, long panels) {
    rows_ = Panel(static_cast<int>(p + 1)).conductors();
    const long last = p + 1 == panels ? size_ - p * k_panel_conductors : k_panel_conductors;
    rows_.resize(static_cast<std::size_t>(last));
    touched_.assign(rows_.size() + 1, false);
    dropped_.assign(rows_.size(), false);
    extra_.assign(rows_.size(), {});
    opened_.assign(rows_.size(), false);
    fault_of_.assign(rows_.size(), 0);
    pending_.clear();
    for (const auto& row : rows_)
      conductors_.line(row.wire, ",", row.from, ",", row.to, ",", row.kind, ",", std::to_string(p + 1), ".",
                       std::to_string(row.sheet));
    // Pairs first: they need neighbouring signals that nothing else has touched.
    deal(swaps_, p, FaultKind::swap);
    deal(miswires_, p, FaultKind::miswire);
    deal(opens_, p, FaultKind::open);
    write_readings();
  }

  void deal(long total, long p, FaultKind kind) {
    const long whole_panels = size_ / k_panel_conductors;
    if (p >= whole_panels) return;
    for (long i = total * p / whole_panels; i < total * (p + 1) / whole_panels; ++i) place(kind);
  }

  void place(FaultKind kind) {
    // A panel carries a few faults on 2,000 conductors, so a free place turns up at once; the limit only
    // turns a mistake here into a message instead of a loop.
    for (int attempt = 0; attempt < 100000; ++attempt) {
      const auto at = static_cast<std::size_t>(random_.below(rows_.size()));
      if (kind == FaultKind::open ? open(at) : cross(at, kind)) {
        ++made_;
        return;
      }
    }
  }

  bool open(std::size_t at) {
    if (rows_[at].in_ring || touched_[at]) return false;
    touched_[at] = opened_[at] = true;
    if (rows_[at].kind == "bridge") ++missing_bridges_;
    record(at, rows_[at].kind == "bridge" ? "missing-bridge" : "open", rows_[at].wire, "");
    return true;
  }

  // The wires `at` and `at + 1` come to neighbouring terminals of one strip.
  bool cross(std::size_t at, FaultKind kind) {
    if (at + 1 >= rows_.size()) return false;
    const Conductor &wire = rows_[at], &next = rows_[at + 1];
    const bool neighbours = wire.signal >= 0 && next.signal >= 0 &&
                            (wire.signal + 1) % k_strip_terminals != 0 && !touched_[at] && !touched_[at + 1];
    if (!neighbours) return false;
    touched_[at] = touched_[at + 1] = opened_[at] = true;
    add_crossed_beep(at, wire.from, next.to);
    if (kind == FaultKind::swap) {
      opened_[at + 1] = true;
      add_crossed_beep(at + 1, next.from, wire.to);
      record(at, "swap", wire.wire + ";" + next.wire, next.to);
      fault_of_[at + 1] = fault_of_[at];
    } else {
      record(at, "miswire", wire.wire, next.to);
    }
    return true;
  }

  void add_crossed_beep(std::size_t at, std::string_view from, std::string_view to) {
    extra_[at] = {from, to, "beep", 0};
    // The reading that makes room is of a conductor with no fault, and stays without one.
    std::size_t other = 0;
    do other = static_cast<std::size_t>(random_.below(rows_.size()));
    while (touched_[other]);
    touched_[other] = dropped_[other] = true;
  }

  void record(std::size_t at, std::string_view kind, std::string wires, std::string_view landed) {
    pending_.push_back({at, std::string(kind), std::move(wires), std::string(landed), {}});
    fault_of_[at] = pending_.size();
  }

  void write_readings() {
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (dropped_[i]) continue;
      const Conductor& row = rows_[i];
      // Half of the readings are taken with the leads the other way round than the drawing names the ends.
      const bool turned = i % 2 == 1;
      emit(i, turned ? row.to : row.from, turned ? row.from : row.to, opened_[i] ? "open" : "beep");
      if (!extra_[i].value.empty()) emit(i, extra_[i].from, extra_[i].to, extra_[i].value);
    }
    for (const auto& fault : pending_) {
      const Conductor& row = rows_[fault.at];
      faults_.line("F", std::to_string(++fault_number_), ",", fault.kind, ",", fault.wires, ",", row.from,
                   ",", row.to, ",", fault.landed, ",", fault.readings);
    }
  }

  void emit(std::size_t row, std::string_view from, std::string_view to, std::string_view value) {
    const std::string id = "R" + std::to_string(next_id_++);
    readings_.line(from, ",", to, ",", value, ",", id);
    if (fault_of_[row] == 0) return;
    std::string& readings = pending_[fault_of_[row] - 1].readings;
    if (!readings.empty()) readings += ';';
    readings += id;
  }

  struct Fault {
    std::size_t at;
    std::string kind, wires, landed, readings;
  };

  long size_;
  Random random_;
  File conductors_, readings_, faults_;
  long swaps_ = 0, miswires_ = 0, opens_ = 0, missing_bridges_ = 0, made_ = 0, fault_number_ = 0;
  long next_id_ = 1;

  // Of the panel at hand; index = its conductor.
  std::vector<Conductor> rows_;
  std::vector<bool> touched_, dropped_, opened_;
  std::vector<Reading> extra_;         // value empty: none
  std::vector<std::size_t> fault_of_;  // 0: none, else its place in pending_ plus one
  std::vector<Fault> pending_;
};

long number(const char* text, long least) {
  char* end = nullptr;
  const long value = std::strtol(text, &end, 10);
  if (end == text || *end != '\0' || value < least) {
    std::fprintf(stderr, "make_plant: found '%s', expected a whole number of at least %ld\n", text, least);
    std::exit(2);
  }
  return value;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2 || argc > 4) {
    std::fprintf(stderr, "usage: make_plant FOLDER [CONDUCTORS [SEED]]\n");
    return 2;
  }
  const long size = argc > 2 ? number(argv[2], k_panel_conductors) : 1000000;
  const long seed = argc > 3 ? number(argv[3], 0) : 1;
  std::error_code error;
  std::filesystem::create_directories(argv[1], error);
  Plant(argv[1], size, static_cast<std::uint64_t>(seed)).write();
}
