#include "model/farm/code.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "science/check_character.h"

/* A, B, … Z, AA, AB … for 0, 1, … */
static char *
letters (int number)
{
  GString *text = g_string_new (NULL);

  for (; number >= 0; number = number / 26 - 1)
    g_string_prepend_c (text, 'A' + number % 26);
  return g_string_free (text, FALSE);
}

/* Codes of a sort: what comes before the number, and how the number is put behind. */
typedef struct
{
  const char *table;
  char *stem;
  char *(*make) (const char *stem, int number); /* from 1 */
} Series;

static gboolean
taken (BedQuery *q, const Series *series, int number)
{
  g_autofree char *code = series->make (series->stem, number);

  bed_query_bind_text (q, 1, code);
  gboolean found = bed_query_next (q);
  return bed_query_finish (q, NULL) && found;
}

/* A free code whose forerunner is taken, or the first. They are given one after another, so it
 * is found by doubling and halving: the thousandth sale of a year asks twenty times. */
static char *
next_free (BedFarm *farm, const Series *series)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT 1 FROM \"%s\" WHERE code = ?1 COLLATE NOCASE", series->table);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  int low = 0, high = 1;

  for (; taken (q, series, high); high *= 2)
    low = high;
  while (high - low > 1)
    {
      int middle = low + (high - low) / 2;

      if (taken (q, series, middle))
        low = middle;
      else
        high = middle;
    }
  return series->make (series->stem, high);
}

static char *
make_batch (const char *stem, int number)
{
  g_autofree char *letter = letters (number - 1);

  return g_strconcat (stem, letter, NULL);
}

static char *
make_lot (const char *stem, int number)
{
  g_autofree char *body = g_strdup_printf ("%s%d", stem, number);

  return g_strdup_printf ("%s-%c", body, bed_check_character (body));
}

static char *
make_numbered (const char *stem, int number)
{
  return g_strdup_printf ("%s%d", stem, number);
}

char *
bed_code_next_batch (BedFarm *farm, const char *date)
{
  g_return_val_if_fail (date != NULL && strlen (date) >= 4, NULL);
  g_autofree char *stem = g_strndup (date + 2, 2);

  return next_free (farm, &(Series){ "batch", stem, make_batch });
}

char *
bed_code_log (const char *batch_code, int number)
{
  g_autofree char *body = g_strdup_printf ("%s-%03d", batch_code, number);

  return g_strdup_printf ("%s-%c", body, bed_check_character (body));
}

/* The number in `26A-017-K`, 0 when there is none. */
static int
log_number (const char *code, const char *batch_code)
{
  gsize length = strlen (batch_code);

  return g_ascii_strncasecmp (code, batch_code, length) == 0 && code[length] == '-'
             ? atoi (code + length + 1)
             : 0;
}

int
bed_code_next_log_number (BedFarm *farm, gint64 batch)
{
  g_autofree char *batch_code = bed_farm_dup_name (farm, BED_KIND_BATCH, batch);
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT code FROM log WHERE batch = ?1");
  int highest = 0;

  g_return_val_if_fail (batch_code != NULL, 1);
  bed_query_bind_int (q, 1, batch);
  while (bed_query_next (q))
    highest = MAX (highest, log_number (bed_query_text (q, 0), batch_code));
  return bed_query_finish (q, NULL) ? highest + 1 : 1;
}

char *
bed_code_next_lot (BedFarm *farm, const char *date)
{
  g_return_val_if_fail (date != NULL && strlen (date) == 10, NULL);
  g_autofree char *stem = g_strdup_printf ("L%.2s%.2s%.2s-", date + 2, date + 5, date + 8);

  return next_free (farm, &(Series){ "lot", stem, make_lot });
}

char *
bed_code_next_numbered (BedFarm *farm, BedKind kind, char letter, const char *date)
{
  g_return_val_if_fail (date != NULL && strlen (date) >= 4, NULL);
  g_autofree char *stem = g_strdup_printf ("%c%.2s-", letter, date + 2);

  return next_free (farm, &(Series){ bed_kind_get_info (kind)->name, stem, make_numbered });
}

typedef enum
{
  SHAPE_OTHER,
  SHAPE_BODY, /* one of our codes, its check character left out */
  SHAPE_WHOLE,
} Shape;

/* Goes over @least to @most characters of a sort. */
static gboolean
go_over (const char **at, const char *sort, gsize least, gsize most)
{
  gsize n = strspn (*at, sort);

  *at += n;
  return n >= least && n <= most;
}

#define FIGURES "0123456789"
#define LETTERS "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

/* Log: two figures, letters, -, figures. Lot: L, six figures, -, figures. */
static Shape
shape_of (BedKind kind, const char *code)
{
  const char *at = code;
  gboolean log = kind == BED_KIND_LOG;
  gboolean begins = log ? go_over (&at, FIGURES, 2, 2) && go_over (&at, LETTERS, 1, 3)
                        : go_over (&at, "L", 1, 1) && go_over (&at, FIGURES, 6, 6);

  if (!begins || !go_over (&at, "-", 1, 1) || !go_over (&at, FIGURES, 1, log ? 5 : 3))
    return SHAPE_OTHER;
  if (!*at)
    return SHAPE_BODY;
  return *at++ == '-' && go_over (&at, FIGURES LETTERS, 1, 1) && !*at ? SHAPE_WHOLE : SHAPE_OTHER;
}

/* Logs are numbered with three figures: 26A-17 is 26A-017. */
static char *
add_check (BedKind kind, const char *body)
{
  const char *dash = strrchr (body, '-');
  g_autofree char *full = kind == BED_KIND_LOG ? g_strdup_printf ("%.*s-%03d", (int) (dash - body),
                                                                  body, atoi (dash + 1))
                                               : g_strdup (body);

  return g_strdup_printf ("%s-%c", full, bed_check_character (full));
}

char *
bed_code_complete (BedKind kind, const char *text, GError **error)
{
  g_return_val_if_fail (text != NULL, NULL);
  g_autofree char *trimmed = g_strstrip (g_strdup (text));

  if (kind != BED_KIND_LOG && kind != BED_KIND_LOT)
    return g_steal_pointer (&trimmed);
  g_autofree char *code = g_ascii_strup (trimmed, -1);
  Shape shape = shape_of (kind, code);
  /* Codes of another shape (a grower's own old tags) are kept as they are. */
  if (shape == SHAPE_OTHER)
    return g_steal_pointer (&trimmed);
  if (shape == SHAPE_BODY)
    return add_check (kind, code);
  if (bed_check_character_valid (code))
    return g_steal_pointer (&code);
  g_autofree char *body = g_strndup (code, strlen (code) - 2);
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
               /* Translators: the code typed, the likely right one. */
               _ ("%s is mistyped: its last character does not fit. %s-%c is likely meant, "
                  "if the figures are right."),
               code, body, bed_check_character (body));
  return NULL;
}
