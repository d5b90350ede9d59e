// A program is parsed, and the statements that an output depends on drive it as the whole program does.
#include "fuzz/netlists.hpp"
#include "ringtrue/logic/plc.hpp"

using namespace ringtrue;

namespace {

/// Sets the inputs by the bits of a number.
void set_inputs(logic::Plc& plc, const logic::Program& program, unsigned bits) {
  for (std::uint32_t i = 0; i < program.variables.size(); ++i) {
    const bool is_set = ((bits >> i % 32) & 1) != 0;
    if (program.variables[i].kind == logic::VariableKind::input) plc.set(i, is_set);
    if (program.variables[i].kind == logic::VariableKind::analog) plc.set(i, is_set ? 100.0 : 0.0);
  }
}

void must_be_driven_alike(const logic::Program& program, std::uint32_t output) {
  const logic::Program slice = logic::slice_of(program, {output});
  logic::Plc whole(program), part(slice);
  unsigned bits = 0x9E3779B9u;
  for (int scan = 0; scan < 8; ++scan, bits = bits * 1664525u + 1013904223u) {
    for (auto [plc, its] : {std::pair(&whole, &program), std::pair(&part, &slice)}) {
      set_inputs(*plc, *its, bits);
      plc->scan(bits % 4000);
    }
    fuzz::must(whole.value(output) == part.value(output), "a slice drives its output as the whole does",
               program.variables[output].name);
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::as_text(data, size);
  const auto program = logic::parse_logic(text, "logic.st", fuzz::grain_dryer());
  std::string large(text);
  for (char& c : large)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  const auto in_capitals = logic::parse_logic(large, "logic.st", fuzz::grain_dryer());
  fuzz::must(program.has_value() == in_capitals.has_value(), "case doesn't matter", text);
  if (!program) return fuzz::must_be_told(program.error(), text), 0;
  fuzz::must(program->nodes.size() == in_capitals->nodes.size(), "case changes no expression", text);
  for (std::uint32_t i = 0; i < program->variables.size(); ++i)
    if (program->variables[i].kind == logic::VariableKind::output) must_be_driven_alike(*program, i);
  return 0;
}
