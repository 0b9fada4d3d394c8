#pragma once

#include <gtk/gtk.h>

/* What @draw draws, kept as a picture of that many pixels, @device of them to a screen unit. */
GdkTexture *bed_yard_texture_new (int across, int down, int device,
                                  void (*draw) (cairo_t *cr, gpointer data), gpointer data);
