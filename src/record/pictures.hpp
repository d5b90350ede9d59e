#pragma once
#include <vector>

#include "ringtrue/record/record.hpp"

namespace ringtrue::record {

/// The map, the strips, then the paths of the channels, each as large as a landscape page holds.
[[nodiscard]] std::vector<RecordPicture> pictures_of(const RecordSource& source);

/// The pictures as figures of a page.
[[nodiscard]] std::string figures_html(const std::vector<RecordPicture>& pictures);

}  // namespace ringtrue::record
