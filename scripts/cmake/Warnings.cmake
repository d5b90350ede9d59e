# Linked privately, so that a user's build is not judged by them.
add_library(ringtrue_warnings INTERFACE)
target_compile_options(ringtrue_warnings INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wold-style-cast)
# GCC 12 raises false alarms of these kinds in std::string and std::optional once it inlines much (its bug 105651
# among others). The dev preset, which inlines less, keeps them.
target_compile_options(ringtrue_warnings INTERFACE
  "$<$<AND:$<CXX_COMPILER_ID:GNU>,$<VERSION_LESS:$<CXX_COMPILER_VERSION>,13>,$<CONFIG:Release>>:-Wno-restrict;-Wno-stringop-overread;-Wno-maybe-uninitialized>")
if(RINGTRUE_WERROR)
  target_compile_options(ringtrue_warnings INTERFACE -Werror)
endif()
