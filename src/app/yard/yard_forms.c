#include "app/yard/yard_forms.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "model/farm/say.h"

void
bed_yard_show_figures (BedPage *page, const BedScene *scene)
{
  guint logs = 0, holds = 0;
  g_autofree char *stacks = bed_say ("%u", scene->yard->stacks->len);

  for (guint i = 0; i < scene->piles->len; i++)
    {
      const BedPile *pile = scene->piles->pdata[i];
      logs += ((BedYardStack *) scene->yard->stacks->pdata[i])->logs->len;
      holds += pile->holds + pile->over;
    }
  g_autofree char *number = bed_say ("%u", logs);
  g_autofree char *free_places = bed_say ("%u", holds - logs);
  g_autofree char *shade = scene->yard->shade >= 0 ? bed_say ("%.0f", 100 * scene->yard->shade)
                                                   : NULL;
  const BedPageFigure figures[] = {
    { number, NULL, bed_count_words (number, N_ ("Log here"), N_ ("Logs here")) },
    { stacks, NULL, bed_count_words (stacks, N_ ("Stack"), N_ ("Stacks")) },
    { free_places, NULL, bed_count_words (free_places, N_ ("Free place"), N_ ("Free places")) },
    { shade, "%", _ ("Shade") }
  };
  bed_page_set_figures (page, figures, G_N_ELEMENTS (figures));
}
