#include "app/yard/yard_deeds.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/yard/yard_apply.h"
#include "model/farm/query.h"
#include "model/farm/source.h"
#include "yard/features.h"
#include "yard/planned_farm.h"
#include "yard/snap.h"

/* What the map and the panel beside it ask for, done in the farm. It goes with the map. */
typedef struct
{
  BedYardView *view;
  BedYardArrange *arrange; /* borrowed, as the farm */
  BedFarm *farm;
  char *plan;           /* the day whose plan is changed in place of the yard; NULL: none */
  gboolean for_arrange; /* the outline being drawn says where logs may stand */
} Deeds;

static const BedYard *
get_yard (Deeds *self)
{
  return bed_yard_view_get_scene (self->view)->yard;
}

static void
choose (Deeds *self, BedThingKind kind, gint64 id)
{
  g_autoptr (GArray) one = bed_things_new ();
  BedThing thing = { kind, id };

  g_array_append_val (one, thing);
  bed_yard_view_choose (self->view, one);
}

/* Whether a plan is seen, in which this cannot be done: that is said. */
static gboolean
refuse_planned (Deeds *self)
{
  if (!self->plan)
    return FALSE;
  bed_host_say (GTK_WIDGET (self->view),
                _ ("A plan is of stacks and logs: go back to today to change the rest."));
  return TRUE;
}

/* A deed on all that is chosen; takes @steps. */
static void
put_steps (Deeds *self, GArray *steps, BedGroupDeed deed)
{
  const BedYard *yard = get_yard (self);
  g_autoptr (GArray) owned = steps;
  g_autoptr (GError) error = NULL;

  bed_yard_apply (GTK_WIDGET (self->view),
                  self->plan ? bed_planned_move (self->farm, yard, self->plan, owned, &error)
                             : bed_group_put (self->farm, yard, owned, deed, &error),
                  &error);
}

static void
carried_cb (Deeds *self, const BedMotion *motion)
{
  gboolean turned = motion->by.x == 0 && motion->by.y == 0;

  put_steps (self, bed_group_carry (bed_yard_view_get_chosen (self->view), motion),
             turned ? BED_GROUP_TURNED : BED_GROUP_MOVED);
}

static void
align_cb (Deeds *self, guint align)
{
  put_steps (self,
             bed_group_align (bed_yard_view_get_scene (self->view),
                              bed_yard_view_get_chosen (self->view), align),
             BED_GROUP_ALIGNED);
}

static void
distribute_cb (Deeds *self, guint along)
{
  put_steps (self,
             bed_group_distribute (bed_yard_view_get_scene (self->view),
                                   bed_yard_view_get_chosen (self->view), along),
             BED_GROUP_DISTRIBUTED);
}

static void
copy_to (Deeds *self, guint copies, BedPoint by)
{
  const BedYard *yard = get_yard (self);
  g_autoptr (GArray) made = NULL;
  g_autoptr (GError) error = NULL;
  BedYardChange *change = bed_group_copy (self->farm, yard, bed_yard_view_get_chosen (self->view),
                                          copies, by, &made, &error);

  if (bed_yard_apply (GTK_WIDGET (self->view), change, &error) && made)
    bed_yard_view_choose (self->view, made);
}

static void
copy_cb (Deeds *self, guint copies, guint side)
{
  if (refuse_planned (self))
    return;
  copy_to (self, copies,
           bed_group_beside (bed_yard_view_get_scene (self->view),
                             bed_yard_view_get_chosen (self->view), side));
}

static void
remove_cb (Deeds *self)
{
  const BedYard *yard = get_yard (self);
  g_autoptr (GError) error = NULL;

  const GArray *chosen = bed_yard_view_get_chosen (self->view);

  bed_yard_apply (GTK_WIDGET (self->view),
                  self->plan ? bed_planned_remove (self->farm, yard, chosen, &error)
                             : bed_group_remove (self->farm, yard, chosen, &error),
                  &error);
}

static void
kind_cb (Deeds *self, guint kind)
{
  const BedYard *yard = get_yard (self);
  BedThing one = bed_things_get_only (bed_yard_view_get_chosen (self->view));
  g_autoptr (GError) error = NULL;

  if (refuse_planned (self))
    return;
  bed_yard_apply (GTK_WIDGET (self->view),
                  bed_feature_set_kind (self->farm, yard, one.id, kind, &error), &error);
}

/* A new thing, or the outline anew. */
static void
drawn_cb (Deeds *self, guint kind, const BedGround *ground)
{
  const BedYard *yard = get_yard (self);
  BedNewFeature feature = { .area = get_yard (self)->id, .kind = kind, .ground = ground };
  g_autoptr (GError) error = NULL;
  gint64 id = 0;

  if (kind == BED_N_FEATURE_KINDS && self->for_arrange)
    bed_yard_arrange_set_outline (self->arrange, ground);
  else if (refuse_planned (self))
    return;
  else if (kind == BED_N_FEATURE_KINDS)
    bed_yard_apply (GTK_WIDGET (self->view),
                    bed_feature_shape (self->farm, yard, 0, ground, &error), &error);
  else if (bed_yard_apply (GTK_WIDGET (self->view), bed_feature_place (self->farm, &feature, &id),
                           NULL))
    choose (self, BED_THING_FEATURE, id);
}

static void
stack_built_cb (Deeds *self, guint kind, const BedPose *pose)
{
  BedNewStack stack = { .area = get_yard (self)->id, .kind = kind, .pose = *pose };
  gint64 id = 0;

  BedYardChange *change = self->plan ? bed_planned_build (self->farm, self->plan, &stack, &id)
                                     : bed_yard_build_stack (self->farm, &stack, &id);

  if (bed_yard_apply (GTK_WIDGET (self->view), change, NULL))
    choose (self, BED_THING_STACK, id);
}

/* One stack beside itself, where there is most room; several to the east. */
static void
duplicate_cb (Deeds *self)
{
  const BedScene *scene = bed_yard_view_get_scene (self->view);
  const GArray *chosen = bed_yard_view_get_chosen (self->view);
  gint64 one = bed_yard_view_get_selected (self->view);
  guint index;
  const BedYardStack *stack = one ? bed_yard_find_stack (scene->yard, one, &index) : NULL;

  if (chosen->len == 0 || refuse_planned (self))
    return;
  BedPoint by = bed_group_beside (scene, chosen, BED_ALIGN_EAST);
  if (stack)
    {
      BedPose pose = bed_yard_beside (scene, index);
      by = (BedPoint){ pose.x - stack->pose.x, pose.y - stack->pose.y };
    }
  copy_to (self, 1, by);
}

static void
logs_dropped_cb (Deeds *self, gint64 stack, const GArray *logs)
{
  const BedScene *scene = bed_yard_view_get_scene (self->view);
  BedLogGoal goal = { bed_yard_find_stack (scene->yard, stack, NULL), 0, 0 };
  g_autoptr (GError) error = NULL;

  if (goal.to && logs->len > 0)
    bed_yard_apply (GTK_WIDGET (self->view),
                    self->plan ? bed_planned_move_logs (self->farm, self->plan, logs, &goal, &error)
                               : bed_yard_move_logs (self->farm, logs, &goal, &error),
                    &error);
}

static void
shaped_cb (Deeds *self, gint64 feature, const BedGround *ground)
{
  const BedYard *yard = get_yard (self);
  g_autoptr (GError) error = NULL;

  if (!refuse_planned (self))
    bed_yard_apply (GTK_WIDGET (self->view),
                    bed_feature_shape (self->farm, yard, feature, ground, &error), &error);
}

/* Where logs may stand is drawn as an outline is. */
static void
outline_cb (Deeds *self)
{
  self->for_arrange = TRUE;
  bed_yard_view_draw_thing (self->view, BED_N_FEATURE_KINDS);
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

static void
arranged_cb (Deeds *self, const GArray *stacks)
{
  g_autoptr (GArray) things = bed_things_new ();

  for (guint i = 0; i < stacks->len; i++)
    {
      BedThing thing = { BED_THING_STACK, g_array_index (stacks, gint64, i) };
      g_array_append_val (things, thing);
    }
  bed_yard_view_choose (self->view, things);
  bed_yard_view_show_chosen (self->view);
  bed_yard_view_focus_selected (self->view);
}

static void
free_deeds (gpointer data)
{
  Deeds *self = data;

  g_free (self->plan);
  g_free (self);
}

/* --- public --------------------------------------------------------------------- */

void
bed_yard_deeds_set_plan (BedYardView *view, const char *day)
{
  Deeds *self = g_object_get_data (G_OBJECT (view), "deeds");
  char *plan = g_strdup (day); /* it may be the same text */

  g_free (self->plan);
  self->plan = plan;
}

void
bed_yard_deeds_draw (BedYardView *view, guint kind)
{
  Deeds *self = g_object_get_data (G_OBJECT (view), "deeds");

  self->for_arrange = FALSE;
  bed_yard_view_draw_thing (view, kind);
}

void
bed_yard_deeds_connect (BedYardView *view, GtkWidget *group, BedYardArrange *arrange, BedFarm *farm)
{
  const struct
  {
    gpointer from;
    const char *signal;
    GCallback callback;
  } asked[] = {
    { view, "carried", G_CALLBACK (carried_cb) },
    { view, "built", G_CALLBACK (stack_built_cb) },
    { view, "drawn", G_CALLBACK (drawn_cb) },
    { view, "shaped", G_CALLBACK (shaped_cb) },
    { view, "logs-dropped", G_CALLBACK (logs_dropped_cb) },
    { view, "remove", G_CALLBACK (remove_cb) },
    { view, "duplicate", G_CALLBACK (duplicate_cb) },
    { group, "align", G_CALLBACK (align_cb) },
    { group, "distribute", G_CALLBACK (distribute_cb) },
    { group, "copy", G_CALLBACK (copy_cb) },
    { group, "remove", G_CALLBACK (remove_cb) },
    { group, "kind", G_CALLBACK (kind_cb) },
    { arrange, "outline", G_CALLBACK (outline_cb) },
    { arrange, "arranged", G_CALLBACK (arranged_cb) },
  };
  Deeds *self = g_new (Deeds, 1);

  *self = (Deeds){ .view = view, .arrange = arrange, .farm = farm };
  g_object_set_data_full (G_OBJECT (view), "deeds", self, free_deeds);
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    g_signal_connect_swapped (asked[i].from, asked[i].signal, asked[i].callback, self);
}

gboolean
bed_yard_find_code (GtkWidget *inside, BedFarm *farm, const char *text, gint64 *stack, gint64 *log)
{
  g_autoptr (GError) error = NULL;
  BedKind kind;
  gint64 id = bed_source_find (farm, text, &kind, &error);

  *log = kind == BED_KIND_LOG ? id : 0;
  *stack = kind == BED_KIND_STACK ? id : 0;
  if (!id)
    {
      bed_host_say_error (inside, error);
      return FALSE;
    }
  if (*log
      && !bed_query_one (farm, "SELECT stack FROM place WHERE log = ?1 AND until IS NULL", *log,
                         stack, &error))
    {
      bed_host_say_error (inside, error);
      return FALSE;
    }
  if (*stack)
    return TRUE;
  g_autofree char *said = g_strdup_printf (
      *log ? _ ("Log %s lies in no stack.") : _ ("There is no log or stack “%s”."), text);
  bed_host_say (inside, said);
  return FALSE;
}
