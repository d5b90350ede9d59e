#pragma once
#include <httplib.h>

#include "ringtrue/live/live_job.hpp"
#include "serve/answer.hpp"

// The pictures of the job as it stands. `width` of a request is in px, no more than 4,000.

namespace ringtrue::serve {

/// Of the `channel` of the request. @errors unknown_channel.
[[nodiscard]] Answer path_svg(const LiveJob& live, const httplib::Request& request);
/// Of the strip that the `name` of the request names or has a point on; 404 if there is none.
[[nodiscard]] Answer strip_svg(const LiveJob& live, const httplib::Request& request);
[[nodiscard]] Answer map_svg(const LiveJob& live, const httplib::Request& request);
/// The names of all strips, as JSON.
[[nodiscard]] Answer strips_text(const LiveJob& live);

}  // namespace ringtrue::serve
