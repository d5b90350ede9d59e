#pragma once
#include "load/file.hpp"

namespace ringtrue::load {

/// Brings the bytes of a file to UTF-8.
///
/// | the bytes | taken as |
/// | --- | --- |
/// | begin with a byte order mark | UTF-8 or UTF-16, as it says |
/// | every other one of the first is NUL | UTF-16, with a note |
/// | valid UTF-8 | UTF-8 |
/// | anything else without control characters | Windows-1252, with a note: German and English exports that
/// say nothing |
///
/// UTF-8 stays in its buffer; for the others the bytes are held twice while they are converted, by iconv(3).
/// @errors bad_text: no text at all (NUL bytes, or other control characters among bytes that are not UTF-8),
/// or bytes that have no meaning in the encoding, with the line.
[[nodiscard]] Result<FileText> as_utf8(FileText raw);

}  // namespace ringtrue::load
