#include "colour_code.hpp"

#include <algorithm>
#include <cctype>
#include <optional>
#include <vector>

namespace ringtrue::check {

namespace {

struct Word {
  std::string_view text;  ///< letters only, longer ones before those that they begin with
  int place;              ///< in the table of IEC 60757; -1 = says nothing of the colour
};

constexpr std::string_view k_codes[] = {"BK", "BN", "RD", "OG", "YE", "GN", "BU",
                                        "VT", "GY", "WH", "PK", "GD", "TQ", "SR"};
constexpr int k_ye = 4, k_gn = 5;

constexpr Word k_words[] = {
    {"black", 0}, {"brown", 1},      {"red", 2},     {"orange", 3},  {"yellow", 4}, {"green", 5},
    {"blue", 6},  {"violet", 7},     {"grey", 8},    {"gray", 8},    {"white", 9},  {"pink", 10},
    {"gold", 11}, {"turquoise", 12}, {"silver", 13}, {"stripe", -1}, {"light", -1}, {"dark", -1},
    {"with", -1}, {"and", -1},       {"bk", 0},      {"bn", 1},      {"rd", 2},     {"og", 3},
    {"ye", 4},    {"gn", 5},         {"bu", 6},      {"vt", 7},      {"gy", 8},     {"wh", 9},
    {"pk", 10},   {"gd", 11},        {"tq", 12},     {"sr", 13},
};

std::string letters_of(std::string_view text) {
  std::string letters;
  for (const char c : text)
    if (std::isalpha(static_cast<unsigned char>(c)))
      letters += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return letters;
}

std::optional<std::vector<int>> places_of(std::string_view letters) {
  std::vector<int> places;
  while (!letters.empty()) {
    const auto known = std::find_if(std::begin(k_words), std::end(k_words),
                                    [&](const Word& word) { return letters.starts_with(word.text); });
    if (known == std::end(k_words)) return std::nullopt;
    if (known->place >= 0) places.push_back(known->place);
    letters.remove_prefix(known->text.size());
  }
  return places;
}

}  // namespace

std::string colour_code(std::string_view written) {
  auto places = places_of(letters_of(written));
  if (!places) return "";
  std::sort(places->begin(), places->end());
  // The one combination that is not in the order of the table.
  if (*places == std::vector<int>{k_ye, k_gn}) return "GNYE";
  std::string code;
  for (const int place : *places) code += k_codes[place];
  return code;
}

}  // namespace ringtrue::check
