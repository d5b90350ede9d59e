#include "ringtrue/live/repair.hpp"

#include "ringtrue/live/entry.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {

Result<Repair> repair_of(const Cluster& finding, const ConductionGraph& graph, const Readings& readings) {
  const auto nothing_to_repair = [](std::string why) {
    return fail({ErrorCode::bad_call, std::move(why), {}, "", "its readings taken again", {}});
  };
  if (finding.diagnoses.empty()) return nothing_to_repair("nothing explains this finding");
  const Diagnosis& likeliest = finding.diagnoses.front();
  Repair repair;
  for (const std::string& point : clamps_to_open(likeliest, graph))
    repair.points += (repair.points.empty() ? "" : "; ") + point;
  if (repair.points.empty()) return nothing_to_repair("the finding is a misread value, not a wire");
  repair.text = fault_words(likeliest.faults, graph, readings).action;
  return repair;
}

}  // namespace ringtrue
