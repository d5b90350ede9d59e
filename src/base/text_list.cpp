#include "ringtrue/base/text_list.hpp"

namespace ringtrue {

TextList::Place TextList::place_for_far(std::string_view text) {
  far_.push_back(text);
  return {static_cast<std::uint32_t>(far_.size() - 1), k_far};
}

}  // namespace ringtrue
