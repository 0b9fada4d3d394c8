#include "yard_sample.h"

#include "yard/ground.h"

static void
add_feature (BedYard *yard, BedFeatureKind kind, const char *outline, const char *label)
{
  BedYardFeature *feature = bed_yard_feature_new (kind);
  g_autoptr (GError) error = NULL;

  feature->id = yard->features->len + 1;
  feature->label = g_strdup (label);
  g_array_unref (feature->ground.points);
  feature->ground.points = bed_outline_parse (outline, &error);
  g_assert_no_error (error);
  bed_ground_settle (&feature->ground, kind);
  g_ptr_array_add (yard->features, feature);
}

void
sample_add_feature (BedYard *yard, BedFeatureKind kind, const char *outline)
{
  add_feature (yard, kind, outline, NULL);
}

static BedYardLog *
make_log (const SampleStack *sample, guint i, GRand *dice)
{
  BedYardLog *log = bed_yard_log_new ();
  int mark = sample->mark + (int) (i / 24);

  log->id = (gint64) sample->seed * 1000 + i + 1;
  log->mark = mark;
  log->batch = g_strdup_printf ("26%c", 'A' + mark % 26);
  log->code = g_strdup_printf ("26%c-%03u-%c", 'A' + mark % 26, i % 24 + 1, "0K3X7"[i % 5]);
  log->length = g_rand_double_range (dice, 0.95, 1.05);
  log->diameter = g_rand_double_range (dice, 0.08, 0.16);
  log->colonised = g_rand_double_range (dice, 0, 1.2);
  log->retired = g_rand_int_range (dice, 0, 14) == 0;
  log->stage = log->retired ? BED_STAGE_RETIRED : (BedStage) g_rand_int_range (dice, 2, 7);
  return log;
}

BedYardStack *
sample_stack_new (const SampleStack *sample)
{
  static const char *names[]
      = { "Pile", "Crib", "Lean-to", "A-frame", "Upright", "Ground row", "Totem" };
  BedYardStack *stack = bed_yard_stack_new (sample->kind);
  GRand *dice = g_rand_new_with_seed (sample->seed);

  stack->id = sample->seed;
  stack->name = g_strdup_printf ("%s %u", names[sample->kind], sample->seed);
  stack->pose = (BedPose){ sample->x, sample->y, sample->turn * G_PI / 180 };
  for (guint i = 0; i < sample->n; i++)
    g_ptr_array_add (stack->logs, make_log (sample, i, dice));
  for (guint i = 0; sample->kind == BED_STACK_TOTEM && i < sample->n; i++)
    {
      BedYardLog *section = stack->logs->pdata[i]; /* short and thick */
      section->length /= 3;
      section->diameter *= 2;
    }
  g_rand_free (dice);
  return stack;
}

static void
add_stacks (BedYard *yard, const SampleStack *samples, guint n)
{
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (yard->stacks, sample_stack_new (&samples[i]));
}

BedYard *
sample_yard_new (void)
{
  BedYard *yard = bed_yard_new (20, 14);
  const SampleStack samples[] = {
    { BED_STACK_CRIB, 4, 9.5, 0, 24, 0, 1 },       { BED_STACK_CRIB, 6, 9.5, 0, 24, 1, 2 },
    { BED_STACK_CRIB, 8, 9.5, 0, 20, 2, 3 },       { BED_STACK_LEAN_TO, 5, 5.6, 12, 22, 3, 4 },
    { BED_STACK_A_FRAME, 12, 9.6, 90, 24, 4, 5 },  { BED_STACK_UPRIGHT, 12, 7.4, 90, 20, 5, 6 },
    { BED_STACK_GROUND, 11.5, 5.4, 90, 12, 6, 7 }, { BED_STACK_DEAD, 16, 9.5, -20, 40, 7, 8 },
    { BED_STACK_CRIB, 8, 11.6, 0, 0, 0, 9 },
  };

  yard->name = g_strdup ("Lower yard");
  yard->shade = 0.8;
  yard->north = 12 * G_PI / 180;
  add_feature (yard, BED_FEATURE_PATH, "0 7.6, 9.4 7.4, 14.5 6.6, 20 3", NULL);
  add_feature (yard, BED_FEATURE_TREE, "2 12, 3.9 12", "Oak");
  add_feature (yard, BED_FEATURE_TREE, "10.4 12.4, 11.6 12.4", NULL);
  add_feature (yard, BED_FEATURE_TREE, "18 12, 19.6 12", "Beech");
  add_feature (yard, BED_FEATURE_TREE, "2.2 2.4, 3.9 2.4", NULL);
  add_feature (yard, BED_FEATURE_POND, "14.4 1.2, 17 0.8, 18 2, 16.5 3.2, 14.8 2.8", "Pond");
  add_feature (yard, BED_FEATURE_TANK, "9 2, 11.2 3.2", "Tank");
  add_feature (yard, BED_FEATURE_TAP, "8.4 2.6", NULL);
  add_feature (yard, BED_FEATURE_FENCE, "0.3 0.3, 19.7 0.3", NULL);
  add_feature (yard, BED_FEATURE_BUILDING, "5 0.9, 7.6 3", "Shed");
  add_feature (yard, BED_FEATURE_SHADE_CLOTH, "9.8 4.4, 14.6 11", "80 % cloth");
  add_stacks (yard, samples, G_N_ELEMENTS (samples));
  return yard;
}

BedYard *
sample_large_yard_new (void)
{
  BedYard *yard = bed_yard_new (42, 24);

  yard->name = g_strdup ("Long wood");
  yard->shade = 0.85;
  for (guint i = 0; i < 40; i++)
    {
      static const BedStackKind kinds[] = { BED_STACK_CRIB, BED_STACK_CRIB, BED_STACK_A_FRAME,
                                            BED_STACK_CRIB, BED_STACK_LEAN_TO };
      BedStackKind kind = kinds[i / 8];
      SampleStack sample = { kind, 3.5 + (i % 8) * 5, 20.5 - (i / 8) * 4.3, 0, 25, (int) i, i + 1 };
      add_stacks (yard, &sample, 1);
    }
  add_feature (yard, BED_FEATURE_PATH, "0 18.4, 42 18.2", NULL);
  add_feature (yard, BED_FEATURE_POND, "38 1, 41 1, 41.4 4, 39 3.6", "Pond");
  for (guint i = 0; i < 9; i++)
    {
      g_autofree char *at = g_strdup_printf ("%d %d", 1 + (int) i * 5, i % 2 ? 23 : 1);
      add_feature (yard, BED_FEATURE_TREE, at, NULL);
    }
  return yard;
}
