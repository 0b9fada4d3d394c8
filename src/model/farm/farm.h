#pragma once

#include "model/farm/kind.h"
#include "model/farm/record.h"
#include "science/measure.h"
#include <glib-object.h>

/* A farm file, open. Everything is read through it and every change goes
 * through a BedEdit on it. One thread at a time.
 *
 * Signal "changed" (guint64 kinds): after every commit, undo and redo, made here or
 * elsewhere (see bed_farm_look_again); bit n stands for BedKind n. While it is emitted the
 * farm stands still: every handler reads the same state.
 *
 * Signal "state-changed" (): bed_farm_is_held() or bed_farm_get_read_only_why() answers
 * otherwise than before. */
#define BED_TYPE_FARM (bed_farm_get_type ())
G_DECLARE_FINAL_TYPE (BedFarm, bed_farm, BED, FARM, GObject)

#define BED_FARM_ERROR (bed_farm_error_quark ())
GQuark bed_farm_error_quark (void);

typedef enum
{
  BED_FARM_ERROR_NOT_FOUND,  /* no such file, or no such record */
  BED_FARM_ERROR_NOT_A_FARM, /* the file is something else */
  BED_FARM_ERROR_CORRUPT,    /* truncated or damaged */
  BED_FARM_ERROR_READ_ONLY,
  BED_FARM_ERROR_BUSY, /* another program holds it */
  BED_FARM_ERROR_FULL, /* no room on the disk */
  BED_FARM_ERROR_EXISTS,
  BED_FARM_ERROR_INVALID,  /* a value breaks a rule; the message says what would be right */
  BED_FARM_ERROR_CONFLICT, /* what is to be undone has been changed since */
  BED_FARM_ERROR_NOTHING,  /* nothing to undo or redo */
  BED_FARM_ERROR_FAILED,
} BedFarmError;

/* Sets it, with a format and its values; FALSE. */
#define bed_farm_refuse(error, code, ...)                                                          \
  (g_set_error (error, BED_FARM_ERROR, code, __VA_ARGS__), FALSE)

#define BED_CURRENCY_NONE                                                                          \
  "X"                                                                                              \
  "XX" /* ISO 4217: no currency */

/* Makes a new farm file from @settings (kind FARM), with the given woods,
 * mushrooms and strains in it. EXISTS when there is a file at @path already. */
BedFarm *bed_farm_new (const char *path, BedRecord *settings, GError **error);

/* A farm in no file, for a form that must speak with one before there is a file. */
BedFarm *bed_farm_new_draft (BedRecord *settings, GError **error);

/* The same as bed_farm_new() with the clock fixed from the first moment (see bed_farm_fix_clock),
 * so that the same steps make the same bytes. */
BedFarm *bed_farm_new_at (const char *path, BedRecord *settings, const char *now, guint32 seed,
                          GError **error);

/* Opens a farm file. A file from a newer version or one that cannot be written
 * opens for reading only (see bed_farm_get_read_only_why). */
BedFarm *bed_farm_open (const char *path, GError **error);

/* The same where waiting is no harm, in a tool or a thread: five seconds for a program that holds
 * the file, now and at every question later. */
BedFarm *bed_farm_open_patiently (const char *path, GError **error);

/* What opens the file of @self once more, with the same clock and so in the same name: a thread
 * must have a farm of its own. Made where @self is used; opened anywhere, waiting for a program
 * that holds the file as bed_farm_open_patiently() does. */
typedef struct _BedFarmTwin BedFarmTwin;
BedFarmTwin *bed_farm_twin_new (BedFarm *self);
BedFarm *bed_farm_twin_open (const BedFarmTwin *twin, GError **error);
void bed_farm_twin_free (BedFarmTwin *twin);

/* As it was given; borrowed. */
const char *bed_farm_get_path (BedFarm *self);

/* Whether @path is the file that this farm was opened from, by that or another name. */
gboolean bed_farm_is_file (BedFarm *self, const char *path);

/* Why nothing can be written, in words, or NULL when it can. It may have become so since it was
 * opened: the file is no longer where it was. */
const char *bed_farm_get_read_only_why (BedFarm *self);

/* Several programs, and several BedFarms of one program, may have the same file open. This
 * looks whether it was changed elsewhere, is held by another, or is no longer where it was,
 * and emits the signals. Cheap, and never waits: call it every half second, and after BUSY. */
void bed_farm_look_again (BedFarm *self);

/* Whether another program held the file, in vain waited for, when it was last asked. What is
 * read meanwhile fails; "changed" for every kind follows when it is free. */
gboolean bed_farm_is_held (BedFarm *self);

/* How long reading and writing wait for another program before they fail with BUSY: 1000 ms
 * unless set. */
void bed_farm_set_patience (BedFarm *self, guint ms);

/* Everything read between the two is of one state, and none of it fails for want of a lock.
 * FALSE (then do not end it) when another holds the file. May be nested; short, for others
 * cannot write meanwhile. The end is FALSE, with the first of them, when any question asked in
 * between failed, also those whose answer had no room for an error (a name, a count, a row): what
 * was read then is no answer. What an inner reading met it tells alone. */
gboolean bed_farm_begin_reading (BedFarm *self);
gboolean bed_farm_end_reading (BedFarm *self, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* After questions have failed: "changed" for every kind, so that all is asked anew. */
void bed_farm_ask_again (BedFarm *self);

/* The settings record as it is now; borrowed, replaced after a change. It has a name and three
 * letters of a currency, whatever the file holds. */
BedRecord *bed_farm_get_settings (BedFarm *self);

/* Units and money digits of the farm, and the marks of the locale of the process as it was when
 * the settings were read (habits.h). */
const BedNotation *bed_farm_get_notation (BedFarm *self);

/* Today, YYYY-MM-DD, farm time; borrowed, good until the day (for now: the minute) is over, so
 * copy what must outlive that. The clock unless it was fixed: a demo
 * farm, a test and a reproducible report fix it. @seed makes the ids of new
 * records follow from it. @now is YYYY-MM-DDTHH:MM. */
const char *bed_farm_get_today (BedFarm *self);
const char *bed_farm_get_now (BedFarm *self);
void bed_farm_fix_clock (BedFarm *self, const char *now, guint32 seed);

/* What it was told; borrowed, NULL: the clock runs. */
const char *bed_farm_get_fixed_now (BedFarm *self);

/* The record, owned by the caller, or NULL with NOT_FOUND. */
BedRecord *bed_farm_load (BedFarm *self, BedKind kind, gint64 id, GError **error);

/* What people call it, owned by the caller; NULL when there is no such record, and when it could
 * not be asked (see bed_farm_end_reading()). */
char *bed_farm_dup_name (BedFarm *self, BedKind kind, gint64 id);

/* What was reckoned from the whole farm, kept under @key until the farm or its day is another:
 * before "changed" is told it is gone. Borrowed until then; NULL for nothing kept. */
gpointer bed_farm_get_kept (BedFarm *self, const char *key);
void bed_farm_keep (BedFarm *self, const char *key, gpointer data, GDestroyNotify free);

/* How many records of the kind there are; 0 also when it could not be asked (see
 * bed_farm_end_reading()). */
gint64 bed_farm_count (BedFarm *self, BedKind kind);
