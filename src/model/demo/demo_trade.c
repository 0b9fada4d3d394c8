#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/demo/demo_private.h"

/* Sales, drying, purchases and hours. Every price is invented. */

enum
{
  MARKET,
  RESTAURANT,
  SHOP,
  CRATES,
  WHOLESALE,
  OWN_KITCHEN,
};

static const int cents_per_pound[BED_DEMO_BUYERS] = { 1600, 1400, 1250, 1500, 900, 0 };

/* Dried mushrooms weigh a ninth: a fresh one of 90 % water dried to 13 % gives 8.7 to 1
 * (0.87 / 0.10). */
static const int fresh_per_dried = 9;

#define HANDS 3
#define MOST_MINUTES (31 * 24 * 60) /* of an entry, as its field allows */

static void
put_line (BedEdit *edit, gint64 sale, BedDemoLot *lot, const char *form, const char *use,
          gint64 mass, gint64 price)
{
  BedRecord *line = bed_demo_put (edit, BED_KIND_LINE, "form", form, "use", use, NULL);

  BED_DEMO_SET (line, { "sale", sale }, { "lot", lot->id }, { "mass", mass });
  if (price > 0)
    bed_record_set_int (line, "price", price);
}

static gint64
price_of (gint64 mass, int cents)
{
  return MAX (llround (mass / 453592.37 * cents), 1);
}

static gint64
put_sale (BedDemo *demo, BedEdit *edit, int buyer)
{
  g_autofree char *code
      = g_strdup_printf ("V%02d-%d", bed_demo_year (demo->day) % 100, ++demo->sale_number);
  BedRecord *sale = bed_demo_put (edit, BED_KIND_SALE, "code", code, "sold_on", demo->date, NULL);

  bed_record_set_int (sale, "buyer", demo->buyer[buyer]);
  /* The others are sent a bill, and nobody wrote down when they paid it. */
  if (buyer == MARKET || buyer == SHOP || buyer == CRATES)
    bed_record_set_text (sale, "paid_on", demo->date);
  return bed_record_get_id (sale);
}

static gint64
in_stock (BedDemo *demo)
{
  gint64 sum = 0;

  for (GList *l = demo->lots.head; l; l = l->next)
    sum += ((BedDemoLot *) l->data)->rest;
  return sum;
}

/* Sells up to @wanted from the oldest lots; a little of an old lot is culled. */
static gint64
sell_from_lots (BedDemo *demo, BedEdit *edit, int buyer, gint64 wanted)
{
  gint64 sale = put_sale (demo, edit, buyer), sold = 0;
  const char *use = buyer == OWN_KITCHEN ? "given away" : "sold";

  for (GList *l = demo->lots.head; l && wanted > 0; l = l->next)
    {
      BedDemoLot *lot = l->data;
      gint64 culled = demo->day - lot->picked_on > 5 ? lot->rest / 20 : 0;
      gint64 mass = lot->rest - culled;
      /* Half an ounce is not left lying. */
      if (mass - wanted > 14175)
        mass = wanted;
      if (culled > 0)
        put_line (edit, sale, lot, "fresh", "culled", culled, 0);
      if (mass > 0)
        put_line (edit, sale, lot, "fresh", use, mass,
                  buyer == OWN_KITCHEN ? 0 : price_of (mass, cents_per_pound[buyer]));
      lot->rest -= culled + mass;
      wanted -= mass;
      sold += mass;
    }
  while (demo->lots.head && ((BedDemoLot *) demo->lots.head->data)->rest == 0)
    g_free (g_queue_pop_head (&demo->lots));
  return sold;
}

static gboolean
sell_to (BedDemo *demo, int buyer, double share, GError **error)
{
  gint64 stock = in_stock (demo);

  if (stock < 900000) /* two pounds are not worth the drive */
    return TRUE;
  BedEdit *edit = bed_demo_begin (demo);
  gint64 wanted = bed_demo_mass (&demo->plan, stock * share / 1000, 0.5);
  gint64 sold = sell_from_lots (demo, edit, buyer, CLAMP (wanted, 453592, stock));
  bed_demo_work (demo, edit, "packing", 5 + sold / 1e6 * 2, 0, 0);
  bed_demo_work (demo, edit, "selling", buyer == MARKET ? 50 : 12, 0, 0);
  int tenths = lround (sold / 45359.237);
  return bed_demo_end (edit, error, "Sold %d.%d lb", tenths / 10, tenths % 10);
}

/* What nobody bought in ten days is dried. */
static gboolean
dry_old_lots (BedDemo *demo, GError **error)
{
  BedDemoLot *lot = g_queue_peek_head (&demo->lots);

  if (!lot || demo->day - lot->picked_on < 10 || lot->rest < 100000)
    return TRUE;
  BedEdit *edit = bed_demo_begin (demo);
  BedRecord *drying = bed_demo_put (edit, BED_KIND_DRYING, "dried_on", demo->date, NULL);
  BED_DEMO_SET (drying, { "lot", lot->id }, { "fresh_mass", lot->rest },
                { "dried_mass", MAX (lot->rest / fresh_per_dried, 1) });
  demo->dried = lot->rest / fresh_per_dried;
  demo->dried_lot = lot->id;
  g_free (g_queue_pop_head (&demo->lots));
  return bed_demo_end (edit, error, "Dried what was left of a lot");
}

static gboolean
sell_dried (BedDemo *demo, GError **error)
{
  BedDemoLot lot = { .id = demo->dried_lot };

  if (demo->dried < 20000)
    return TRUE;
  BedEdit *edit = bed_demo_begin (demo);
  gint64 sale = put_sale (demo, edit, MARKET);
  put_line (edit, sale, &lot, "dried", "sold", demo->dried, price_of (demo->dried, 9600));
  demo->dried = 0;
  return bed_demo_end (edit, error, "Sold dried mushrooms at the market");
}

gboolean
bed_demo_sell (BedDemo *demo, GError **error)
{
  GDate date = bed_demo_gdate (demo->day);

  demo->minute = MAX (demo->minute, 14 * 60);
  int week = g_date_get_iso8601_week_of_year (&date);
  switch (g_date_get_weekday (&date))
    {
    case G_DATE_WEDNESDAY:
      return dry_old_lots (demo, error)
             && sell_to (demo, week % 2 ? RESTAURANT : SHOP, 0.35, error);
    case G_DATE_FRIDAY:
      return sell_to (demo, week % 4 ? CRATES : OWN_KITCHEN, week % 4 ? 0.3 : 0.05, error);
    case G_DATE_SATURDAY:
      return sell_to (demo, MARKET, 0.9, error) && (week % 2 || sell_dried (demo, error));
    case G_DATE_SUNDAY:
      return in_stock (demo) < 50000000 || sell_to (demo, WHOLESALE, 0.6, error);
    case G_DATE_MONDAY:
    case G_DATE_TUESDAY:
    case G_DATE_THURSDAY:
    case G_DATE_BAD_WEEKDAY:
      break;
    }
  return TRUE;
}

/* --- hours --------------------------------------------------------------------- */

typedef struct
{
  const char *task;
  int minutes;
  gint64 batch; /* 0: of none */
  int logs;     /* 0: not about logs */
} Work;

static void
put_hours (BedDemo *demo, BedEdit *edit, const Work *work, int hand)
{
  g_autofree char *person = g_strdup_printf ("hand %d", 1 + hand % HANDS);
  BedRecord *hours = bed_demo_put (edit, BED_KIND_HOURS, "worked_on", demo->date, "task",
                                   work->task, "person", person, NULL);

  bed_record_set_int (hours, "minutes", work->minutes);
  if (work->batch)
    bed_record_set_int (hours, "batch", work->batch);
  if (work->logs)
    bed_record_set_int (hours, "logs", work->logs);
}

void
bed_demo_work (BedDemo *demo, BedEdit *edit, const char *task, double minutes, gint64 batch,
               int logs)
{
  int hand = g_rand_int_range (demo->chance, 0, HANDS);
  /* To the quarter of an hour, as people write it. */
  int quarters = lround (minutes * bed_demo_normal (demo, 1, 0.08) / 15);
  int all = 15 * MAX (quarters, 1);
  /* An entry holds a month at most: on a very large farm several hands share the work. */
  int hands = (all + MOST_MINUTES - 1) / MOST_MINUTES;

  for (int i = 0; i < hands; i++)
    {
      const Work work = { task, all / hands, batch, logs / hands };

      put_hours (demo, edit, &work, hand + i);
    }
}

/* --- purchases ------------------------------------------------------------------- */

typedef struct
{
  int month, day;
  const char *category, *what, *supplier, *scope;
  double base, per_log; /* dollars */
  int every;            /* years */
} Purchase;

static const Purchase purchases[] = {
  { 1, 20, "certification", "Yearly inspection fee", "certifier", "overhead", 180, 0.15, 1 },
  { 2, 15, "tools", "Saw chain and bar oil", "saw shop", "yard", 60, 0.1, 1 },
  { 3, 16, "wax", "Soy wax, flakes", "wax maker", "season", 8, 0.22, 1 },
  { 3, 18, "tools", "Drill bits, 7/16 in", "tool shop", "season", 18, 0.06, 1 },
  { 3, 20, "other", "Aluminium log tags", "tag maker", "season", 6, 0.08, 1 },
  { 4, 24, "yard", "Shade cloth, 80 %", "farm supply", "yard", 120, 0.3, 3 },
  { 5, 6, "packaging", "Paper boxes, 1 lb", "box maker", "overhead", 45, 0.2, 1 },
  { 6, 10, "water", "Pump service", "well fitter", "yard", 85, 0, 2 },
  { 7, 14, "packaging", "Paper boxes returned, wrong size", "box maker", "overhead", -12, 0, 3 },
  { 8, 4, "transport", "Market fuel, half season", "filling station", "overhead", 95, 0.05, 1 },
  { 10, 12, "transport", "Market fuel, half season", "filling station", "overhead", 95, 0.05, 1 },
};

static gboolean
buy (BedDemo *demo, const Purchase *what, GError **error)
{
  int spring = bed_demo_year (demo->day) - demo->first_year;
  int logs = spring < demo->springs ? demo->shares[spring] : 0;

  if (g_str_equal (what->scope, "season") && logs == 0)
    return TRUE;
  double price = (what->base + what->per_log * logs) * (1 + 0.03 * spring);
  BedEdit *edit = bed_demo_begin (demo);
  BedRecord *purchase = bed_demo_put (edit, BED_KIND_PURCHASE, "bought_on", demo->date, "category",
                                      what->category, "what", what->what, "supplier",
                                      what->supplier, "scope", what->scope, NULL);
  BED_DEMO_SET (purchase, { "amount", llround (price * 20) * 5 }, { "tax", llround (price * 6) });
  return bed_demo_end (edit, error, "Bought: %s", what->what);
}

gboolean
bed_demo_spend (BedDemo *demo, GError **error)
{
  int year = bed_demo_year (demo->day);

  for (gsize i = 0; i < G_N_ELEMENTS (purchases); i++)
    if (demo->day == bed_demo_day (year, purchases[i].month, purchases[i].day)
        && (year - demo->first_year) % purchases[i].every == 0 && !buy (demo, &purchases[i], error))
      return FALSE;
  return TRUE;
}
