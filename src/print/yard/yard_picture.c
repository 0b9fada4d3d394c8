#include "print/yard/yard_picture.h"

#include "model/farm/query.h"
#include "model/farm/value.h"
#include "print/yard/yard_map.h"
#include "yard/load.h"

struct _BedYardPictures
{
  BedFarmTwin *twin;
  char *date;
  GThread *thread;     /* NULL once it has ended */
  GPtrArray *pictures; /* or */
  GError *error;
};

/* Helpers */

static cairo_status_t
append (void *png, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (png, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static GBytes *
draw_picture (BedDocument *document, GError **error)
{
  g_autoptr (GByteArray) png = g_byte_array_new ();
  cairo_surface_t *surface = bed_document_picture_new (document, 0, BED_YARD_PICTURE_DPI, error);

  if (!surface)
    return NULL;
  cairo_status_t status = cairo_surface_write_to_png_stream (surface, append, png);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return g_byte_array_free_to_bytes (g_steal_pointer (&png));
  g_set_error_literal (error, BED_PRINT_ERROR, BED_PRINT_ERROR_DRAW,
                       cairo_status_to_string (status));
  return NULL;
}

static GBytes *
make_picture (BedFarm *farm, gint64 area, const char *date, GError **error)
{
  g_autofree char *shown = bed_date_format (date);
  BedSystem system = bed_farm_get_notation (farm)->system;
  const BedYardMapSpec spec = {
    .paper = bed_paper_usual (system),
    .farm = bed_record_get_text (bed_farm_get_settings (farm), "name"),
    .date = shown,
    .system = system,
    .use = BED_MAP_PICTURE,
  };
  BedYard *yard = bed_yard_load (farm, area, date, error);
  g_autoptr (BedDocument) document = yard ? bed_yard_map_new (yard, &spec, error) : NULL;

  return document ? draw_picture (document, error) : NULL;
}

static GPtrArray *
make_pictures (BedFarm *farm, const char *date, GError **error)
{
  g_autoptr (GPtrArray) pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM area ORDER BY name");

  while (bed_query_next (q))
    {
      GBytes *picture = make_picture (farm, bed_query_int (q, 0), date, error);

      if (!picture)
        return NULL;
      g_ptr_array_add (pictures, picture);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&pictures) : NULL;
}

static gpointer
draw_pictures (gpointer data)
{
  BedYardPictures *self = data;
  g_autoptr (BedFarm) farm = bed_farm_twin_open (self->twin, &self->error);

  if (farm)
    self->pictures = make_pictures (farm, self->date, &self->error);
  return NULL;
}

/* Public */

BedYardPictures *
bed_yard_pictures_begin (BedFarm *farm, const char *date)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && date != NULL, NULL);
  BedYardPictures *self = g_new0 (BedYardPictures, 1);

  self->twin = bed_farm_twin_new (farm);
  self->date = g_strdup (date);
  self->thread = g_thread_new ("yard pictures", draw_pictures, self);
  return self;
}

GPtrArray *
bed_yard_pictures_wait (gpointer pictures, GError **error)
{
  BedYardPictures *self = pictures;

  g_return_val_if_fail (self != NULL, NULL);
  if (self->thread)
    g_thread_join (g_steal_pointer (&self->thread));
  if (self->error)
    g_propagate_error (error, g_error_copy (self->error));
  return self->pictures;
}

void
bed_yard_pictures_free (BedYardPictures *self)
{
  if (self->thread)
    g_thread_join (self->thread);
  g_clear_pointer (&self->pictures, g_ptr_array_unref);
  g_clear_error (&self->error);
  bed_farm_twin_free (self->twin);
  g_free (self->date);
  g_free (self);
}
