# Each library with what it is for; all are Debian packages, installed by scripts/deps.
find_package(Boost 1.74 REQUIRED)                 # graph: nets, components
find_package(Eigen3 3.4 REQUIRED NO_MODULE)         # expect: sparse solver
find_package(pugixml 1.12 REQUIRED)               # load: XML
find_package(spdlog 1.10 REQUIRED)                # cli: messages
find_package(CLI11 2.1 REQUIRED)                  # cli: arguments
find_package(nlohmann_json 3.11 REQUIRED)         # report: JSON
find_package(tomlplusplus QUIET)                  # cli: settings
find_package(SQLite3 3.40 REQUIRED)               # job: the file
find_package(OpenSSL 3.0 REQUIRED COMPONENTS Crypto)  # job: SHA-256
find_package(tl-expected 1.0 REQUIRED)            # base: results
find_package(Threads REQUIRED)                    # serve

# Debian's packages of these have pkg-config files only.
find_package(PkgConfig REQUIRED)
pkg_check_modules(httplib REQUIRED IMPORTED_TARGET cpp-httplib>=0.11)  # serve: HTTP; its flags belong to its ABI
pkg_check_modules(xlsxwriter REQUIRED IMPORTED_TARGET xlsxwriter)    # record: the workbook
pkg_check_modules(libedit REQUIRED IMPORTED_TARGET libedit>=3.1)      # cli: editing lines of the log

if(NOT TARGET tomlplusplus::tomlplusplus)
  pkg_check_modules(tomlplusplus REQUIRED IMPORTED_TARGET tomlplusplus>=3.0)
  add_library(tomlplusplus::tomlplusplus ALIAS PkgConfig::tomlplusplus)
endif()

find_program(RINGTRUE_CCACHE ccache)
if(RINGTRUE_CCACHE AND PROJECT_IS_TOP_LEVEL)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${RINGTRUE_CCACHE})
endif()
