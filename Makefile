# hairfibre: `make demo` shows it, `make check` tests it. Both install what is missing first.

prefix ?= /usr/local
bindir ?= $(prefix)/bin
libdir ?= $(prefix)/lib
includedir ?= $(prefix)/include
mandir ?= $(datadir)/man
luadir ?= $(libdir)/lua/5.4
datadir ?= $(prefix)/share
DESTDIR ?=

VERSION := 0.1.0
SOVERSION := 0

# ---- packages ------------------------------------------------------------------------------------
# Debian names. The last line is for tests only.
PACKAGES := pkg-config lua5.4 liblua5.4-dev libgsl-dev libudunits2-dev libcsv-dev nettle-dev \
	lua-argparse lua-dkjson gnuplot-nox libreadline-dev \
	libcmocka-dev python3-iapws locales parallel

# For check-reference check-mutation only.
REFERENCE_PACKAGES := r-base-core r-recommended
# For check-report only.
REPORT_PACKAGES := chromium chromium-driver python3-selenium poppler-utils
# For deb, portable, rock and check-packages only.
PACKAGING_PACKAGES := build-essential debhelper dpkg-dev fakeroot debootstrap luarocks libexpat1-dev

# For fuzz and fuzz-short only.
FUZZ_PACKAGES := clang libclang-rt-dev
# For check-compilers, lint and analyse only.
LINT_PACKAGES := clang libomp-dev clang-format clang-tidy cppcheck lua-check

# ---- compiling -----------------------------------------------------------------------------------
BUILD ?= build
OPTIMISE ?= -O2
WARNINGS := -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes \
	-Wmissing-prototypes -Wvla -Wcast-qual -Wdouble-promotion -Wformat=2 -Wundef
ifdef CI
WARNINGS += -Werror
endif
# -ffp-contract=off: the same digits on every machine. Never -ffast-math: NaN is part of the API.
# Ensembles run side by side; OPENMP= builds without.
OPENMP ?= -fopenmp
HF_CFLAGS = -std=c11 -D_POSIX_C_SOURCE=200809L $(OPTIMISE) -g -fPIC -fvisibility=hidden -fno-common \
	-ffp-contract=off $(WARNINGS) -MMD -MP -Iinclude -Ilib $(OPENMP) $(SANITISE) $(CFLAGS)
LUA_CFLAGS = $(shell pkg-config --cflags lua5.4)
LUA_LIBS = $(shell pkg-config --libs lua5.4)
LIBS = -lgsl -lgslcblas -lm
EDGE_LIBS = -ludunits2 -lcsv -lnettle
LUA ?= lua5.4
LUA_SHARE ?= /usr/share/lua/5.4

LIB_SOURCES := $(wildcard lib/*/*.c)
CORE_SOURCES := $(wildcard lua/core/*.c)
COMMAND_SOURCES := $(wildcard lua/command/*.c)
LUA_FILES := $(wildcard lua/hairfibre/*.lua lua/hairfibre/*/*.lua lua/command/*.lua)
DATA_FILES := $(wildcard tests/data/*.lua)
PAGE_FILES := $(wildcard lua/report/page.*)
GENERATED := $(BUILD)/generated

object = $(patsubst %.c,$(BUILD)/obj/%.o,$(1))
LIB_OBJECTS := $(call object,$(LIB_SOURCES)) $(GENERATED)/sources_table.o
CORE_OBJECTS := $(call object,$(CORE_SOURCES)) $(GENERATED)/embedded.o
COMMAND_OBJECTS := $(call object,$(COMMAND_SOURCES))

STATIC := $(BUILD)/libhairfibre.a
CORE := $(BUILD)/core.a
SHARED := $(BUILD)/libhairfibre.so.$(VERSION)
MODULE := $(BUILD)/hairfibre.so
PROGRAM := $(BUILD)/hairfibre

# One line for each file made; V=1 shows the commands.
run = $(if $(V),,@printf '  %-5s %s\n' $(1) $@ && )

.PHONY: always all setup demo check check-asan check-reference check-report check-build run-tests bench docs reference lint install install-lua \
	uninstall deb portable rock check-packages clean

all: $(STATIC) $(SHARED) $(MODULE) $(PROGRAM) $(BUILD)/hairfibre.pc

setup:
	@sh tests/setup.sh $(PACKAGES)

demo: setup
	@$(MAKE) --no-print-directory all
	@$(PROGRAM) run examples/first_lesson.lua --out $(BUILD)/demo

check: setup
	@$(MAKE) --no-print-directory run-tests

# ---- library -------------------------------------------------------------------------------------
# Loops over the cells of a fibre are where treatments spend their time.
$(BUILD)/obj/lib/transport/%.o: OPTIMISE := $(patsubst -O2,-O3 -fno-math-errno,$(OPTIMISE))

$(BUILD)/obj/%.o: %.c
	@mkdir -p $(@D)
	$(call run,CC)$(CC) $(HF_CFLAGS) $(if $(filter lua/% tests/%,$<),$(LUA_CFLAGS)) -c -o $@ $<

$(GENERATED)/%.o: $(GENERATED)/%.c
	$(call run,CC)$(CC) $(HF_CFLAGS) -Ilua/core -Itests/fuzz -c -o $@ $<

$(GENERATED)/sources_table.c: docs/sources.bib lua/core/bibtable.lua
	@mkdir -p $(@D)
	$(call run,LUA)$(LUA) lua/core/bibtable.lua docs/sources.bib $@

$(GENERATED)/embedded.c: lua/core/embed.lua $(LUA_FILES) $(DATA_FILES) docs/lua.md $(PAGE_FILES)
	@mkdir -p $(@D)
	$(call run,LUA)$(LUA) lua/core/embed.lua $@ \
	    $(foreach f,$(LUA_FILES),$(subst /,.,$(patsubst lua/%.lua,%,$(f)))=$(f)) \
	    $(foreach f,$(DATA_FILES),data.$(basename $(notdir $(f)))=$(f)) \
	    page.lua=docs/lua.md page.report_css=lua/report/page.css page.report_js=lua/report/page.js \
	    argparse=$(LUA_SHARE)/argparse.lua dkjson=$(LUA_SHARE)/dkjson.lua

$(STATIC): $(LIB_OBJECTS)
$(CORE): $(CORE_OBJECTS)
$(STATIC) $(CORE):
	@rm -f $@
	$(call run,AR)$(AR) rcs $@ $^

$(SHARED): $(LIB_OBJECTS)
	$(call run,LINK)$(CC) -shared -Wl,-soname,libhairfibre.so.$(SOVERSION) $(OPENMP) $(SANITISE) $(LDFLAGS) -o $@ $^ $(LIBS)
	@ln -sf $(@F) $(BUILD)/libhairfibre.so.$(SOVERSION)
	@ln -sf libhairfibre.so.$(SOVERSION) $(BUILD)/libhairfibre.so

# nodelete: threads of OpenMP wait in code that closing the Lua state would otherwise take away.
$(MODULE): $(CORE_OBJECTS) $(STATIC)
	$(call run,LINK)$(CC) -shared -Wl,--exclude-libs,ALL -Wl,-z,nodelete $(OPENMP) $(SANITISE) $(LDFLAGS) -o $@ $^ $(EDGE_LIBS) $(LIBS)

$(PROGRAM): $(COMMAND_OBJECTS) $(CORE_OBJECTS) $(STATIC)
	$(call run,LINK)$(CC) -Wl,-E $(OPENMP) $(SANITISE) $(LDFLAGS) -o $@ $^ $(EDGE_LIBS) -lreadline $(LUA_LIBS) $(LIBS)

# Made anew each time: the prefix may have changed since.
$(BUILD)/hairfibre.pc: lib/hairfibre.pc.in always
	@mkdir -p $(@D)
	@sed -e 's|@prefix@|$(prefix)|; s|@libdir@|$(libdir)|; s|@includedir@|$(includedir)|' \
	    -e 's|@version@|$(VERSION)|' $< > $@

# ---- tests ---------------------------------------------------------------------------------------
TEST_SOURCES := $(wildcard tests/unit/test_*.c tests/property/test_*.c tests/reference/test_*.c)
TEST_PROGRAMS := $(patsubst tests/%.c,$(BUILD)/tests/%,$(TEST_SOURCES))
BENCH_PROGRAMS := $(patsubst tests/%.c,$(BUILD)/tests/%,$(wildcard tests/bench/bench_*.c))

# Lua's C half is linked too, so that a test may drive it under a failing allocator.
$(BUILD)/tests/%: $(BUILD)/obj/tests/%.o $(CORE) $(STATIC)
	@mkdir -p $(@D)
	$(call run,LINK)$(CC) $(OPENMP) $(SANITISE) $(LDFLAGS) -o $@ $^ $(TEST_LIBS) -lcmocka $(EDGE_LIBS) $(LUA_LIBS) $(LIBS)

# GSL is linked in, so that its requests for memory fail too.
$(BUILD)/tests/unit/test_memory: TEST_LIBS := -l:libgsl.a -l:libgslcblas.a \
	$(foreach f,malloc calloc realloc free gsl_multifit_nlinear_alloc,-Wl,--wrap=$(f))

# ---- fuzzing --------------------------------------------------------------------------------------
# Each tests/fuzz/fuzz_NAME.c is linked twice: with a main that replays files (for check, no clang), and with
# libFuzzer. Inputs that once were faults stay in tests/fuzz/regressions/NAME.
FUZZ_NAMES := $(patsubst tests/fuzz/fuzz_%.c,%,$(wildcard tests/fuzz/fuzz_*.c))
REPLAYS = $(FUZZ_NAMES:%=$(BUILD)/fuzz/replay_%)
FUZZ_KIT := $(call object,tests/fuzz/reader.c tests/fuzz/lua_kit.c lua/command/sandbox.c) $(GENERATED)/fuzz_calls.o
FUZZ_SECONDS ?= 300
# Short buffers for the import: see lua/core/import_text.h.
FUZZ_CFLAGS := -Wno-unknown-pragmas -DHFI_TEXT_HEAD=64 -DHFI_TEXT_PIECE=16 -DHFI_TEXT_LINE=256 \
	-DHFI_ROW_CELLS=8 -DHFI_MOST_WORDS=20u
FUZZ_RUNS ?= 100
.PHONY: fuzz fuzz-short fuzz-programs

$(GENERATED)/fuzz_calls.c: tests/fuzz/calls.lua $(wildcard include/hairfibre/*.h tests/fuzz/fuzz_*.c)
	@mkdir -p $(@D)
	$(call run,LUA)$(LUA) tests/fuzz/calls.lua $@ $(wildcard include/hairfibre/*.h) -- tests/fuzz/reader.c $(wildcard tests/fuzz/fuzz_*.c)

$(BUILD)/fuzz/replay_%: $(BUILD)/obj/tests/fuzz/fuzz_%.o $(call object,tests/fuzz/replay.c) $(FUZZ_KIT) \
		$(CORE) $(STATIC)
	@mkdir -p $(@D)
	$(call run,LINK)$(CC) $(OPENMP) $(SANITISE) $(LDFLAGS) -o $@ $^ $(EDGE_LIBS) $(LUA_LIBS) $(LIBS)

$(BUILD)/fuzz/fuzz_%: $(BUILD)/obj/tests/fuzz/fuzz_%.o $(FUZZ_KIT) $(CORE) $(STATIC)
	@mkdir -p $(@D)
	$(call run,LINK)$(CC) -fsanitize=fuzzer $(SANITISE) $(LDFLAGS) -o $@ $^ $(EDGE_LIBS) $(LUA_LIBS) $(LIBS)

fuzz-programs: $(FUZZ_NAMES:%=$(BUILD)/fuzz/fuzz_%)

# Long: FUZZ_SECONDS for each harness, as long as you like. Short: a fixed number of runs from a fixed seed.
fuzz fuzz-short: setup
	@sh tests/setup.sh $(FUZZ_PACKAGES)
	@$(MAKE) --no-print-directory BUILD=build/fuzzing CC=clang OPENMP= \
	    CFLAGS='$(FUZZ_CFLAGS)' \
	    SANITISE='-fsanitize=address,undefined,fuzzer-no-link -fno-sanitize-recover=all' fuzz-programs
	@$(MAKE) --no-print-directory all
	@LUA_CPATH="$(BUILD)/?.so;;" $(LUA) tests/fuzz/seeds.lua build/fuzzing
	@BUILD=build/fuzzing FUZZ_SECONDS=$(FUZZ_SECONDS) FUZZ_RUNS=$(FUZZ_RUNS) sh tests/fuzz/run.sh \
	    $(if $(filter fuzz-short,$@),short,long) $(FUZZ_NAMES)

# The report page in headless Chromium.
check-report: setup
	@sh tests/setup.sh $(REPORT_PACKAGES)
	@$(MAKE) --no-print-directory all
	@BUILD=$(BUILD) SUITES=report sh tests/run.sh

# Faults put into the models one by one: each must be seen by a test. Takes some minutes.
check-mutation: setup
	@rm -rf $(BUILD)/mutation && mkdir -p $(BUILD)/mutation
	@$(LUA) tests/mutation/run.lua $(BUILD)/mutation $(FAULTS)

check-build: all $(TEST_PROGRAMS) $(REPLAYS)

run-tests: check-build
	@BUILD=$(BUILD) sh tests/run.sh $(TEST_PROGRAMS)

# ---- sanitizers --------------------------------------------------------------------------------------
# Each has a build folder of its own. asan: addresses, leaks and undefined behaviour; ubsan: the last alone, which
# lets Python load the library too. Plain Lua is not built for it: the run time is preloaded, leaks are looked for
# in the other suites.
UNDEFINED := undefined,float-cast-overflow
ASAN_SUITES ?= c fuzz lua command
SANITIZED_TESTS = $(patsubst $(BUILD)/%,$(1)/%,$(TEST_PROGRAMS))

check-asan: setup
	@$(MAKE) --no-print-directory BUILD=build/asan OPTIMISE=-O1 \
	    SANITISE='-fsanitize=address,$(UNDEFINED) -fno-sanitize-recover=all' check-build
	@BUILD=build/asan SANITISE='-fsanitize=address,$(UNDEFINED)' SUITES="$(ASAN_SUITES)" PRELOAD=$$($(CC) -print-file-name=libasan.so) sh tests/run.sh \
	    $(call SANITIZED_TESTS,build/asan)

check-ubsan: setup
	@$(MAKE) --no-print-directory BUILD=build/ubsan OPTIMISE=-O1 \
	    SANITISE='-fsanitize=$(UNDEFINED) -fno-sanitize-recover=all' check-build
	@BUILD=build/ubsan SANITISE='-fsanitize=$(UNDEFINED)' SUITES="c fuzz reference lua command" sh tests/run.sh $(call SANITIZED_TESTS,build/ubsan)

# What runs in several threads, with clang: its OpenMP tells the sanitizer of its barriers (archer), that of gcc does not.
TSAN_PACKAGES := clang libclang-rt-dev libomp-dev
TSAN_TESTS := test_threads test_ensemble test_sensitivity test_uncertainty test_fit_intervals test_likelihood
TSAN_PROGRAMS := $(TSAN_TESTS:%=build/tsan/tests/unit/%)

check-tsan: setup
	@sh tests/setup.sh $(TSAN_PACKAGES)
	@$(MAKE) --no-print-directory BUILD=build/tsan CC=clang OPTIMISE=-O1 SANITISE=-fsanitize=thread $(TSAN_PROGRAMS)
	@OMP_TOOL_LIBRARIES=$$(ls /usr/lib/llvm-*/lib/libarcher.so | tail -n 1) TSAN_OPTIONS=ignore_noninstrumented_modules=1 \
	    OMP_NUM_THREADS=4 BUILD=build/tsan SUITES=c sh tests/run.sh $(TSAN_PROGRAMS)

# Memory that was never written, which the sanitizers of gcc do not see. Some thirty times slower than without, so the tests
# are those that go once through every room, each loop a few times; the long ones only repeat the same code.
VALGRIND_TESTS := test_base test_quantity test_water test_keratin test_vapour test_bonds test_sulfur test_history \
	test_strength test_strength_fatigue test_strength_levels test_block_tridiagonal test_mesh test_liquid_steps test_fit test_statistics \
	test_rosenbrock test_rosenbrock_control test_likelihood

check-valgrind: setup
	@sh tests/setup.sh valgrind
	@$(MAKE) --no-print-directory check-build
	@BUILD=$(BUILD) SUITES=c WRAPPER='valgrind --quiet --error-exitcode=1 --leak-check=full --errors-for-leak-kinds=definite' \
	    sh tests/run.sh $(filter $(VALGRIND_TESTS:%=$(BUILD)/tests/unit/%),$(TEST_PROGRAMS))

.PHONY: check-ubsan check-tsan check-valgrind

# R computes the same from the same tables: tests/reference/*.R.
check-reference: setup
	@sh tests/setup.sh $(REFERENCE_PACKAGES)
	@$(MAKE) --no-print-directory all
	@BUILD=$(BUILD) sh tests/reference.sh

bench: setup
	@$(MAKE) --no-print-directory all $(BENCH_PROGRAMS)
	@BUILD=$(BUILD) CC='$(CC)' BENCH_FLAGS='-std=c11 $(OPTIMISE) -ffp-contract=off $(OPENMP); lib/transport -O3 -fno-math-errno' \
	    sh tests/bench/run.sh

# docs/performance.md and its picture anew from the last `make bench`.
docs-performance:
	@test -s $(BUILD)/bench.csv && test -s $(BUILD)/growth.csv || { echo "run make bench first"; exit 2; }
	@BUILD=$(BUILD) $(PROGRAM) run --trust docs/performance.lua

# ---- documents, style, installation --------------------------------------------------------------
docs: all
	$(PROGRAM) run --trust docs/generate.lua

# Pages of the Lua module, from the same comments as the editors get.
reference: setup
	@sh tests/setup.sh lua-ldoc
	@$(MAKE) --no-print-directory all
	@mkdir -p $(BUILD)/reference
	$(PROGRAM) run --trust docs/annotations.lua pages $(BUILD)/reference/hairfibre.lua
	ldoc --quiet --all --project hairfibre --title "hairfibre: Lua module" --date "" \
	    --dir $(BUILD)/reference/html $(BUILD)/reference/hairfibre.lua
	@echo 'table.function_list td.name { white-space: normal; width: 45%; } table.function_list td { width: 55%; }' \
	    >>$(BUILD)/reference/html/ldoc.css

# Two compilers, warnings are errors.
check-compilers: setup
	@sh tests/setup.sh $(LINT_PACKAGES)
	@$(MAKE) --no-print-directory CI=1 CC=gcc BUILD=$(BUILD)/gcc all
	@$(MAKE) --no-print-directory CI=1 CC=clang BUILD=$(BUILD)/clang all

# lint takes seconds, analyse some minutes; their checks stand in .luacheckrc and .clang-tidy. Any find ends them.
LINTED := $(LIB_SOURCES) $(CORE_SOURCES) $(COMMAND_SOURCES)
LINT_FLAGS = -std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Ilib $(LUA_CFLAGS)
FORMATTED = $(wildcard include/*.h include/*/*.h lib/*/*.[ch] lua/*/*.[ch] tests/*/*.[ch] examples/*.[ch])
AT_ONCE := $(shell nproc)
.PHONY: check-compilers analyse format docs-performance

lint: setup
	@sh tests/setup.sh $(LINT_PACKAGES)
	@clang-format --dry-run -Werror $(FORMATTED)
	@luacheck -q lua examples docs tests

format:
	@clang-format -i $(FORMATTED)

analyse: setup
	@sh tests/setup.sh $(LINT_PACKAGES)
	@cppcheck --quiet --std=c11 --enable=warning,portability,performance --inline-suppr --error-exitcode=1 -j $(AT_ONCE) \
	    --suppress=missingIncludeSystem -D_POSIX_C_SOURCE=200809L -Iinclude -Ilib lib lua
	@echo "cppcheck: nothing found"
	@printf '%s\n' $(LINTED) | xargs -P $(AT_ONCE) -I{} gcc $(LINT_FLAGS) -fanalyzer -O1 -Werror -c -o /dev/null {}
	@echo "gcc -fanalyzer: nothing found"
	@printf '%s\n' $(LINTED) | xargs -P $(AT_ONCE) -n 8 sh -c 'clang-tidy --quiet "$$@" -- $(LINT_FLAGS) -fopenmp 2>&1 | \
	    { ! grep -v "warnings generated\|^Suppressed\|^Use -header-filter"; }' tidy
	@echo "clang-tidy: nothing found"

# Text that the program writes about itself: completion of names for editors.
$(BUILD)/share/hairfibre/library/hairfibre.lua: docs/annotations.lua docs/lua.md $(PROGRAM)
	@mkdir -p $(@D)
	$(PROGRAM) run --trust docs/annotations.lua editors $@

install: all install-lua $(BUILD)/share/hairfibre/library/hairfibre.lua
	install -d $(DESTDIR)$(bindir) $(DESTDIR)$(libdir)/pkgconfig $(DESTDIR)$(includedir)/hairfibre \
	    $(DESTDIR)$(mandir)/man1 $(DESTDIR)$(mandir)/man3 $(DESTDIR)$(datadir)/hairfibre/library \
	    $(DESTDIR)$(datadir)/bash-completion/completions $(DESTDIR)$(datadir)/zsh/vendor-completions \
	    $(DESTDIR)$(datadir)/fish/vendor_completions.d
	install -m 755 $(PROGRAM) $(DESTDIR)$(bindir)/hairfibre
	install -m 644 $(STATIC) $(SHARED) $(DESTDIR)$(libdir)/
	ln -sf $(notdir $(SHARED)) $(DESTDIR)$(libdir)/libhairfibre.so.$(SOVERSION)
	ln -sf libhairfibre.so.$(SOVERSION) $(DESTDIR)$(libdir)/libhairfibre.so
	install -m 644 include/hairfibre.h $(DESTDIR)$(includedir)/
	install -m 644 $(wildcard include/hairfibre/*.h) $(DESTDIR)$(includedir)/hairfibre/
	install -m 644 $(BUILD)/hairfibre.pc $(DESTDIR)$(libdir)/pkgconfig/
	install -m 644 docs/hairfibre.1 $(DESTDIR)$(mandir)/man1/
	install -m 644 docs/libhairfibre.3 $(DESTDIR)$(mandir)/man3/
	install -m 644 $(BUILD)/share/hairfibre/library/hairfibre.lua $(DESTDIR)$(datadir)/hairfibre/library/
	install -m 644 lua/shell/hairfibre.bash $(DESTDIR)$(datadir)/bash-completion/completions/hairfibre
	install -m 644 lua/shell/_hairfibre $(DESTDIR)$(datadir)/zsh/vendor-completions/
	install -m 644 lua/shell/hairfibre.fish $(DESTDIR)$(datadir)/fish/vendor_completions.d/

# The module alone: its Lua half is inside it.
install-lua: $(MODULE)
	install -d $(DESTDIR)$(luadir)
	install -m 644 $(MODULE) $(DESTDIR)$(luadir)/

uninstall:
	rm -f $(DESTDIR)$(bindir)/hairfibre $(DESTDIR)$(libdir)/libhairfibre.a \
	    $(DESTDIR)$(libdir)/libhairfibre.so* $(DESTDIR)$(luadir)/hairfibre.so \
	    $(DESTDIR)$(includedir)/hairfibre.h $(DESTDIR)$(libdir)/pkgconfig/hairfibre.pc \
	    $(DESTDIR)$(mandir)/man1/hairfibre.1 $(DESTDIR)$(mandir)/man3/libhairfibre.3 \
	    $(DESTDIR)$(datadir)/bash-completion/completions/hairfibre \
	    $(DESTDIR)$(datadir)/zsh/vendor-completions/_hairfibre \
	    $(DESTDIR)$(datadir)/fish/vendor_completions.d/hairfibre.fish
	rm -rf $(DESTDIR)$(includedir)/hairfibre $(DESTDIR)$(datadir)/hairfibre

# ---- packages ------------------------------------------------------------------------------------
# docs/packaging.md says what each is for. Results: build/deb, build/portable, build/rock.
deb: setup
	@sh tests/setup.sh $(PACKAGING_PACKAGES)
	@BUILD=$(BUILD) VERSION=$(VERSION) sh docs/packaging/deb.sh

portable: setup
	@sh tests/setup.sh $(PACKAGING_PACKAGES)
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/static CFLAGS='$(CFLAGS) -DHFI_PORTABLE' \
	    $(BUILD)/static/hairfibre-static
	@BUILD=$(BUILD) PROGRAM=$(BUILD)/static/hairfibre-static VERSION=$(VERSION) sh docs/packaging/portable.sh

# Everything in one file. Lua and readline name functions of the C library that want shared files; the
# program calls none of them (packages are preloaded, no home folder is looked up): hence the filter.
$(BUILD)/hairfibre-static: $(COMMAND_OBJECTS) $(CORE_OBJECTS) $(STATIC)
	$(CC) -static -s $(OPENMP) $(LDFLAGS) -o $@ $^ $(EDGE_LIBS) -lexpat -lreadline -ltinfo $(LUA_LIBS) $(LIBS) -ldl \
	    2>&1 | grep -vE "statically linked applications requires|in function|^$$" || test -x $@

rock: setup
	@sh tests/setup.sh $(PACKAGING_PACKAGES)
	luarocks --lua-version 5.4 --tree $(BUILD)/rock make docs/packaging/hairfibre-$(VERSION)-1.rockspec

check-packages: deb portable rock
	@BUILD=$(BUILD) VERSION=$(VERSION) sh tests/packages.sh

clean:
	rm -rf build

-include $(shell find $(BUILD)/obj $(BUILD)/generated -name '*.d' -type f 2>/dev/null)
.SECONDARY:
