#include "app/form/editor.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"

#define MONTHS 12
#define DAYS 31

/* A day of every year, MM-DD, by its month and its number. Position 0 is unset. */
struct _BedYearDayEditor
{
  BedEditor parent_instance;
  GtkWidget *month;
  GtkWidget *day;
  char *text; /* as set, while nothing was chosen: what is no day of the year stays as it is */
};

#define BED_TYPE_YEAR_DAY_EDITOR (bed_year_day_editor_get_type ())
G_DECLARE_FINAL_TYPE (BedYearDayEditor, bed_year_day_editor, BED, YEAR_DAY_EDITOR, BedEditor)

BED_DEFINE_TYPE (BedYearDayEditor, bed_year_day_editor, BED_TYPE_EDITOR)

static guint
get_chosen (GtkWidget *drop)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (drop));

  return at == GTK_INVALID_LIST_POSITION ? 0 : at;
}

/* In a year without a 29 February: the season starts in every year. */
static guint
count_days (guint month)
{
  return month ? g_date_get_days_in_month ((GDateMonth) month, 2001) : DAYS;
}

static const char *
get_text (BedEditor *editor)
{
  return BED_YEAR_DAY_EDITOR (editor)->text;
}

static void
set_text (BedEditor *editor, const char *text)
{
  BedYearDayEditor *self = BED_YEAR_DAY_EDITOR (editor);
  g_auto (GStrv) parts = g_strsplit (text, "-", 2);
  char *kept = g_strdup (text);
  int month = parts[0] ? atoi (parts[0]) : 0, day = month && parts[1] ? atoi (parts[1]) : 0;

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->month), (guint) CLAMP (month, 0, MONTHS));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->day), (guint) CLAMP (day, 0, DAYS));
  g_free (self->text);
  self->text = kept;
}

/* A day that the month does not have becomes its last one. */
static void
chosen_cb (BedYearDayEditor *self)
{
  guint month = get_chosen (self->month), day = MAX (get_chosen (self->day), 1);

  g_free (self->text);
  self->text = month ? g_strdup_printf ("%02u-%02u", month, MIN (day, count_days (month)))
                     : g_strdup ("");
  if (month && day > count_days (month))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->day), count_days (month));
  bed_editor_edited (BED_EDITOR (self));
}

/* From the month to its day. */
static BedEditorEnter
enter (BedEditor *editor)
{
  BedYearDayEditor *self = BED_YEAR_DAY_EDITOR (editor);

  if (gtk_widget_get_focus_child (gtk_widget_get_parent (self->day)) == self->day)
    return BED_EDITOR_GO_ON;
  return gtk_widget_grab_focus (self->day) ? BED_EDITOR_STAY : BED_EDITOR_GO_ON;
}

static void
bed_year_day_editor_finalize (GObject *object)
{
  g_free (BED_YEAR_DAY_EDITOR (object)->text);
  G_OBJECT_CLASS (bed_year_day_editor_parent_class)->finalize (object);
}

static void
bed_year_day_editor_class_init (BedYearDayEditorClass *klass)
{
  BED_EDITOR_CLASS (klass)->get_text = get_text;
  BED_EDITOR_CLASS (klass)->set_text = set_text;
  BED_EDITOR_CLASS (klass)->enter = enter;
  G_OBJECT_CLASS (klass)->finalize = bed_year_day_editor_finalize;
}

static GtkWidget *
make_months (void)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, "–");
  for (int month = 1; month <= MONTHS; month++)
    {
      g_autoptr (GDateTime) first = g_date_time_new_utc (2001, month, 1, 0, 0, 0);
      g_autofree char *name = g_date_time_format (first, "%OB");

      gtk_string_list_append (names, name);
    }
  return bed_drop_down_new (g_steal_pointer (&names), NULL);
}

static GtkWidget *
make_days (void)
{
  g_autoptr (GtkStringList) numbers = gtk_string_list_new (NULL);

  gtk_string_list_append (numbers, "–");
  for (int day = 1; day <= DAYS; day++)
    {
      g_autofree char *number = g_strdup_printf ("%d", day);

      gtk_string_list_append (numbers, number);
    }
  return bed_drop_down_new (g_steal_pointer (&numbers), _ ("Day of the month"));
}

GtkWidget *
bed_year_day_editor_new (void)
{
  BedYearDayEditor *self = g_object_new (BED_TYPE_YEAR_DAY_EDITOR, NULL);

  self->month = make_months ();
  self->day = make_days ();
  self->text = g_strdup ("");
  bed_editor_set_content (BED_EDITOR (self), bed_row_new (6, self->month, self->day, NULL),
                          self->month);
  g_signal_connect_swapped (self->month, "notify::selected", G_CALLBACK (chosen_cb), self);
  g_signal_connect_swapped (self->day, "notify::selected", G_CALLBACK (chosen_cb), self);
  return GTK_WIDGET (self);
}
