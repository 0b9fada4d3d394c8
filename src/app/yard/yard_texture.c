#include "app/yard/yard_texture.h"

GdkTexture *
bed_yard_texture_new (int across, int down, int device, void (*draw) (cairo_t *cr, gpointer data),
                      gpointer data)
{
  gsize stride = (gsize) cairo_format_stride_for_width (CAIRO_FORMAT_ARGB32, across);
  guchar *pixels = g_malloc0 (stride * (gsize) down);
  cairo_surface_t *surface = cairo_image_surface_create_for_data (pixels, CAIRO_FORMAT_ARGB32,
                                                                  across, down, (int) stride);

  cairo_surface_set_device_scale (surface, device, device);
  cairo_t *cr = cairo_create (surface);
  draw (cr, data);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_autoptr (GBytes) bytes = g_bytes_new_take (pixels, stride * (gsize) down);
  return gdk_memory_texture_new (across, down, GDK_MEMORY_DEFAULT, bytes, stride);
}
