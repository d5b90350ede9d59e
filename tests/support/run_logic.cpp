// Runs a program scan by scan: run_logic NETLIST FILE.st OUTPUT... ; each line of the input is `MS NAME=VALUE
// ...`, each line of the output a digit per OUTPUT.
#include <cstdlib>
#include <iostream>
#include <sstream>

#include "ringtrue/load/files.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/logic/plc.hpp"

namespace {

using namespace ringtrue;

std::uint32_t variable_named(const logic::Program& program, const std::string& name) {
  for (std::uint32_t i = 0; i < program.variables.size(); ++i)
    if (program.variables[i].name == name) return i;
  std::cerr << "no variable " << name << '\n';
  std::exit(2);
}

void set(logic::Plc& plc, const logic::Program& program, const std::string& given) {
  const std::size_t equals = given.find('=');
  const std::uint32_t variable = variable_named(program, given.substr(0, equals));
  const double value = std::stod(given.substr(equals + 1));
  if (program.variables[variable].kind == logic::VariableKind::analog)
    plc.set(variable, value);
  else
    plc.set(variable, value > 0.5);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) return 2;
  const auto netlist = load_netlist(argv[1]);
  const auto text = files_on_disk().read(argv[2], 1u << 20);
  if (!netlist || !text) return 2;
  const auto program = logic::parse_logic(text->view(), argv[2], *netlist);
  if (!program) {
    for (const Error& error : program.error()) std::cerr << to_text(error) << '\n';
    return 2;
  }
  logic::Plc plc(*program);
  for (std::string line; std::getline(std::cin, line);) {
    std::istringstream words(line);
    std::uint32_t ms = 0;
    words >> ms;
    for (std::string given; words >> given;) set(plc, *program, given);
    plc.scan(ms);
    for (int i = 3; i < argc; ++i) std::cout << (plc.value(variable_named(*program, argv[i])) ? '1' : '0');
    std::cout << '\n';
  }
}
