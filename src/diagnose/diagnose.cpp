#include "ringtrue/diagnose/diagnose.hpp"

#include "engine.hpp"

namespace ringtrue {

Findings diagnose(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                  const DiagnoseOptions& options) {
  return Engine(graph, readings, comparison, options).run_once();
}

}  // namespace ringtrue
