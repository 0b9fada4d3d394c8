#include "app/yard/yard_overview.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/caution_line.h"
#include "app/yard/yard_legend.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "model/work/caution.h"
#include "yard/load.h"
#include "yard/room.h"

#define MOST_LOOKS 40u /* more are not read */

static GtkWidget *
advice_row_new (const BedAdvice *advice)
{
  GtkWidget *icon = gtk_image_new_from_icon_name ("dialog-warning-symbolic");
  GtkWidget *sentence = bed_words_new (advice->sentence, NULL);

  gtk_widget_set_valign (icon, GTK_ALIGN_START);
  gtk_widget_add_css_class (icon, "warning");
  gtk_widget_set_hexpand (sentence, TRUE);
  GtkWidget *row = bed_row_new (9, icon, sentence, NULL);
  gtk_widget_set_tooltip_text (row, advice->source);
  return row;
}

void
bed_yard_advice_fill (GtkWidget *box, const BedStackLook *look)
{
  bed_box_clear (box);
  for (guint i = 0; look && i < look->advice->len; i++)
    gtk_box_append (GTK_BOX (box), advice_row_new (look->advice->pdata[i]));
  gtk_widget_set_visible (box, look && look->advice->len > 0);
}

static GtkWidget *
look_new (const BedYardStack *stack, const BedAdvice *advice)
{
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = bed_words_new (stack->name, "heading");

  gtk_label_set_wrap (GTK_LABEL (name), FALSE);
  bed_cut_off (name);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), bed_words_new (advice->sentence, "yard-sentence"));
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, advice->source);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "yard.select");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "x", stack->id);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  advice->sentence, -1);
  return bed_named (button, stack->name);
}

static void
say_none (GtkWidget *box, const BedYard *yard)
{
  gtk_box_append (GTK_BOX (box),
                  bed_words_new (yard->stacks->len ? _ ("Nothing: every stack stands well.")
                                                   : _ ("No stack yet. Press a kind at the left, "
                                                        "then click where it stands."),
                                 "dim-label"));
}

static void
say_rest (GtkWidget *box, guint n)
{
  /* TRANSLATORS: of stacks, after those that are listed */
  g_autofree char *said = g_strdup_printf (
      ngettext ("and %u more, marked on the map", "and %u more, marked on the map", n), n);

  gtk_box_append (GTK_BOX (box), bed_words_new (said, "dim-label"));
}

/* The first advice of each stack that has one. */
static GtkWidget *
looks_new (const BedYard *yard, GHashTable *looks)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  guint n = 0;

  for (guint i = 0; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];
      const BedStackLook *look = g_hash_table_lookup (looks, &stack->id);
      if (!look || look->advice->len == 0)
        continue;
      if (n < MOST_LOOKS)
        gtk_box_append (GTK_BOX (box), look_new (stack, look->advice->pdata[0]));
      n++;
    }
  if (n == 0)
    say_none (box, yard);
  if (n > MOST_LOOKS)
    say_rest (box, n - MOST_LOOKS);
  return box;
}

/* --- room for more ------------------------------------------------------------------------- */

static void
stop_looking (gpointer source)
{
  g_source_destroy (source);
  g_source_unref (source);
}

/* Goes on until it is done or @box goes; takes @data. */
static void
begin_idle (GtkWidget *box, GSourceFunc look, gpointer data)
{
  GSource *source = g_idle_source_new ();

  g_source_set_priority (source, G_PRIORITY_DEFAULT_IDLE);
  g_source_set_callback (source, look, data, g_free);
  g_source_attach (source, NULL);
  g_object_set_data_full (G_OBJECT (box), "looking", source, stop_looking);
}

typedef struct
{
  GtkWidget *box; /* borrowed: it takes this along when it goes */
  const BedScene *scene;
  BedFarm *farm;
  guint kind; /* the next one */
} Rooms;

/* "crib: 12 stacks, 288 logs" */
static GtkWidget *
room_new (const Rooms *rooms)
{
  const BedField *field = bed_kind_find_field (BED_KIND_STACK, "kind", NULL);
  const char *kind = bed_field_choice_label (field, bed_stack_kind_key (rooms->kind));
  g_autoptr (BedYardStack) like = bed_yard_stack_new_for (rooms->farm, rooms->kind);
  const BedRoomWish wish = { like, NULL, 0 };
  g_autoptr (GArray) places = bed_room_fill (rooms->scene, &wish);
  guint logs = bed_room_logs (&wish, places->len);
  g_autofree char *stacks = bed_say (ngettext ("%u stack", "%u stacks", places->len), places->len);
  /* TRANSLATORS: kind of stack, "12 stacks", logs they hold */
  g_autofree char *text
      = bed_say (ngettext ("%s: %s, %u log", "%s: %s, %u logs", logs), kind, stacks, logs);

  return bed_styled (bed_words_new (text, NULL), "numeric");
}

/* One kind at a time: in a large area each takes a while. */
static gboolean
rooms_cb (gpointer data)
{
  Rooms *rooms = data;

  gtk_box_append (GTK_BOX (rooms->box), room_new (rooms));
  if (++rooms->kind < BED_N_STACKS)
    return G_SOURCE_CONTINUE;
  g_object_set_data (G_OBJECT (rooms->box), "looking", NULL);
  return G_SOURCE_REMOVE;
}

static void
opened_cb (GtkExpander *expander, GParamSpec *pspec, Rooms *rooms)
{
  if (!gtk_expander_get_expanded (expander) || gtk_widget_get_first_child (rooms->box))
    return;
  rooms->kind = 0;
  begin_idle (rooms->box, rooms_cb, g_memdup2 (rooms, sizeof *rooms));
}

static GtkWidget *
rooms_new (const BedScene *scene, BedFarm *farm)
{
  Rooms *rooms = g_new0 (Rooms, 1);

  *rooms = (Rooms){ gtk_box_new (GTK_ORIENTATION_VERTICAL, 3), scene, farm, 0 };
  GtkWidget *expander = bed_expander_new (_ ("Room for more"), rooms->box);
  g_object_set_data_full (G_OBJECT (expander), "rooms", rooms, g_free);
  g_signal_connect (expander, "notify::expanded", G_CALLBACK (opened_cb), rooms);
  return expander;
}

GtkWidget *
bed_yard_overview_new (const BedScene *scene, BedColourBy colour_by, GHashTable *looks,
                       BedFarm *farm)
{
  const char *heading = colour_by == BED_COLOUR_BY_BATCH ? _ ("Batches here")
                                                         : bed_colour_by_word (colour_by);
  GtkWidget *worth = looks ? looks_new (scene->yard, looks)
                           : gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  g_autoptr (BedRecord) stack = bed_record_new (BED_KIND_STACK);
  g_autofree char *caution = bed_caution_dup (farm, stack);

  return bed_column_new (
      12, bed_words_new (heading, "heading"),
      bed_yard_legend_new (scene->yard, colour_by, bed_farm_get_notation (farm)->system),
      bed_words_new (_ ("Worth a look"), "heading"), worth, rooms_new (scene, farm),
      bed_caution_line_new (caution), NULL);
}
