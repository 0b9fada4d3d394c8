#include "app/form/form_rows.h"

#include "model/farm/kinds.h"

BedFieldRow *
bed_form_rows_find (GPtrArray *rows, const char *field)
{
  for (guint i = 0; i < rows->len; i++)
    if (g_strcmp0 (bed_field_row_get_field (rows->pdata[i])->name, field) == 0)
      return rows->pdata[i];
  return NULL;
}

BedFieldRow *
bed_form_rows_find_first (GPtrArray *rows, BedRecord *record)
{
  BedFieldRow *first = rows->pdata[0];
  const char *key = bed_kind_get_info (bed_record_get_kind (record))->key;
  GtkWidget *entry = bed_editor_get_focus_widget (bed_field_row_get_editor (first));
  const char *coming;

  if (rows->len < 2 || bed_record_get_id (record)
      || g_strcmp0 (bed_field_row_get_field (first)->name, key) != 0 || !GTK_IS_ENTRY (entry))
    return first;
  coming = gtk_entry_get_placeholder_text (GTK_ENTRY (entry));
  return *gtk_editable_get_text (GTK_EDITABLE (entry)) || (coming && *coming) ? rows->pdata[1]
                                                                              : first;
}

BedFieldRow *
bed_form_rows_find_fault (GPtrArray *rows, const BedFault *fault)
{
  gpointer draft = fault->record ? g_object_get_data (G_OBJECT (fault->record), BED_FORM_DRAFT)
                                 : NULL;

  if (!fault->field)
    return NULL;
  /* Of one that has no row here: it is said where it is seen. */
  for (guint i = 0; draft && i < rows->len; i++)
    if (bed_field_row_get_draft (rows->pdata[i]) == draft
        && g_strcmp0 (bed_field_row_get_field (rows->pdata[i])->name, fault->field) == 0)
      return rows->pdata[i];
  return draft ? NULL : bed_form_rows_find (rows, fault->field);
}

BedFieldRow *
bed_form_rows_find_misread (GPtrArray *rows)
{
  for (guint i = 0; i < rows->len; i++)
    if (!bed_field_row_is_understood (rows->pdata[i]))
      return rows->pdata[i];
  return NULL;
}

guint
bed_form_rows_find_focused (GPtrArray *rows)
{
  GtkRoot *root = rows->len ? gtk_widget_get_root (rows->pdata[0]) : NULL;
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  guint i = 0;

  /* A drop-down that is open has the keys for itself. */
  if (focus && gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER))
    return rows->len;
  while (i < rows->len && !(focus && gtk_widget_is_ancestor (focus, rows->pdata[i])))
    i++;
  return i;
}

/* Of the pages of its form, where that has any: not what the form itself stands in. */
static void
see_page (BedFieldRow *row)
{
  GtkWidget *stack = gtk_widget_get_ancestor (GTK_WIDGET (row), GTK_TYPE_STACK);
  GtkWidget *page = gtk_widget_get_parent (GTK_WIDGET (row));

  if (!stack || !gtk_widget_has_css_class (stack, BED_FORM_PAGES))
    return;
  while (gtk_widget_get_parent (page) != stack)
    page = gtk_widget_get_parent (page);
  gtk_stack_set_visible_child (GTK_STACK (stack), page);
}

void
bed_form_row_focus (BedFieldRow *row)
{
  see_page (row);
  gtk_widget_grab_focus (bed_editor_get_focus_widget (bed_field_row_get_editor (row)));
}

gboolean
bed_form_rows_focus_after (GPtrArray *rows, int at)
{
  for (guint i = (guint) (at + 1); i < rows->len; i++)
    if (gtk_widget_get_visible (rows->pdata[i]))
      {
        bed_form_row_focus (rows->pdata[i]);
        return TRUE;
      }
  return FALSE;
}

BedFieldRow *
bed_form_rows_find_next (GPtrArray *rows, BedRecord *record, const char *const *kept)
{
  guint at = 0;

  g_ptr_array_find (rows, bed_form_rows_find_first (rows, record), &at);
  while (kept && at + 1 < rows->len
         && (g_strv_contains (kept, bed_field_row_get_field (rows->pdata[at])->name)
             || !gtk_widget_get_visible (rows->pdata[at])))
    at++;
  return rows->pdata[at];
}

gboolean
bed_form_rows_focus_group (GPtrArray *rows, int at, int step)
{
  int n = (int) rows->len;
  GtkWidget *group = gtk_widget_get_parent (rows->pdata[at]);

  while (at >= 0 && at < n && gtk_widget_get_parent (rows->pdata[at]) == group)
    at += step;
  if (at < 0 || at >= n)
    return FALSE;
  group = gtk_widget_get_parent (rows->pdata[at]);
  while (at > 0 && gtk_widget_get_parent (rows->pdata[at - 1]) == group)
    at--;
  return bed_form_rows_focus_after (rows, at - 1);
}
