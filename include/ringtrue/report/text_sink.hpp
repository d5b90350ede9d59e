#pragma once
#include <functional>
#include <string_view>

namespace ringtrue {

/// Takes a report part by part, in order. A plant's can be a gigabyte, which nobody should have to hold.
using TextSink = std::function<void(std::string_view)>;

}  // namespace ringtrue
