#include "app/yard/yard_forms.h"

#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "model/farm/kinds.h"

static const BedFormGroup area_groups[] = {
  { NULL, { "name", "width", "depth", "north", "outline", NULL } },
  { N_ ("Shade and water"),
    { "shade", "shade_kind", "water", "water_source", "water_tested_on", NULL } },
  { NULL, { "slope", "notes", NULL } },
};

const BedFormSpec bed_yard_area_form
    = { .kind = BED_KIND_AREA, .groups = area_groups, .n_groups = G_N_ELEMENTS (area_groups) };

static const BedFormGroup feature_groups[] = {
  { NULL, { "area", "kind", "label", NULL } },
  { N_ ("Its form"), { "form", "outline", "width", "depth", "turn", "radius", "trunk", NULL } },
};

static const char *const feature_kept[] = { "area", "kind", NULL };

const BedFormSpec bed_yard_feature_form = { .kind = BED_KIND_FEATURE,
                                            .groups = feature_groups,
                                            .n_groups = G_N_ELEMENTS (feature_groups),
                                            .kept = feature_kept };

void
bed_yard_show_figures (BedPage *page, const BedScene *scene)
{
  guint logs = 0, holds = 0;
  g_autofree char *stacks = g_strdup_printf ("%u", scene->yard->stacks->len);

  for (guint i = 0; i < scene->piles->len; i++)
    {
      const BedPile *pile = scene->piles->pdata[i];
      logs += ((BedYardStack *) scene->yard->stacks->pdata[i])->logs->len;
      holds += pile->holds + pile->over;
    }
  g_autofree char *number = g_strdup_printf ("%u", logs);
  g_autofree char *free_places = g_strdup_printf ("%u", holds - logs);
  g_autofree char *shade
      = scene->yard->shade >= 0 ? g_strdup_printf ("%.0f", 100 * scene->yard->shade) : NULL;
  const BedPageFigure figures[] = {
    { number, NULL, bed_count_words (number, N_ ("Log here"), N_ ("Logs here")) },
    { stacks, NULL, bed_count_words (stacks, N_ ("Stack"), N_ ("Stacks")) },
    { free_places, NULL, bed_count_words (free_places, N_ ("Free place"), N_ ("Free places")) },
    { shade, "%", _ ("Shade") }
  };
  bed_page_set_figures (page, figures, G_N_ELEMENTS (figures));
}
