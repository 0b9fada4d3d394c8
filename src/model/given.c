/* What a new farm starts with: its settings, and the woods and mushrooms of
 * data/given, which are records like any other and may be edited. The numbers of a wood
 * come from the species table (model/woods.h), which alone holds them. */
#include "model/farm_private.h"

#include <csv.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/edit.h"
#include "model/value.h"
#include "model_resources.h"
#include "model/woods.h"

typedef struct
{
  BedFarm *farm;
  BedEdit *edit;
  BedKind kind;
  GPtrArray *heads; /* "field" or "field (unit)" */
  BedRecord *record;
  guint column;
  GError *error;
} Reader;

/* The heads are ours, so their form is known: name, or name (unit). */
static void
take_value (Reader *reader, const char *text)
{
  const char *head = g_ptr_array_index (reader->heads, reader->column);
  g_auto (GStrv) parts = g_strsplit_set (head, "()", 3);
  g_autoptr (GError) error = NULL;

  g_strstrip (parts[0]);
  BedValueReading reading = { *bed_farm_get_notation (reader->farm), parts[1] };
  if (!bed_value_parse_csv (reader->farm, reader->record, parts[0], &reading, text, &error)
      && !reader->error)
    g_propagate_prefixed_error (&reader->error, g_steal_pointer (&error), "%s: ", head);
}

static void
field_cb (void *text, size_t length, void *data)
{
  Reader *reader = data;
  g_autofree char *copy = g_strndup (text ? text : "", length);

  if (!reader->record)
    g_ptr_array_add (reader->heads, g_steal_pointer (&copy));
  else
    take_value (reader, copy);
  reader->column++;
}

static void
set_number (BedRecord *record, const char *field, double value)
{
  if (!isnan (value))
    bed_record_set_int (record, field, llround (value));
}

static void
fill_wood (Reader *reader)
{
  const BedWood *wood
      = bed_wood_find (bed_woods_get (), bed_record_get_text (reader->record, "common_name"),
                       reader->error ? NULL : &reader->error);

  if (!wood)
    return;
  bed_record_set_text (reader->record, "latin_name", wood->latin);
  set_number (reader->record, "basic_density", wood->numbers.basic_density * 1000);
  set_number (reader->record, "green_moisture", wood->numbers.moisture_pct * 100);
  set_number (reader->record, "bark_share", wood->numbers.bark_pct * 100);
}

static void
row_cb (int end, void *data)
{
  Reader *reader = data;

  if (reader->record && reader->kind == BED_KIND_WOOD)
    fill_wood (reader);
  if (reader->record)
    bed_edit_put (reader->edit, reader->record);
  g_clear_object (&reader->record);
  reader->record = bed_record_new (reader->kind);
  reader->column = 0;
}

static gboolean
read_given (Reader *reader, const char *name, GError **error)
{
  g_autofree char *path = g_strdup_printf ("/org/bedlog/model/%s.csv", name);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (model_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
  struct csv_parser parser;

  if (!bytes)
    return FALSE;
  reader->kind = bed_kind_from_name (name);
  reader->heads = g_ptr_array_new_with_free_func (g_free);
  reader->column = 0;
  csv_init (&parser, CSV_STRICT);
  csv_parse (&parser, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), field_cb, row_cb,
             reader);
  csv_fini (&parser, field_cb, row_cb, reader);
  csv_free (&parser);
  g_clear_object (&reader->record);
  g_ptr_array_unref (reader->heads);
  if (reader->error)
    g_propagate_error (error, g_steal_pointer (&reader->error));
  return *error == NULL;
}

gboolean
bed_given_add (BedFarm *farm, BedRecord *settings, GError **error)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) why = NULL;
  Reader reader = { .farm = farm, .edit = edit };
  const char *name = bed_record_get_text (settings, "name");
  g_autofree char *sentence = g_strdup_printf (_ ("Opened the farm book of %s"), name ? name : "");

  bed_edit_put (edit, settings);
  if (!read_given (&reader, "wood", &why) || !read_given (&reader, "mushroom", &why)
      || !bed_edit_commit (edit, sentence, &why))
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  return TRUE;
}
