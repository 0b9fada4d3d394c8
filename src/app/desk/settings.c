#include "app/desk/settings.h"

#define SCHEMA "org.bedlog.Bedlog"

/* NULL when the schema is not installed: GSettings would end the program. */
static GSettings *
get_settings (void)
{
  static GSettings *settings;
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema
      = source ? g_settings_schema_source_lookup (source, SCHEMA, TRUE) : NULL;

  if (!settings && schema)
    settings = g_settings_new (SCHEMA);
  return settings;
}

static char *
dup_string (const char *key)
{
  GSettings *settings = get_settings ();

  return settings ? g_settings_get_string (settings, key) : NULL;
}

static void
set_string (const char *key, const char *value)
{
  GSettings *settings = get_settings ();

  if (settings)
    g_settings_set_string (settings, key, value);
}

char *
bed_settings_dup_yard_colours (void)
{
  return dup_string ("yard-colours");
}

void
bed_settings_set_yard_colours (const char *key)
{
  set_string ("yard-colours", key);
}

/* NULL when nothing is remembered. */
static GVariant *
get_all (const char *setting)
{
  GSettings *settings = get_settings ();

  return settings ? g_settings_get_value (settings, setting) : NULL;
}

/* @value takes the place of what stood under @key in the table that @setting is. */
static void
put (const char *setting, const char *key, GVariant *value)
{
  g_autoptr (GVariant) kept = g_variant_ref_sink (value);
  g_autoptr (GVariant) all = get_all (setting);
  GVariantBuilder builder;
  GVariantIter iter;
  const char *name;
  GVariant *there;

  if (!all)
    return;
  g_variant_builder_init (&builder, g_variant_get_type (all));
  g_variant_iter_init (&iter, all);
  while (g_variant_iter_loop (&iter, "{&s*}", &name, &there))
    if (!g_str_equal (name, key))
      g_variant_builder_add (&builder, "{s*}", name, there);
  g_variant_builder_add (&builder, "{s*}", key, kept);
  g_settings_set_value (get_settings (), setting, g_variant_builder_end (&builder));
}

char *
bed_settings_dup_sheet (const char *use)
{
  g_autoptr (GVariant) sheets = get_all ("label-sheets");
  char *key = NULL;

  if (sheets)
    g_variant_lookup (sheets, use, "s", &key);
  return key;
}

void
bed_settings_set_sheet (const char *use, const char *key)
{
  put ("label-sheets", use, g_variant_new_string (key));
}

void
bed_settings_set_offsets (const char *key, double right, double down)
{
  put ("sheet-offsets", key, g_variant_new ("(dd)", right, down));
}

void
bed_settings_get_offsets (const char *key, double *right, double *down)
{
  g_autoptr (GVariant) offsets = get_all ("sheet-offsets");

  *right = *down = 0;
  if (offsets)
    g_variant_lookup (offsets, key, "(dd)", right, down);
}

guint
bed_settings_get_start (const char *key)
{
  g_autoptr (GVariant) starts = get_all ("sheet-starts");
  guint start = 1;

  if (starts)
    g_variant_lookup (starts, key, "u", &start);
  return MAX (start, 1);
}

void
bed_settings_set_start (const char *key, guint start)
{
  put ("sheet-starts", key, g_variant_new_variant (g_variant_new_uint32 (start)));
}

GVariant *
bed_settings_dup_farms (void)
{
  return get_all ("farms");
}

void
bed_settings_set_farms (GVariant *farms)
{
  g_autoptr (GVariant) kept = g_variant_ref_sink (farms);

  if (get_settings ())
    g_settings_set_value (get_settings (), "farms", kept);
}
