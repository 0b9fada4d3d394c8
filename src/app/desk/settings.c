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

char *
bed_settings_dup_last_farm (void)
{
  GSettings *settings = get_settings ();

  return settings ? g_settings_get_string (settings, "last-farm") : NULL;
}

void
bed_settings_set_last_farm (const char *path)
{
  GSettings *settings = get_settings ();

  if (settings)
    g_settings_set_string (settings, "last-farm", path);
}

char *
bed_settings_dup_sheet (const char *use)
{
  GSettings *settings = get_settings ();
  g_autoptr (GVariant) sheets = settings ? g_settings_get_value (settings, "label-sheets") : NULL;
  char *key = NULL;

  if (sheets)
    g_variant_lookup (sheets, use, "s", &key);
  return key;
}

void
bed_settings_set_sheet (const char *use, const char *key)
{
  GSettings *settings = get_settings ();

  if (!settings)
    return;
  g_autoptr (GVariant) old = g_settings_get_value (settings, "label-sheets");
  GVariantBuilder builder;
  GVariantIter iter;
  const char *other, *sheet;

  g_variant_builder_init (&builder, G_VARIANT_TYPE ("a{ss}"));
  g_variant_iter_init (&iter, old);
  while (g_variant_iter_next (&iter, "{&s&s}", &other, &sheet))
    if (g_strcmp0 (other, use) != 0)
      g_variant_builder_add (&builder, "{ss}", other, sheet);
  g_variant_builder_add (&builder, "{ss}", use, key);
  g_settings_set_value (settings, "label-sheets", g_variant_builder_end (&builder));
}

void
bed_settings_set_offsets (const char *key, double right, double down)
{
  GSettings *settings = get_settings ();

  if (!settings)
    return;
  g_autoptr (GVariant) old = g_settings_get_value (settings, "sheet-offsets");
  GVariantBuilder builder;
  GVariantIter iter;
  const char *sheet;
  double x, y;

  g_variant_builder_init (&builder, G_VARIANT_TYPE ("a{s(dd)}"));
  g_variant_iter_init (&iter, old);
  while (g_variant_iter_next (&iter, "{&s(dd)}", &sheet, &x, &y))
    if (g_strcmp0 (sheet, key) != 0)
      g_variant_builder_add (&builder, "{s(dd)}", sheet, x, y);
  g_variant_builder_add (&builder, "{s(dd)}", key, right, down);
  g_settings_set_value (settings, "sheet-offsets", g_variant_builder_end (&builder));
}

void
bed_settings_get_offsets (const char *key, double *right, double *down)
{
  GSettings *settings = get_settings ();

  *right = *down = 0;
  if (!settings)
    return;
  g_autoptr (GVariant) offsets = g_settings_get_value (settings, "sheet-offsets");
  g_variant_lookup (offsets, key, "(dd)", right, down);
}

guint
bed_settings_get_start (const char *key)
{
  GSettings *settings = get_settings ();
  g_autoptr (GVariant) starts = settings ? g_settings_get_value (settings, "sheet-starts") : NULL;
  guint start = 1;

  if (starts)
    g_variant_lookup (starts, key, "u", &start);
  return MAX (start, 1);
}

void
bed_settings_set_start (const char *key, guint start)
{
  GSettings *settings = get_settings ();
  g_autoptr (GVariant) starts = settings ? g_settings_get_value (settings, "sheet-starts") : NULL;
  g_auto (GVariantDict) dict = G_VARIANT_DICT_INIT (starts);

  if (!settings)
    return;
  g_variant_dict_insert (&dict, key, "u", start);
  g_settings_set_value (settings, "sheet-starts", g_variant_dict_end (&dict));
}

static gboolean
close_request_cb (GtkWindow *window)
{
  GSettings *settings = get_settings ();
  int width, height;

  gtk_window_get_default_size (window, &width, &height);
  g_settings_set (settings, "window-size", "(ii)", width, height);
  g_settings_set_boolean (settings, "window-maximized", gtk_window_is_maximized (window));
  return FALSE;
}

void
bed_settings_restore_window (GtkWindow *window)
{
  GSettings *settings = get_settings ();
  int width, height;

  if (!settings)
    return;
  g_settings_get (settings, "window-size", "(ii)", &width, &height);
  gtk_window_set_default_size (window, width, height);
  if (g_settings_get_boolean (settings, "window-maximized"))
    gtk_window_maximize (window);
  g_signal_connect (window, "close-request", G_CALLBACK (close_request_cb), NULL);
}
