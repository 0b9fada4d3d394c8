#include "app/import/import_foot.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/import/import_words.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "model/farm/say.h"

#define LOOK_EVERY 100   /* ms */
#define PATIENCE 1000000 /* us: what takes longer leaves the keyboard where it went meanwhile */

struct _BedImportFoot
{
  GtkWidget parent_instance;
  BedFarm *farm;
  GtkWidget *line;
  GtkWidget *back;
  GtkWidget *said;
  GtkWidget *bar;
  GtkWidget *cancel;
  GtkWidget *bring;
  BedImportSheet *sheet;
  guint open; /* questions */
  guint look_source;
  gint64 entering; /* until then the button takes the keyboard when it can be pressed */
};

G_DEFINE_FINAL_TYPE (BedImportFoot, bed_import_foot, GTK_TYPE_WIDGET)

/* --- while it is brought in ----------------------------------------------------------- */

static void
show_bringing (BedImportFoot *self, gboolean bringing)
{
  gtk_widget_set_visible (self->bar, bringing);
  gtk_widget_set_visible (self->cancel, bringing);
  gtk_widget_set_visible (self->bring, !bringing);
  gtk_widget_set_visible (self->back, !bringing);
}

static gboolean
look_cb (gpointer data)
{
  BedImportFoot *self = data;
  guint all, rows = bed_import_sheet_get_progress (self->sheet, &all);
  g_autofree char *text = bed_say (_ ("%u of %u rows"), rows, all);

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), all ? (double) rows / all : 0);
  gtk_progress_bar_set_text (GTK_PROGRESS_BAR (self->bar), text);
  return G_SOURCE_CONTINUE;
}

static void
rest (BedImportFoot *self)
{
  g_clear_handle_id (&self->look_source, g_source_remove);
  show_bringing (self, FALSE);
}

static char *
dup_brought (BedImportFoot *self)
{
  const BedImportAnswer *answer = bed_import_sheet_get_answer (self->sheet);
  g_autofree char *totals = bed_import_dup_totals (bed_import_sheet_get_notebook (self->sheet),
                                                   answer, bed_farm_get_notation (self->farm));
  g_autofree char *known
      = bed_import_dup_known (answer, bed_import_sheet_get_differs (self->sheet));

  return g_strdup_printf (_ ("Brought in: %s%s%s"), totals ? totals : _ ("nothing new"),
                          known ? " · " : "", known ? known : "");
}

static void
brought_cb (BedImportFoot *self)
{
  const GError *trouble = bed_import_sheet_get_trouble (self->sheet);

  rest (self);
  if (!trouble)
    {
      g_autofree char *said = dup_brought (self);

      g_signal_emit_by_name (self, "brought", said);
    }
  else if (!bed_import_sheet_get_faults (self->sheet)) /* they are seen above */
    {
      if (g_error_matches (trouble, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        bed_host_say (GTK_WIDGET (self), _ ("Cancelled: nothing was added"));
      else
        bed_tell (GTK_WIDGET (self), _ ("Nothing was added"), trouble->message);
      bed_import_sheet_begin (self->sheet);
    }
}

static void
cancel_cb (BedImportFoot *self)
{
  bed_import_sheet_cancel (self->sheet);
}

static void
bring_cb (BedImportFoot *self)
{
  if (!self->sheet)
    return;
  if (self->open > 0)
    {
      g_signal_emit_by_name (self, "ask");
      return;
    }
  gtk_label_set_label (GTK_LABEL (self->said), _ ("Bringing it in. The farm changes when all of it "
                                                  "is in."));
  show_bringing (self, TRUE);
  gtk_widget_grab_focus (self->cancel);
  self->look_source = g_timeout_add (LOOK_EVERY, look_cb, self);
  bed_import_sheet_bring_in (self->sheet);
}

/* --- what would be added ------------------------------------------------------------------- */

static char *
dup_said (BedImportFoot *self, BedNotebook *notebook)
{
  const GError *trouble = bed_import_sheet_get_trouble (self->sheet);
  const BedImportAnswer *answer = bed_import_sheet_get_answer (self->sheet);
  g_autofree char *totals
      = bed_import_dup_totals (notebook, answer, bed_farm_get_notation (self->farm));
  g_autofree char *known
      = answer ? bed_import_dup_known (answer, bed_import_sheet_get_differs (self->sheet)) : NULL;

  if (trouble && bed_import_sheet_get_faults (self->sheet))
    return g_strdup (_ ("It cannot be brought in yet: see above why."));
  if (trouble)
    return g_strdup (trouble->message);
  if (!bed_notebook_is_read (notebook))
    return g_strdup_printf (_ ("From the first rows: %s. Reading on…"),
                            totals ? totals : _ ("nothing new"));
  return g_strdup_printf (_ ("Would add %s%s%s"), totals ? totals : _ ("nothing new"),
                          known ? " · " : "", known ? known : "");
}

static void
show_button (BedImportFoot *self, BedNotebook *notebook)
{
  gboolean writable = !bed_farm_get_read_only_why (self->farm);
  gboolean ready = bed_import_sheet_is_read (self->sheet) && bed_notebook_count_rows (notebook) > 0
                   && !bed_import_sheet_get_trouble (self->sheet);
  g_autofree char *open
      = bed_say (ngettext ("%u question left", "%u questions left", self->open), self->open);

  gtk_button_set_label (GTK_BUTTON (self->bring), self->open ? open : _ ("Bring in"));
  gtk_widget_set_sensitive (self->bring, writable && (ready || self->open));
  if (self->entering > g_get_monotonic_time () && gtk_widget_get_sensitive (self->bring))
    bed_import_foot_enter (self);
}

static void
back_cb (BedImportFoot *self)
{
  g_signal_emit_by_name (self, "back");
}

/* --- overrides ------------------------------------------------------------------------------- */

static void
bed_import_foot_dispose (GObject *object)
{
  BedImportFoot *self = BED_IMPORT_FOOT (object);

  bed_import_foot_show (self, NULL);
  g_clear_pointer (&self->line, gtk_widget_unparent);
  G_OBJECT_CLASS (bed_import_foot_parent_class)->dispose (object);
}

static void
bed_import_foot_finalize (GObject *object)
{
  g_clear_object (&BED_IMPORT_FOOT (object)->farm);
  G_OBJECT_CLASS (bed_import_foot_parent_class)->finalize (object);
}

static void
bed_import_foot_class_init (BedImportFootClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_foot_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_import_foot_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "ask", 0);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "back", 0);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "brought", 1, G_TYPE_STRING);
}

static void
bed_import_foot_init (BedImportFoot *self)
{
  self->said = bed_words_new ("", "numeric");
  gtk_widget_set_hexpand (self->said, TRUE);
  self->bar = bed_named (gtk_progress_bar_new (), _ ("Bringing in"));
  gtk_progress_bar_set_show_text (GTK_PROGRESS_BAR (self->bar), TRUE);
  bed_styled (self->bar, "doing");
  gtk_widget_set_valign (self->bar, GTK_ALIGN_CENTER);
  self->back = bed_button_new (_ ("Back"), G_CALLBACK (back_cb), self);
  gtk_widget_set_tooltip_text (self->back, _ ("Take the last decision back (Alt+Left)"));
  self->cancel = bed_button_new (_ ("Cancel"), G_CALLBACK (cancel_cb), self);
  self->bring = bed_styled (bed_button_new (_ ("Bring in"), G_CALLBACK (bring_cb), self),
                            "suggested-action");
  self->line = bed_styled (
      bed_row_new (12, self->back, self->said, self->bar, self->cancel, self->bring, NULL),
      "form-foot");
  gtk_widget_set_valign (self->back, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (self->bring, GTK_ALIGN_CENTER);
  gtk_widget_set_parent (self->line, GTK_WIDGET (self));
  show_bringing (self, FALSE);
}

/* --- public ------------------------------------------------------------------------------------
 */

GtkWidget *
bed_import_foot_new (BedFarm *farm)
{
  BedImportFoot *self = g_object_new (BED_TYPE_IMPORT_FOOT, NULL);

  self->farm = g_object_ref (farm);
  return GTK_WIDGET (self);
}

static gboolean
asks_what_differs (BedImportSheet *sheet)
{
  return bed_import_sheet_may_differ (sheet)
         && bed_import_sheet_get_differs (sheet) == BED_DIFFERS_REFUSED;
}

static void
take_sheet (BedImportFoot *self, BedImportSheet *sheet)
{
  if (self->sheet == sheet)
    return;
  rest (self);
  if (self->sheet)
    g_signal_handlers_disconnect_by_data (self->sheet, self);
  g_set_object (&self->sheet, sheet);
  self->entering = 0;
  if (sheet)
    g_signal_connect_swapped (sheet, "brought", G_CALLBACK (brought_cb), self);
}

void
bed_import_foot_show (BedImportFoot *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_FOOT (self));

  take_sheet (self, sheet);
  if (!sheet)
    return;
  BedNotebook *notebook = bed_import_sheet_get_notebook (sheet);
  g_autofree char *said = dup_said (self, notebook);
  self->open = bed_notebook_count_open (notebook) + asks_what_differs (sheet);
  gtk_label_set_label (GTK_LABEL (self->said), said);
  gtk_widget_set_sensitive (self->back, bed_notebook_count_decisions (notebook) > 0);
  show_button (self, notebook);
}

void
bed_import_foot_enter (BedImportFoot *self)
{
  g_return_if_fail (BED_IS_IMPORT_FOOT (self));
  gboolean now = gtk_widget_get_sensitive (self->bring);

  self->entering = now ? 0 : g_get_monotonic_time () + PATIENCE;
  if (now)
    gtk_widget_grab_focus (self->bring);
}
