/* Stubs: nothing is understood yet, and each says so. */
#include "model/notebook/notebook.h"

#include <glib/gi18n-lib.h>

BedNotebook *
bed_notebook_new (BedFarm *farm, BedRows *rows, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return NULL;
}

void
bed_notebook_free (BedNotebook *self)
{
  return;
}

BedRows *
bed_notebook_get_rows (BedNotebook *self)
{
  return NULL;
}

BedKind
bed_notebook_get_kind (BedNotebook *self, BedMatch *sure)
{
  return BED_N_KINDS;
}

const char *
bed_notebook_get_kind_why (BedNotebook *self)
{
  return NULL;
}

const BedKind *
bed_notebook_get_kinds (BedNotebook *self, guint *n)
{
  return NULL;
}

guint
bed_notebook_get_n_columns (BedNotebook *self)
{
  return 0;
}

const BedNotebookColumn *
bed_notebook_get_column (BedNotebook *self, guint column)
{
  return NULL;
}

const BedNotebookTarget *
bed_notebook_get_targets (BedNotebook *self, guint *n)
{
  return NULL;
}

const BedNotebookAside *
bed_notebook_get_aside (BedNotebook *self, guint *n)
{
  return NULL;
}

guint
bed_notebook_count_aside (BedNotebook *self, BedAside why)
{
  return 0;
}

const char *
bed_aside_get_word (BedAside why)
{
  return NULL;
}

gboolean
bed_notebook_is_crosswise (BedNotebook *self)
{
  return FALSE;
}

const BedNotebookQuestion *
bed_notebook_get_questions (BedNotebook *self, guint *n)
{
  return NULL;
}

guint
bed_notebook_count_open (BedNotebook *self)
{
  return 0;
}

gboolean
bed_notebook_set_kind (BedNotebook *self, BedKind kind, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_set_field (BedNotebook *self, guint column, BedKind kind, const BedField *field,
                        GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_set_unit (BedNotebook *self, guint column, const char *unit, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_set_dates (BedNotebook *self, guint column, BedDates dates, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_set_decimal_mark (BedNotebook *self, char mark, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

char
bed_notebook_get_decimal_mark (BedNotebook *self)
{
  return '.';
}

gboolean
bed_notebook_answer (BedNotebook *self, const char *key, const char *answer, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_set_aside (BedNotebook *self, guint line, BedAside aside, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_go_back (BedNotebook *self)
{
  return FALSE;
}

guint
bed_notebook_count_decisions (BedNotebook *self)
{
  return 0;
}

char *
bed_notebook_dup_matching (BedNotebook *self)
{
  return NULL;
}

gboolean
bed_notebook_take_matching (BedNotebook *self, const char *matching, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

char *
bed_notebook_dup_heads (BedNotebook *self)
{
  return NULL;
}

gboolean
bed_notebook_read_all (BedNotebook *self, GCancellable *cancellable, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

gboolean
bed_notebook_is_read (BedNotebook *self)
{
  return FALSE;
}

guint
bed_notebook_count_rows (BedNotebook *self)
{
  return 0;
}

guint
bed_notebook_count_records (BedNotebook *self, BedKind kind)
{
  return 0;
}

gint64
bed_notebook_sum (BedNotebook *self, BedKind kind, const BedField *field)
{
  return 0;
}

const char *
bed_notebook_get_first_day (BedNotebook *self)
{
  return NULL;
}

const char *
bed_notebook_get_last_day (BedNotebook *self)
{
  return NULL;
}

gboolean
bed_notebook_begin (BedNotebook *self, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return FALSE;
}

const BedNotebookRow *
bed_notebook_next (BedNotebook *self, GError **error)
{
  g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                       "Reading a notebook is not written yet.");
  return NULL;
}

guint
bed_notebook_find_column (BedNotebook *self, BedKind kind, const char *field)
{
  return 0;
}
