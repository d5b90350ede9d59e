# Linked privately, so that a user's build is not judged by them.
add_library(ringtrue_warnings INTERFACE)
target_compile_options(ringtrue_warnings INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wold-style-cast)
if(RINGTRUE_WERROR)
  target_compile_options(ringtrue_warnings INTERFACE -Werror)
endif()
