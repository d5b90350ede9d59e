# Each library with what it is for; all are Debian packages, installed by scripts/deps.

# What whoever links the library needs too: ringtrue-config.cmake finds the same.
set(RINGTRUE_LINKED_PACKAGES
  "tl-expected 1.0"                 # base: results
  "pugixml 1.12"                    # load: XML
  "SQLite3 3.40"                    # job: the file
  "OpenSSL 3.0 COMPONENTS Crypto"   # job: SHA-256
  "Threads"                         # serve
  "PkgConfig")                      # Debian's packages of some have pkg-config files only
set(RINGTRUE_LINKED_MODULES
  "httplib cpp-httplib>=0.11"         # serve: HTTP; its flags belong to its ABI
  "xlsxwriter xlsxwriter"             # record: the workbook
  "tomlplusplus tomlplusplus>=3.0")   # load, cli: mappings, settings
foreach(package IN LISTS RINGTRUE_LINKED_PACKAGES)
  separate_arguments(package)
  find_package(${package} REQUIRED)
endforeach()
foreach(module IN LISTS RINGTRUE_LINKED_MODULES)
  separate_arguments(module)
  list(POP_FRONT module name)
  pkg_check_modules(${name} REQUIRED IMPORTED_TARGET ${module})
endforeach()

# What only the build needs.
find_package(Boost 1.74 REQUIRED)                 # graph: nets, components
find_package(Eigen3 3.4 REQUIRED NO_MODULE)       # expect: sparse solver
find_package(spdlog 1.10 REQUIRED)                # cli: messages
find_package(CLI11 2.1 REQUIRED)                  # cli: arguments
find_package(nlohmann_json 3.11 REQUIRED)         # report: JSON
find_package(mimalloc 2.0 REQUIRED)               # cli: small pieces of memory by several threads
pkg_check_modules(libedit REQUIRED IMPORTED_TARGET libedit>=3.1)  # cli: editing lines of the log

# Of libxlsxwriter the pkg-config file gives the number of its ABI.
find_file(RINGTRUE_XLSXWRITER_HEADER xlsxwriter.h HINTS ${xlsxwriter_INCLUDE_DIRS} REQUIRED)
file(STRINGS ${RINGTRUE_XLSXWRITER_HEADER} xlsxwriter_release REGEX "define LXW_VERSION ")
string(REGEX REPLACE ".*\"(.*)\".*" "\\1" xlsxwriter_release "${xlsxwriter_release}")
# What --version names.
string(CONCAT RINGTRUE_LIBRARIES
  "Boost ${Boost_VERSION_STRING}, CLI11 ${CLI11_VERSION}, cpp-httplib ${httplib_VERSION}, Eigen ${Eigen3_VERSION}, "
  "libedit ${libedit_VERSION}, libxlsxwriter ${xlsxwriter_release}, mimalloc ${mimalloc_VERSION}, "
  "nlohmann-json ${nlohmann_json_VERSION}, "
  "OpenSSL ${OPENSSL_VERSION}, pugixml ${pugixml_VERSION}, spdlog ${spdlog_VERSION}, SQLite ${SQLite3_VERSION}, "
  "tl-expected ${tl-expected_VERSION}, toml++ ${tomlplusplus_VERSION}")

find_program(RINGTRUE_CCACHE ccache)
if(RINGTRUE_CCACHE AND PROJECT_IS_TOP_LEVEL)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${RINGTRUE_CCACHE})
endif()
