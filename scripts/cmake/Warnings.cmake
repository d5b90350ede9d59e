# Linked privately, so that a user's build is not judged by them.
add_library(ringtrue_warnings INTERFACE)
target_compile_options(ringtrue_warnings INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wold-style-cast)
# GCC 12 raises false alarms of these kinds in std::string and std::optional (its bug 105651 among others): of the first
# three where the standard headers are precompiled, of the others once it inlines much, as the dev preset doesn't.
set(gcc_12 "$<AND:$<CXX_COMPILER_ID:GNU>,$<VERSION_LESS:$<CXX_COMPILER_VERSION>,13>>")
target_compile_options(ringtrue_warnings INTERFACE
  "$<${gcc_12}:-Wno-array-bounds;-Wno-stringop-overflow;-Wno-stringop-overread>"
  "$<$<AND:${gcc_12},$<CONFIG:Release>>:-Wno-restrict;-Wno-maybe-uninitialized>")
if(RINGTRUE_WERROR)
  target_compile_options(ringtrue_warnings INTERFACE -Werror)
endif()
