#pragma once
#include "fuzz/fuzz.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/write/write.hpp"
#include "support/netlist_lines.hpp"

namespace ringtrue::fuzz {

inline Netlist load_again(const std::filesystem::path& path) {
  auto loaded = load_netlist(path);
  must(loaded.has_value(), "what was written loads", loaded ? "" : to_text(loaded.error().front()));
  return std::move(*loaded);
}

/// What loads is the same once it was written and loaded again. XML has sizes in another form, so there it is
/// the XML that must be the same when it is written again.
inline void must_come_back(const Result<Netlist>& loaded, std::string_view text) {
  if (!loaded) return must_be_told(loaded.error(), text);
  const std::string lines = testing::netlist_lines(*loaded);
  const auto folder = scratch().at("netlist"), xml = scratch().at("netlist.xml");
  must(write_netlist(*loaded, folder, Existing::replace).has_value(), "what loads can be written as CSV");
  must(testing::netlist_lines(load_again(folder)) == lines, "the CSV written is the same netlist", lines);
  if (const auto written = write_netlist(*loaded, xml, Existing::replace); !written)
    return must(written.error().front().code == ErrorCode::bad_text,
                "only characters can't be written as XML", to_text(written.error().front()));
  const std::string written = bytes_of(xml);
  must(write_netlist(load_again(xml), xml, Existing::replace).has_value(), "XML can be written again");
  must(bytes_of(xml) == written, "the XML written is the same netlist", written);
}

inline const Netlist& quickstart() {
  static const Netlist netlist = load_again(RINGTRUE_NETLISTS "/quickstart");
  return netlist;
}

inline const Netlist& grain_dryer() {
  static const Netlist netlist = load_again(RINGTRUE_NETLISTS "/grain-dryer");
  return netlist;
}

}  // namespace ringtrue::fuzz
