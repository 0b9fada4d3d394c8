#pragma once

#include "app/desk/page.h"
#include "app/form/form.h"
#include "app/widgets/part.h"
#include "app/widgets/table.h"
#include <gtk/gtk.h>

/* The records of one kind: their table, the chosen one read beside it, and the
 * form, which takes the whole width while one types. Actions: record.change, record.remove. */
#define BED_TYPE_BROWSER (bed_browser_get_type ())
G_DECLARE_FINAL_TYPE (BedBrowser, bed_browser, BED, BROWSER, BedPart)

typedef struct
{
  BedKind kind;
  const BedTableSpec *table;
  /* What is seen while there is none. */
  BedEmpty empty;
  /* NULL, or what is said instead of ->empty while something else must come first; that is NULL
   * when nothing must. Static. */
  const BedEmpty *(*find_first_step) (BedFarm *farm);
  /* What shows the chosen record beside the table, and tells it which; both NULL: its facts. FALSE
   * when it could not be read: the browser says so in its place. */
  GtkWidget *(*detail_new) (BedFarm *farm);
  gboolean (*detail_show) (GtkWidget *detail, gint64 id, GError **error);
  /* The form; NULL: the one of bed_forms_new(). */
  BedForm *(*form_new) (BedFarm *farm);
} BedBrowserSpec;

/* @spec is static. */
BedBrowser *bed_browser_new (BedFarm *farm, const BedBrowserSpec *spec);

/* Opens the form, as bed_form_resume() does. */
void bed_browser_add (BedBrowser *self, BedRecord *draft);

/* Selects the record and reads it. */
void bed_browser_show (BedBrowser *self, gint64 id);

/* Where there is no room beside the list, the chosen record takes its place. */
void bed_browser_show_detail (BedBrowser *self);

/* The chosen record or 0. */
gint64 bed_browser_get_selected (BedBrowser *self);

/* What ->detail_new made, or NULL. */
GtkWidget *bed_browser_get_detail (BedBrowser *self);

BedForm *bed_browser_get_form (BedBrowser *self);

/* The farm changed: reads the chosen record again. To be called before it is first seen. */
gboolean bed_browser_refresh (BedBrowser *self, GError **error);

/* The rows anew, with what is drawn in them and was not there before. */
void bed_browser_show_rows (BedBrowser *self);

/* Reads the chosen record again; what cannot be read is said in its place. */
void bed_browser_read (BedBrowser *self);

/* Head of a detail: the name, a line about it, and the buttons Change and Remove, which work in
 * a browser. @extra (may be NULL) goes before them. */
GtkWidget *bed_browser_head_new (const char *name, const char *line, GtkWidget *extra);
