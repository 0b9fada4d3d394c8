#pragma once

#include <glib.h>
#include <stdint.h>

/* A driver is a file with this one function (https://llvm.org/docs/LibFuzzer.html). Linked
 * with libFuzzer it is fed whatever reaches new code; linked with replay.c it is fed the
 * files of corpus/NAME. A fault is a crash, a failed assertion or a warning of GLib. */
int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* A folder for the run, removed at its end; static. */
const char *fuzz_folder (void);

/* The bytes as text, up to the first NUL of them; free with g_free(). */
char *fuzz_dup_text (const uint8_t *data, size_t size);

/* Asserts that @error says something, in UTF-8. */
void fuzz_assert_said (const GError *error);

/* A file of these bytes, no more, in the run's folder; its path, owned by the caller. */
char *fuzz_write (const char *name, const void *data, gsize size);
