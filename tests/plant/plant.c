#include "plant.h"

#include <glib/gstdio.h>
#include <string.h>

#include "model/farm/kinds.h"

#define MARK_LENGTH 5 /* #FFTT */

static const char *const texts[] = {
  /* SQL, and its patterns */
  "'); DROP TABLE log; --",
  "x' OR '1'='1",
  "%_*?[a-z]^~",
  "NULL",
  /* formulas, and what a spreadsheet takes for numbers, dates, links and codes of a footer */
  "=HYPERLINK(\"http://x\",\"y\")",
  "=cmd|' /C calc'!A0",
  "+1+1",
  "-2+3",
  "@SUM(A1)",
  "'=1+1",
  "1e5",
  "2026-05-12",
  "http://planted.example/x",
  "&D&P&A&\"Arial,Bold\"&G",
  "#REF!",
  /* markup, entities, mnemonics */
  "<b>bold</b> & <i>it</i>",
  "<span foreground='red'>r</span>",
  "<span>",
  "&amp;&lt;&#x41;",
  "]]><!--",
  "_under __lined _F",
  /* shells, options, paths */
  "$(touch planted)",
  "`touch planted`",
  "; touch planted",
  "| touch planted &",
  "--output=planted",
  "../../planted",
  "/tmp/planted",
  "C:\\planted\\x",
  "file:///tmp/planted",
  /* formats, placeholders, keys of our own */
  "%s%n%d%99999s",
  "{1}{2}[code]{line.use.sold}",
  "rule:soak",
  "win.undo::x",
  /* CSV, JSON */
  "\"quoted\", 'single'; x",
  "a,b;c\"d\"\"e",
  "\\n\\t\\u0041\\\"\\",
  "{\"a\":[1,null]}",
  /* scripts */
  "مزرعة الجبل",
  "e\u0301\u0302 a\u0323\u0308 n\u0303",
  "🍄🌲 ﬁ 香菇 ½",
  "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
};

/* What a record of each kind needs beside its texts. References lead to the record of the same
 * text, all of them unless ->without names them. */
static const struct
{
  const char *values; /* field=value as a person types it, | between */
  const char *without;
} needs[BED_N_KINDS] = {
  [BED_KIND_WOOD] = { "basic_density=600" },
  [BED_KIND_STAND] = { "area=1 ha" },
  [BED_KIND_FELLING] = { "felled_on=2026-02-01|leaf=dormant" },
  [BED_KIND_MUSHROOM] = { "usual_method=drilled" },
  [BED_KIND_STRAIN] = { "type=wide-range|run_least=6|run_most=12" },
  [BED_KIND_SPAWN] = { "form=sawdust|received_on=2026-02-10|mass=10 kg|cost=90.00|organic=yes" },
  [BED_KIND_BATCH] = { "inoculated_on=2026-03-01|method=drilled|along=15 cm|between=7.5 cm" },
  [BED_KIND_SPAWN_USED] = { "mass=1 kg" },
  [BED_KIND_SPAWN_GONE] = { "gone_on=2026-04-01|why=spoiled|mass=0.1 kg" },
  [BED_KIND_LOG] = { "length=100 cm|small_diameter=10 cm|large_diameter=12 cm" },
  [BED_KIND_AREA] = { "width=12 m|depth=9 m|shade=75|shade_kind=trees|water=stream" },
  [BED_KIND_FEATURE] = { "kind=tree|outline=1 1" },
  [BED_KIND_STACK] = { "kind=crib|x=5 m|y=5 m|tiers=3|per_tier=4|built_on=2026-03-01" },
  [BED_KIND_PLACE] = { "since=2026-03-01|tier=1|slot=1" },
  [BED_KIND_STOOD] = { "x=4 m|y=5 m|until=2026-03-05" },
  [BED_KIND_PLANNED_STACK] = { "planned_on=2026-06-01|kind=crib|x=8 m|y=5 m" },
  [BED_KIND_PLANNED_MOVE] = { "planned_on=2026-06-01|tier=1|slot=1", "new_stack" },
  [BED_KIND_CHECK] = { "checked_on=2026-04-01|weed=Stereum|severity=some", "batch stack" },
  [BED_KIND_WEIGHING] = { "weighed_on=2026-04-02|mass=8 kg" },
  [BED_KIND_DISC] = { "cut_on=2026-03-01|fresh_mass=100 g|dry_mass=60 g", "felling" },
  [BED_KIND_WATERING] = { "watered_on=2026-05-02|method=hose|minutes=1 h", "area" },
  [BED_KIND_SOAK] = { "put_in=2026-05-10 08:00|taken_out=2026-05-11 08:00|water=stream" },
  [BED_KIND_SOAKED] = { "" },
  [BED_KIND_LOT] = { "picked_on=2026-05-12" },
  [BED_KIND_PICK] = { "picked_on=2026-05-12|grade=A|mass=400 g", "stack batch" },
  [BED_KIND_DRYING] = { "dried_on=2026-05-12|fresh_mass=0.2 kg|dried_mass=20 g" },
  [BED_KIND_BUYER] = { "kind=market" },
  [BED_KIND_SALE] = { "sold_on=2026-05-12" },
  [BED_KIND_LINE] = { "form=fresh|use=sold|mass=0.1 kg|price=2.00" },
  [BED_KIND_PURCHASE] = { "bought_on=2026-03-01|category=wax|amount=20.00|scope=batch" },
  [BED_KIND_HOURS] = { "worked_on=2026-03-01|task=drilling|minutes=1 h|logs=1", "stack" },
  [BED_KIND_RATE] = { "until=2025-03-01|rate=17.00" },
  [BED_KIND_EQUIPMENT] = { "bought_on=2024-01-10|price=100.00|life_years=5" },
  [BED_KIND_STOCK_COUNT] = { "counted_on=19#-05-01|category=wax|amount=12.00" },
  [BED_KIND_DUE] = { "due_on=2026-05-12" },
  [BED_KIND_MATCHING] = { "" },
};

/* Text fields with a form of their own. */
static const struct
{
  BedKind kind;
  const char *field;
} formed[] = {
  { BED_KIND_FARM, "currency" },
  { BED_KIND_FARM, "season_start" },
  { BED_KIND_AREA, "outline" },
  { BED_KIND_FEATURE, "outline" },
};

static gboolean met[100][100];
static char *trace_of[100]; /* of field FF: its kind and name, for people */

/* Helpers */

static gboolean
holds_text (const BedField *field)
{
  return field->type == BED_FIELD_TEXT || field->type == BED_FIELD_NOTE;
}

/* FF: its place among the free text fields of all kinds. */
static guint
find_number (BedKind kind, const char *name)
{
  guint number = 0;

  for (BedKind k = 0; k < BED_N_KINDS; k++)
    for (guint i = 0; i < bed_kind_get_info (k)->n_fields; i++)
      {
        const BedField *field = &bed_kind_get_info (k)->fields[i];

        if (!plant_is_free (k, field))
          continue;
        if (!trace_of[number])
          trace_of[number] = g_strdup_printf ("%s.%s", bed_kind_get_info (k)->name, field->name);
        if (k == kind && g_strcmp0 (field->name, name) == 0)
          return number;
        number++;
        g_assert_cmpuint (number, <, G_N_ELEMENTS (trace_of));
      }
  return number;
}

static gboolean
is_planted_kind (BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    if (holds_text (&info->fields[i]) || info->fields[i].type == BED_FIELD_REFERENCE)
      return kind != BED_KIND_FARM;
  return FALSE;
}

/* # in @values is the number of the record, where two of a kind may not be alike. */
static void
set_values (BedFarm *farm, BedRecord *record, const char *values, guint number)
{
  g_auto (GStrv) around = g_strsplit (values, "#", -1);
  g_autofree char *figures = g_strdup_printf ("%02u", number);
  g_autofree char *own = g_strjoinv (figures, around);
  g_auto (GStrv) parts = g_strsplit (own, "|", -1);

  for (char **part = parts; *part; part++)
    {
      g_auto (GStrv) pair = g_strsplit (*part, "=", 2);
      g_autoptr (GError) error = NULL;

      bed_value_parse (farm, record, pair[0], pair[1], &error);
      g_assert_no_error (error);
    }
}

static gboolean
is_without (BedKind kind, const BedField *field)
{
  g_auto (GStrv) names = g_strsplit (needs[kind].without ? needs[kind].without : "", " ", -1);

  return g_strv_contains ((const char *const *) names, field->name);
}

static BedRecord *
make_record (Plant *plant, BedKind kind, guint text)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  BedRecord *record = bed_record_new (kind);

  if (!needs[kind].values)
    g_error ("say in tests/plant/plant.c what a %s needs", info->name);
  set_values (plant->scene.farm, record, needs[kind].values, text + 1);
  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];

      if (plant_is_free (kind, field))
        {
          g_autofree char *planted = plant_dup_planted (kind, field->name, text);
          g_autoptr (GError) error = NULL;

          bed_value_parse (plant->scene.farm, record, field->name, planted, &error);
          g_assert_no_error (error);
        }
      else if (field->type == BED_FIELD_REFERENCE && !is_without (kind, field))
        bed_record_set_int (record, field->name, plant->ids[text][field->refers]);
    }
  return record;
}

static void
add_kind (Plant *plant, BedKind kind)
{
  g_autoptr (BedEdit) edit = bed_edit_new (plant->scene.farm);
  g_autofree char *sentence = plant_dup_planted (BED_KIND_DUE, "what", kind % G_N_ELEMENTS (texts));
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (BedRecord) record = make_record (plant, kind, i);

      bed_edit_put (edit, record);
      plant->ids[i][kind] = bed_record_get_id (record);
      plant->n_records++;
    }
  /* A sentence is text as well. */
  bed_edit_commit (edit, sentence, &error);
  g_assert_no_error (error);
}

/* Public */

guint
plant_n_texts (void)
{
  return G_N_ELEMENTS (texts);
}

const char *
plant_text (guint text)
{
  return texts[text];
}

gboolean
plant_is_free (BedKind kind, const BedField *field)
{
  for (guint i = 0; i < G_N_ELEMENTS (formed); i++)
    if (formed[i].kind == kind && strcmp (formed[i].field, field->name) == 0)
      return FALSE;
  return holds_text (field);
}

guint
plant_n_fields (void)
{
  return find_number (BED_N_KINDS, NULL);
}

char *
plant_dup_planted (BedKind kind, const char *field, guint text)
{
  return g_strdup_printf ("%s#%02u%02u", texts[text], find_number (kind, field), text);
}

void
plant_set_up (Plant *plant, gconstpointer data)
{
  plant->ids = g_malloc0_n (G_N_ELEMENTS (texts), sizeof *plant->ids);
  plant->n_records = 0;
  scene_set_up (&plant->scene, "metric");
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (is_planted_kind (kind))
      add_kind (plant, kind);
  plant_rename_farm (plant, 0);
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_tree (inside);
    }
  g_remove (path);
}

void
plant_tear_down (Plant *plant, gconstpointer data)
{
  g_autofree char *folder = g_strdup (plant->scene.folder);

  scene_tear_down (&plant->scene, NULL);
  remove_tree (folder);
  g_free (plant->ids);
}

void
plant_rename_farm (Plant *plant, guint text)
{
  const BedKindInfo *info = bed_kind_get_info (BED_KIND_FARM);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (plant->scene.farm));
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < info->n_fields; i++)
    if (plant_is_free (BED_KIND_FARM, &info->fields[i]))
      {
        g_autofree char *planted = plant_dup_planted (BED_KIND_FARM, info->fields[i].name, text);
        bed_record_set_text (settings, info->fields[i].name, planted);
      }
  bed_edit_put_one (plant->scene.farm, settings, "Changed the settings", &error);
  g_assert_no_error (error);
}

guint
plant_check (const char *where, const char *shown)
{
  guint n = 0;

  for (const char *at = shown; (at = strchr (at, '#')); at++)
    {
      guint number, text;

      if (!g_ascii_isdigit (at[1]) || !g_ascii_isdigit (at[2]) || !g_ascii_isdigit (at[3])
          || !g_ascii_isdigit (at[4]))
        continue;
      number = (at[1] - '0') * 10 + at[2] - '0';
      text = (at[3] - '0') * 10 + at[4] - '0';
      if (number >= plant_n_fields () || text >= G_N_ELEMENTS (texts))
        continue;
      gsize length = strlen (texts[text]);
      if ((gsize) (at - shown) < length || strncmp (at - length, texts[text], length) != 0)
        {
          g_test_message ("%s: %s with \"%s\" shows as \"%s\"", where, trace_of[number],
                          texts[text], shown);
          g_test_fail ();
        }
      met[number][text] = TRUE;
      n++;
    }
  return n;
}

guint
plant_n_met (void)
{
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (met); i++)
    for (guint j = 0; j < G_N_ELEMENTS (met[i]); j++)
      n += met[i][j];
  memset (met, 0, sizeof met);
  return n;
}

char *
plant_write_texts (const char *folder)
{
  char *path = g_build_filename (folder, "texts", NULL);
  GString *lines = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_string_append_printf (lines, "%s\n", texts[i]);
  g_assert_true (g_file_set_contents (path, lines->str, -1, NULL));
  g_string_free (lines, TRUE);
  return path;
}

guint
plant_follow (const char *first, ...)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  g_autofree char *said = NULL, *complained = NULL;
  g_autoptr (GError) error = NULL;
  const char *word = first;
  va_list rest;
  int status;

  g_ptr_array_add (words, (char *) g_getenv ("BEDLOG_PYTHON"));
  g_ptr_array_add (words, (char *) g_getenv ("BEDLOG_FOLLOW"));
  va_start (rest, first);
  for (; word; word = va_arg (rest, const char *))
    g_ptr_array_add (words, (char *) word);
  va_end (rest);
  g_ptr_array_add (words, NULL);
  g_spawn_sync (NULL, (char **) words->pdata, NULL, G_SPAWN_DEFAULT, NULL, NULL, &said, &complained,
                &status, &error);
  g_assert_no_error (error);
  if (*complained)
    g_test_message ("%s", complained);
  g_assert_cmpint (status, ==, 0);
  return (guint) g_ascii_strtoull (said, NULL, 10);
}
