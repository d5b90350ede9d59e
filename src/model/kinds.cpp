#include "ringtrue/model/kinds.hpp"

#include <array>

#include "ringtrue/model/signatures.hpp"

namespace ringtrue {

namespace {

/// The words of an enum, in its order. An empty word is a value that a missing field means.
template <class Enum>
constexpr std::array<std::string_view, 0> k_words{};

template <>
constexpr std::array<std::string_view, 4> k_words<ConductorKind>{"wire", "bridge", "core", "busbar"};
template <>
constexpr std::array<std::string_view, 22> k_words<PartKind>{
    "terminal",    "disconnect", "plug",  "pe-terminal", "fuse",     "breaker",    "isolator", "contact-no",
    "contact-nc",  "path",       "coil",  "lamp",        "resistor", "diode",      "supply",   "input",
    "transformer", "motor",      "surge", "capacitor",   "sensor",   "electronics"};
template <>
constexpr std::array<std::string_view, 3> k_words<PartPlace>{"panel", "door", "field"};
template <>
constexpr std::array<std::string_view, 5> k_words<Role>{"", "stop", "guard", "protective", "ex"};
template <>
constexpr std::array<std::string_view, 4> k_words<ChannelType>{"DI", "DO", "AI", "AO"};
template <>
constexpr std::array<std::string_view, 3> k_words<Feed>{"", "passive", "active"};
template <>
constexpr std::array<std::string_view, 3> k_words<Sense>{"", "sink", "source"};
template <>
constexpr std::array<std::string_view, 6> k_words<Sensor>{"", "contact", "pnp", "npn", "two-wire", "namur"};
template <>
constexpr std::array<std::string_view, 5> k_words<PotentialKind>{"dc+", "dc-", "ac-line", "ac-neutral", "pe"};
template <>
constexpr std::array<std::string_view, 3> k_words<Safety>{"", "marked", "none"};
template <>
constexpr std::array<std::string_view, 4> k_words<EventKind>{"repair", "temporary-made", "temporary-undone",
                                                             "repeat"};
template <>
constexpr std::array<std::string_view, 6> k_words<Method>{"",        "beep",       "ohms",
                                                          "low-ohm", "insulation", "count"};
template <>
constexpr std::array<std::string_view, 6> k_words<Stimulus>{"jumper", "operated", "simulator",
                                                            "logic",  "forced",   "substitute"};
template <>
constexpr std::array<std::string_view, 3> k_words<LedSeen>{"", "lit", "dark"};
template <>
constexpr std::array<std::string_view, 3> k_words<BitRead>{"", "0", "1"};
template <>
constexpr std::array<std::string_view, 4> k_words<OnlyThis>{"", "yes", "no", "not looked"};
template <>
constexpr std::array<std::string_view, 4> k_words<IoVerdict>{"pass", "fail", "incomplete", "withdrawn"};
template <>
constexpr std::array<std::string_view, 4> k_words<DecisionKind>{"repair", "drawing", "accepted", "withdrawn"};
template <>
constexpr std::array<std::string_view, k_signing_roles> k_words<SigningRole>{"wired", "checked", "witnessed",
                                                                             "accepted"};

}  // namespace

template <class Enum>
std::string_view word(Enum value) {
  return k_words<Enum>[static_cast<std::size_t>(value)];
}

template <class Enum>
std::optional<Enum> from_word(std::string_view text) {
  const auto& words = k_words<Enum>;
  for (std::size_t i = 0; i < words.size(); ++i)
    if (words[i] == text) return static_cast<Enum>(i);
  return std::nullopt;
}

template <class Enum>
std::span<const std::string_view> all_words() {
  return k_words<Enum>;
}

template <class Enum>
std::string listed_words() {
  std::string text;
  const auto words = all_words<Enum>();
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i].empty()) continue;
    if (!text.empty()) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

#define RINGTRUE_WORDS(Enum)                                      \
  template std::string_view word<Enum>(Enum);                     \
  template std::optional<Enum> from_word<Enum>(std::string_view); \
  template std::span<const std::string_view> all_words<Enum>();   \
  template std::string listed_words<Enum>();
RINGTRUE_WORDS(ConductorKind)
RINGTRUE_WORDS(PartKind)
RINGTRUE_WORDS(PartPlace)
RINGTRUE_WORDS(Role)
RINGTRUE_WORDS(ChannelType)
RINGTRUE_WORDS(Feed)
RINGTRUE_WORDS(Sense)
RINGTRUE_WORDS(Sensor)
RINGTRUE_WORDS(PotentialKind)
RINGTRUE_WORDS(Safety)
RINGTRUE_WORDS(EventKind)
RINGTRUE_WORDS(Method)
RINGTRUE_WORDS(Stimulus)
RINGTRUE_WORDS(LedSeen)
RINGTRUE_WORDS(BitRead)
RINGTRUE_WORDS(OnlyThis)
RINGTRUE_WORDS(IoVerdict)
RINGTRUE_WORDS(DecisionKind)
RINGTRUE_WORDS(SigningRole)
#undef RINGTRUE_WORDS

}  // namespace ringtrue
