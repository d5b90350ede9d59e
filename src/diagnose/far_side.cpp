#include "far_side.hpp"

#include <algorithm>

namespace ringtrue {

namespace {

template <class Number>
void sort_each_once(std::vector<Number>& numbers) {
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
}

}  // namespace

FarSide::FarSide(const View& view, const Landing& landing, const std::vector<PointId>& points) {
  const auto add = [&](ElementId e) {
    if (landing.is_movable(e)) conductors_.push_back(e);
  };
  for (const PointId p : points) {
    blocks_.push_back(landing.block(p));
    for (const ElementId e : landing.graph().elements_at(p)) add(e);
  }
  // What has been moved may have come here.
  for (const ElementChange& change : view.overlay().changes()) add(change.element);
  sort_each_once(blocks_);
  sort_each_once(conductors_);
}

bool FarSide::is_at(ElementId e) const {
  return std::binary_search(conductors_.begin(), conductors_.end(), e);
}

}  // namespace ringtrue
