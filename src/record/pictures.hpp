#pragma once
#include <string>

#include "ringtrue/record/record.hpp"

namespace ringtrue::record {

/// The map, the strips, then the paths of the channels, each as large as a landscape page holds; and which
/// paths are too many.
void put_pictures(Record& made, const RecordSource& source);

/// The pictures as figures of a page.
[[nodiscard]] std::string figures_html(const Record& record);

}  // namespace ringtrue::record
