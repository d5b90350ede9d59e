// Times the hot pieces, each beside a floor where there is one: what the standard library, Boost or memchr do
// with the same data.
//   RINGTRUE_PLANT=FOLDER RINGTRUE_SMALL_PLANT=FOLDER pieces_bench [options of Google Benchmark]
// The small plant is for the diagnosis, which takes time for each fault.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "bench_readings.hpp"
#include "copper_floor.hpp"
#include "load/csv.hpp"
#include "ringtrue/base/name_table.hpp"
#include "ringtrue/diagnose/state.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/load/load.hpp"

namespace {

using namespace ringtrue;

struct Loaded {
  Panel panel;
  ConductionGraph graph;
  std::filesystem::path folder;

  // With channels only if there are to be any: they add loads, and the readings were taken without.
  Loaded(std::filesystem::path from, const char* netlist)
      : panel(load_panel({from / netlist, from / "readings.csv"}).value()),
        graph(panel.netlist),
        folder(std::move(from)) {}
};

const Loaded& plant() {
  static const Loaded loaded(std::getenv("RINGTRUE_PLANT"), "");
  return loaded;
}
const Loaded& small_plant() {
  static const Loaded loaded(std::getenv("RINGTRUE_SMALL_PLANT"), "conductors.csv");
  return loaded;
}

std::vector<std::string_view> ends_of(const Netlist& netlist) {
  std::vector<std::string_view> names;
  for (const Conductor& conductor : netlist.conductors)
    for (const PointId end : {conductor.from, conductor.to})
      names.push_back(netlist.points.place_name(netlist.points.place(end)));
  return names;
}

void count_rows(benchmark::State& state, std::size_t rows) {
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(rows));
}

void intern(benchmark::State& state) {
  const auto names = ends_of(plant().panel.netlist);
  for (auto _ : state) {
    NameTable table;
    for (const std::string_view name : names) benchmark::DoNotOptimize(table.intern(name));
  }
  count_rows(state, names.size());
}

void intern_unordered_map(benchmark::State& state) {
  const auto names = ends_of(plant().panel.netlist);
  for (auto _ : state) {
    std::unordered_map<std::string_view, std::uint32_t> table;
    for (const std::string_view name : names)
      benchmark::DoNotOptimize(table.emplace(name, static_cast<std::uint32_t>(table.size())));
  }
  count_rows(state, names.size());
}

load::FileText text_of_conductors() {
  return load::read_text_file(plant().folder / "conductors.csv", LoadLimits{}.max_file_bytes).value();
}

void csv_split(benchmark::State& state) {
  const load::FileText file = text_of_conductors();
  std::size_t rows = 0;
  for (auto _ : state) {
    load::CsvReader reader(file);
    rows = 0;
    for (; reader.next() == load::CsvReader::Found::record; ++rows) benchmark::DoNotOptimize(reader.cells());
  }
  count_rows(state, rows);
}

void csv_split_memchr(benchmark::State& state) {
  const load::FileText file = text_of_conductors();
  std::size_t rows = 0;
  std::vector<std::string_view> cells;
  for (auto _ : state) {
    rows = 0;
    for (const char* at = file.begin; at < file.end(); ++rows) {
      const auto find = [&](char c, const char* to) {
        return static_cast<const char*>(std::memchr(at, c, static_cast<std::size_t>(to - at)));
      };
      const char* const line_end = find('\n', file.end());
      cells.clear();
      for (const char* comma = find(',', line_end); comma != nullptr; comma = find(',', line_end)) {
        cells.emplace_back(at, static_cast<std::size_t>(comma - at));
        at = comma + 1;
      }
      cells.emplace_back(at, static_cast<std::size_t>(line_end - at));
      at = line_end + 1;
      benchmark::DoNotOptimize(cells.data());
    }
  }
  count_rows(state, rows);
}

void graph_with_nets(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(ConductionGraph(plant().panel.netlist).net_count());
  count_rows(state, plant().panel.netlist.conductors.size());
}

void boost_graph_with_components(benchmark::State& state) {
  std::vector<int> label(plant().graph.point_count());
  for (auto _ : state) {
    const bench::CopperFloor copper = bench::copper_floor(plant().graph);
    benchmark::DoNotOptimize(bench::components(copper, label));
  }
  count_rows(state, plant().panel.netlist.conductors.size());
}

void trace(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(trace_channels(plant().graph));
  count_rows(state, plant().panel.netlist.channels.size());
}

void boost_components(benchmark::State& state) {
  const bench::CopperFloor copper = bench::copper_floor(plant().graph);
  std::vector<int> label(plant().graph.point_count());
  for (auto _ : state) benchmark::DoNotOptimize(bench::components(copper, label));
  count_rows(state, plant().panel.netlist.channels.size());
}

void whole_diagnosis(benchmark::State& state) {
  const Loaded& small = small_plant();
  const auto comparison = compare(small.graph, small.panel.readings, small.panel.events).value();
  std::size_t found = 0;
  for (auto _ : state) found = diagnose(small.graph, small.panel.readings, comparison).clusters.size();
  count_rows(state, found);
}

// The last readings of the plant one by one onto all that are before them; they agree.
void one_more_reading(benchmark::State& state) {
  const Loaded& small = small_plant();
  const Readings& readings = small.panel.readings;
  const std::size_t before = readings.rows.size() - 200;
  const auto begun = begin_diagnosis(small.graph, bench::first_of(readings, before)).value();
  auto after = begun;
  std::size_t next = before;
  std::string value;
  for (auto _ : state) {
    if (next == readings.rows.size()) {
      state.PauseTiming();
      after = begun;
      next = before;
      state.ResumeTiming();
    }
    after = diagnose(std::move(after), bench::row_of(readings, next++, value)).value();
  }
  count_rows(state, 1);
}

BENCHMARK(intern)->Unit(benchmark::kMillisecond);
BENCHMARK(intern_unordered_map)->Unit(benchmark::kMillisecond);
BENCHMARK(csv_split)->Unit(benchmark::kMillisecond);
BENCHMARK(csv_split_memchr)->Unit(benchmark::kMillisecond);
BENCHMARK(graph_with_nets)->Unit(benchmark::kMillisecond);
BENCHMARK(boost_graph_with_components)->Unit(benchmark::kMillisecond);
BENCHMARK(trace)->Unit(benchmark::kMillisecond);
BENCHMARK(boost_components)->Unit(benchmark::kMillisecond);
BENCHMARK(whole_diagnosis)->Unit(benchmark::kMillisecond);
BENCHMARK(one_more_reading)->Unit(benchmark::kMicrosecond)->Iterations(1000);

}  // namespace

BENCHMARK_MAIN();
