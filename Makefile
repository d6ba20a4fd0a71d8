# whymiss: build, test and install. `make help` lists the targets.
# Everything that is made goes below $(BUILD); variants (sanitizers, coverage) are the same rules with another BUILD.

BUILD   ?= build
PREFIX  ?= /usr/local
DESTDIR ?=
CC      ?= cc
CLANG   ?= clang
CLANG_FORMAT ?= clang-format
FUZZ_SECONDS ?= 30

OPTIMIZE ?= -O2 -g
EXTRA    ?=
WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Wvla -Werror
FLAGS    := -std=c17 -D_POSIX_C_SOURCE=200809L -fvisibility=hidden $(WARNINGS) -Iengine -Iengine/include
# Set by the user on top of ours.
CFLAGS   ?=
LDFLAGS  ?=
LIBS     := -lyaml -lpcre2-8 -lm
# No fused multiply-add: one answer on every machine, to the last bit.
COMPILE   = $(CC) $(FLAGS) -ffp-contract=off $(OPTIMIZE) $(EXTRA) $(CFLAGS) -MMD -MP

SOURCES     := $(sort $(wildcard engine/*/*.c))
CLI_SOURCES := $(filter engine/cli/%,$(SOURCES))
LIB_SOURCES := $(filter-out engine/cli/%,$(SOURCES))
OBJECTS     := $(SOURCES:%.c=$(BUILD)/%.o)
CLI_OBJECTS := $(CLI_SOURCES:%.c=$(BUILD)/%.o)
LIB_OBJECTS := $(LIB_SOURCES:%.c=$(BUILD)/%.o)

# tests/<folder>/test_<name>.c becomes $(BUILD)/tests/<folder>_<name>, a program of cases that is run;
# tests/<folder>/tool_<name>.c becomes $(BUILD)/tests/<folder>_<name>, a program that shell tests call.
SUPPORT_OBJECTS := $(patsubst %.c,$(BUILD)/%.o,$(sort $(wildcard tests/support/*.c)))
TEST_SOURCES    := $(sort $(wildcard tests/*/test_*.c))
TOOL_SOURCES    := $(sort $(wildcard tests/*/tool_*.c))
BENCH_SOURCES   := $(sort $(wildcard tests/bench/bench_*.c))
FUZZ_SOURCES    := $(sort $(wildcard tests/fuzz/fuzz_*.c))
program_of       = $(BUILD)/tests/$(notdir $(patsubst %/,%,$(dir $(1))))_$(patsubst test_%,%,$(patsubst tool_%,%,$(basename $(notdir $(1)))))
TEST_PROGRAMS   := $(foreach source,$(TEST_SOURCES),$(call program_of,$(source)))
TOOL_PROGRAMS   := $(foreach source,$(TOOL_SOURCES),$(call program_of,$(source)))
BENCH_PROGRAMS  := $(foreach source,$(BENCH_SOURCES),$(call program_of,$(source)))
FUZZ_PROGRAMS   := $(FUZZ_SOURCES:tests/fuzz/%.c=$(BUILD)/fuzz/%)
TEST_LINK_OBJECTS := $(filter-out $(BUILD)/engine/cli/main.o,$(OBJECTS)) $(SUPPORT_OBJECTS)

FORMATTED := $(filter-out engine/diag/diag_table.h,$(wildcard engine/*/*.[ch] tests/*/*.[ch]))
SCRIPTS   := $(wildcard .ci/run tests/*.sh tests/*/*.sh)

.DELETE_ON_ERROR:
.DEFAULT_GOAL := all
.PHONY: all setup setup-check demo test check asan tsan oom fuzz cover bench install uninstall accept format \
        format-check lint help clean tests

all: $(BUILD)/whymiss $(BUILD)/libwhymiss.a ## build the command and the library (default)

setup: ## install the packages that building and testing need, where missing
	@tests/setup_packages.sh build-essential libyaml-dev libpcre2-dev libcmocka-dev clips python3-scipy python3-jsonschema python3-yaml

setup-check: setup ## install also what `make check`, `make fuzz` and `make cover` need
	@tests/setup_packages.sh clang libclang-rt-dev clang-format shellcheck

demo: all ## diagnose a first case: a 7 iron, face 1 deg right, path 5 deg left, struck on the toe
	$(BUILD)/whymiss diagnose club=7i face=1 path=-5 strike=toe

test: all tests ## build and run all tests; the last line counts them
	@BUILD=$(BUILD) WHYMISS=$(BUILD)/whymiss tests/run_all.sh $(TEST_PROGRAMS)

check: ## what must hold before a change is offered: format, lint, tests, sanitizers
	$(MAKE) format-check
	$(MAKE) lint
	$(MAKE) test
	$(MAKE) asan

asan: ## run all tests with the address and undefined-behaviour sanitizers; of the worked cases each twelfth
	EVERY=$${EVERY:-24} $(MAKE) test BUILD=$(BUILD)/asan OPTIMIZE="-O1 -g" \
	  EXTRA="$(EXTRA) -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer"

tsan: ## run all tests with the thread sanitizer; of the worked cases each twelfth
	EVERY=$${EVERY:-24} $(MAKE) test BUILD=$(BUILD)/tsan OPTIMIZE="-O1 -g" EXTRA="$(EXTRA) -fsanitize=thread"

oom: all tests ## run only the tests that let memory run out
	@BUILD=$(BUILD) PROGRAMS_ONLY=1 tests/run_all.sh $(filter $(BUILD)/tests/oom_% %_memory,$(TEST_PROGRAMS))

fuzz: $(FUZZ_PROGRAMS) ## let clang's fuzzer loose on each reader for FUZZ_SECONDS (30) seconds
	@for program in $(FUZZ_PROGRAMS); do tests/fuzz/run_fuzz.sh $$program $(FUZZ_SECONDS) || exit 1; done

cover: ## run all tests and print the share of lines that ran, file by file
	rm -rf $(BUILD)/cover
	$(MAKE) test BUILD=$(BUILD)/cover OPTIMIZE="-O0 -g" EXTRA="$(EXTRA) --coverage"; status=$$?; \
	  tests/cover_report.sh $(BUILD)/cover; exit $$status

bench: all $(BENCH_PROGRAMS) ## run the measurements of speed
	@for program in $(BENCH_PROGRAMS) $(wildcard tests/bench/*.sh); do \
	  BUILD=$(BUILD) WHYMISS=$(BUILD)/whymiss $$program || exit 1; done

accept: all tests ## rewrite the expected output files from what the program prints now; then read the difference
	@ACCEPT=1 BUILD=$(BUILD) WHYMISS=$(BUILD)/whymiss tests/run_all.sh $(TEST_PROGRAMS)

install: all ## install command, library, header, knowledge and manual pages under DESTDIR and PREFIX
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/lib $(DESTDIR)$(PREFIX)/include
	install -m 755 $(BUILD)/whymiss $(DESTDIR)$(PREFIX)/bin/whymiss
	install -m 644 $(BUILD)/libwhymiss.a $(DESTDIR)$(PREFIX)/lib/libwhymiss.a
	install -m 644 engine/include/whymiss.h $(DESTDIR)$(PREFIX)/include/whymiss.h
	for file in $$(find rules kb -name '*.yaml'); do \
	  install -D -m 644 $$file $(DESTDIR)$(PREFIX)/share/whymiss/$$file || exit 1; done
	for page in $(wildcard docs/*.[1-8]); do \
	  install -D -m 644 $$page $(DESTDIR)$(PREFIX)/share/man/man$${page##*.}/$${page##*/} || exit 1; done

uninstall: ## take away what install put there
	rm -f $(DESTDIR)$(PREFIX)/bin/whymiss $(DESTDIR)$(PREFIX)/lib/libwhymiss.a $(DESTDIR)$(PREFIX)/include/whymiss.h
	for page in $(wildcard docs/*.[1-8]); do \
	  rm -f $(DESTDIR)$(PREFIX)/share/man/man$${page##*.}/$${page##*/}; done
	rm -rf $(DESTDIR)$(PREFIX)/share/whymiss

format: ## lay out all C sources as .clang-format says
	$(CLANG_FORMAT) -i $(FORMATTED)

format-check: ## fail when `make format` would change a file
	$(CLANG_FORMAT) --dry-run -Werror $(FORMATTED)

lint: ## check includes, forbidden calls, file sizes and the shell scripts
	@tests/lint_includes.sh
	@if command -v shellcheck > /dev/null; then shellcheck $(SCRIPTS); else echo "lint: no shellcheck here, scripts not checked"; fi

help: ## list the targets
	@sed -n 's/^\([a-z][a-z-]*\):.*## \(.*\)/\1\t\2/p' Makefile | expand -t 14

clean: ## remove all that was built
	rm -rf $(BUILD)

# ---- how things are made ----

$(BUILD)/%.o: %.c Makefile
	@mkdir -p $(@D)
	$(COMPILE) -Itests -c $< -o $@

# One object in which all but wm_ is local: a program that links the library can reach, or clash with, nothing else.
$(BUILD)/libwhymiss.a: $(LIB_OBJECTS)
	$(LD) -r -o $(BUILD)/libwhymiss.o $(LIB_OBJECTS)
	objcopy --wildcard --keep-global-symbol='wm_*' $(BUILD)/libwhymiss.o
	@rm -f $@
	$(AR) rcsD $@ $(BUILD)/libwhymiss.o

$(BUILD)/whymiss: $(CLI_OBJECTS) $(BUILD)/libwhymiss.a
	$(CC) $(EXTRA) $(LDFLAGS) -o $@ $(CLI_OBJECTS) $(BUILD)/libwhymiss.a $(LIBS)

tests: $(TEST_PROGRAMS) $(TOOL_PROGRAMS)

define program_rule
$(call program_of,$(1)): $(patsubst %.c,$(BUILD)/%.o,$(1)) $(TEST_LINK_OBJECTS)
	@mkdir -p $$(@D)
	$$(CC) $$(EXTRA) $$(LDFLAGS) -o $$@ $$^ -lcmocka $$(LIBS) -lpthread
endef
$(foreach source,$(TEST_SOURCES) $(TOOL_SOURCES) $(BENCH_SOURCES),$(eval $(call program_rule,$(source))))

FUZZ_FLAGS := -O1 -g -fsanitize=fuzzer,address,undefined -fno-sanitize-recover=undefined
$(BUILD)/fuzz/%: tests/fuzz/%.c $(LIB_SOURCES) $(wildcard engine/*/*.h)
	@mkdir -p $(@D)
	$(CLANG) $(FLAGS) -ffp-contract=off $(FUZZ_FLAGS) -o $@ $< $(LIB_SOURCES) $(LIBS)

.SECONDARY:
-include $(OBJECTS:.o=.d) $(SUPPORT_OBJECTS:.o=.d)
-include $(patsubst %.c,$(BUILD)/%.d,$(TEST_SOURCES) $(TOOL_SOURCES) $(BENCH_SOURCES))
