#include "names.hpp"

#include <algorithm>

#include "command.hpp"
#include "parts.hpp"

namespace ringtrue::cli::log {

namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// How many characters two texts begin with in common, whatever their case.
std::size_t common(std::string_view a, std::string_view b) {
  const std::size_t most = std::min(a.size(), b.size());
  std::size_t same = 0;
  while (same < most && lower(a[same]) == lower(b[same])) ++same;
  return same;
}

void keep_each_once(std::vector<std::string>& names) {
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  std::erase(names, "");
}

std::vector<std::string> states() {
  return {"operated", "out", "off", "on", "open", "unplugged", "lifted", "jumpered", "position "};
}

std::vector<std::string> commands() {
  std::vector<std::string> words;
  for (const CommandWord& command : command_words()) words.emplace_back(command.word);
  return words;
}

}  // namespace

Names::Names(const Netlist& netlist) {
  const PointTable& points = netlist.points;
  for (std::uint32_t i = 0; i < points.place_count(); ++i) {
    points_.emplace_back(points.place_name(PlaceId{i}));
    objects_.emplace_back(part_of_place(points_.back()));
  }
  for (std::uint32_t i = 0; i < points.size(); ++i) points_.push_back(points.name(PointId{i}));
  for (std::size_t i = 0; i < netlist.conductors.size(); ++i) points_.push_back(netlist.conductor_name(i));
  for (const Channel& channel : netlist.channels) {
    points_.emplace_back(channel.tag);
    points_.emplace_back(channel.address);
    channels_.insert(channels_.end(),
                     {std::string(channel.tag), std::string(channel.address), points.name(channel.point)});
  }
  seen_.assign(seen_words().begin(), seen_words().end());
  for (const Part& part : netlist.parts) objects_.emplace_back(part.part);
  keep_each_once(points_);
  keep_each_once(objects_);
  keep_each_once(channels_);
}

/// Whether its first word, or the one behind `io`, is a channel.
bool Names::names_channel(std::string_view line) const {
  Words words = words_of(line);
  if (!words.empty() && words.front() == "io") words.erase(words.begin());
  if (words.empty()) return false;
  const std::string_view word = words.front();
  return std::any_of(channels_.begin(), channels_.end(), [&](const std::string& channel) {
    return channel.size() == word.size() && common(channel, word) == word.size();
  });
}

Completion Names::complete(std::string_view line) const {
  const bool is_condition = line.substr(0, line.find(' ')) == "when";
  const bool is_quoted = !is_condition && std::count(line.begin(), line.end(), '"') % 2 == 1;
  const std::size_t before = is_quoted ? line.rfind('"') : line.find_last_of(is_condition ? " ;=" : " ;");
  Completion made;
  const std::size_t begin = before == std::string_view::npos ? 0 : before + 1;
  made.begin = is_quoted ? before : begin;
  const std::string_view word = line.substr(begin);
  const auto offer = [&](const std::vector<std::string>& names) {
    for (const std::string& name : names)
      if (common(name, word) == word.size()) made.choices.push_back(name);
  };
  if (made.begin == 0 && !is_quoted) offer(commands());
  if (names_channel(line.substr(0, made.begin))) offer(seen_);
  if (!is_condition || made.begin == 0)
    offer(points_);
  else
    offer(line[before] == '=' ? states() : objects_);
  if (made.choices.empty()) {
    made.text = line.substr(made.begin);
    return made;
  }
  made.text = made.choices.front();
  for (const std::string& choice : made.choices) made.text.resize(common(made.text, choice));
  const bool is_whole = made.choices.size() == 1 && !is_condition && !made.text.ends_with('=');
  if (is_quoted || (!is_condition && made.text.find(' ') != std::string::npos))
    made.text = '"' + made.text + (is_whole ? "\"" : "");
  if (is_whole) made.text += ' ';
  return made;
}

}  // namespace ringtrue::cli::log
