# make          builds out/sheaf
# make demo     installs what is missing, builds, writes out/demo.pdf and out/demo-completed.pdf
# make test     installs what tests need too, runs them all; last line: N passed, N failed
# make bless CASE=name   takes what the program says now as that case's expected text
# make fuzz SECONDS=60   each fuzz target that long
# make pictures          the pages of the demo as pictures, under out/pictures; docs/pages.md shows some
# make legible           how much of a copy of a copy can be read back; installs what that takes
# make faults            memory, files and calls of the system failing in turn, hostile inputs
# make mistakes          what is said of mistakes planted in the builds and specs
# make coverage, make bench
# make install PREFIX=/usr/local DESTDIR=   program, library, pages, completion
# make deb      out/sheaf_VERSION_ARCHITECTURE.deb
# make format, make clean
#
# All that is made goes under $(OUT). Other builds have a folder of their own:
# OUT=out/clang CC=clang, OUT=out/asan-gcc SANITIZE=yes.

OUT    = out
PREFIX = /usr/local
SECONDS = 60
DEMO   = templates/builds/twin_870.yaml
DEMO_READINGS = templates/readings/twin_870.yaml
ifeq ($(origin CC),default)
CC = gcc
endif
# Where the binary looks for specs/ and templates/ when it is not told.
LIBRARY = $(CURDIR)

# python3-munkres is what python3-fonttools takes in place of all of scipy.
NEEDS      = gcc libc6-dev libyaml-dev libhpdf-dev libmd-dev \
  python3 python3-munkres python3-fonttools fonts-dejavu-core
TEST_NEEDS = $(NEEDS) clang libclang-rt-dev libcmocka-dev poppler-utils qpdf units freecad-common \
  python3-yaml python3-jsonschema

STANDARD = -std=c11 -D_POSIX_C_SOURCE=200809L -ffp-contract=off
WARNINGS = -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes \
  -Wmissing-prototypes -Wformat=2 -Wundef -Wvla -Wwrite-strings -Werror
ifdef SANITIZE
CFLAGS   = -O1 -g -fno-omit-frame-pointer
SANITIZERS = -fsanitize=address,undefined -fno-sanitize-recover=all
else
CFLAGS   = -O2 -g
endif
# The prefix map keeps the folder's name out of the objects.
COMPILE = $(CC) $(STANDARD) $(CFLAGS) $(SANITIZERS) $(WARNINGS) -ffile-prefix-map=$(CURDIR)=. \
  -Isrc -MMD -MP
LIBS    = -lyaml -lhpdf -lmd -lm

FACES   = out/gen/typeface_data
SOURCES = $(wildcard src/*.c src/*/*.c)
OBJECTS = $(SOURCES:src/%.c=$(OUT)/obj/%.o) $(OUT)/obj/gen/typeface_data.o
# All but main, for the tests to link with.
ARCHIVE = $(OUT)/obj/sheaf.a
TESTS   = $(patsubst tests/%.c,$(OUT)/tests/%,$(wildcard tests/unit/test_*.c tests/published/*.c))

all: $(OUT)/sheaf

$(OUT)/sheaf: $(OUT)/obj/main.o $(ARCHIVE)
	$(CC) $(CFLAGS) $(SANITIZERS) -o $@ $^ $(LIBS)

$(ARCHIVE): $(filter-out $(OUT)/obj/main.o,$(OBJECTS))
	rm -f $@
	ar rcsD $@ $^

$(OUT)/obj/%.o: src/%.c
	@mkdir -p $(@D)
	$(COMPILE) -c -o $@ $<

# Only main.o knows the folder, so that two folders give the same other objects.
$(OUT)/obj/main.o: src/main.c $(OUT)/obj/library
	@mkdir -p $(@D)
	$(COMPILE) -DSHEAF_LIBRARY='"$(LIBRARY)"' -c -o $@ $<

$(OUT)/obj/library: always
	@mkdir -p $(@D)
	@echo '$(LIBRARY)' | cmp -s - $@ || echo '$(LIBRARY)' > $@

$(OUT)/obj/gen/typeface_data.o: $(FACES).c
	@mkdir -p $(@D)
	$(COMPILE) -c -o $@ $<

$(FACES).c: src/model/typeface.py
	@mkdir -p $(@D)
	python3 src/model/typeface.py $(@D)

programs: $(OUT)/sheaf $(TESTS)

$(OUT)/tests/%: tests/%.c $(ARCHIVE)
	@mkdir -p $(@D)
	$(COMPILE) -Itests -o $@ $< $(ARCHIVE) -lcmocka $(LIBS)

# What the program asks of the system fails, one call at a time.
faults: all $(OUT)/tests/faults/arena $(OUT)/tests/faults/shim.so
	@tests/faults/run $(OUT) $(if $(QUICK),quick)
	@$(if $(QUICK),,tests/faults/hostile $(OUT))

$(OUT)/tests/faults/%: tests/faults/%.c $(ARCHIVE)
	@mkdir -p $(@D)
	$(COMPILE) -o $@ $< $(ARCHIVE) $(LIBS)

$(OUT)/tests/faults/shim.so: tests/faults/shim.c
	@mkdir -p $(@D)
	$(CC) -std=gnu11 -O1 -g -Wall -Wextra -shared -fPIC -o $@ $<

# Mistakes planted in copies of the builds and specs, and harmless changes.
mistakes: all
	@tests/mistakes/run $(OUT)/sheaf $(OUT)/mistakes

coverage:
	@$(MAKE) --no-print-directory -s OUT=out/coverage CC=gcc \
	  CFLAGS='-O0 -g --coverage' programs
	@tests/coverage out/coverage

bench: all $(OUT)/tests/bench/floor
	@tests/bench/run $(OUT)

$(OUT)/tests/bench/%: tests/bench/%.c $(ARCHIVE)
	@mkdir -p $(@D)
	$(COMPILE) -o $@ $< $(ARCHIVE) $(LIBS)

# Fuzz targets bring their own main; all the program is built to be watched.
FUZZ = $(patsubst tests/%.c,out/fuzz/tests/%,$(wildcard tests/fuzz/fuzz_*.c))
fuzz:
	@$(MAKE) --no-print-directory -s OUT=out/fuzz CC=clang SANITIZE=yes \
	  SANITIZERS='-fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all' $(FUZZ)
	@tests/fuzz/run out/fuzz/tests/fuzz $(SECONDS)

$(OUT)/tests/fuzz/%: tests/fuzz/%.c $(wildcard tests/fuzz/*.h) tests/fuzz/pack.c tests/fuzz/lines.c $(ARCHIVE)
	@mkdir -p $(@D)
	$(COMPILE) -Itests -fsanitize=fuzzer -o $@ $(filter %.c %.a,$^) $(LIBS)

demo:
	@sh .ci/need $(NEEDS)
	@$(MAKE) --no-print-directory all
	$(OUT)/sheaf packet $(DEMO) -o $(OUT)/demo.pdf
	$(OUT)/sheaf packet $(DEMO) --readings $(DEMO_READINGS) -o $(OUT)/demo-completed.pdf

test:
	@sh .ci/need $(TEST_NEEDS)
	@python3 tests/run

LEGIBLE_NEEDS = $(NEEDS) poppler-utils python3-pil tesseract-ocr tesseract-ocr-eng
legible:
	@sh .ci/need $(LEGIBLE_NEEDS)
	@$(MAKE) --no-print-directory all
	tests/legible

PICTURE_NEEDS = $(NEEDS) poppler-utils
pictures:
	@sh .ci/need $(PICTURE_NEEDS)
	@$(MAKE) --no-print-directory all
	@rm -rf $(OUT)/pictures && mkdir -p $(OUT)/pictures
	$(OUT)/sheaf packet $(DEMO) -o $(OUT)/demo.pdf
	$(OUT)/sheaf packet $(DEMO) --readings $(DEMO_READINGS) -o $(OUT)/demo-completed.pdf
	pdftoppm -r 100 -gray -png $(OUT)/demo.pdf $(OUT)/pictures/page
	docs/pictures $(OUT)/demo.pdf $(OUT)/demo-completed.pdf $(OUT)/pictures

# For editors: the keys of every kind, with the library's ids as choices.
schema: all
	$(OUT)/sheaf language schema > out/sheaf.schema.json

bless: all
	@test -n '$(CASE)' || { echo 'which case? make bless CASE=name' >&2; exit 1; }
	python3 tests/run --bless $(foreach case,$(CASE),'$(case)')

# The same program but for main.o, which knows the folder of the library.
install: $(ARCHIVE)
	@mkdir -p $(OUT)/install
	$(COMPILE) -DSHEAF_LIBRARY='"$(PREFIX)/share/sheaf"' -c -o $(OUT)/install/main.o src/main.c
	$(CC) $(CFLAGS) $(SANITIZERS) -o $(OUT)/install/sheaf $(OUT)/install/main.o $(ARCHIVE) $(LIBS)
	install -D $(OUT)/install/sheaf '$(DESTDIR)$(PREFIX)/bin/sheaf'
	install -D -m 644 docs/sheaf.1 '$(DESTDIR)$(PREFIX)/share/man/man1/sheaf.1'
	install -D -m 644 docs/completion/sheaf.bash \
	  '$(DESTDIR)$(PREFIX)/share/bash-completion/completions/sheaf'
	install -D -m 644 docs/completion/_sheaf '$(DESTDIR)$(PREFIX)/share/zsh/site-functions/_sheaf'
	install -D -m 644 -t '$(DESTDIR)$(PREFIX)/share/doc/sheaf' README.md LICENSE docs/*.md
	for file in $$(find specs templates -name '*.yaml'); do \
	  install -D -m 644 $$file '$(DESTDIR)$(PREFIX)/share/sheaf/'$$file || exit 1; done
	mkdir -p '$(DESTDIR)$(PREFIX)/share/sheaf/out' # where the library's files look for it
	$(OUT)/install/sheaf language schema --library . \
	  > '$(DESTDIR)$(PREFIX)/share/sheaf/out/sheaf.schema.json'

deb: all
	sh .ci/deb out

format:
	clang-format -i src/*.c src/*/*.c src/*/*.h tests/unit/*.c tests/unit/*.h $(wildcard tests/published/*.[ch])

clean:
	rm -rf out

.PHONY: all always programs legible pictures fuzz faults mistakes coverage bench demo test schema bless install format clean
.DELETE_ON_ERROR:
-include $(OBJECTS:.o=.d) $(TESTS:=.d)
