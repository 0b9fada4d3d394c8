/* The groups of a form's fields, on pages where it is long. */
#include "app/form/form_private.h"

#include <glib/gi18n.h>

#include "app/form/form_rows.h"
#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/kinds.h"

#define COLUMN_LEAST 230 /* px */
#define COLUMN_MOST 336  /* px: a label and 24 characters */

GtkWidget *
bed_form_columns_new (void)
{
  GtkWidget *columns = bed_columns_new (COLUMN_LEAST, 2);

  bed_columns_set_widest (columns, COLUMN_MOST);
  return columns;
}

static void
add_page (BedForm *self, const char *title)
{
  GtkWidget *switcher;

  if (!self->pages)
    {
      switcher = gtk_stack_switcher_new ();
      self->pages = bed_styled (gtk_stack_new (), BED_FORM_PAGES);
      gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (self->pages));
      gtk_widget_set_halign (switcher, GTK_ALIGN_START);
      gtk_box_append (GTK_BOX (self->fields), switcher);
      gtk_box_append (GTK_BOX (self->fields), self->pages);
    }
  self->page = gtk_box_new (GTK_ORIENTATION_VERTICAL, BED_FORM_GAP);
  gtk_stack_add_titled (GTK_STACK (self->pages), self->page, title, _ (title));
}

void
bed_form_add_group (BedForm *self, const BedFormGroup *group)
{
  GtkWidget *grid = bed_form_columns_new ();

  if (group->page)
    add_page (self, group->page);
  if (group->heading)
    gtk_box_append (GTK_BOX (self->page), bed_label_new (_ (group->heading), "heading"));
  for (guint i = 0; group->fields[i]; i++)
    {
      const BedField *field = bed_kind_find_field (self->spec->kind, group->fields[i], NULL);
      BedFieldRow *row;

      g_return_if_fail (field != NULL);
      row = bed_field_row_new (self->farm, field);
      bed_form_listen (self, row);
      gtk_box_append (GTK_BOX (grid), GTK_WIDGET (row));
      g_ptr_array_add (self->rows, row);
      self->n_own++;
    }
  gtk_box_append (GTK_BOX (self->page), grid);
}
