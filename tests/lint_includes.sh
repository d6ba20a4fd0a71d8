#!/bin/bash
# Checks that includes go downwards only, that each outside library has one user, that the library neither allocates,
# prints nor exits by itself, and that files keep to their size.
set -u
cd "$(dirname "$0")/.." || exit 1
faults=0

complain() {
  echo "lint: $*"
  faults=$((faults + 1))
}

# folder: the folders it may include from, besides itself
declare -A allowed=(
  [base]=""
  [golf]="base"
  [diag]="base"
  [input]="base diag"
  [model]="base diag input golf"
  [network]="base diag input golf model"
  [run]="base diag input golf model network"
  [say]="base diag input golf model"
  [explain]="base diag input golf model network run"
  [workshop]="base diag input golf model network run say explain"
  [session]="base diag input golf model network run explain workshop"
  [render]="base diag input golf model network run say explain workshop session"
  [api]="base diag input golf model network run say explain workshop session render include"
  [cli]="include"
)

# The folder an included file lies in: its path, or the public header's folder.
target_of() {
  case $1 in
  whymiss.h) echo include ;;
  */*) echo "${1%%/*}" ;;
  *) echo "?" ;;
  esac
}

check_includes() { # file
  local file=$1 folder included target
  folder=$(basename "$(dirname "$file")")
  while read -r included; do
    target=$(target_of "$included")
    if [ "$target" = "$folder" ]; then continue; fi
    case " ${allowed[$folder]} " in
    *" $target "*) ;;
    *) complain "$file: $folder/ may not include \"$included\"" ;;
    esac
  done < <(sed -n 's/^#include "\(.*\)".*/\1/p' "$file")
}

# Code without comments and strings, so that a word in them is no call.
code_of() {
  sed -e 's/"\([^"\\]\|\\.\)*"/""/g' "$1" | gcc -fpreprocessed -dD -E -P -w -x c - 2> /dev/null
}

check_calls() { # file
  local file=$1
  if [ "$file" != engine/base/arena.c ] && code_of "$file" | grep -qE '\b(malloc|calloc|realloc|free|strdup|strndup|asprintf|getline)\('; then
    complain "$file: only engine/base/arena.c allocates"
  fi
  case $file in engine/cli/*) return ;; esac
  if code_of "$file" | grep -qE '\b(printf|fprintf|vfprintf|vprintf|puts|fputs|putchar|putc|fputc|perror|exit|_exit|abort|quick_exit|setlocale)\('; then
    complain "$file: the library neither prints nor exits"
  fi
}

check_single_user() { # header pattern, the one file
  local file
  for file in engine/*/*.[ch]; do
    if [ "$file" != "$2" ] && grep -qE "^#include <$1>" "$file"; then complain "$file: only $2 includes $1"; fi
  done
}

for file in engine/*/*.[ch]; do
  [ -e "$file" ] || continue
  folder=$(basename "$(dirname "$file")")
  if [ "$folder" = include ]; then continue; fi
  if [ -z "${allowed[$folder]+known}" ]; then
    complain "$file: folder $folder/ is not in the table"
    continue
  fi
  check_includes "$file"
  check_calls "$file"
  if [ "$(wc -l < "$file")" -gt 600 ]; then complain "$file: more than 600 lines"; fi
  if grep -nP '[^\x00-\x7F]' "$file" > /dev/null; then complain "$file: not ASCII"; fi
done
check_single_user 'yaml\.h' engine/input/node.c
check_single_user 'pcre2\.h' engine/input/pattern.c

if [ "$faults" -ne 0 ]; then
  echo "lint: $faults faults"
  exit 1
fi
echo "lint: includes, calls and sizes are in order"
