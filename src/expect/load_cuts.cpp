#include "ringtrue/expect/load_cuts.hpp"

namespace ringtrue {

LoadCuts::LoadCuts(const View& view, const Numbering& numbering) {
  const auto& points = numbering.points();
  before_.resize(points.size() + 1);
  root_.resize(points.size());
  end_.resize(points.size());
  for (std::uint32_t number = 0; number < points.size(); ++number) {
    root_[number] = points[number].parent == number ? number : root_[points[number].parent];
    end_[number] = points[number].last + 1;
    Conductance& sum = before_[number + 1] = before_[number];
    view.for_each_load(points[number].point, [&](const View::Edge& edge) {
      has_loads_ = true;
      const double lowest = view.interval(edge).lo.value;
      if (lowest > 0)
        sum.siemens += 1 / lowest;
      else
        ++sum.unlimited;
    });
  }
}

}  // namespace ringtrue
