// Generates the wiring of a plant of grain dryers and the readings of its as-built panels.
//
//   make_plant FOLDER [CONDUCTORS [SEED]]      by default 1,000,000 conductors, seed 1
//
// writes FOLDER/conductors.csv, FOLDER/channels.csv (280 for each 1,000 conductors), FOLDER/readings.csv (as
// many rows as conductors) and the truth, FOLDER/faults.csv. The same arguments give the same bytes on every
// machine: the random numbers are made here, because the standard library's distributions differ between
// implementations.
//
// Faults: one for each 1,000 conductors, dealt evenly among the panels. A twentieth each are swaps (4
// readings: both wires open and both crossed pairs beep), wires landed one terminal further (2 readings) and
// extra bridges between neighbouring terminals (2 readings, on the terminals and at the module). The rest are
// single opens. A beep that was found takes the place of a reading of another conductor.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "plant_panel.hpp"

namespace {

using namespace bench;

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

enum class FaultKind { open, swap, miswire, extra_bridge };

// A beep that was found where the drawing has none; empty: none.
struct Beep {
  std::string_view from, to;
};

// A row of faults.csv.
struct Fault {
  std::string kind, wires, from, to, landed, readings;
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
        channels_(folder / "channels.csv"),
        readings_(folder / "readings.csv"),
        faults_(folder / "faults.csv") {
    const long faults = size / 1000;
    // A small plant gets one of each all the same, as soon as opens still make up most of the rest.
    each_ = std::max(faults >= 20 ? 1L : 0L, faults / 20);
    opens_ = faults - 3 * each_;
  }

  void write() {
    conductors_.line("wire,from,to,kind,sheet");
    channels_.line("point,type,address,tag,field,device,module");
    readings_.line("from,to,value,id");
    faults_.line("fault,kind,wires,from,to,landed,readings");
    const long panels = (size_ + k_panel_conductors - 1) / k_panel_conductors;
    for (long p = 0; p < panels; ++p) write_panel(p, panels);
    std::printf("%ld conductors in %ld panels, %ld readings, of which %ld disagree\n", size_, panels,
                next_id_ - 1, opens_ + 8 * each_);
    std::printf(
        "%ld faults: %ld open (%ld of them a missing bridge), %ld each of swap, miswire, extra bridge\n",
        opens_ + 3 * each_, opens_, missing_bridges_, each_);
    if (made_ != opens_ + 3 * each_) {
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
    for (const auto& row : rows_)
      if (row.signal >= 0) write_channel(row, p);
    // Pairs first: they need neighbouring signals that nothing else has touched.
    deal(each_, p, FaultKind::swap);
    deal(each_, p, FaultKind::miswire);
    deal(each_, p, FaultKind::extra_bridge);
    deal(opens_, p, FaultKind::open);
    write_readings();
  }

  void write_channel(const Conductor& row, long p) {
    const std::string_view module = std::string_view(row.from).substr(0, row.from.find(':'));
    const long bit = (p * k_signals + row.signal) % 8, byte = (p * k_signals + row.signal) / 8;
    const std::string terminal = row.to.substr(0, row.to.rfind('.'));
    channels_.line(row.from, ",DI,%IX", std::to_string(byte), ".", std::to_string(bit), ",IN_",
                   std::to_string(p + 1), padded(row.signal + 1, 3), ",", terminal, ".ext,B",
                   std::to_string(p + 1), padded(row.signal + 1, 3), ",", module);
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
    const Conductor& row = rows_[at];
    record(at, {row.kind == "bridge" ? "missing-bridge" : "open", row.wire, row.from, row.to, "", ""});
    return true;
  }

  // What happens to the wires `at` and `at + 1`, which come to neighbouring terminals of one strip.
  bool cross(std::size_t at, FaultKind kind) {
    if (at + 1 >= rows_.size()) return false;
    const Conductor &wire = rows_[at], &next = rows_[at + 1];
    const bool neighbours = wire.signal >= 0 && next.signal >= 0 &&
                            (wire.signal + 1) % k_strip_terminals != 0 && !touched_[at] && !touched_[at + 1];
    if (!neighbours) return false;
    touched_[at] = touched_[at + 1] = true;
    if (kind == FaultKind::extra_bridge) {
      add_beep(at, wire.to, next.to);
      add_beep(at + 1, wire.from, next.from);
      record(at, {"extra-bridge", "", wire.to, next.to, "", ""});
      fault_of_[at + 1] = fault_of_[at];
      return true;
    }
    opened_[at] = true;
    add_beep(at, wire.from, next.to);
    if (kind == FaultKind::swap) {
      opened_[at + 1] = true;
      add_beep(at + 1, next.from, wire.to);
      record(at, {"swap", wire.wire + ";" + next.wire, wire.from, wire.to, next.to, ""});
      fault_of_[at + 1] = fault_of_[at];
    } else {
      record(at, {"miswire", wire.wire, wire.from, wire.to, next.to, ""});
    }
    return true;
  }

  void add_beep(std::size_t at, std::string_view from, std::string_view to) {
    extra_[at] = {from, to};
    // The reading that makes room is of a conductor with no fault, and stays without one.
    std::size_t other = 0;
    do other = static_cast<std::size_t>(random_.below(rows_.size()));
    while (touched_[other]);
    touched_[other] = dropped_[other] = true;
  }

  void record(std::size_t at, Fault fault) {
    pending_.push_back(std::move(fault));
    fault_of_[at] = pending_.size();
  }

  void write_readings() {
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (dropped_[i]) continue;
      const Conductor& row = rows_[i];
      // Half of the readings are taken with the leads the other way round than the drawing names the ends.
      const bool turned = i % 2 == 1;
      emit(i, turned ? row.to : row.from, turned ? row.from : row.to, opened_[i] ? "open" : "beep",
           !opened_[i]);
      if (!extra_[i].from.empty()) emit(i, extra_[i].from, extra_[i].to, "beep", false);
    }
    for (const Fault& fault : pending_)
      faults_.line("F", std::to_string(++fault_number_), ",", fault.kind, ",", fault.wires, ",", fault.from,
                   ",", fault.to, ",", fault.landed, ",", fault.readings);
  }

  void emit(std::size_t row, std::string_view from, std::string_view to, std::string_view value,
            bool agrees) {
    const std::string id = "R" + std::to_string(next_id_++);
    readings_.line(from, ",", to, ",", value, ",", id);
    if (agrees) return;
    std::string& readings = pending_[fault_of_[row] - 1].readings;
    if (!readings.empty()) readings += ';';
    readings += id;
  }

  long size_;
  Random random_;
  File conductors_, channels_, readings_, faults_;
  long each_ = 0, opens_ = 0, missing_bridges_ = 0, made_ = 0, fault_number_ = 0;
  long next_id_ = 1;

  // Of the panel at hand; index = its conductor.
  std::vector<Conductor> rows_;
  std::vector<bool> touched_, dropped_, opened_;
  std::vector<Beep> extra_;
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
