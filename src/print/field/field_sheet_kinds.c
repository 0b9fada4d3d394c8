#include "print/field/field_sheet_kinds.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "print/drill/drill_guide.h"
#include "science/units.h"

/* Choices are printed for ringing when they take no more letters than this. */
#define MOST_LETTERS_IN_BOX 64
#define MOST_LETTERS_IN_HEAD 14

#define CODE(f, w)                                                                                 \
  {                                                                                                \
    f, NULL, w, BED_COLUMN_CODE                                                                    \
  }
#define TEXT(f, w)                                                                                 \
  {                                                                                                \
    f, NULL, w, BED_COLUMN_TEXT                                                                    \
  }
#define NUMBER(f, w)                                                                               \
  {                                                                                                \
    f, NULL, w, BED_COLUMN_NUMBER                                                                  \
  }
#define OWN(h, w, k)                                                                               \
  {                                                                                                \
    NULL, h, w, BED_COLUMN_##k                                                                     \
  }

/* Cautions: common practice, no source, unless named. */
#define LIFTING                                                                                    \
  N_ ("Wet logs are heavy: two people or a cart, straight back, sound gloves, mind fingers and "   \
      "feet.")
#define FROM_THE_TOP                                                                               \
  N_ ("Take stacks down from the top; never pull a log from the middle or stand below.")
#define MOVING                                                                                     \
  N_ ("Bolts and bark carry insects and diseases: ask which quarantines hold before you move "     \
      "them; local rules decide.")
#define LOCAL N_ ("Local rules and a trained or licensed person come before this sheet.")

static const BedPaperForm forms[BED_N_PAPERS] = {
  [BED_PAPER_FELLING] = {
    "felling", N_ ("Felling tally"), BED_KIND_FELLING, BED_KIND_FELLING,
    { "felled_on", "wood", "stand", "supplier", "trees", "dbh", "height", "condition", "leaf",
      "felled_by" },
    0, { NULL },
    { OWN (N_ ("Tree"), 6, TEXT),
      { "dbh", N_ ("Diameter at breast height"), 12, BED_COLUMN_NUMBER },
      { "height", N_ ("Height"), 10, BED_COLUMN_NUMBER },
      OWN (N_ ("Bolts"), 8, NUMBER), TEXT ("notes", 26) },
    { LOCAL,
      N_ ("Felling kills: only trained people with helmet, eye, ear and leg protection, never "
          "alone, two tree lengths clear, a way of escape cut first. Leave hung-up and dead trees "
          "to those licensed for them."),
      N_ ("Stop in wind. Note standing dead wood and trees with fungi already on them: they are "
          "not for mushroom logs."),
      LIFTING, MOVING },
  },
  [BED_PAPER_MEASURING] = {
    "measuring", N_ ("Bolt measuring"), BED_KIND_LOG, BED_KIND_LOG,
    { "felling" },
    0, { NULL },
    { CODE ("code", 16), NUMBER ("length", 8), NUMBER ("small_diameter", 9),
      NUMBER ("large_diameter", 9), NUMBER ("green_mass", 8), TEXT ("bark", 8),
      TEXT ("notes", 14) },
    { LIFTING, N_ ("Chock the pile before you take a log from it."), MOVING },
  },
  [BED_PAPER_INOCULATION] = {
    "inoculation", N_ ("Inoculation day"), BED_KIND_BATCH, BED_KIND_LOG,
    { "inoculated_on", "method", "hole_diameter", "hole_depth", "along", "between", "margin",
      "closing", "holes_sealed", "ends_sealed", "wax", "wax_mass", "notes" },
    BED_KIND_SPAWN_USED, { "spawn", "mass", "pieces" },
    { CODE ("code", 16), NUMBER ("length", 8), NUMBER ("small_diameter", 9),
      NUMBER ("large_diameter", 9), NUMBER ("holes", 8), TEXT ("notes", 18) },
    { NULL }, /* those of the drilling guide */
  },
  [BED_PAPER_WEIGHING] = {
    "weighing", N_ ("Weighing"), BED_KIND_WEIGHING, BED_KIND_WEIGHING,
    { "weighed_on" },
    0, { NULL },
    { CODE ("log", 16), OWN (N_ ("Last time"), 12, NUMBER), NUMBER ("mass", 10),
      TEXT ("notes", 24) },
    { LIFTING,
      N_ ("Hang a scale from something that holds ten logs, and stand clear of the load."),
      LOCAL },
  },
  [BED_PAPER_SOAK] = {
    "soak", N_ ("Soaking week"), BED_KIND_SOAK, BED_KIND_SOAK,
    { NULL },
    0, { NULL },
    { OWN (N_ ("Stack"), 18, CODE), OWN (N_ ("Batch"), 6, TEXT), OWN (N_ ("Logs"), 5, NUMBER),
      OWN (N_ ("Rest (wk)"), 5, NUMBER), OWN (N_ ("Plan (h)"), 5, NUMBER),
      TEXT ("tank", 7), TEXT ("put_in", 9), TEXT ("taken_out", 9), TEXT ("water", 8),
      NUMBER ("water_temperature", 11), NUMBER ("air_temperature", 11), TEXT ("notes", 6) },
    { N_ ("An open tank drowns children and animals: cover or fence it, and never leave it open "
          "unwatched."),
      N_ ("Floating logs roll: hold them down with a frame, not with hands or feet."), LIFTING,
      N_ ("Pond or stream water that nobody tested can bring germs onto food: have it tested, or "
          "use drinking water."),
      LOCAL },
  },
  [BED_PAPER_PICKING] = {
    "picking", N_ ("Picking"), BED_KIND_PICK, BED_KIND_PICK,
    { "picked_on" },
    0, { NULL },
    { CODE ("log", 16), CODE ("stack", 16), TEXT ("grade", 8), NUMBER ("mass", 10),
      TEXT ("picker", 9), TEXT ("lot", 14), TEXT ("notes", 11) },
    { N_ ("Pick only what you know to be the inoculated mushroom: wild ones, some of them "
          "poisonous, fruit on old logs too. In doubt leave it out."),
      /* S. W. Lenhart, E. C. Cole, Applied Occupational and Environmental Hygiene 8(2),
       * 112-119, 1993: spores in the air of shiitake houses and the workers' complaints. */
      N_ ("Spores harm lungs: pick before caps open flat, air the room, wear a mask under a roof; "
          "see a doctor about cough or fever after picking."),
      N_ ("Clean hands, knives and crates; cool the crates soon. Local food rules come first.") },
  },
  [BED_PAPER_MOVES] = {
    "moves", N_ ("Moves"), BED_KIND_PLACE, BED_KIND_PLACE,
    { "since" },
    0, { NULL },
    { CODE ("log", 16), OWN (N_ ("Now in"), 15, TEXT), OWN (N_ ("Its tier"), 6, NUMBER),
      { "stack", N_ ("To stack"), 16, BED_COLUMN_TEXT },
      { "tier", N_ ("To tier"), 7, BED_COLUMN_NUMBER }, NUMBER ("slot", 7) },
    { LIFTING, FROM_THE_TOP, LOCAL },
  },
  [BED_PAPER_PLAN] = {
    "plan", N_ ("Planned moves"), BED_KIND_PLANNED_MOVE, BED_KIND_PLANNED_MOVE,
    { "planned_on" },
    0, { NULL },
    { OWN (N_ ("Done"), 5, TEXT), CODE ("log", 16), OWN (N_ ("Now in"), 19, TEXT),
      TEXT ("stack", 16), NUMBER ("tier", 6), NUMBER ("slot", 6) },
    { N_ ("Top to bottom: each log is taken up once, and the place it goes to is free by then."),
      LIFTING, FROM_THE_TOP, LOCAL },
  },
  [BED_PAPER_WEEK] = {
    "week", N_ ("This week"), BED_KIND_DUE, BED_KIND_DUE,
    { NULL },
    0, { NULL },
    { OWN (N_ ("Done"), 6, TEXT), OWN (N_ ("Day"), 9, TEXT), OWN (N_ ("What"), 11, TEXT),
      OWN (N_ ("Where"), 17, TEXT), OWN (N_ ("Logs"), 5, NUMBER), OWN (N_ ("Who"), 10, TEXT),
      OWN (N_ ("Note"), 20, TEXT) },
    { LIFTING, FROM_THE_TOP, LOCAL },
  },
  [BED_PAPER_DAY] = {
    "day", N_ ("The day of"), BED_KIND_HOURS, BED_KIND_HOURS,
    { "worked_on", "person" },
    0, { NULL },
    { OWN (N_ ("To do"), 22, TEXT), TEXT ("task", 10), NUMBER ("minutes", 7), TEXT ("batch", 7),
      TEXT ("stack", 12), NUMBER ("logs", 6), TEXT ("notes", 14) },
    { LIFTING, LOCAL },
  },
};

static char *
join_choices (const BedField *field, gsize most)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (const BedChoice *choice = field->choices; choice && choice->key; choice++)
    g_string_append_printf (words, "%s%s", words->len ? " · " : "", bed_choice_get_word (choice));
  if (words->len == 0 || (gsize) g_utf8_strlen (words->str, -1) > most)
    return NULL;
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static const char *
get_unit (const BedField *field, const BedNotation *notation)
{
  const char *unit
      = field->type == BED_FIELD_MEASURE ? bed_measure_unit (field->measure, notation->system) : "";

  return *unit ? unit : NULL;
}

static void
add_box (BedFieldSheet *sheet, const BedField *field, const BedPaperHead *head)
{
  g_autofree char *choices
      = field->type == BED_FIELD_CHOICE ? join_choices (field, MOST_LETTERS_IN_BOX) : NULL;
  const char *value = head->values ? g_hash_table_lookup (head->values, field->name) : NULL;
  BedSheetBox box = { _ (field->label), value, get_unit (field, head->notation), choices };

  /* A value comes with its unit. */
  if (value)
    box.unit = NULL;
  bed_field_sheet_add_box (sheet, &box);
}

/* Of the second record of number @at, with what is known of it. */
static void
add_more_boxes (BedFieldSheet *sheet, const BedPaperForm *form, const BedPaperHead *head, guint at)
{
  BedPaperHead one = *head;

  one.values = head->more && at < head->more->len ? head->more->pdata[at] : NULL;
  for (guint i = 0; form->more_boxes[i]; i++)
    add_box (sheet, bed_kind_find_field (form->more, form->more_boxes[i], NULL), &one);
}

static void
add_column (BedFieldSheet *sheet, const BedPaperForm *form, const BedPaperColumn *column,
            const BedNotation *notation)
{
  const BedField *field = column->field ? bed_kind_find_field (form->line, column->field, NULL)
                                        : NULL;
  g_autofree char *choices = field && field->type == BED_FIELD_CHOICE
                                 ? join_choices (field, MOST_LETTERS_IN_HEAD)
                                 : NULL;
  const char *head = column->head ? _ (column->head) : field ? _ (field->label) : "";
  const char *unit = choices ? choices : field ? get_unit (field, notation) : NULL;

  bed_field_sheet_add_column (sheet, &(BedSheetColumn){ head, unit, column->weight, column->kind });
}

/* Public */

const BedPaperForm *
bed_paper_get_form (BedPaperKind kind)
{
  g_return_val_if_fail (kind < BED_N_PAPERS, NULL);
  return &forms[kind];
}

BedPaperKind
bed_paper_kind_from_name (const char *name)
{
  BedPaperKind kind = 0;

  while (kind < BED_N_PAPERS && g_strcmp0 (forms[kind].name, name))
    kind++;
  return kind;
}

BedFieldSheet *
bed_field_sheet_new_kind (BedPaperKind kind, const BedPaperHead *head)
{
  g_return_val_if_fail (kind < BED_N_PAPERS && head != NULL && head->notation != NULL, NULL);
  const BedPaperForm *form = &forms[kind];
  g_autofree char *title = head->about ? g_strdup_printf ("%s %s", _ (form->title), head->about)
                                       : g_strdup (_ (form->title));
  const char *const *cautions = kind == BED_PAPER_INOCULATION ? bed_drill_cautions ()
                                                              : form->cautions;
  BedFieldSheet *sheet = bed_field_sheet_new (title, head->subtitle);

  for (guint i = 0; form->boxes[i]; i++)
    add_box (sheet, bed_kind_find_field (form->sheet, form->boxes[i], NULL), head);
  for (guint i = 0; form->more_boxes[0] && i <= (head->more ? head->more->len : 0); i++)
    {
      bed_field_sheet_end_boxes (sheet);
      add_more_boxes (sheet, form, head, i);
    }
  for (guint i = 0; form->columns[i].weight > 0; i++)
    add_column (sheet, form, &form->columns[i], head->notation);
  for (guint i = 0; cautions[i]; i++)
    bed_field_sheet_add_caution (sheet, _ (cautions[i]));
  return sheet;
}
