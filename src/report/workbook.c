#include "report/workbook.h"

#include "model/farm/functions.h"
#include "model/farm/output.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "report/numeric_locale.h"
#include "report/pen.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <sys/stat.h>
#include <unistd.h>

/* Colours of the tabs, by who reads them. */
#define GROWER 0x5A4632
#define ACCOUNTS 0x0072B2
#define LENDER 0xE69F00
#define CERTIFIER 0x009E73
#define LISTS 0x857B6E

/* As the tabs stand. */
static const struct
{
  const BedBookSheet *sheet;
  lxw_color_t colour;
} tabs[] = {
  { &bed_sheet_summary, GROWER },     { &bed_sheet_figures, GROWER },
  { &bed_sheet_weeks, GROWER },       { &bed_sheet_batches, GROWER },
  { &bed_sheet_comparison, GROWER },  { &bed_sheet_sizes, GROWER },
  { &bed_sheet_stacks, GROWER },      { &bed_sheet_survival, GROWER },
  { &bed_sheet_next, GROWER },        { &bed_sheet_ages, GROWER },
  { &bed_sheet_history, GROWER },     { &bed_sheet_coming, GROWER },
  { &bed_sheet_lots, GROWER },        { &bed_sheet_sales, ACCOUNTS },
  { &bed_sheet_purchases, ACCOUNTS }, { &bed_sheet_spawn, ACCOUNTS },
  { &bed_sheet_hours, ACCOUNTS },     { &bed_sheet_tasks, ACCOUNTS },
  { &bed_sheet_equipment, ACCOUNTS }, { &bed_sheet_store, ACCOUNTS },
  { &bed_sheet_stock, ACCOUNTS },     { &bed_sheet_costs, ACCOUNTS },
  { &bed_sheet_pools, ACCOUNTS },     { &bed_sheet_spent, ACCOUNTS },
  { &bed_sheet_life, ACCOUNTS },      { &bed_sheet_budget, LENDER },
  { &bed_sheet_level, LENDER },       { &bed_sheet_making, LENDER },
  { &bed_sheet_seasons, LENDER },     { &bed_sheet_months, LENDER },
  { &bed_sheet_buyers, LENDER },      { &bed_sheet_invest, LENDER },
  { &bed_sheet_batch_life, LENDER },  { &bed_sheet_organic, CERTIFIER },
  { &bed_sheet_sources, CERTIFIER },  { &bed_sheet_crop, CERTIFIER },
  { &bed_sheet_wood, CERTIFIER },     { &bed_sheet_checks, CERTIFIER },
  { &bed_sheet_inputs, CERTIFIER },   { &bed_sheet_water, CERTIFIER },
  { &bed_sheet_soaks, CERTIFIER },    { &bed_sheet_deliveries, CERTIFIER },
  { &bed_sheet_trace, CERTIFIER },    { &bed_sheet_maps, CERTIFIER },
  { &bed_sheet_picks, LISTS },        { &bed_sheet_logs, LISTS },
  { &bed_sheet_notes, LISTS },
};

/* As they are written: what an expression adds up comes before it. */
static const BedBookSheet *const order[] = {
  &bed_sheet_picks,  &bed_sheet_sales,     &bed_sheet_purchases,  &bed_sheet_spawn,
  &bed_sheet_hours,  &bed_sheet_equipment, &bed_sheet_logs,       &bed_sheet_batches,
  &bed_sheet_spent,  &bed_sheet_life,      &bed_sheet_lots,       &bed_sheet_store,
  &bed_sheet_stock,  &bed_sheet_tasks,     &bed_sheet_costs,      &bed_sheet_pools,
  &bed_sheet_making, &bed_sheet_budget,    &bed_sheet_level,      &bed_sheet_seasons,
  &bed_sheet_months, &bed_sheet_buyers,    &bed_sheet_batch_life, &bed_sheet_invest,
  &bed_sheet_stacks, &bed_sheet_survival,  &bed_sheet_comparison, &bed_sheet_sizes,
  &bed_sheet_trace,  &bed_sheet_organic,   &bed_sheet_sources,    &bed_sheet_wood,
  &bed_sheet_crop,   &bed_sheet_checks,    &bed_sheet_deliveries, &bed_sheet_inputs,
  &bed_sheet_water,  &bed_sheet_soaks,     &bed_sheet_maps,       &bed_sheet_history,
  &bed_sheet_ages,   &bed_sheet_coming,    &bed_sheet_next,       &bed_sheet_weeks,
  &bed_sheet_notes,  &bed_sheet_figures,   &bed_sheet_summary,
};

G_STATIC_ASSERT (G_N_ELEMENTS (tabs) == G_N_ELEMENTS (order));

/* Helpers */

static lxw_worksheet *
add_tab (BedBook *book, const BedBookSheet *sheet, lxw_color_t colour)
{
  if (!bed_book_check (book, workbook_validate_sheet_name (book->workbook, _ (sheet->name))))
    return NULL;
  lxw_worksheet *worksheet = workbook_add_worksheet (book->workbook, _ (sheet->name));
  worksheet_set_tab_color (worksheet, colour);
  return worksheet;
}

static void
write_sheets (BedBook *book)
{
  g_autoptr (GHashTable) worksheets = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (tabs) && !book->error; i++)
    g_hash_table_insert (worksheets, (gpointer) tabs[i].sheet,
                         add_tab (book, tabs[i].sheet, tabs[i].colour));
  for (guint i = 0; i < G_N_ELEMENTS (order) && !book->error; i++)
    bed_book_sheet_write (book, g_hash_table_lookup (worksheets, order[i]), order[i]);
}

static gboolean
fail (const char *path, GError **error)
{
  int saved = errno;

  g_set_error (error, G_IO_ERROR, g_io_error_from_errno (saved), "%s: %s", path,
               g_strerror (saved));
  return FALSE;
}

/* On the disk before it takes the place of the old one. */
static gboolean
put_in_place (const char *part, const char *path, GError **error)
{
  int fd = g_open (part, O_RDWR | O_CLOEXEC, 0);
  gboolean synced = fd >= 0 && fchmod (fd, 0644) == 0 && fsync (fd) == 0;

  if (!synced)
    fail (path, error);
  if (fd >= 0)
    close (fd);
  return synced && (g_rename (part, path) == 0 || fail (path, error));
}

/* Public */

int
bed_workbook_season (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), 0);
  gint64 season;
  return bed_query_one (farm, "SELECT bed_season (bed_today ())", 0, &season, error) ? (int) season
                                                                                     : 0;
}

char *
bed_workbook_map_date (BedFarm *farm, int season)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autofree char *next = bed_season_first (farm, season + 1);
  g_autofree char *last = bed_date_add (next, -1);
  const char *today = bed_farm_get_today (farm);

  return g_strdup (strcmp (last, today) < 0 ? last : today);
}

gboolean
bed_workbook_write (BedFarm *farm, const BedWorkbookPlan *plan, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && plan != NULL && plan->path != NULL, FALSE);
  g_auto (BedNumericLocale) point G_GNUC_UNUSED = bed_numeric_locale_enter ();
  g_autofree char *target = bed_output_dup_target (plan->path, BED_OUTPUT_WORKBOOK, error);
  BedBook book;

  if (!target)
    return FALSE;
  g_autofree char *part = g_strconcat (target, ".XXXXXX", NULL);
  int fd = g_mkstemp (part);
  if (fd < 0)
    return fail (plan->path, error);
  close (fd);
  bed_book_begin (&book, farm, plan, part);
  write_sheets (&book);
  bed_book_tell (&book, _ ("Putting the file together"));
  /* That takes its time too: who cancels meanwhile keeps the old file. */
  gboolean written = bed_book_end (&book, error)
                     && !g_cancellable_set_error_if_cancelled (plan->cancellable, error)
                     && put_in_place (part, target, error);
  if (!written)
    g_unlink (part);
  return written;
}
