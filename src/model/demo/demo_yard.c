#include <glib/gi18n-lib.h>

#include "model/demo/demo_private.h"

/* Where the logs lie: a crib through the spawn run, then an A-frame or two upright rows;
 * one stack for up to BED_DEMO_PER_STACK logs. */

static int
take_slot (BedDemoYard *yard, int day)
{
  static const int never = G_MAXINT;
  guint i = 0;

  while (i < yard->free_from->len && g_array_index (yard->free_from, int, i) > day)
    i++;
  if (i == yard->free_from->len)
    g_array_append_val (yard->free_from, never);
  g_array_index (yard->free_from, int, i) = never;
  return i;
}

static BedRecord *
put_stack (BedDemo *demo, BedEdit *edit, BedDemoYard *yard, int slot, int logs)
{
  gboolean crib = yard == &demo->laying;
  int number = crib ? ++demo->cribs : ++demo->frames;
  gboolean upright = !crib && number % 3 == 0;
  g_autofree char *name = g_strdup_printf ("%s %d",
                                           crib      ? "Crib"
                                           : upright ? "Rows"
                                                     : "A-frame",
                                           number);
  BedRecord *stack = bed_demo_put (edit, BED_KIND_STACK, "name", name, "kind",
                                   crib      ? "crib"
                                   : upright ? "upright row"
                                             : "A-frame",
                                   "built_on", demo->date, NULL);
  double x = yard->west + slot % yard->columns * yard->dx;
  double y = yard->south + slot / yard->columns * yard->dy;

  BED_DEMO_SET (stack, { "area", yard->area }, { "x", bed_demo_length (&demo->plan, x * 1000, 1) },
                { "y", bed_demo_length (&demo->plan, y * 1000, 1) },
                { "turn", (gint64) (bed_demo_normal (demo, 0, crib ? 4 : 1.5)) * 100 },
                { "per_tier", crib ? 5 : (logs + 1) / 2 }, { "tiers", crib ? (logs + 4) / 5 : 2 });
  return stack;
}

static void
open_place (BedDemo *demo, BedEdit *edit, BedDemoLog *log, BedRecord *stack, int index)
{
  int per_tier = bed_record_get_int (stack, "per_tier");
  BedRecord *place = bed_demo_put (edit, BED_KIND_PLACE, "since", demo->date, NULL);

  BED_DEMO_SET (place, { "log", log->id }, { "stack", bed_record_get_id (stack) },
                { "tier", index / per_tier + 1 }, { "slot", index % per_tier + 1 });
  log->place = g_object_ref (place);
}

static void
close_place (BedDemo *demo, BedEdit *edit, BedDemoLog *log)
{

  if (!log->place)
    return;
  bed_record_set_text (log->place, "until", demo->date);
  bed_edit_put (edit, log->place);
  g_clear_object (&log->place);
}

/* Fills new stacks of @yard with the batch's logs, evenly. */
static void
fill_stacks (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, BedDemoYard *yard)
{
  int logs = batch->logs->len, done = 0;
  int n = (logs + BED_DEMO_PER_STACK - 1) / BED_DEMO_PER_STACK;

  for (int i = 0; i < n; i++)
    {
      int here = logs * (i + 1) / n - done;
      int slot = take_slot (yard, demo->day);
      BedDemoStack stack = { .slot = slot };
      stack.record = g_object_ref (put_stack (demo, edit, yard, slot, here));
      stack.id = bed_record_get_id (stack.record);
      g_array_append_val (batch->stacks, stack);
      for (int k = 0; k < here; k++)
        {
          BedDemoLog *log = &g_array_index (batch->logs, BedDemoLog, done + k);
          open_place (demo, edit, log, stack.record, k);
        }
      done += here;
    }
}

static void
take_down (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, BedDemoYard *yard)
{

  for (guint i = 0; i < batch->stacks->len; i++)
    {
      BedDemoStack *stack = &g_array_index (batch->stacks, BedDemoStack, i);
      bed_record_set_text (stack->record, "taken_down_on", demo->date);
      bed_edit_put (edit, stack->record);
      g_clear_object (&stack->record);
      g_array_index (yard->free_from, int, stack->slot) = demo->day + 1;
    }
  g_array_set_size (batch->stacks, 0);
}

void
bed_demo_stack_up (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch)
{
  fill_stacks (demo, edit, batch, &demo->laying);
}

/* In a close pile every second tier has one log less: they lie in the hollows. */
void
bed_demo_pile_up (BedDemo *demo, BedEdit *edit, GPtrArray *bolts)
{
  const int wide = MAX (7, (int) bolts->len / 10);
  int slot = take_slot (&demo->laying, demo->day), tier = 1, next = 1;
  BedRecord *stack = put_stack (demo, edit, &demo->laying, slot, bolts->len);

  bed_record_set_text (stack, "name", "Waiting pile");
  bed_record_set_text (stack, "kind", "dead");
  bed_record_set_int (stack, "per_tier", wide);
  for (guint i = 0; i < bolts->len; i++)
    {
      BedDemoLog log = { .id = bed_record_get_id (bolts->pdata[i]) };
      open_place (demo, edit, &log, stack, 0);
      bed_record_set_int (log.place, "tier", tier);
      bed_record_set_int (log.place, "slot", next);
      g_clear_object (&log.place);
      bed_record_set_int (stack, "tiers", tier);
      if (++next > wide - (tier + 1) % 2)
        {
          tier++;
          next = 1;
        }
    }
}

/* A year after inoculation the logs go up under the shade cloth. */
gboolean
bed_demo_raise (BedDemo *demo, GError **error)
{
  for (guint i = 0; i < demo->batches->len; i++)
    {
      BedDemoBatch *batch = demo->batches->pdata[i];
      int logs = batch->logs->len;
      if (batch->raised || demo->day < batch->raise_on || logs == 0)
        continue;
      BedEdit *edit = bed_demo_begin (demo);
      for (int k = 0; k < logs; k++)
        close_place (demo, edit, &g_array_index (batch->logs, BedDemoLog, k));
      take_down (demo, edit, batch, &demo->laying);
      fill_stacks (demo, edit, batch, &demo->fruiting);
      bed_demo_work (demo, edit, "moving", logs * 1.3, batch->id, logs);
      batch->raised = TRUE;
      bed_demo_plan_soak (batch, batch->season + 1);
      if (!bed_demo_end (edit, error, "Raised %d logs of batch %s in the fruiting yard", logs,
                         batch->code))
        return FALSE;
    }
  return TRUE;
}

/* --- retirement -------------------------------------------------------------- */

/* Life of 3 to 5 years (Frey and others, HortTechnology 30, 2020; Maryland Cooperative
 * Extension, Shiitake Mushrooms Enterprise, c. 2000); the shares are invented. */
static double
share_lost (int age)
{
  static const double share[] = { 0.01, 0.02, 0.05, 0.2, 0.65, 1 };

  return share[CLAMP (age, 0, 5)];
}

static const char *
retired_why (BedDemo *demo, int age)
{
  double chance = g_rand_double (demo->chance);

  if (age < 3)
    return chance < 0.5 ? "weed fungus" : chance < 0.9 ? "bark lost" : "lost";
  return chance < 0.6 ? "spent" : chance < 0.85 ? "rotted" : "bark lost";
}

static gboolean
retire_log (BedDemo *demo, BedEdit *edit, BedDemoLog *log, int age, GError **error)
{
  g_autoptr (BedRecord) record = bed_farm_load (demo->farm, BED_KIND_LOG, log->id, error);

  if (!record)
    return FALSE;
  bed_record_set_text (record, "retired_on", demo->date);
  bed_record_set_text (record, "retired_why", retired_why (demo, age));
  bed_edit_put (edit, record);
  close_place (demo, edit, log);
  return TRUE;
}

static gboolean
retire_from (BedDemo *demo, BedDemoBatch *batch, GError **error)
{
  int age = bed_demo_year (demo->day) - batch->season;
  BedEdit *edit = NULL;
  int n = 0;

  for (int i = (int) batch->logs->len - 1; i >= 0; i--)
    {
      if (!bed_demo_chance (demo, share_lost (age)))
        continue;
      if (!edit)
        edit = bed_demo_begin (demo);
      if (!retire_log (demo, edit, &g_array_index (batch->logs, BedDemoLog, i), age, error))
        {
          bed_edit_free (edit);
          return FALSE;
        }
      g_array_remove_index (batch->logs, i);
      n++;
    }
  if (edit && batch->logs->len == 0)
    take_down (demo, edit, batch, batch->raised ? &demo->fruiting : &demo->laying);
  return !edit || bed_demo_end (edit, error, "Retired %d logs of batch %s", n, batch->code);
}

gboolean
bed_demo_retire (BedDemo *demo, GError **error)
{
  if (demo->day != bed_demo_day (bed_demo_year (demo->day), 11, 6))
    return TRUE;
  for (guint i = 0; i < demo->batches->len; i++)
    if (!retire_from (demo, demo->batches->pdata[i], error))
      return FALSE;
  return TRUE;
}
