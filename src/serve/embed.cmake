# Writes OUTPUT, the .cpp file that holds every file of FOLDER: cmake -DFOLDER=... -DOUTPUT=... -P embed.cmake
set(types_html "text/html; charset=utf-8")
set(types_css "text/css; charset=utf-8")
set(types_js "text/javascript; charset=utf-8")
set(types_svg "image/svg+xml")

file(GLOB files RELATIVE ${FOLDER} ${FOLDER}/*)
list(SORT files)
set(arrays "")
set(rows "")
set(number 0)
foreach(file IN LISTS files)
  get_filename_component(extension ${file} EXT)
  string(SUBSTRING ${extension} 1 -1 extension)
  if(NOT DEFINED types_${extension})
    message(FATAL_ERROR "${FOLDER}/${file}: no media type is known for .${extension}")
  endif()
  file(READ ${FOLDER}/${file} bytes HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${bytes}")
  string(APPEND arrays "constexpr unsigned char k_file_${number}[] = {${bytes}};\n")
  string(APPEND rows "      {\"${file}\", \"${types_${extension}}\", text_of(k_file_${number})},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(WRITE ${OUTPUT} "#include \"serve/assets.hpp\"

namespace ringtrue::serve {

namespace {

${arrays}
template <std::size_t n>
std::string_view text_of(const unsigned char (&bytes)[n]) {
  return {reinterpret_cast<const char*>(bytes), n};
}

}  // namespace

std::span<const Asset> assets() {
  static const Asset all[] = {
${rows}  };
  return all;
}

}  // namespace ringtrue::serve
")
