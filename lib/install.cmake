# What is installed for programs that use the library: find_package(benchfeed), pkg-config, headers.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(cmake_files ${CMAKE_INSTALL_LIBDIR}/cmake/benchfeed)

install(TARGETS benchfeed EXPORT benchfeed
    RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT development
    LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT development
    ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT development
    FILE_SET HEADERS DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)

install(EXPORT benchfeed NAMESPACE benchfeed:: FILE benchfeed-targets.cmake DESTINATION ${cmake_files} COMPONENT development)
configure_package_config_file(benchfeed-config.cmake.in ${CMAKE_CURRENT_BINARY_DIR}/benchfeed-config.cmake
    INSTALL_DESTINATION ${cmake_files} NO_SET_AND_CHECK_MACRO NO_CHECK_REQUIRED_COMPONENTS_MACRO)
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/benchfeed-config-version.cmake
    VERSION ${PROJECT_VERSION} COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/benchfeed-config.cmake ${CMAKE_CURRENT_BINARY_DIR}/benchfeed-config-version.cmake
    DESTINATION ${cmake_files} COMPONENT development)

# A static library needs what it was compiled with; a shared one brings it along.
if(BUILD_SHARED_LIBS)
    set(pc_requires Requires.private)
else()
    set(pc_requires Requires)
endif()
file(RELATIVE_PATH pc_prefix /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
string(REGEX REPLACE "/$" "" pc_prefix ${pc_prefix})
configure_file(benchfeed.pc.in ${CMAKE_CURRENT_BINARY_DIR}/benchfeed.pc @ONLY)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/benchfeed.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT development)
