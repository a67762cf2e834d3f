# Catch2::Catch2WithMain and catch_discover_tests(), from the fetched source.
wetsleeve_need_source(catch2 CMakeLists.txt)
add_subdirectory("${WETSLEEVE_SOURCES}/catch2" "${CMAKE_BINARY_DIR}/catch2" EXCLUDE_FROM_ALL SYSTEM)
list(APPEND CMAKE_MODULE_PATH "${WETSLEEVE_SOURCES}/catch2/extras")
include(Catch)
# Nobody changes it: compiled in a few large files.
set_target_properties(Catch2 PROPERTIES UNITY_BUILD ON UNITY_BUILD_BATCH_SIZE 30)
