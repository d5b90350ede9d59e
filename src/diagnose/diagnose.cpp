#include "ringtrue/diagnose/diagnose.hpp"

#include "engine.hpp"

namespace ringtrue {

Findings diagnose(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                  const DiagnoseOptions& options) {
  Engine engine(graph, readings, comparison, options);
  engine.run();
  return engine.take();
}

}  // namespace ringtrue
