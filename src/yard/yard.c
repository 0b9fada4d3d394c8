#include "yard/yard.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/say.h"

G_DEFINE_QUARK (bed - yard - error - quark, bed_yard_error)

/* How far a wet log is carried gladly: common practice, no source. */
#define TO_WATER 30.0

/* The keys of src/model/farm/fields.c, in the order of the enumerations. */
static const char *stack_kinds[]
    = { "dead", "crib", "lean-to", "A-frame", "upright row", "ground row", "totem" };
static const char *feature_kinds[]
    = { "tree", "path", "pond", "tank", "tap", "fence", "building", "shade cloth" };
static const char *ground_forms[] = { "point", "disc", "box", "band", "polygon" };

G_STATIC_ASSERT (G_N_ELEMENTS (ground_forms) == BED_N_GROUND_FORMS);
G_STATIC_ASSERT (G_N_ELEMENTS (stack_kinds) == BED_N_STACKS);
G_STATIC_ASSERT (G_N_ELEMENTS (feature_kinds) == BED_N_FEATURE_KINDS);

static guint
find_key (const char *const *keys, guint n, const char *key)
{
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (keys[i], key) == 0)
      return i;
  return n;
}

static void
free_log (BedYardLog *log)
{
  g_free (log->code);
  g_free (log->brief);
  g_free (log->batch);
  g_free (log);
}

/* The batches of a stack in the order its logs name them. */
static GPtrArray *
list_batches (const BedYardStack *stack)
{
  GPtrArray *batches = g_ptr_array_new ();

  for (guint i = 0; i < stack->logs->len; i++)
    {
      const BedYardLog *log = g_ptr_array_index (stack->logs, i);
      if (log->batch && !g_ptr_array_find_with_equal_func (batches, log->batch, g_str_equal, NULL))
        g_ptr_array_add (batches, log->batch);
    }
  return batches;
}

/* One pair of numbers; FALSE when it is not that. */
static gboolean
parse_point (const char *text, BedPoint *point)
{
  char *end = NULL;

  point->x = g_ascii_strtod (text, &end);
  if (end == text)
    return FALSE;
  text = end;
  point->y = g_ascii_strtod (text, &end);
  if (end == text)
    return FALSE;
  while (g_ascii_isspace (*end))
    end++;
  return *end == '\0' && isfinite (point->x) && isfinite (point->y) && fabs (point->x) <= 1e4
         && fabs (point->y) <= 1e4;
}

BedPoint
bed_pose_point (const BedPose *pose, BedPoint local)
{
  double c = cos (pose->turn), s = sin (pose->turn);

  return (BedPoint){ pose->x + (local.x * c - local.y * s), pose->y + (local.x * s + local.y * c) };
}

BedPoint
bed_point_nearest (BedPoint p, BedPoint a, BedPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
  double t = length2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2 : 0;

  t = CLAMP (t, 0, 1);
  return (BedPoint){ a.x + t * dx, a.y + t * dy };
}

BedYardLog *
bed_yard_log_new (void)
{
  BedYardLog *log = g_new0 (BedYardLog, 1);

  log->mark = -1;
  log->colonised = -1;
  log->soaked = log->age = -1;
  log->moisture = NAN;
  return log;
}

BedYardStack *
bed_yard_stack_new (BedStackKind kind)
{
  BedYardStack *stack = g_new0 (BedYardStack, 1);

  stack->kind = kind;
  bed_stack_rules (kind, &stack->rules, NULL);
  stack->rules.rail_height = 0;
  stack->logs = g_ptr_array_new_with_free_func ((GDestroyNotify) free_log);
  return stack;
}

void
bed_yard_stack_free (BedYardStack *stack)
{
  g_free (stack->name);
  g_free (stack->shared);
  g_ptr_array_unref (stack->logs);
  g_free (stack);
}

BedYardFeature *
bed_yard_feature_new (BedFeatureKind kind)
{
  BedYardFeature *feature = g_new0 (BedYardFeature, 1);

  feature->kind = kind;
  feature->ground.points = g_array_new (FALSE, FALSE, sizeof (BedPoint));
  return feature;
}

void
bed_yard_feature_free (BedYardFeature *feature)
{
  g_free (feature->label);
  g_clear_pointer (&feature->ground.points, g_array_unref);
  g_free (feature);
}

BedYard *
bed_yard_new (double width, double depth)
{
  BedYard *yard = g_new0 (BedYard, 1);
  const BedPoint corners[] = { { 0, 0 }, { width, 0 }, { width, depth }, { 0, depth } };

  yard->width = width;
  yard->depth = depth;
  yard->shade = -1;
  yard->aisle = BED_YARD_AISLE;
  yard->to_water = TO_WATER;
  yard->outline = g_array_new (FALSE, FALSE, sizeof (BedPoint));
  g_array_append_vals (yard->outline, corners, G_N_ELEMENTS (corners));
  yard->features = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_yard_feature_free);
  yard->stacks = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_yard_stack_free);
  yard->arrows = g_array_new (FALSE, FALSE, sizeof (BedYardArrow));
  return yard;
}

void
bed_yard_free (BedYard *yard)
{
  g_array_unref (yard->arrows);
  g_free (yard->name);
  g_array_unref (yard->outline);
  g_ptr_array_unref (yard->features);
  g_ptr_array_unref (yard->stacks);
  g_free (yard);
}

BedYardStack *
bed_yard_find_stack (const BedYard *yard, gint64 id, guint *index)
{
  for (guint i = 0; i < yard->stacks->len; i++)
    {
      BedYardStack *stack = g_ptr_array_index (yard->stacks, i);
      if (stack->id != id)
        continue;
      if (index)
        *index = i;
      return stack;
    }
  return NULL;
}

const BedYardLog *
bed_yard_stack_find_log (const BedYardStack *stack, gint64 id)
{
  for (guint i = 0; i < stack->logs->len; i++)
    if (((BedYardLog *) stack->logs->pdata[i])->id == id)
      return stack->logs->pdata[i];
  return NULL;
}

char *
bed_yard_stack_contents (const BedYardStack *stack)
{
  g_autoptr (GPtrArray) batches = list_batches (stack);
  guint n = stack->logs->len;
  g_autofree char *logs = bed_say (ngettext ("%u log", "%u logs", n), n);

  if (n == 0)
    return g_strdup (_ ("no logs"));
  if (batches->len == 0)
    return g_steal_pointer (&logs);
  if (batches->len == 1)
    /* TRANSLATORS: "24 logs" of "26A" */
    return g_strdup_printf (_ ("%s of %s"), logs, (char *) batches->pdata[0]);
  if (batches->len == 2)
    /* TRANSLATORS: "24 logs" of "26A" and "26B" */
    return g_strdup_printf (_ ("%s of %s and %s"), logs, (char *) batches->pdata[0],
                            (char *) batches->pdata[1]);
  /* TRANSLATORS: "24 logs" of 4 batches; always more than two */
  return g_strdup_printf (ngettext ("%s of %u batch", "%s of %u batches", batches->len), logs,
                          batches->len);
}

char *
bed_yard_stack_about (const BedYardStack *stack)
{
  char *contents = bed_yard_stack_contents (stack);

  if (!stack->shared)
    return contents;
  g_autofree char *alone = contents;
  return g_strdup_printf (_ ("%s · codes %s"), alone, stack->shared);
}

const char *
bed_stack_kind_key (BedStackKind kind)
{
  g_return_val_if_fail (kind < BED_N_STACKS, "");
  return stack_kinds[kind];
}

BedStackKind
bed_stack_kind_from_key (const char *key)
{
  return find_key (stack_kinds, BED_N_STACKS, key);
}

BedFeatureKind
bed_feature_kind_from_key (const char *key)
{
  return find_key (feature_kinds, BED_N_FEATURE_KINDS, key);
}

const char *
bed_feature_kind_key (BedFeatureKind kind)
{
  g_return_val_if_fail (kind < BED_N_FEATURE_KINDS, "");
  return feature_kinds[kind];
}

BedGroundForm
bed_ground_form_from_key (const char *key)
{
  return find_key (ground_forms, BED_N_GROUND_FORMS, key);
}

const char *
bed_ground_form_key (BedGroundForm form)
{
  g_return_val_if_fail (form < BED_N_GROUND_FORMS, "");
  return ground_forms[form];
}

GArray *
bed_outline_parse (const char *text, GError **error)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (BedPoint));
  g_auto (GStrv) pairs = g_strsplit (text ? text : "", ",", -1);

  for (guint i = 0; pairs[i]; i++)
    {
      BedPoint point;
      const char *pair = g_strstrip (pairs[i]);
      if (!parse_point (pair, &point))
        {
          g_set_error (error, BED_YARD_ERROR, BED_YARD_ERROR_OUTLINE,
                       _ ("Corner %u, “%s”, is not two numbers; write x and y in metres, "
                          "corners parted by commas: 3 2, 5 2.5"),
                       i + 1, pair);
          return NULL;
        }
      g_array_append_val (points, point);
    }
  if (points->len > 0)
    return g_steal_pointer (&points);
  g_set_error (error, BED_YARD_ERROR, BED_YARD_ERROR_OUTLINE,
               _ ("There is no corner; write x and y in metres: 3 2, 5 2.5"));
  return NULL;
}

/* Metres to the tenth of a millimetre (a quarter foot is 76.2 mm), without trailing zeros. */
static void
append_metres (GString *text, double metres)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  metres = round (metres * 1e4) / 1e4 + 0.0; /* no "-0" */
  g_string_append (text, g_ascii_formatd (number, sizeof number, "%.4f", metres));
  while (text->str[text->len - 1] == '0')
    g_string_truncate (text, text->len - 1);
  if (text->str[text->len - 1] == '.')
    g_string_truncate (text, text->len - 1);
}

char *
bed_outline_format (const GArray *points)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < points->len; i++)
    {
      const BedPoint *point = &g_array_index (points, BedPoint, i);
      g_string_append (text, i ? ", " : "");
      append_metres (text, point->x);
      g_string_append_c (text, ' ');
      append_metres (text, point->y);
    }
  return g_string_free (text, FALSE);
}
