#include "print/field/field_sheet_farm.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/soak_plan.h"
#include "print/drill/bark.h"
#include "print/drill/drill_farm.h"
#include "print/field/field_sheet_plan.h"
#include "print/field/field_sheet_week.h"
#include "science/units.h"

#define FIGURE_HEIGHT (42 * BED_POINTS_PER_MM)

/* The record a sheet is about, whose code is in the title and in the QR code, and the question for
 * its lines, whose columns are the sheet's. */
typedef struct
{
  BedKind kind;
  gint64 id;       /* 0: none */
  const char *sql; /* ?1 is the id; NULL: empty lines */
} Subject;

#define ALIVE " AND bed_alive (retired_on, bed_today ()) ORDER BY code"

static const char measuring_batch[]
    = "SELECT code, length, small_diameter, large_diameter, green_mass, bark, NULL FROM log "
      "WHERE batch = ?1" ALIVE;
static const char measuring_felling[]
    = "SELECT code, length, small_diameter, large_diameter, green_mass, bark, NULL FROM log "
      "WHERE felling = ?1 AND batch IS NULL" ALIVE;
static const char inoculation[]
    = "SELECT code, length, small_diameter, large_diameter, holes, NULL FROM log "
      "WHERE batch = ?1" ALIVE;
/* The logs weighed before are the sample; before there is one, every log of the batch. */
static const char weighing[]
    = "SELECT l.code, (SELECT w.mass FROM weighing w WHERE w.log = l.id "
      "  ORDER BY w.weighed_on DESC, w.id DESC LIMIT 1) AS mass, NULL, NULL FROM log l "
      "WHERE (?1 = 0 OR l.batch = ?1) AND bed_alive (l.retired_on, bed_today ()) "
      "AND (EXISTS (SELECT 1 FROM weighing w WHERE w.log = l.id) OR (?1 > 0 AND NOT EXISTS "
      "  (SELECT 1 FROM weighing w JOIN log m ON m.id = w.log WHERE m.batch = ?1))) "
      "ORDER BY l.code";
static const char picking[]
    = "SELECT NULL, stack_name, NULL, NULL, NULL, NULL, NULL FROM log_today "
      "WHERE stack IS NOT NULL AND stage = 'fruiting' GROUP BY stack ORDER BY stack_name";
static const char picking_stack[]
    = "SELECT l.code, NULL, NULL, NULL, NULL, NULL, NULL FROM place x JOIN log l ON l.id = x.log "
      "WHERE x.stack = ?1 AND x.until IS NULL ORDER BY l.code";
/* Whatever is weighed of a stack is weighed there. */
static const char weighing_stack[]
    = "SELECT l.code, (SELECT w.mass FROM weighing w WHERE w.log = l.id "
      "  ORDER BY w.weighed_on DESC, w.id DESC LIMIT 1) AS mass, NULL, NULL "
      "FROM place x JOIN log l ON l.id = x.log WHERE x.stack = ?1 AND x.until IS NULL "
      "ORDER BY l.code";
/* A stack is taken down from the top. */
static const char moves_stack[]
    = "SELECT l.code, k.name, x.tier AS own, NULL, NULL, NULL FROM place x "
      "JOIN log l ON l.id = x.log JOIN stack k ON k.id = x.stack "
      "WHERE x.stack = ?1 AND x.until IS NULL ORDER BY x.tier DESC, x.slot, l.code";
static const char moves_batch[]
    = "SELECT l.code, k.name, x.tier AS own, NULL, NULL, NULL FROM log l "
      "LEFT JOIN place x ON x.log = l.id AND x.until IS NULL LEFT JOIN stack k ON k.id = x.stack "
      "WHERE l.batch = ?1 AND bed_alive (l.retired_on, bed_today ()) "
      "ORDER BY k.name, x.tier DESC, x.slot, l.code";

/* A soak takes a day (model/work/due_rules.c lifts it then), hours. */
#define SOAK_HOURS "24"

static Subject
get_subject (const BedFieldSheetRequest *request)
{
  gint64 batch = request->batch, felling = request->felling, stack = request->stack;

  switch (request->kind)
    {
    case BED_PAPER_FELLING:
      return (Subject){ BED_KIND_FELLING, felling, NULL };
    case BED_PAPER_MEASURING:
      return batch ? (Subject){ BED_KIND_BATCH, batch, measuring_batch }
                   : (Subject){ BED_KIND_FELLING, felling, measuring_felling };
    case BED_PAPER_INOCULATION:
      return (Subject){ BED_KIND_BATCH, batch, inoculation };
    case BED_PAPER_WEIGHING:
      return stack ? (Subject){ BED_KIND_STACK, stack, weighing_stack }
                   : (Subject){ BED_KIND_BATCH, batch, weighing };
    case BED_PAPER_PICKING:
      return (Subject){ BED_KIND_STACK, stack, stack ? picking_stack : picking };
    case BED_PAPER_MOVES:
      return stack ? (Subject){ BED_KIND_STACK, stack, moves_stack }
                   : (Subject){ BED_KIND_BATCH, batch, moves_batch };
    case BED_PAPER_SOAK: /* lines of the rotation's plan, not of a question */
    case BED_PAPER_PLAN: /* lines of the yard's */
    case BED_PAPER_WEEK: /* of what is due */
    case BED_PAPER_DAY:
    case BED_N_PAPERS:
      break;
    }
  return (Subject){ BED_KIND_BATCH, 0, NULL };
}

/* A cell as people read it: the field that the query's column is named after
 * says what it is. A column of the sheet's own has no unit in its head. */
static char *
dup_cell (BedFarm *farm, const BedPaperForm *form, BedQuery *query, int column)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  const BedField *field
      = bed_kind_find_field (form->line, bed_query_column_name (query, column), NULL);

  if (bed_query_is_null (query, column))
    return NULL;
  if (field && field->type == BED_FIELD_CHOICE)
    return g_strdup (bed_field_choice_label (field, bed_query_text (query, column)));
  if (!field || field->type != BED_FIELD_MEASURE)
    return g_strdup (bed_query_text (query, column));
  gint64 value = bed_query_int (query, column);
  if (form->columns[column].field)
    return bed_measure_format_said (field->measure, notation, value);
  return bed_measure_format_unit_said (field->measure, notation, value);
}

static gboolean
add_lines (BedFieldSheet *sheet, BedFarm *farm, const BedPaperForm *form, const Subject *about,
           GError **error)
{
  guint n = bed_field_sheet_get_n_columns (sheet);

  if (!about->sql)
    return TRUE;
  g_autoptr (BedQuery) query = bed_query_new (farm, about->sql);
  bed_query_bind_int (query, 1, about->id);
  while (bed_query_next (query))
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

      g_assert ((guint) bed_query_n_columns (query) == n);
      for (guint i = 0; i < n; i++)
        g_ptr_array_add (cells, dup_cell (farm, form, query, (int) i));
      bed_field_sheet_add_row (sheet, (const char *const *) cells->pdata);
    }
  return bed_query_finish (query, error);
}

/* The soaks of a week of the rotation */

/* The first week from this one on in which something is planned; this one when nothing is. */
static guint
find_soak_week (const BedSoakPlan *plan)
{
  guint found = plan->n_weeks;

  for (guint i = 0; i < plan->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, i);
      if (bar->state == BED_SOAK_PLANNED)
        found = MIN (found, bar->week);
    }
  return found < plan->n_weeks ? found : BED_SOAK_PLAN_WEEKS_BACK;
}

static gboolean
add_soak (BedFieldSheet *sheet, BedFarm *farm, const BedSoakGroup *group, guint logs,
          GError **error)
{
  const char *cells[BED_PAPER_COLUMNS] = { NULL };
  g_autoptr (BedRecord) batch = bed_farm_load (farm, BED_KIND_BATCH, group->batch, error);
  g_autoptr (BedRecord) stack
      = batch && group->stack ? bed_farm_load (farm, BED_KIND_STACK, group->stack, error) : NULL;
  g_autofree char *number = bed_say ("%u", logs);
  g_autofree char *rest = bed_say ("%u", group->rest_weeks);

  if (!batch || (group->stack && !stack))
    return FALSE;
  cells[0] = stack ? bed_record_get_text (stack, "name") : NULL;
  cells[1] = bed_record_get_text (batch, "code");
  cells[2] = number;
  cells[3] = rest;
  cells[4] = SOAK_HOURS;
  bed_field_sheet_add_row (sheet, cells);
  return TRUE;
}

/* Where there is no plan there are empty lines to write on: the sheet is not refused. */
static BedFieldSheet *
make_soak_sheet (BedFarm *farm, BedPaperHead *head, GError **error)
{
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new (farm, error);

  if (!plan)
    return NULL;
  bed_soak_plan_solve (plan, NULL);
  guint week = find_soak_week (plan);
  g_autofree char *monday = bed_date_add (plan->first_day, 7 * (int) week);
  g_autofree char *day = bed_date_format_in_week (monday);
  head->about = day;
  g_autoptr (BedFieldSheet) sheet = bed_field_sheet_new_kind (BED_PAPER_SOAK, head);
  head->about = NULL;
  for (guint i = 0; i < plan->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, i);
      if (bar->state == BED_SOAK_PLANNED && bar->week == week
          && !add_soak (sheet, farm, plan->groups->pdata[bar->group], bar->logs, error))
        return NULL;
    }
  return g_steal_pointer (&sheet);
}

/* What a record knows of the sheet's boxes, with units. */
static void
add_values (GHashTable *values, BedFarm *farm, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_has (record, info->fields[i].name))
      g_hash_table_insert (values, (gpointer) info->fields[i].name,
                           bed_value_dup_sentence (farm, record, info->fields[i].name));
}

/* Each spawn lot that went into a batch, as far as they have been entered. */
static gboolean
add_spawn (GPtrArray *more, BedFarm *farm, gint64 batch, GError **error)
{
  g_autoptr (BedQuery) query
      = bed_query_new (farm, "SELECT id FROM spawn_used WHERE batch = ?1 ORDER BY id");
  gboolean there = TRUE;

  bed_query_bind_int (query, 1, batch);
  while (there && bed_query_next (query))
    {
      g_autoptr (BedRecord) used
          = bed_farm_load (farm, BED_KIND_SPAWN_USED, bed_query_int (query, 0), error);
      GHashTable *values = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);

      g_ptr_array_add (more, values);
      there = used != NULL;
      if (there)
        add_values (values, farm, used);
    }
  return there && bed_query_finish (query, error);
}

static gboolean
collect_values (BedPaperHead *head, BedFarm *farm, const BedFieldSheetRequest *request,
                BedRecord *subject, GError **error)
{
  if (!subject)
    return TRUE;
  if (bed_record_get_kind (subject) == bed_paper_get_form (request->kind)->sheet)
    add_values (head->values, farm, subject);
  else if (bed_record_get_kind (subject) == BED_KIND_FELLING)
    g_hash_table_insert (head->values, (gpointer) "felling",
                         g_strdup (bed_record_get_text (subject, "code")));
  return request->kind != BED_PAPER_INOCULATION
         || add_spawn (head->more, farm, bed_record_get_id (subject), error);
}

static const char *
get_name (BedRecord *subject)
{
  return subject
             ? bed_record_get_text (subject, bed_kind_get_info (bed_record_get_kind (subject))->key)
             : NULL;
}

/* The drilling plan */

typedef struct
{
  BedDrillPlan *plan;
  BedTypesetter *type;
  double hole_diameter;
  char *distance;
} Figure;

static void
free_figure (gpointer data)
{
  Figure *figure = data;

  bed_drill_plan_free (figure->plan);
  bed_typesetter_free (figure->type);
  g_free (figure->distance);
  g_free (figure);
}

static gboolean
draw_figure_cb (cairo_t *cr, const BedBox *box, gpointer data, GError **error)
{
  Figure *figure = data;

  bed_bark_draw (&(BedBark){ figure->plan, figure->hole_diameter, &bed_bark_paper, figure->type,
                             figure->distance, 8 },
                 cr, box);
  return TRUE;
}

static gboolean
add_figure (BedFieldSheet *sheet, BedFarm *farm, gint64 batch, GError **error)
{
  BedDrill drill;
  BedDrillPlan *plan = bed_drill_read_batch (farm, batch, &drill, error)
                           ? bed_drill_plan_new (&drill, error)
                           : NULL;

  if (!plan)
    return FALSE;
  Figure *figure = g_new0 (Figure, 1);
  figure->plan = plan;
  figure->type = bed_typesetter_new ();
  figure->hole_diameter = drill.hole_diameter;
  figure->distance
      = bed_measure_format_unit_rounded (BED_MEASURE_LENGTH, bed_farm_get_notation (farm), 1,
                                         (gint64) llround (plan->farthest.distance * 1000));
  bed_field_sheet_set_figure (
      sheet, &(BedSheetFigure){ FIGURE_HEIGHT, draw_figure_cb, figure, free_figure });
  return TRUE;
}

static char *
dup_subtitle (BedFarm *farm)
{
  g_autofree char *day = bed_date_format_day (bed_farm_get_today (farm));

  const char *name = bed_record_get_text (bed_farm_get_settings (farm), "name");
  return g_strdup_printf ("%s · %s %.4s", name, day, bed_farm_get_today (farm));
}

static BedFieldSheet *
make_week_sheet (BedFarm *farm, BedPaperHead *head, GError **error)
{
  g_autoptr (BedFieldSheet) sheet = bed_field_sheet_new_kind (BED_PAPER_WEEK, head);

  return bed_field_sheet_add_week (sheet, farm, error) ? g_steal_pointer (&sheet) : NULL;
}

/* Without the lines that a question answers. */
static BedFieldSheet *
make_sheet (BedFarm *farm, const BedFieldSheetRequest *request, BedPaperHead *head, GError **error)
{
  if (request->kind == BED_PAPER_SOAK)
    return make_soak_sheet (farm, head, error);
  if (request->kind == BED_PAPER_PLAN)
    return bed_field_sheet_new_plan (farm, request->day, head, error);
  if (request->kind == BED_PAPER_WEEK)
    return make_week_sheet (farm, head, error);
  return bed_field_sheet_new_kind (request->kind, head);
}

/* Public */

BedDocument *
bed_field_sheet_document_for_farm (BedFarm *farm, const BedFieldSheetRequest *request,
                                   GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && request != NULL, NULL);
  g_return_val_if_fail (request->kind < BED_N_PAPERS, NULL);
  g_autoptr (GHashTable) values = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  g_autoptr (GPtrArray) more = g_ptr_array_new_with_free_func ((GDestroyNotify) g_hash_table_unref);
  g_autofree char *subtitle = dup_subtitle (farm);
  BedPaperHead head = { bed_farm_get_notation (farm), subtitle, NULL, values, more };
  Subject about = get_subject (request);

  if (request->kind == BED_PAPER_DAY)
    return bed_field_sheet_days_new (farm, subtitle, &request->paper, request->empty_rows, error);
  g_autoptr (BedRecord) subject = about.id ? bed_farm_load (farm, about.kind, about.id, error)
                                           : NULL;
  if ((about.id && !subject) || !collect_values (&head, farm, request, subject, error))
    return NULL;
  const char *name = get_name (subject);
  head.about = name;
  g_autoptr (BedFieldSheet) sheet = make_sheet (farm, request, &head, error);
  if (!sheet)
    return NULL;
  if (name)
    bed_field_sheet_set_code (sheet, name);
  if (request->kind == BED_PAPER_INOCULATION && request->batch
      && !add_figure (sheet, farm, request->batch, error))
    return NULL;
  if (!add_lines (sheet, farm, bed_paper_get_form (request->kind), &about, error))
    return NULL;
  return bed_field_sheet_document_new (g_steal_pointer (&sheet), &request->paper,
                                       request->empty_rows);
}
