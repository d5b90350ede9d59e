#include "completion.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <utility>
#include <vector>

namespace ringtrue::cli {

namespace {

/// `--meter FILE`, `--json`.
struct Offer {
  std::string name;
  std::string line;
  std::string value;               ///< what its value is called; empty for a flag
  std::vector<std::string> words;  ///< the values there are, where they are few

  [[nodiscard]] bool takes_file() const {
    return value.rfind("FILE", 0) == 0 || value == "READINGS" || value == "NETLIST";
  }
};

/// The command, a verb, or a word of a verb.
struct Place {
  std::string path;  ///< "", `job`, `job new`
  std::vector<Offer> offers;
  std::vector<const CLI::App*> next;  ///< the words that may follow
};

/// A description on one line, as shells show it.
std::string one_line(std::string text) { return CLI::detail::find_and_replace(std::move(text), "\n", " "); }

std::vector<Offer> offers_of(const CLI::App& command) {
  std::vector<Offer> offers;
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional() || option->get_group().empty()) continue;
    Offer offer{"--" + option->get_lnames().front(), one_line(option->get_description()), {}, {}};
    if (option->get_type_size() != 0) {
      offer.value = option->get_option_text();
      offer.value.resize(std::min(offer.value.size(), offer.value.find(' ')));
      const std::string kind = option->get_type_name();  // `TEXT:word|word`
      if (kind.find('|') != kind.npos)
        offer.words = CLI::detail::split(kind.substr(kind.rfind(':') + 1), '|');
    }
    offers.push_back(std::move(offer));
  }
  return offers;
}

void add_places(const CLI::App& command, const std::string& path, std::vector<Place>& places) {
  places.push_back({path, offers_of(command), command.get_subcommands({})});
  for (const CLI::App* word : command.get_subcommands({}))
    add_places(*word, path + (path.empty() ? "" : " ") + word->get_name(), places);
}

std::vector<Place> places_of(const CLI::App& app) {
  std::vector<Place> places;
  add_places(app, "", places);
  return places;
}

/// As a shell takes it for one word.
std::string in_single_quotes(const std::string& text) {
  return "'" + CLI::detail::find_and_replace(text, "'", "'\\''") + "'";
}

template <class List, class Word>
std::string joined(const List& list, Word word) {
  std::string text;
  for (const auto& one : list) text += (text.empty() ? "" : " ") + std::string(word(one));
  return text;
}

std::string names(const std::vector<const CLI::App*>& words) {
  return joined(words, [](const CLI::App* word) { return word->get_name(); });
}

/// What _arguments takes for one option.
std::string zsh_spec(const Offer& offer) {
  std::string line;
  for (const char c : offer.line)
    line += (c == '[' || c == ']' || c == ':' || c == '\\') ? std::string{'\\', c} : std::string{c};
  std::string spec = offer.name + (offer.value.empty() ? "" : "=") + "[" + line + "]";
  if (!offer.value.empty()) spec += ":" + offer.value + ":";
  if (!offer.words.empty()) spec += "(" + CLI::detail::join(offer.words, " ") + ")";
  if (offer.takes_file()) spec += "_files";
  return in_single_quotes(spec);
}

/// When fish offers what belongs to a place.
std::string fish_condition(const Place& place) {
  if (place.path.empty()) return "__fish_use_subcommand";
  std::string condition;
  for (const std::string& word : CLI::detail::split(place.path, ' '))
    condition += (condition.empty() ? "" : "; and ") + ("__fish_seen_subcommand_from " + word);
  return condition + (place.next.empty() ? "" : "; and not __fish_seen_subcommand_from " + names(place.next));
}

std::string fish_option(const Offer& offer) {
  std::string text = " -l " + offer.name.substr(2);  // without its dashes
  if (!offer.words.empty())
    text += " -x -a " + in_single_quotes(CLI::detail::join(offer.words, " "));
  else if (!offer.value.empty())
    text += offer.takes_file() ? " -r -F" : " -x";
  return text + " -d " + in_single_quotes(offer.line);
}

/// The words that lead to a place, as alternatives of a shell's case: `" job" | "job new"`.
std::string steps(const std::vector<Place>& places) {
  std::string text;
  for (const Place& place : places)
    for (const CLI::App* word : place.next)
      text += (text.empty() ? "" : " | ") + ("\"" + place.path + " " + word->get_name() + "\"");
  return text;
}

}  // namespace

std::string bash_completion(const CLI::App& app) {
  const std::vector<Place> places = places_of(app);
  std::string offers, values;
  for (const Place& place : places) {
    offers += "    \"" + place.path + "\")\n      words=\"" + names(place.next) + "\"\n      options=\"" +
              joined(place.offers, [](const Offer& offer) { return offer.name; }) + "\" ;;\n";
    for (const Offer& offer : place.offers)
      if (!offer.value.empty())
        values += "    \"" + place.path + " " + offer.name + "\") words=\"" +
                  CLI::detail::join(offer.words, " ") + "\" options= ;;\n";
  }
  return "# Completion of ringtrue in bash, made by ringtrue --bash-completion.\n"
         "_ringtrue() {\n"
         "  local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} place= words= "
         "options= i\n"
         "  for ((i = 1; i < COMP_CWORD; ++i)); do\n"
         "    case \"$place ${COMP_WORDS[i]}\" in\n"
         "      " +
         steps(places) +
         ") place+=${place:+ }${COMP_WORDS[i]} ;;\n"
         "    esac\n"
         "  done\n"
         "  case \"$place\" in\n" +
         offers +
         "  esac\n"
         "  if [[ $current == = ]]; then current=; elif [[ $before == = ]]; then "
         "before=${COMP_WORDS[COMP_CWORD - 2]}; fi\n"
         "  case \"$place $before\" in\n" +
         values +
         "  esac\n"
         "  [[ $current != -* ]] || words=$options\n"
         "  COMPREPLY=($(compgen -W \"$words\" -- \"$current\"))  # none: bash offers files\n"
         "}\n"
         "complete -o default -F _ringtrue ringtrue\n";
}

std::string zsh_completion(const CLI::App& app) {
  const std::vector<Place> places = places_of(app);
  std::string offers;
  for (const Place& place : places) {
    offers += "    (\"" + place.path + "\")\n      next=(" +
              joined(place.next,
                     [](const CLI::App* word) {
                       return "\n        " +
                              in_single_quotes(word->get_name() + ":" + one_line(word->get_description()));
                     }) +
              ")\n      options=(" +
              joined(place.offers, [](const Offer& offer) { return "\n        " + zsh_spec(offer); }) +
              ") ;;\n";
  }
  return "#compdef ringtrue\n"
         "# Completion of ringtrue in zsh, made by ringtrue --zsh-completion.\n"
         "_ringtrue() {\n"
         "  local place i\n"
         "  local -a next options\n"
         "  for ((i = 2; i < CURRENT; ++i)); do\n"
         "    case \"$place $words[i]\" in\n"
         "      (" +
         steps(places) +
         ") place+=${place:+ }$words[i] ;;\n"
         "    esac\n"
         "  done\n"
         "  case \"$place\" in\n" +
         offers +
         "  esac\n"
         "  if (($#next)) && [[ $PREFIX != -* ]]; then\n"
         "    _describe word next\n"
         "  else\n"
         "    _arguments $options '*:file:_files'\n"
         "  fi\n"
         "}\n"
         "_ringtrue \"$@\"\n";
}

std::string fish_completion(const CLI::App& app) {
  std::string text = "# Completion of ringtrue in fish, made by ringtrue --fish-completion.\n";
  for (const Place& place : places_of(app)) {
    const std::string start = "complete -c ringtrue -n " + in_single_quotes(fish_condition(place));
    for (const CLI::App* word : place.next)
      text += start + " -f -a " + word->get_name() + " -d " +
              in_single_quotes(one_line(word->get_description())) + "\n";
    for (const Offer& offer : place.offers) text += start + fish_option(offer) + "\n";
  }
  return text;
}

}  // namespace ringtrue::cli
