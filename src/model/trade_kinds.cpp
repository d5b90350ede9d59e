#include "trade_kinds.hpp"

#include <array>
#include <span>
#include <string>
#include <utility>

namespace ringtrue {

namespace {

/// What else the trade calls them, as `plain` gives it.
template <class Enum>
using TradeWords = std::span<const std::pair<std::string_view, Enum>>;
template <class Enum>
constexpr std::array<std::pair<std::string_view, Enum>, 0> k_trade_words{};

template <>
constexpr auto k_trade_words<ConductorKind> = std::to_array<std::pair<std::string_view, ConductorKind>>({
    {"conductor", ConductorKind::wire},
    {"draht", ConductorKind::wire},
    {"jumper", ConductorKind::bridge},
    {"link", ConductorKind::bridge},
    {"br\xC3\xBC"
     "cke",
     ConductorKind::bridge},
    {"bruecke", ConductorKind::bridge},
    {"ader", ConductorKind::core},
    {"sammelschiene", ConductorKind::busbar},
});
template <>
constexpr auto k_trade_words<PartKind> = std::to_array<std::pair<std::string_view, PartKind>>({
    {"klemme", PartKind::terminal},
    {"pe-klemme", PartKind::pe_terminal},
    {"trennklemme", PartKind::disconnect},
    {"stecker", PartKind::plug},
    {"sicherung", PartKind::fuse},
    {"circuit-breaker", PartKind::breaker},
    {"sicherungsautomat", PartKind::breaker},
    {"leitungsschutzschalter", PartKind::breaker},
    {"leistungsschalter", PartKind::breaker},
    {"lasttrennschalter", PartKind::isolator},
    {"hauptschalter", PartKind::isolator},
    {"no-contact", PartKind::contact_no},
    {"make-contact", PartKind::contact_no},
    {"schlie\xC3\x9F"
     "er",
     PartKind::contact_no},
    {"schliesser", PartKind::contact_no},
    {"nc-contact", PartKind::contact_nc},
    {"break-contact", PartKind::contact_nc},
    {"\xC3\xB6"
     "ffner",
     PartKind::contact_nc},
    {"oeffner", PartKind::contact_nc},
    {"relay-coil", PartKind::coil},
    {"spule", PartKind::coil},
    {"pilot-lamp", PartKind::lamp},
    {"lampe", PartKind::lamp},
    {"meldeleuchte", PartKind::lamp},
    {"widerstand", PartKind::resistor},
    {"power-supply", PartKind::supply},
    {"netzteil", PartKind::supply},
    {"transformator", PartKind::transformer},
    {"trafo", PartKind::transformer},
    {"kondensator", PartKind::capacitor},
});
template <>
constexpr auto k_trade_words<PartPlace> = std::to_array<std::pair<std::string_view, PartPlace>>({
    {"cabinet", PartPlace::panel},
    {"schaltschrank", PartPlace::panel},
    {"t\xC3\xBC"
     "r",
     PartPlace::door},
    {"tuer", PartPlace::door},
    {"feld", PartPlace::field},
});
template <>
constexpr auto k_trade_words<ChannelType> = std::to_array<std::pair<std::string_view, ChannelType>>({
    {"digital-input", ChannelType::DI},
    {"digitaleingang", ChannelType::DI},
    {"digital-output", ChannelType::DO},
    {"digitalausgang", ChannelType::DO},
    {"analog-input", ChannelType::AI},
    {"analogue-input", ChannelType::AI},
    {"analogeingang", ChannelType::AI},
    {"analog-output", ChannelType::AO},
    {"analogue-output", ChannelType::AO},
    {"analogausgang", ChannelType::AO},
});
template <>
constexpr auto k_trade_words<Sense> = std::to_array<std::pair<std::string_view, Sense>>({
    {"sinking", Sense::sink},
    {"sourcing", Sense::source},
});
template <>
constexpr auto k_trade_words<Sensor> = std::to_array<std::pair<std::string_view, Sensor>>({
    {"dry-contact", Sensor::contact},
    {"volt-free-contact", Sensor::contact},
    {"potential-free-contact", Sensor::contact},
    {"relay-contact", Sensor::contact},
    {"kontakt", Sensor::contact},
    {"potentialfreier-kontakt", Sensor::contact},
    {"2-wire", Sensor::two_wire},
    {"zweileiter", Sensor::two_wire},
    {"2-leiter", Sensor::two_wire},
});
template <>
constexpr auto k_trade_words<PotentialKind> = std::to_array<std::pair<std::string_view, PotentialKind>>({
    {"plus", PotentialKind::dc_plus},
    {"minus", PotentialKind::dc_minus},
    {"line", PotentialKind::ac_line},
    {"phase", PotentialKind::ac_line},
    {"neutral", PotentialKind::ac_neutral},
    {"protective-earth", PotentialKind::pe},
    {"schutzleiter", PotentialKind::pe},
});

/// In small letters, `-` between words, and unlike the names of columns with what stands at the end: `dc-` is
/// not `dc+`. Of the other letters only the German umlauts are made small.
std::string plain(std::string_view text) {
  std::string made;
  for (const char c : text) {
    const bool is_umlaut =
        !made.empty() && made.back() == '\xC3' && (c == '\x84' || c == '\x96' || c == '\x9C');
    if (c == ' ' || c == '_')
      made += '-';
    else if ((c >= 'A' && c <= 'Z') || is_umlaut)
      made += static_cast<char>(c + 0x20);
    else
      made += c;
  }
  return made;
}

}  // namespace

template <class Enum>
std::optional<Enum> from_trade_word(std::string_view text) {
  const std::string written = plain(text);
  const std::span<const std::string_view> own = all_words<Enum>();
  for (std::size_t i = 0; i < own.size(); ++i)
    if (plain(own[i]) == written) return static_cast<Enum>(i);
  for (const auto& [word, value] : TradeWords<Enum>(k_trade_words<Enum>))
    if (word == written) return value;
  return std::nullopt;
}

template std::optional<ConductorKind> from_trade_word<ConductorKind>(std::string_view);
template std::optional<PartKind> from_trade_word<PartKind>(std::string_view);
template std::optional<PartPlace> from_trade_word<PartPlace>(std::string_view);
template std::optional<Role> from_trade_word<Role>(std::string_view);
template std::optional<ChannelType> from_trade_word<ChannelType>(std::string_view);
template std::optional<Feed> from_trade_word<Feed>(std::string_view);
template std::optional<Sense> from_trade_word<Sense>(std::string_view);
template std::optional<Sensor> from_trade_word<Sensor>(std::string_view);
template std::optional<PotentialKind> from_trade_word<PotentialKind>(std::string_view);
template std::optional<Safety> from_trade_word<Safety>(std::string_view);

}  // namespace ringtrue
