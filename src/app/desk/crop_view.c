#include "app/desk/crop_view.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/page_parts.h"
#include "app/widgets/dots.h"
#include "app/widgets/facts.h"
#include "model/farm/functions.h"
#include "model/farm/say.h"
#include "model/season/figures.h"
#include "science/language.h"
#include "science/units.h"

#define MG_PER_KG 1e6

struct _BedCropView
{
  BedPart parent_instance;
  BedFarm *farm;
  BedDots *groups;
  GtkWidget *groups_note;
  GtkWidget *facts; /* AdwBin */
};

BED_DEFINE_PLAIN_TYPE (BedCropView, bed_crop_view, BED_TYPE_PART)

/* Of any season to come, as the table of figures writes the next. */
static char *
dup_kg (BedCropView *self, BedFigureId id, double kg)
{
  return bed_figure_dup_text (self->farm, id, kg * MG_PER_KG);
}

static char *
dup_interval (BedCropView *self, const BedInterval *kg)
{
  g_autofree char *value = dup_kg (self, BED_FIGURE_EXPECTED_NEXT, kg->estimate);
  g_autofree char *low = dup_kg (self, BED_FIGURE_EXPECTED_NEXT_LOW, kg->low);
  g_autofree char *high = dup_kg (self, BED_FIGURE_EXPECTED_NEXT_HIGH, kg->high);

  return kg->known == BED_KNOWN_INTERVAL ? g_strdup_printf ("%s (%s – %s)", value, low, high)
                                         : g_steal_pointer (&value);
}

static const char *
get_unit (BedCropView *self)
{
  return bed_measure_unit (BED_MEASURE_MASS, bed_farm_get_notation (self->farm)->system);
}

/* The kinds that nothing tells from the years they were made in; "" for none. */
static char *
dup_untold (const BedCrop *crop)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < crop->groups->len; i++)
    {
      const BedCropGroup *group = crop->groups->pdata[i];
      if (group->told == BED_CROP_OTHER_YEARS)
        g_string_append_printf (names, "%s%s", names->len ? bed_semicolon () : "", group->name);
    }
  /* Translators: names of strains and woods. */
  return names->len ? g_strdup_printf (
             _ (" Made in other years than the rest, so not compared: %s."), names->str)
                    : g_strdup ("");
}

/* Without an interval the ends are the middle. @detail is kept, not copied. */
static BedDot
make_dot (BedCropView *self, const BedCropGroup *group, const char *detail)
{
  BedSystem system = bed_farm_get_notation (self->farm)->system;
  BedFigureAnswers got;
  double *of = got.values;

  bed_figures_read_kind (group, &got);
  double level = bed_measure_to_unit (BED_MEASURE_MASS, system, of[BED_FIGURE_KIND_LEVEL]);
  gboolean spread = !isnan (of[BED_FIGURE_KIND_LEVEL_LOW]);
  return (BedDot){
    .label = group->name,
    .detail = detail,
    .value = level,
    .low = spread ? bed_measure_to_unit (BED_MEASURE_MASS, system, of[BED_FIGURE_KIND_LEVEL_LOW])
                  : level,
    .high = spread ? bed_measure_to_unit (BED_MEASURE_MASS, system, of[BED_FIGURE_KIND_LEVEL_HIGH])
                   : level,
  };
}

static void
show_groups (BedCropView *self, const BedCrop *crop)
{
  g_autofree BedDot *dots = g_new0 (BedDot, MAX (crop->groups->len, 1));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *note = NULL;

  for (guint i = 0; i < crop->groups->len; i++)
    {
      const BedCropGroup *group = crop->groups->pdata[i];
      g_ptr_array_add (texts,
                       bed_say (ngettext ("%d log", "%d logs", group->logs), (int) group->logs));
      dots[i] = make_dot (self, group, texts->pdata[i]);
    }
  bed_dots_set (self->groups, _ ("Each log and season, by strain and wood"), get_unit (self), dots,
                crop->groups->len);
  g_autofree char *untold = dup_untold (crop);
  note
      = crop->groups->len
            /* Translators: the farm's unit of mass, and a sentence or nothing. */
            ? g_strdup_printf (
                _ ("%s for each log and season, with its 80 %% interval, from all seasons that "
                   "are over. Batches are compared with others made in the same year; a dot "
                   "without a bar has too few of them to give a range.%s"),
                get_unit (self), untold)
            : g_strdup (_ ("Once a fruiting season is over, strains and woods are compared here."));
  gtk_label_set_label (GTK_LABEL (self->groups_note), note);
}

static char *
dup_alive (const BedCropAge *row)
{
  return row->alive.known == BED_KNOWN_INTERVAL
             ? bed_say ("%.0f %% (%.0f – %.0f)", row->alive.estimate * 100, row->alive.low * 100,
                        row->alive.high * 100)
             : bed_say ("%.0f %%", row->alive.estimate * 100);
}

static char *
dup_coming (BedCropView *self, const BedCropExpected *coming)
{
  g_autofree char *mass = dup_interval (self, &coming->kg);
  g_autofree char *all = g_strdup_printf ("%s %s", mass, get_unit (self));

  if (coming->kg.known == BED_KNOWN_NOTHING)
    return g_strdup (_ ("not known before the first picks"));
  if (coming->share_unseen < 0.005)
    return g_steal_pointer (&all);
  /* Translators: what is expected, and which part of it. */
  return bed_say (_ ("%s, %.0f %% of it from logs older than any on record"), all,
                  coming->share_unseen * 100);
}

static void
show_facts (BedCropView *self, const BedCrop *crop)
{
  GtkWidget *box = bed_facts_box_new ();

  for (int i = 0; i < BED_CROP_SEASONS; i++)
    {
      g_autofree char *season = bed_season_dup_name (self->farm, crop->season + 1 + i);
      /* Translators: name of a season. */
      g_autofree char *label = g_strdup_printf (_ ("Expected in %s"), season);
      g_autofree char *coming = dup_coming (self, &crop->coming[i]);

      bed_facts_add (box, label, coming);
    }
  if (!isnan (crop->median_seasons))
    {
      g_autofree char *seasons
          = bed_say (ngettext ("%.0f season", "%.0f seasons", (gulong) crop->median_seasons),
                     crop->median_seasons);
      bed_facts_add (box, _ ("Half of the logs last"), seasons);
    }
  for (guint i = 0; i < crop->ages->len; i++)
    {
      const BedCropAge *row = &g_array_index (crop->ages, BedCropAge, i);
      g_autofree char *age = bed_say (
          ngettext ("Alive after %u season", "Alive after %u seasons", row->age), row->age);
      g_autofree char *alive = dup_alive (row);

      bed_facts_add (box, age, alive);
    }
  adw_bin_set_child (ADW_BIN (self->facts), box);
}

static GtkWidget *
make_note (const char *text)
{
  return bed_styled (bed_words_new (text, "caption"), "dim-label");
}

BedCropView *
bed_crop_view_new (BedFarm *farm)
{
  BedCropView *self = g_object_new (BED_TYPE_CROP_VIEW, NULL);
  GtkWidget *groups;
  GtkWidget *logs;

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->groups = bed_dots_new ();
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->groups),
                               _ (bed_figure_get (BED_FIGURE_KIND_LEVEL)->sentence));
  self->groups_note = make_note (NULL);
  self->facts = adw_bin_new ();
  groups = bed_column_new (6, GTK_WIDGET (self->groups), self->groups_note, NULL);
  logs = bed_column_new (
      6, self->facts,
      make_note (_ (
          "What the logs alive should give, by age and batch, as likely to be more as less; in "
          "brackets the range of four seasons in five. An age not on record yet is taken to give "
          "1 : 2 : 2 : 1 (Maryland Cooperative Extension, c. 2000). The second and third season "
          "ahead allow for logs lost and for good and bad years. Lives of logs by Kaplan and "
          "Meier (1958): logs sold or still alive do not count as dead; age is in seasons since "
          "inoculation.")),
      NULL);
  bed_part_set_child (
      BED_PART (self),
      bed_column_new (24, bed_section_new (_ ("All seasons, allowing for age"), groups),
                      bed_section_new (_ ("Logs and the season ahead"), logs), NULL));
  return self;
}

gboolean
bed_crop_view_refresh (BedCropView *self, GError **error)
{
  g_return_val_if_fail (BED_IS_CROP_VIEW (self), FALSE);
  int season = bed_season_of (self->farm, bed_farm_get_today (self->farm));
  g_autoptr (BedCrop) crop = bed_crop_new (self->farm, season, error);

  if (!crop)
    return FALSE;
  show_groups (self, crop);
  show_facts (self, crop);
  return TRUE;
}
