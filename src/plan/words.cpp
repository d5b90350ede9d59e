#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

std::string_view word(Goal goal) { return goal == Goal::detect ? "detect" : "identify"; }

std::string_view word(Isolation isolation) {
  return isolation == Isolation::neighbours ? "neighbours" : "all";
}

std::string_view word(Expected expected) {
  switch (expected) {
    case Expected::beep:
      return "beep";
    case Expected::open:
      return "open";
    case Expected::ohms:
      return "ohms";
  }
  return {};
}

std::string_view word(WhyNotCovered why) {
  switch (why) {
    case WhyNotCovered::parallel:
      return "parallel";
    case WhyNotCovered::needs_lift:
      return "needs-lift";
    case WhyNotCovered::load_may_beep:
      return "load-may-beep";
    case WhyNotCovered::copper_too_long:
      return "copper-too-long";
    case WhyNotCovered::value_not_stated:
      return "value-not-stated";
    case WhyNotCovered::load_beside_load:
      return "load-beside-load";
    case WhyNotCovered::not_operable:
      return "not-operable";
  }
  return {};
}

}  // namespace ringtrue
