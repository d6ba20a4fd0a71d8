#!/bin/bash
# The library as others use it: the header alone in C and in C++, the example at its head, and no symbol but wm_ to clash with.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
: "${BUILD:=build}"
status=0
: > "$scratch/out"
: > "$scratch/err"
header=engine/include/whymiss.h

echo '#include "whymiss.h"' > "$scratch/only.c"
cp "$scratch/only.c" "$scratch/only.cc"
expect "the header stands alone in C17" cc -std=c17 -Wall -Wextra -Wpedantic -Werror -Iengine/include -fsyntax-only "$scratch/only.c"
if command -v c++ > /dev/null; then
  expect "and in C++17" c++ -std=c++17 -Wall -Wextra -Wpedantic -Werror -Iengine/include -fsyntax-only "$scratch/only.cc"
fi

# The example: the lines indented by five blanks, made into a program.
{
  printf '#include <stdio.h>\n#include "whymiss.h"\n'
  printf 'static int to_stdout(void *context, const char *bytes, size_t n) {\n'
  printf '  (void)context;\n  return fwrite(bytes, 1, n, stdout) == n ? 0 : -1;\n}\nint main(void) {\n'
  sed -n '/^ \*     /s/^ \*     //p' "$header" | sed 's|/usr/share/whymiss|tests/kb_small|'
  printf 'return 0;\n}\n'
} > "$scratch/example.c"
# shellcheck disable=SC2086 # flags of a sanitizer build, if any
expect "the header's example compiles and links" cc -std=c17 -Wall -Wextra -Werror ${EXTRA:-} -Iengine/include -o "$scratch/example" "$scratch/example.c" "$BUILD/libwhymiss.a" -lyaml -lpcre2-8 -lm
"$scratch/example" > "$scratch/out" 2> "$scratch/err"
status=$?
expect "and runs" ended 0
expect "and answers" has out "club path: 5.0 deg left"
strangers() { ! nm -g --defined-only "$BUILD/libwhymiss.a" | awk 'NF == 3 { print $3 }' | grep -v '^wm_'; }
expect "the library defines wm_ names only" strangers
finish
