#include "logic/names.hpp"

#include <algorithm>

#include "logic/tokens.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue::logic {

namespace {

VariableKind kind_of(ChannelType type) {
  switch (type) {
    case ChannelType::DI:
      return VariableKind::input;
    case ChannelType::AI:
      return VariableKind::analog;
    case ChannelType::DO:
      return VariableKind::output;
    case ChannelType::AO:
      return VariableKind::local;  // not reached: such a channel is no variable
  }
  return VariableKind::local;
}

}  // namespace

Names::Names(const Netlist& netlist, Program& program) {
  for (std::uint32_t i = 0; i < netlist.channels.size(); ++i) {
    const Channel& channel = netlist.channels[i];
    const std::string_view shown = channel.tag.empty() ? channel.address : channel.tag;
    Meaning meaning{Meaning::What::analog_output, 0, 0};
    if (channel.type != ChannelType::AO) {
      meaning = {Meaning::What::variable, static_cast<std::uint32_t>(program.variables.size()), 0};
      program.variables.push_back({std::string(shown), kind_of(channel.type), i, false});
    }
    const bool is_one_name = in_capitals(channel.tag) == in_capitals(channel.address);
    for (const std::string_view name : {channel.tag, is_one_name ? std::string_view() : channel.address})
      if (!name.empty() && !declare(name, meaning))
        known_.at(in_capitals(name)).meaning = {Meaning::What::several, 0, 0};
  }
}

std::optional<Meaning> Names::find(std::string_view name) const {
  const auto found = known_.find(in_capitals(name));
  if (found == known_.end()) return std::nullopt;
  return found->second.meaning;
}

std::vector<std::string> Names::nearest(std::string_view name) const {
  std::vector<std::string_view> shown;
  for (const auto& [capitals, known] : known_) shown.push_back(known.shown);
  std::sort(shown.begin(), shown.end());
  NearestNames nearest(name);
  for (const std::string_view one : shown) nearest.offer(one);
  return nearest.take();
}

bool Names::declare(std::string_view name, const Meaning& meaning) {
  return known_.emplace(in_capitals(name), Known{std::string(name), meaning}).second;
}

}  // namespace ringtrue::logic
