# What `cmake --install` and the packages put where. Two components, as Debian parts them: what people run, and what
# programs are built with.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

set(run COMPONENT ringtrue)
set(dev COMPONENT libringtrue-dev)

install(TARGETS ringtrue_cli RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} ${run})
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} ${run})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright ${run})
install(DIRECTORY netlists DESTINATION ${CMAKE_INSTALL_DATADIR}/ringtrue ${run})

# Man pages and completions are what the command itself prints.
set(pages ${PROJECT_BINARY_DIR}/share)
set(pages_script ${PROJECT_SOURCE_DIR}/scripts/cmake/write_pages.cmake)
add_custom_command(OUTPUT ${pages}/written
  COMMAND ${CMAKE_COMMAND} -DRINGTRUE=$<TARGET_FILE:ringtrue_cli> -DFOLDER=${pages} -P ${pages_script}
  DEPENDS ringtrue_cli ${pages_script})
add_custom_target(ringtrue_pages ALL DEPENDS ${pages}/written)
install(DIRECTORY ${pages}/man/ DESTINATION ${CMAKE_INSTALL_MANDIR} ${run})
install(FILES ${pages}/completion/ringtrue DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions ${run})
install(FILES ${pages}/completion/_ringtrue DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions ${run})
install(FILES ${pages}/completion/ringtrue.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d ${run})

set(config ${CMAKE_INSTALL_LIBDIR}/cmake/ringtrue)
install(TARGETS ringtrue EXPORT ringtrue ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} ${dev}
  INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(DIRECTORY include/ringtrue DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} ${dev})
install(EXPORT ringtrue NAMESPACE ringtrue:: FILE ringtrue-targets.cmake DESTINATION ${config} ${dev})
configure_package_config_file(scripts/cmake/ringtrue-config.cmake.in ringtrue-config.cmake
  INSTALL_DESTINATION ${config} NO_SET_AND_CHECK_MACRO)
write_basic_package_version_file(ringtrue-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/ringtrue-config.cmake ${PROJECT_BINARY_DIR}/ringtrue-config-version.cmake
  DESTINATION ${config} ${dev})

# cpack -G DEB; what the command needs is found by dpkg-shlibdeps.
set(CPACK_PACKAGE_VENDOR "ringtrue developers")
set(CPACK_PACKAGE_CONTACT "ringtrue developers <ringtrue@localhost>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_GENERATOR DEB)
set(CPACK_COMPONENTS_ALL ringtrue libringtrue-dev)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_RINGTRUE_PACKAGE_NAME ringtrue)
set(CPACK_DEBIAN_RINGTRUE_PACKAGE_SECTION electronics)
set(CPACK_DEBIAN_RINGTRUE_PACKAGE_SHLIBDEPS ON)
set(CPACK_COMPONENT_RINGTRUE_DESCRIPTION
"Loads the terminal and wire netlist of a drawing, traces every PLC channel to
its field terminal, compares what the meter showed with what the drawing says,
and names miswires, swaps, opens, missing bridges and shorts.")
set(CPACK_DEBIAN_LIBRINGTRUE-DEV_PACKAGE_NAME libringtrue-dev)
set(CPACK_DEBIAN_LIBRINGTRUE-DEV_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRINGTRUE-DEV_PACKAGE_DEPENDS "libexpected-dev, libpugixml-dev, libtomlplusplus-dev, libsqlite3-dev, \
libssl-dev, libcpp-httplib-dev, libxlsxwriter-dev, pkg-config")
set(CPACK_COMPONENT_LIBRINGTRUE-DEV_DESCRIPTION
"The library behind the command ringtrue, static, with its headers and a CMake
package.")
include(CPack)
