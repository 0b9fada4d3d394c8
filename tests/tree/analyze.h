/* Read before each file that gcc -fanalyzer looks at. GLib tells clang's analyzer alone that an
 * assertion that fails does not come back. */
#pragma once

#include <glib.h>

#define FAILS(name, ...) void g_assertion_message##name (__VA_ARGS__) __attribute__ ((noreturn))
FAILS (, const char *, const char *, int, const char *, const char *);
FAILS (_expr, const char *, const char *, int, const char *, const char *);
FAILS (_cmpnum, const char *, const char *, int, const char *, const char *, long double,
       const char *, long double, char);
FAILS (_cmpstr, const char *, const char *, int, const char *, const char *, const char *,
       const char *, const char *);
FAILS (_error, const char *, const char *, int, const char *, const char *, const GError *, GQuark,
       int);
#undef FAILS
