#include "reasons.hpp"

namespace ringtrue {

namespace {

std::string_view done_to(Change change) {
  switch (change) {
    case Change::added:
      return " was added";
    case Change::gone:
      return " was taken away";
    case Change::moved:
      return " was moved";
    case Change::changed:
      return " was exchanged";
    case Change::same:
    case Change::renumbered:
    case Change::completed:
      break;
  }
  return {};
}

class OpenedClamp {
 public:
  OpenedClamp(const ConductionGraph& before, const ConductionGraph& after, const Difference& difference,
              PointId clamp)
      : before_(before),
        after_(after),
        difference_(difference),
        clamp_(clamp),
        clamp_after_(difference.point_after[index(clamp)]) {}

  /// What was done there: a conductor's change before that of a part.
  [[nodiscard]] std::string text() const {
    const std::string at = " at " + before_.netlist().points.name(clamp_);
    for (const ChangedRow& row : difference_.conductors)
      if (!done_to(row.change).empty() && has_end_there(row))
        return std::string(kind_of(row)) + " " + name_of(row) + std::string(done_to(row.change)) + at;
    for (const ChangedRow& row : difference_.parts)
      if (!done_to(row.change).empty() && has_end_there(row))
        return name_of(row) + std::string(done_to(row.change)) + at;
    return before_.netlist().points.name(clamp_) + " was opened";
  }

 private:
  [[nodiscard]] bool has_end_there(const ChangedRow& row) const {
    const auto has = [](const ConductionGraph& graph, ElementId e, PointId p) {
      return e != ElementId::none && p != PointId::none && (graph.end_a(e) == p || graph.end_b(e) == p);
    };
    return has(before_, row.before, clamp_) || has(after_, row.after, clamp_after_);
  }
  [[nodiscard]] std::string_view kind_of(const ChangedRow& row) const {
    return row.before != ElementId::none ? before_.element_kind_word(row.before)
                                         : after_.element_kind_word(row.after);
  }
  [[nodiscard]] std::string name_of(const ChangedRow& row) const {
    return row.before != ElementId::none ? before_.element_name(row.before) : after_.element_name(row.after);
  }

  const ConductionGraph &before_, &after_;
  const Difference& difference_;
  PointId clamp_, clamp_after_;
};

}  // namespace

std::string revision_name(const ConductionGraph& before, const ConductionGraph& after, std::size_t number) {
  const std::string &was = before.netlist().panel.revision, &is = after.netlist().panel.revision;
  return is.empty() || is == was ? "revision " + std::to_string(number) + " of the netlist"
                                 : "revision " + is;
}

std::string opened_clamp_text(const ConductionGraph& before, const ConductionGraph& after,
                              const Difference& difference, PointId clamp) {
  return OpenedClamp(before, after, difference, clamp).text();
}

std::string reason_of(const RetestedReading& reading, const ConductionGraph& before,
                      const ConductionGraph& after, const Difference& difference, std::size_t number) {
  const std::string revision = revision_name(before, after, number);
  switch (reading.validity) {
    case Validity::valid:
    case Validity::did_not_count:
      return "it did not count before " + revision;
    case Validity::no_longer_possible:
      return "a point of it, or what was lifted or operated for it, is gone in " + revision;
    case Validity::clamp_touched:
      if (reading.clamp == PointId::none) return "a clamp that it rests on was opened for " + revision;
      return opened_clamp_text(before, after, difference, reading.clamp) + " by " + revision;
    case Validity::prediction_changed:
      return "the meter shows something else, or may, by " + revision;
    case Validity::proof_changed:
      return "it proves something else by " + revision;
    case Validity::not_predicted:
      return "what it shows isn't predicted, and " + revision + " changes more than numbers";
  }
  return {};
}

}  // namespace ringtrue
